"""A small list of generic greases by thickener and base oil: orders of magnitude from memory, every figure an estimate.

What a data sheet says replaces them. How a grease flows comes from its NLGI grade alone (lubricant.GRADE_DEFAULTS).
"""
GENERIC = "generic grease of this thickener and base oil, from memory"

# thickener, base oil, NLGI grades, viscosity of the base oil at 40 and at 100 °C [mm²/s], good from, to [°C]
GREASES = (
    ("lithium", "mineral", ("000", "00", "0", "1", "2", "3"), 180, 16, -25, 120),
    ("lithium", "ester", ("1", "2"), 25, 5.2, -50, 120),
    ("lithium complex", "mineral", ("00", "0", "1", "2", "3"), 200, 17.5, -20, 140),
    ("lithium complex", "synthetic hydrocarbon", ("00", "0", "1", "2"), 150, 19, -40, 150),
    ("calcium", "mineral", ("0", "1", "2", "3"), 120, 12, -20, 60),
    ("calcium complex", "mineral", ("0", "1", "2"), 180, 16, -20, 130),
    ("calcium sulfonate", "mineral", ("0", "1", "2"), 400, 27, -20, 150),
    ("aluminium complex", "mineral", ("00", "0", "1", "2"), 220, 19, -20, 140),
    ("polyurea", "mineral", ("1", "2"), 110, 12, -25, 150),
    ("polyurea", "synthetic hydrocarbon", ("1", "2"), 100, 14, -40, 160),
    ("clay", "mineral", ("1", "2"), 400, 27, -10, 150),
    ("sodium", "mineral", ("2", "3"), 120, 12, -10, 110),
    ("barium", "mineral", ("2",), 150, 15, -20, 130),
)


def generic(lubricant):
    """{"v40_mm2_s", "v100_mm2_s", "coldest_c", "hottest_c"} of the generic grease like this one, or None."""
    for thickener, base_oil, grades, v40, v100, coldest, hottest in GREASES:
        if (thickener, base_oil) == (lubricant.get("thickener"), lubricant.get("base_oil")) and lubricant["nlgi"] in grades:
            return {"v40_mm2_s": v40, "v100_mm2_s": v100, "coldest_c": coldest, "hottest_c": hottest}
    return None
