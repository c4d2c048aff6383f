"""Greases: NLGI grades, codes on drums, stiffening in the cold. Data only."""
from tests.published.case import MEMORY, PUBLISHED, WORKED, Printed, Says

NLGI = "The Tribology Handbook, table 4.4, and public pages on DIN 51502"
DIN = "DIN 51502 and DIN 51825, public pages"
ISO = "ISO 6743-9, a public article on its national equivalent"
LETTERS = "remembered letters of the same standard"
COLD = "Cyriac, Lugt, Bosman, Tribology Transactions 58 (2015): the yield falls exponentially with temperature"

_GRADES = (("000", 445, 475), ("00", 400, 430), ("0", 355, 385), ("1", 310, 340), ("2", 265, 295), ("3", 220, 250),
           ("4", 175, 205), ("5", 130, 160), ("6", 85, 115))
# letters whose limit is a number; what lies beyond the last letter is open
_DIN_HOT = (("C", 60, PUBLISHED), ("D", 60, PUBLISHED), ("E", 80, PUBLISHED), ("F", 80, PUBLISHED), ("G", 100, PUBLISHED),
            ("H", 100, PUBLISHED), ("K", 120, PUBLISHED), ("M", 120, MEMORY), ("N", 140, MEMORY), ("P", 160, MEMORY),
            ("R", 180, MEMORY), ("S", 200, MEMORY), ("T", 220, MEMORY))
_ISO_COLD = (("A", 0), ("B", -20), ("C", -30), ("D", -40))
_ISO_HOT = (("A", 60), ("B", 90), ("C", 120), ("D", 140), ("E", 160), ("F", 180))
_STIFF = {"nlgi": "2", "yield_pa": 300, "consistency_pa_sn": 20, "flow_index": 0.5, "reference_c": 25,
          "stiffening_per_k": 0.02}
# orders of magnitude of a grade's yield at 25 °C [Pa], from memory
YIELDS = {"000": (0, 100), "00": (0, 100), "0": (100, 300), "1": (100, 300), "2": (200, 800), "3": (500, 2000)}


def _grade(penetration, says):
    return Says("penetration %d" % penetration, "grease_code.nlgi_of_penetration", {"penetration": penetration}, says, NLGI,
                PUBLISHED)


def _code(code, says, source=DIN, status=PUBLISHED):
    return tuple(Says("%s: %s" % (code, name), "grease_code.decode", {"code": code}, value, source, status, (name,))
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
    *(case for letter, cold in _ISO_COLD for case in _code("L-X%sBEB 1" % letter, {"coldest_c": cold}, ISO)),
    *(case for letter, hot in _ISO_HOT for case in _code("L-XB%sEB 1" % letter, {"hottest_c": hot}, ISO)),
)

PRINTED = (
    Printed("yield 300 Pa at 25 °C, at -10 °C", "lubricant.lubricant_at", {"lubricant": _STIFF, "t_c": -10}, "604.1", COLD,
            WORKED, ("yield_pa",)),
    Printed("the way back", "line.lowest_venting_temperature",
            {"document": {"lubricant": _STIFF}, "locked_bar": 604.1, "allowed_bar": 300, "t_c": -10}, "25.0", COLD, WORKED),
)
