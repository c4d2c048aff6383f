"""Grease codes decoded (DIN 51502 as used by DIN 51825, and ISO 6743-9) and NLGI grades of a worked penetration."""

DIN_51502 = "DIN 51502 and DIN 51825, secondary pages; upper letters above K from memory"
ISO_6743_9 = "ISO 6743-9, secondary page; letters for water and load from memory"

NLGI_PENETRATION = (("000", 445, 475), ("00", 400, 430), ("0", 355, 385), ("1", 310, 340), ("2", 265, 295),
                    ("3", 220, 250), ("4", 175, 205), ("5", 130, 160), ("6", 85, 115))
_NLGI = ("000", "00", "0", "1", "2", "3", "4", "5", "6")

_DIN_UPPER = {"C": 60, "D": 60, "E": 80, "F": 80, "G": 100, "H": 100, "K": 120, "M": 120, "N": 140, "P": 160,
              "R": 180, "S": 200, "T": 220, "U": 220}
_ISO_LOWER = {"A": 0, "B": -20, "C": -30, "D": -40, "E": -40}
_ISO_UPPER = {"A": 60, "B": 90, "C": 120, "D": 140, "E": 160, "F": 180, "G": 180}
_DUTIES = ("OG", "K", "G", "M")


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


def _decode_din(code):
    duty = next((duty for duty in _DUTIES if code.startswith(duty)), None)
    if duty is None:
        return None
    rest = code[len(duty):]
    letters = ""
    while rest and not rest[0].isdigit():
        letters, rest = letters + rest[0], rest[1:]
    nlgi, rest = _leading_grade(rest)
    if nlgi is None or not rest or rest[0] not in _DIN_UPPER:
        return None
    lower = rest[1:].replace("\u2212", "-")
    if not lower.startswith("-") or not lower[1:].isdigit():
        return None
    return {"source": DIN_51502, "nlgi": nlgi, "coldest_c": -int(lower[1:]), "hottest_c": _DIN_UPPER[rest[0]],
            "extreme_pressure": "P" in letters, "duty": duty}


def _decode_iso(code):
    for prefix in ("ISO-L-X", "L-X", "ISOLX", "LX"):
        if code.startswith(prefix):
            letters = code[len(prefix):]
            break
    else:
        return None
    nlgi, rest = _leading_grade(letters[4:])
    if nlgi is None or rest or letters[0] not in _ISO_LOWER or letters[1] not in _ISO_UPPER or letters[3] not in "AB":
        return None
    return {"source": ISO_6743_9, "nlgi": nlgi, "coldest_c": _ISO_LOWER[letters[0]],
            "hottest_c": _ISO_UPPER[letters[1]], "extreme_pressure": letters[3] == "B", "duty": "X"}


def decode(code):
    """What a grease code says: nlgi, coldest_c, hottest_c [°C], extreme_pressure, duty, source; None if it is not one."""
    tight = "".join(code.upper().split()) if isinstance(code, str) else ""
    return _decode_din(tight) or _decode_iso(tight)
