"""Cables: resistance, voltage drop, gauges, fuses. Data only."""
from tests.published.case import PRACTICE, PUBLISHED, WORKED, Printed, Says

IEC = "IEC 60228, class 5, plain copper at 20 °C, as given by mycableengineering.com"
LIMIT = IEC + "; 5 % of the supply as the usual limit, a public page on cables"
WARM = "cabledatasheet.com, Temperature Correction for Linear Resistance Measurement: 0.00393 per K"
GAUGE = "American wire gauge by ASTM B258: No. 36 is 0.0050 in, No. 0000 is 0.4600 in, 39 steps"
COPPER = GAUGE + "; copper 17.241 Ω·mm²/km"
SPARE = "habit: a quarter to spare, usual sizes of fuses"

VOLTS, PERCENT = (0, "voltage_drop", "value"), (0, "voltage_drop_percent", "value")
_CLASS_5 = ((0.5, "39.0"), (0.75, "26.0"), (1, "19.5"), (1.5, "13.3"), (2.5, "7.98"), (4, "4.95"), (6, "3.30"), (10, "1.91"))
_GAUGES = ((10, "2.5882", "5.2612"), (12, "2.0525", "3.3088"), (14, "1.6277", "2.0809"), (16, "1.2908", "1.3087"),
           (18, "1.0237", "0.8230"), (20, "0.8118", "0.5176"))


def _wired(supply, current, **wiring):
    return {"document": {"pump": {"supply_v": supply, "current_a": current}, "wiring": wiring, "controller": {}}}


def _cable(name, printed, at, supply, current, cable, conductor, t_c=20, source=IEC, status=WORKED):
    return Printed("%s, %s" % (name, printed), "electrical.electrical",
                   _wired(supply, current, cable_m=cable, conductor_mm2=conductor, conductor_c=t_c), printed, source, status, at)


def _fuse(current, printed):
    return Printed("fuse for %s A" % current, "electrical.electrical", _wired(24, current), printed, SPARE, PRACTICE,
                   (0, "fuse", "value"))


PRINTED = (
    *(Printed("resistance of %s mm²" % size, "electrical.electrical", _wired(24, 5, cable_m=20, conductor_mm2=size), printed,
              IEC, PUBLISHED, (0, "voltage_drop", "inputs", "r20", "value")) for size, printed in _CLASS_5),
    _cable("24 V, 5 A, 20 m, 1.5 mm²", "2.660", VOLTS, 24, 5, 20, 1.5),
    _cable("24 V, 5 A, 20 m, 1.5 mm²", "11.08", PERCENT, 24, 5, 20, 1.5),
    _cable("24 V, 5 A, 20 m, 1.5 mm², at 60 °C", "12.83", PERCENT, 24, 5, 20, 1.5, 60, WARM),
    _cable("24 V, 5 A, 20 m, 2.5 mm²", "1.596", VOLTS, 24, 5, 20, 2.5),
    _cable("24 V, 5 A, 20 m, 2.5 mm²", "6.65", PERCENT, 24, 5, 20, 2.5),
    _cable("24 V, 5 A, 20 m, 4 mm²", "0.990", VOLTS, 24, 5, 20, 4),
    _cable("24 V, 5 A, 20 m, 4 mm²", "4.125", PERCENT, 24, 5, 20, 4),
    _cable("12 V, 8 A, 6 m, 2.5 mm²", "0.7661", VOLTS, 12, 8, 6, 2.5),
    _cable("12 V, 8 A, 6 m, 2.5 mm²", "6.384", PERCENT, 12, 8, 6, 2.5),
    _cable("12 V, 8 A, 6 m, 4 mm²", "0.4752", VOLTS, 12, 8, 6, 4),
    _cable("12 V, 8 A, 6 m, 4 mm²", "3.960", PERCENT, 12, 8, 6, 4),
    _cable("longest run, 1.5 mm²", "5.000", PERCENT, 24, 5, 9.023, 1.5, 20, LIMIT),
    _cable("longest run, 2.5 mm²", "5.000", PERCENT, 24, 5, 15.038, 2.5, 20, LIMIT),
    _cable("longest run, 4 mm²", "5.000", PERCENT, 24, 5, 24.242, 4, 20, LIMIT),
    Printed("copper at 60 °C", "conductors.resistance_factor", {"t_c": 60}, "1.1572", WARM, WORKED),

    Printed("AWG 36", "conductors.awg_diameter", {"number": 36}, "0.1270", GAUGE, PUBLISHED),
    Printed("AWG 0000", "conductors.awg_diameter", {"number": -3}, "11.684", GAUGE, PUBLISHED),
    *(Printed("diameter of AWG %d" % number, "conductors.awg_diameter", {"number": number}, diameter, GAUGE, WORKED)
      for number, diameter, _ in _GAUGES),
    *(Printed("area of AWG %d" % number, "conductors.awg_area", {"number": number}, area, GAUGE, WORKED)
      for number, _, area in _GAUGES),
    *(Printed("resistance of AWG %d" % number, "electrical.electrical", _wired(24, 5, cable_m=20, awg=number), printed, COPPER,
              WORKED, (0, "voltage_drop", "inputs", "r20", "value")) for number, printed in ((14, "8.285"), (18, "20.948"))),
    _fuse(4, "5"),
    _fuse(5, "7.5"),
    _fuse(8, "10"),
)

SAYS = (
    Says("smallest conductor within 5 %", "electrical.electrical",
         _wired(24, 5, cable_m=20, conductor_mm2=1.5, conductor_c=20), 4, LIMIT, WORKED, (1, 0, "with", "size", "value")),
)
