"""Cables: resistance, voltage drop, gauges, fuses. Data only."""
from tests.published.case import MEMORY, PRACTICE, PUBLISHED, WORKED, Printed, Says

IEC = "IEC 60228, class 5, plain copper at 20 °C, as given by mycableengineering.com"
LIMIT = IEC + "; 5 % of the supply as the usual limit, a public page on cables"
WARM = "cabledatasheet.com, Temperature Correction for Linear Resistance Measurement: 0.00393 per K"
GAUGE = "American wire gauge by ASTM B258: No. 36 is 0.0050 in, No. 0000 is 0.4600 in, 39 steps"
COPPER = GAUGE + "; copper 17.241 Ω·mm²/km"
SPARE = "habit: a quarter to spare, usual sizes of fuses"

CAPACITY = "DIN VDE 0298-4 (2023-06), table 11, two or three loaded cores on a surface, as given on a cable maker's page"
STANDING = IEC + "; a motor that stands as a resistance: Ohm's law"
IN_PHASE = IEC + "; the part of an alternating current in phase with the voltage: Ohm's law, reactance left out"
START = "remembered: 3 to 8 times the running current; 6 on public pages about contacts"
OUTLASTS = "remembered: a slow fuse stands 4 times its rating for a start, a quick one twice"
HALF = "habit: half of a contact's rating for a motor or coil, usual sizes of relays; 20 A usual above 5 A"
SURGE = "habit, also on public pages about contacts: a cold filament draws ten times its current"

VOLTS, PERCENT = (0, "voltage_drop", "value"), (0, "voltage_drop_percent", "value")
_CLASS_5 = ((0.5, "39.0"), (0.75, "26.0"), (1, "19.5"), (1.5, "13.3"), (2.5, "7.98"), (4, "4.95"), (6, "3.30"), (10, "1.91"))
_GAUGES = ((10, "2.5882", "5.2612"), (12, "2.0525", "3.3088"), (14, "1.6277", "2.0809"), (16, "1.2908", "1.3087"),
           (18, "1.0237", "0.8230"), (20, "0.8118", "0.5176"))


def _wired(supply, current, **wiring):
    return {"document": {"pump": {"supply_v": supply, "current_a": current}, "wiring": wiring, "controller": {}}}


def _cable(name, printed, at, supply, current, cable, conductor, t_c=20, source=IEC, status=WORKED):
    return Printed("%s, %s" % (name, printed), "wiring.electrical.electrical",
                   _wired(supply, current, cable_m=cable, conductor_mm2=conductor, conductor_c=t_c), printed, source, status, at)


def _smallest(supply, current, cable, size):
    return Says("smallest conductor, %s V, %s A, %s m" % (supply, current, cable), "wiring.electrical.electrical",
                _wired(supply, current, cable_m=cable, conductor_mm2=0.5, conductor_c=20), size, LIMIT, WORKED,
                (0, "conductor", "value"))


def _starts(name, call, printed, at, source, status):
    """A 24 V pump of 5 A that draws 30 A while it starts, on 20 m of 4 mm² at 20 °C, and what differs."""
    pump = dict({"supply_v": 24, "current_a": 5}, **call.get("pump", {}))
    wiring = dict({"cable_m": 20, "conductor_mm2": 4, "conductor_c": 20}, **call.get("wiring", {}))
    return Printed(name, "wiring.electrical.electrical", {"document": {
        "pump": pump, "wiring": wiring, "vent_valve": call.get("vent_valve"), "controller": {}}},
        printed, source, status, (0, at, "value"))


def _alarm(name, printed, at, source):
    """A 24 V alarm output whose contact carries 2 A."""
    document = {"pump": {"supply_v": 24}, "controller": {"alarm_a": 2}, "duty": {}}
    return Printed(name, "wiring.signals.signals", {"document": document, "worked": {}}, printed, source, PRACTICE, (0, at, "value"))


def _fuse(current, printed):
    return Printed("fuse for %s A" % current, "wiring.electrical.electrical", _wired(24, current), printed, SPARE, PRACTICE,
                   (0, "fuse", "value"))


PRINTED = (
    *(Printed("resistance of %s mm²" % size, "wiring.electrical.electrical", _wired(24, 5, cable_m=20, conductor_mm2=size), printed,
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
    Printed("copper at 60 °C", "wiring.conductors.resistance_factor", {"t_c": 60}, "1.1572", WARM, WORKED),

    Printed("AWG 36", "wiring.conductors.awg_diameter", {"number": 36}, "0.1270", GAUGE, PUBLISHED),
    Printed("AWG 0000", "wiring.conductors.awg_diameter", {"number": -3}, "11.684", GAUGE, PUBLISHED),
    *(Printed("diameter of AWG %d" % number, "wiring.conductors.awg_diameter", {"number": number}, diameter, GAUGE, WORKED)
      for number, diameter, _ in _GAUGES),
    *(Printed("area of AWG %d" % number, "wiring.conductors.awg_area", {"number": number}, area, GAUGE, WORKED)
      for number, _, area in _GAUGES),
    *(Printed("resistance of AWG %d" % number, "wiring.electrical.electrical", _wired(24, 5, cable_m=20, awg=number), printed, COPPER,
              WORKED, (0, "voltage_drop", "inputs", "r20", "value")) for number, printed in ((14, "8.285"), (18, "20.948"))),
    _fuse(4, "5"),
    _fuse(5, "7.5"),
    _fuse(8, "10"),

    *(Printed("%s mm² carries" % size, "wiring.electrical.electrical", _wired(24, 1, cable_m=1, conductor_mm2=size), printed, CAPACITY,
              PUBLISHED, (0, "conductor_carries", "value"))
      for size, printed in ((0.75, "12"), (1, "15"), (1.5, "18"), (2.5, "26"), (4, "34"), (6, "44"), (10, "61"))),
    Printed("AWG 14 carries what 1.5 mm² does", "wiring.electrical.electrical", _wired(24, 1, cable_m=1, awg=14), "18", CAPACITY, WORKED,
            (0, "conductor_carries", "value")),
    _starts("lost while a pump of 30 A starts", {"pump": {"starting_current_a": 30}}, "19.84", "voltage_drop_start_percent",
            STANDING, WORKED),
    _starts("lost at the valve beside it", {"pump": {"starting_current_a": 30}, "vent_valve": {"current_a": 1}}, "20.37",
            "vent_drop_start_percent", STANDING, WORKED),
    _starts("the valve's own 1.5 mm²", {
        "vent_valve": {"current_a": 1}, "wiring": {"vent_cable_m": 30, "vent_conductor_mm2": 1.5}},
        "0.798", "vent_drop", IEC, WORKED),
    _starts("230 V, 4 A, power factor 0.8", {
        "pump": {"supply_v": 230, "supply": "ac", "current_a": 4, "power_factor": 0.8},
        "wiring": {"cable_m": 30, "conductor_mm2": 1.5}}, "2.5536", "voltage_drop", IN_PHASE, WORKED),
    _starts("starting current where none is given", {}, "30", "starting_current", START, MEMORY),
    _starts("slow fuse for a start of 50 A", {"pump": {"starting_current_a": 50}}, "15", "fuse_start", OUTLASTS, MEMORY),
    _starts("quick fuse for a start of 50 A", {"pump": {"starting_current_a": 50}, "wiring": {"fuse_kind": "quick"}}, "25",
            "fuse_start", OUTLASTS, MEMORY),
    _starts("relay for 9.5 A", {"pump": {"current_a": 9.5}}, "20", "relay_contact", HALF, PRACTICE),
    _alarm("filament lamp on a contact of 2 A", "4.8", "alarm_filament", SURGE),
    _alarm("LED lamp on a contact of 2 A", "48", "alarm_lamp", SURGE),
    _alarm("coil on a contact of 2 A", "1", "alarm_coil", HALF),
)

SAYS = (
    Says("smallest conductor within 5 %", "wiring.electrical.electrical",
         _wired(24, 5, cable_m=20, conductor_mm2=1.5, conductor_c=20), 4, LIMIT, WORKED, (1, 0, "with", "size", "value")),
    *(_smallest(*case) for case in ((24, 5, 20, 4), (12, 8, 6, 4), (24, 5, 9, 1.5), (24, 5, 9.1, 2.5), (24, 5, 15, 2.5),
                                    (24, 5, 15.1, 4), (24, 5, 24.2, 4), (24, 5, 24.3, 6))),
    Says("smallest gauge within 5 %", "wiring.electrical.electrical", _wired(24, 5, cable_m=20, awg=18, conductor_c=20), 12,
         COPPER, WORKED, (0, "conductor_awg", "value")),
)
