"""Grease codes read and written (DIN 51502 as used by DIN 51825, and ISO 6743-9) and NLGI grades of a worked penetration."""

DIN_51502 = "DIN 51502 and DIN 51825, secondary pages; upper letters above K from memory"
ISO_6743_9 = "ISO 6743-9, secondary page; letters for water and load from memory"

NLGI_PENETRATION = (("000", 445, 475), ("00", 400, 430), ("0", 355, 385), ("1", 310, 340), ("2", 265, 295),
                    ("3", 220, 250), ("4", 175, 205), ("5", 130, 160), ("6", 85, 115))
_NLGI = ("000", "00", "0", "1", "2", "3", "4", "5", "6")

# upper temperature [°C]: letter of one that stands up to water, letter of one that does so less; "" where it is left open
_DIN_UPPER = ((60, "C", "D"), (80, "E", "F"), (100, "G", "H"), (120, "K", "M"), (140, "N", ""), (160, "P", ""),
              (180, "R", ""), (200, "S", ""), (220, "T", ""), (220, "U", ""))
_DIN_LOWER = (-10, -20, -30, -40, -50, -60)
_DIN_OILS = (("FK", "fluorocarbon"), ("HC", "synthetic hydrocarbon"), ("PG", "polyglycol"), ("PH", "phosphate ester"),
             ("SI", "silicone"), ("E", "ester"), ("X", "other"), ("", "mineral"))
_DUTIES = ("OG", "K", "G", "M")
# the last letter of each lies beyond its number: colder than -40 °C, hotter than 180 °C
_ISO_LOWER = (("A", 0), ("B", -20), ("C", -30), ("D", -40), ("E", -40))
_ISO_UPPER = (("A", 60), ("B", 90), ("C", 120), ("D", 140), ("E", 160), ("F", 180), ("G", 180))
WATER = ("dry", "humid", "washed")
RUST = ("none", "fresh water", "salt water")
_ISO_WATER = "ABCDEFGHI"


def nlgi_of_penetration(penetration):
    """NLGI grade of a worked penetration [0.1 mm], or None in a gap between grades. Source: DIN 51818."""
    for grade, low, high in NLGI_PENETRATION:
        if low <= penetration <= high:
            return grade
    return None


def _leading_grade(text):
    for length in (3, 2, 1):
        if text[:length] in _NLGI:
            return text[:length], text[length:]
    return None, text


def _additives_and_oil(letters):
    """(additives "", "P", "F" or "PF", base oil), or (None, None) for letters that say neither."""
    for ending, oil in _DIN_OILS:
        additives = letters[:len(letters) - len(ending)]
        if letters.endswith(ending) and additives in ("", "P", "F", "PF"):
            return additives, oil
    return None, None


def _decode_din(code):
    duty = next((duty for duty in _DUTIES if code.startswith(duty)), None)
    if duty is None:
        return None
    rest = code[len(duty):]
    letters = ""
    while rest and not rest[0].isdigit():
        letters, rest = letters + rest[0], rest[1:]
    additives, oil = _additives_and_oil(letters)
    nlgi, rest = _leading_grade(rest)
    upper = [entry for entry in _DIN_UPPER if rest and rest[0] in entry[1:]]
    lower = rest[1:].replace("\u2212", "-")
    if additives is None or nlgi is None or not upper or not lower.startswith("-") or not lower[1:].isdigit():
        return None
    hottest, good, less = upper[0]
    water = "humid" if rest[0] == good and less else "dry" if less else None
    return {"source": DIN_51502, "nlgi": nlgi, "coldest_c": -int(lower[1:]), "hottest_c": hottest, "duty": duty,
            "extreme_pressure": "P" in additives, "solid": "F" in additives, "base_oil": oil, "water": water, "rust": None}


def _decode_iso(code):
    for prefix in ("ISO-L-X", "L-X", "ISOLX", "LX"):
        if code.startswith(prefix):
            letters = code[len(prefix):]
            break
    else:
        return None
    nlgi, rest = _leading_grade(letters[4:])
    lower, upper = dict(_ISO_LOWER).get(letters[:1]), dict(_ISO_UPPER).get(letters[1:2])
    if nlgi is None or rest or lower is None or upper is None or letters[2] not in _ISO_WATER or letters[3] not in "AB":
        return None
    place = _ISO_WATER.index(letters[2])
    return {"source": ISO_6743_9, "nlgi": nlgi, "coldest_c": lower, "hottest_c": upper, "duty": "X",
            "extreme_pressure": letters[3] == "B", "solid": None, "base_oil": None, "water": WATER[place // 3],
            "rust": RUST[place % 3]}


def decode(code):
    """What a grease code says, None if it is not one.

    nlgi, coldest_c, hottest_c [°C], duty, extreme_pressure, solid, base_oil, water (one of WATER), rust (one of RUST),
    source; None for what the code leaves open.
    """
    tight = "".join(code.upper().split()) if isinstance(code, str) else ""
    return _decode_din(tight) or _decode_iso(tight)


def _last(entries, fits):
    found = [entry for entry in entries if fits(entry)]
    return found[-1] if found else None


def din_code(grease):
    """Code by DIN 51825 of a grease for bearings, or None where its temperatures reach no class.

    grease: nlgi, coldest_c, hottest_c [°C]; extreme_pressure, solid, base_oil, water if known. The letters claim no more
    than is known: an unknown stands for the lesser class. Source: DIN_51502.
    """
    hottest = grease["hottest_c"]
    upper = _last(_DIN_UPPER[:-1], lambda entry: entry[0] <= hottest) if hottest <= 220 else _DIN_UPPER[-1]
    lower = _last(_DIN_LOWER, lambda limit: limit >= grease["coldest_c"])
    if upper is None or lower is None:
        return None
    oil = next((letters for letters, oil in _DIN_OILS if oil == grease.get("base_oil")), "")
    letter = upper[1] if not upper[2] or grease.get("water") in WATER[1:] else upper[2]
    return "K%s%s%s%s%s%d" % ("P" if grease.get("extreme_pressure") else "", "F" if grease.get("solid") else "", oil,
                              grease["nlgi"], letter, lower)


def iso_code(grease):
    """Code by ISO 6743-9, or None where its temperatures reach no class. Inputs of din_code, and rust. Source: ISO_6743_9."""
    coldest, hottest = grease["coldest_c"], grease["hottest_c"]
    lower = _last(_ISO_LOWER[:-1], lambda entry: entry[1] >= coldest) if coldest >= -40 else _ISO_LOWER[-1]
    upper = _last(_ISO_UPPER[:-1], lambda entry: entry[1] <= hottest) if hottest <= 180 else _ISO_UPPER[-1]
    if lower is None or upper is None:
        return None
    water, rust = WATER.index(grease.get("water") or "dry"), RUST.index(grease.get("rust") or "none")
    return "ISO-L-X%s%s%s%s %s" % (lower[0], upper[0], _ISO_WATER[3 * water + rust],
                                   "B" if grease.get("extreme_pressure") else "A", grease["nlgi"])
