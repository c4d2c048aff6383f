"""Thickeners that meet in one line: what one public table says of the pair. It warns and never approves."""

# FIST 2-4, US Bureau of Reclamation, 1990, table 2: C compatible, B borderline, I incompatible; calcium sulfonate is not in it
TABLE = (("sodium", "CIIIIIIII"), ("aluminium complex", "ICIIIIBCI"), ("barium", "IICIIIIII"), ("calcium", "IIICIIBCI"),
         ("calcium complex", "IIIICIIII"), ("clay", "IIIIIBIII"), ("lithium", "IBIBIICCI"), ("lithium complex", "ICICIICCI"),
         ("polyurea", "IIIIIIIIC"))
_NAMES = [name for name, _ in TABLE]
# of 21 charts that a trade magazine compared (2019), this pair is compatible in 12, borderline in 4, incompatible in 5
COUNTED = ("aluminium complex", "lithium complex")
# another public chart calls these compatible
CONTRADICTED = (("lithium complex", "calcium complex"), ("lithium complex", "polyurea"))


def compatibility(one, other):
    """"C", "B" or "I" of two thickeners in TABLE, None where it does not hold the pair."""
    if one not in _NAMES or other not in _NAMES:
        return None
    return TABLE[_NAMES.index(one)][1][_NAMES.index(other)]


def mixing(one, other):
    """Id of the finding for two thickeners that meet, or None where one of them is not entered."""
    if not one or not other:
        return None
    if one == other and one not in ("clay", "other"):
        return "mixing.same"
    pairs = ((one, other), (other, one))
    if COUNTED in pairs:
        return "mixing.counted"
    if pairs[0] in CONTRADICTED or pairs[1] in CONTRADICTED:
        return "mixing.contradicted"
    return {"C": "mixing.compatible", "B": "mixing.borderline", "I": "mixing.incompatible", None: "mixing.unknown"}[
        compatibility(one, other)]
