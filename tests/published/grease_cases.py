"""Greases: NLGI grades, codes on drums, stiffening in the cold. Data only."""
from tests.published.case import MEMORY, PUBLISHED, WORKED, Printed, Says

NLGI = "The Tribology Handbook, table 4.4, and public pages on DIN 51502"
DIN = "DIN 51502 and DIN 51825, public pages"
ISO = "ISO 6743-9, a public article on its national equivalent"
LETTERS = "remembered letters of the same standard"
FIST = "FIST 2-4, US Bureau of Reclamation, 1990, table 2 (public domain)"
CHARTS = "Lubes'n'Greases 10/2019, Contradictory Compatibility: of 21 charts 12 compatible, 4 borderline, 5 incompatible"
OTHER_CHART = "tribology-abc.com grease page: compatible; FIST 2-4: incompatible"
COLD = "Cyriac, Lugt, Bosman, Tribology Transactions 58 (2015): the yield falls exponentially with temperature"

_GRADES = (("000", 445, 475), ("00", 400, 430), ("0", 355, 385), ("1", 310, 340), ("2", 265, 295), ("3", 220, 250),
           ("4", 175, 205), ("5", 130, 160), ("6", 85, 115))
# letters whose limit is a number; what lies beyond the last letter is open
_DIN_HOT = (("C", 60, PUBLISHED), ("D", 60, PUBLISHED), ("E", 80, PUBLISHED), ("F", 80, PUBLISHED), ("G", 100, PUBLISHED),
            ("H", 100, PUBLISHED), ("K", 120, PUBLISHED), ("M", 120, MEMORY), ("N", 140, MEMORY), ("P", 160, MEMORY),
            ("R", 180, MEMORY), ("S", 200, MEMORY), ("T", 220, MEMORY))
_ISO_COLD = (("A", 0), ("B", -20), ("C", -30), ("D", -40))
_ISO_HOT = (("A", 60), ("B", 90), ("C", 120), ("D", 140), ("E", 160), ("F", 180))
_DIN_OILS = (("", "mineral"), ("E", "ester"), ("FK", "fluorocarbon"), ("HC", "synthetic hydrocarbon"), ("PG", "polyglycol"),
             ("PH", "phosphate ester"), ("SI", "silicone"), ("X", "other"))
_DIN_WATER = (("C", "humid", PUBLISHED), ("D", "dry", PUBLISHED), ("E", "humid", PUBLISHED), ("F", "dry", PUBLISHED),
              ("G", "humid", PUBLISHED), ("H", "dry", PUBLISHED), ("K", "humid", MEMORY), ("M", "dry", MEMORY), ("N", None, MEMORY))
_ISO_WATER = (("A", "dry", "none"), ("B", "dry", "fresh water"), ("C", "dry", "salt water"), ("D", "humid", "none"),
              ("E", "humid", "fresh water"), ("F", "humid", "salt water"), ("G", "washed", "none"), ("H", "washed", "fresh water"),
              ("I", "washed", "salt water"))
# rows and columns as printed
_THICKENERS = ("sodium", "aluminium complex", "barium", "calcium", "calcium complex", "clay", "lithium", "lithium complex", "polyurea")
_FIST = ("C I I I I I I I I", "I C I I I I B C I", "I I C I I I I I I", "I I I C I I B C I", "I I I I C I I I I", "I I I I I B I I I",
         "I B I B I I C C I", "I C I C I I C C I", "I I I I I I I I C")
_KP2K = {"nlgi": "2", "coldest_c": -30, "hottest_c": 120, "extreme_pressure": True, "base_oil": "mineral", "water": "humid"}
_XBCEA = {"nlgi": "2", "coldest_c": -20, "hottest_c": 120, "extreme_pressure": False, "water": "humid", "rust": "fresh water"}
_STIFF = {"nlgi": "2", "yield_pa": 300, "consistency_pa_sn": 20, "flow_index": 0.5, "reference_c": 25,
          "stiffening_per_k": 0.02}
# orders of magnitude of a grade's yield at 25 °C [Pa], from memory
YIELDS = {"000": (0, 100), "00": (0, 100), "0": (100, 300), "1": (100, 300), "2": (200, 800), "3": (500, 2000)}


def _grade(penetration, says):
    return Says("penetration %d" % penetration, "lubricants.grease_code.nlgi_of_penetration", {"penetration": penetration}, says, NLGI,
                PUBLISHED)


def _written(call, code, grease, source, status=PUBLISHED):
    return Says("%s written, %s" % (code, call), "lubricants.grease_code." + call, {"grease": grease}, code, source, status)


def _pair(one, other, says, call="compatibility", source=FIST):
    return Says("%s: %s with %s" % (call, one, other), "lubricants.mixing." + call, {"one": one, "other": other}, says, source, PUBLISHED)


def _code(code, says, source=DIN, status=PUBLISHED):
    return tuple(Says("%s: %s" % (code, name), "lubricants.grease_code.decode", {"code": code}, value, source, status, (name,))
                 for name, value in says.items())


SAYS = (
    *(_grade(end, grade) for grade, *ends in _GRADES for end in ends),
    _grade(280, "2"),
    _grade(300, None),
    *_code("KP2K-30", {"duty": "K", "extreme_pressure": True, "nlgi": "2", "hottest_c": 120, "coldest_c": -30}),
    *_code("ISO-L-XBCEA 2", {"coldest_c": -20, "hottest_c": 120, "nlgi": "2"}, ISO),
    *_code("ISO-L-XBCEA 2", {"extreme_pressure": False}, LETTERS, MEMORY),
    *(case for letter, hot, status in _DIN_HOT
      for case in _code("K1%s-20" % letter, {"hottest_c": hot}, DIN if status == PUBLISHED else LETTERS, status)),
    *(case for letters, oil in _DIN_OILS for case in _code("K%s2K-30" % letters, {"base_oil": oil})),
    *(case for letters, oil in _DIN_OILS for case in _code("KP%s1N-20" % letters, {"extreme_pressure": True, "base_oil": oil})),
    *_code("KF2G-10", {"solid": True, "extreme_pressure": False}),
    *_code("KPF2G-10", {"solid": True, "extreme_pressure": True}, LETTERS, MEMORY),
    *_code("OGPF00C-10", {"duty": "OG"}, DIN),
    *(case for letter, water, status in _DIN_WATER
      for case in _code("M2%s-20" % letter, {"water": water}, DIN if status == PUBLISHED else LETTERS, status)),
    *(case for letter, water, rust in _ISO_WATER
      for case in _code("L-XBC%sB 2" % letter, {"water": water, "rust": rust}, LETTERS, MEMORY)),
    _written("din_code", "KP2K-30", _KP2K, DIN),
    _written("iso_code", "ISO-L-XBCEA 2", _XBCEA, LETTERS, MEMORY),
    *(_written("din_code", "KP%s2K-30" % letters, dict(_KP2K, base_oil=oil), DIN) for letters, oil in _DIN_OILS if letters),
    *(_written("iso_code", "ISO-L-XBC%sA 2" % letter, dict(_XBCEA, water=water, rust=rust), LETTERS, MEMORY)
      for letter, water, rust in _ISO_WATER if letter != "E"),
    *(_pair(one, other, says) for one, row in zip(_THICKENERS, _FIST) for other, says in zip(_THICKENERS, row.split())),
    _pair("aluminium complex", "lithium complex", "mixing.counted", "mixing", CHARTS),
    _pair("lithium complex", "calcium complex", "mixing.contradicted", "mixing", OTHER_CHART),
    _pair("polyurea", "lithium complex", "mixing.contradicted", "mixing", OTHER_CHART),
    *(case for letter, cold in _ISO_COLD for case in _code("L-X%sBEB 1" % letter, {"coldest_c": cold}, ISO)),
    *(case for letter, hot in _ISO_HOT for case in _code("L-XB%sEB 1" % letter, {"hottest_c": hot}, ISO)),
)

PRINTED = (
    Printed("yield 300 Pa at 25 °C, at -10 °C", "lubricants.lubricant.lubricant_at", {"lubricant": _STIFF, "t_c": -10}, "604.1", COLD,
            WORKED, ("yield_pa",)),
    Printed("the way back", "line.line.lowest_venting_temperature",
            {"document": {"lubricant": _STIFF}, "locked_bar": 604.1, "allowed_bar": 300, "t_c": -10}, "25.0", COLD, WORKED),
)
