"""Oils: viscosity at a temperature, viscosity index, grades. Data only."""
from tests.published.case import MEMORY, PUBLISHED, WORKED, Printed, Refused, Says

D341 = "ASTM D341"
D341_EXAMPLE = "scribd.com/document/361017004, a worksheet that quotes ASTM D341: worked example (273 K at 0 °C)"
D341_THIN = "ASTM D341, equations for thin liquids"
D2270 = "ASTM D2270, example in the standard"
D2270_ABOVE_70 = "ASTM D2270, equations above 70 mm²/s"
GRADES = "ISO 3448 by ASTM D2422: midpoint, 10 % either way; two public grade tables"

TURBINE, GEAR = {"v40": 32, "v100": 5.4}, {"v40": 220, "v100": 19.0}
_TABLE = (
    (2, "1.98", "2.42"), (3, "2.88", "3.52"), (5, "4.14", "5.06"), (7, "6.12", "7.48"), (10, "9.00", "11.0"),
    (15, "13.5", "16.5"), (22, "19.8", "24.2"), (32, "28.8", "35.2"), (46, "41.4", "50.6"), (68, "61.2", "74.8"),
    (100, "90.0", "110"), (150, "135", "165"), (220, "198", "242"), (320, "288", "352"), (460, "414", "506"),
    (680, "612", "748"), (1000, "900", "1100"), (1500, "1350", "1650"), (2200, "1980", "2420"), (3200, "2880", "3520"))


def _viscosity(printed, t_c, oil, source=D341, status=WORKED, **more):
    return Printed("VG %s at %s °C, %s" % (oil["v40"], t_c, printed), "lubricants.oil.viscosity_at", {"t_c": t_c, **oil, **more}, printed,
                   source, status)


def _constant(name, printed, oil, source=D341, status=WORKED, **more):
    return Printed("%s of VG %s, %s" % (name, oil["v40"], printed), "lubricants.oil.walther_constants", {**oil, **more}, printed, source,
                   status, ("AB".index(name),))


def _index(printed, v40, v100, source=D2270, status=PUBLISHED):
    return Printed("index %s/%s, %s" % (v40, v100, printed), "lubricants.oil.viscosity_index", {"v40": v40, "v100": v100}, printed, source,
                   status)


PRINTED = (
    _viscosity("8.5", 80, TURBINE, D341_EXAMPLE, PUBLISHED, kelvin=273),
    _constant("A", "9.5259", TURBINE, D341_EXAMPLE, PUBLISHED, kelvin=273),
    _constant("B", "3.7449", TURBINE, D341_EXAMPLE, PUBLISHED, kelvin=273),
    _constant("A", "9.530815", TURBINE),
    _constant("B", "3.746578", TURBINE),
    _constant("A", "8.822197", GEAR),
    _constant("B", "3.386665", GEAR),
    *(_viscosity(printed, t_c, TURBINE) for t_c, printed in (
        (-10, "805.15"), (0, "336.00"), (20, "86.278"), (50, "21.496"), (80, "8.5332"))),
    *(_viscosity(printed, t_c, GEAR) for t_c, printed in ((-10, "16770"), (0, "5286.9"), (20, "852.08"), (60, "78.820"))),
    # there and back by the standard's two equations for thin liquids
    _viscosity("1.500142", 40, {"v40": 1.5, "v100": 0.7}, D341_THIN),

    _index("92", 73.30, 8.86),
    _index("156", 22.83, 5.05),
    _index("111", 53.47, 7.80, "ASTM D2270's table; the pair stands in the standard", WORKED),
    _index("102", 32, 5.4, "ASTM D2270's table", WORKED),
    _index("97", 220, 19.0, "ASTM D2270's table", WORKED),
    _index("111", 1500, 75.0, D2270_ABOVE_70, WORKED),

    # the standard's examples turned round
    Printed("40 °C from 100 °C and index", "lubricants.oil.v40_of_index", {"v100": 8.86, "index": 92.43}, "73.3", D2270, WORKED),
    Printed("40 °C from 100 °C and an index above 100", "lubricants.oil.v40_of_index", {"v100": 5.05, "index": 156.4}, "22.8", D2270, WORKED),
    Printed("100 °C from 40 °C and index", "lubricants.oil.v100_of_index", {"v40": 73.30, "index": 92.43}, "8.86", D2270, WORKED),
    Printed("100 °C from 40 °C and an index above 100", "lubricants.oil.v100_of_index", {"v40": 22.83, "index": 156.4}, "5.05", D2270, WORKED),

    *(Printed("%s of VG %d" % (end, grade), "lubricants.oil.grade_limits", {"grade": grade}, printed, GRADES,
              PUBLISHED if grade <= 1500 else MEMORY, (place,))
      for grade, *limits in _TABLE for place, (end, printed) in enumerate(zip(("least", "most"), limits))),
)

SAYS = (
    *(Says("VG of %s mm²/s" % v40, "lubricants.oil.grade_of", {"v40": v40}, grade, GRADES, PUBLISHED)
      for v40, grade in ((46, 46), (41.5, 46), (50.5, 46), (55, None), (4.2, 5), (1.5, None), (1640, 1500))),
)

REFUSED = (
    Refused("no index below 2 mm²/s", "lubricants.oil.viscosity_index", {"v40": 5.0, "v100": 1.9}, "v100_mm2_s", "ASTM D2270", PUBLISHED),
    Refused("no index below 2 mm²/s, turned round", "lubricants.oil.v40_of_index", {"v100": 1.9, "index": 95}, "v100_mm2_s", "ASTM D2270", PUBLISHED),
    Refused("one viscosity of a very thin oil", "lubricants.oil.v100_of_index", {"v40": 5.0, "index": 95}, "v40_mm2_s",
            "ASTM D2270: not defined below 2 mm²/s", WORKED),
    Refused("no grade between two grades", "lubricants.oil.grade_limits", {"grade": 50}, "grade", GRADES, PUBLISHED),
)
