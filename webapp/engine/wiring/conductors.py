"""Cables: resistance of a conductor, voltage lost out and back, the smallest size that would do, what a size carries."""
from math import pi

from ..basics.figure import figure, given

IEC_60228 = "IEC 60228 class 5, greatest resistance at 20 °C (secondary page); 0.00393 per K"
AWG = "AWG by the ASTM B258 ratio; copper 17.241 Ω·mm²/km"
AC_LEFT_OUT = "; alternating current, one phase: the cable's reactance is left out, the valve counts with power factor 1"
CAPACITY = "DIN VDE 0298-4 table 11, two or three loaded cores on a surface at 30 °C (secondary page)"
# conductor [mm²] -> Ω/km at 20 °C
RESISTANCE = ((0.5, 39.0), (0.75, 26.0), (1, 19.5), (1.5, 13.3), (2.5, 7.98), (4, 4.95), (6, 3.30), (10, 1.91))
# conductor [mm²] -> A; more than the largest is not looked up
CARRIES = ((0.75, 12), (1, 15), (1.5, 18), (2.5, 26), (4, 34), (6, 44), (10, 61))
GAUGES = (20, 18, 16, 14, 12, 10, 8, 6, 4, 2, 0)
COPPER = 17.241
MOST_DROP_PERCENT = 5.0
DEFAULT_CONDUCTOR_C = 60
_WARMED = "(1 + 0.00393 * (t - 20)) / 1000"


def awg_area(number):
    """Cross-section [mm²] of an AWG number (n/0 sizes: 1 - n). Source: AWG."""
    return pi / 4 * awg_diameter(number) ** 2


def awg_diameter(number):
    """Diameter [mm] of an AWG number. Source: AWG."""
    return 0.127 * 92 ** ((36 - number) / 39)


def resistance_factor(t_c):
    """Copper's resistance at t_c [°C] over that at 20 °C."""
    return 1 + 0.00393 * (t_c - 20)


class Load:
    """Current along a cable [A]: pump and valve added up; of alternating current the part in phase with the voltage.

    Left out: reactance. Power factor 1 where none is given: the safe side.
    """

    def __init__(self, document, pump_a, valve_a, means, estimate=False):
        pump = document["pump"]
        self.supply, self.ac = pump["supply_v"], pump.get("supply") == "ac"
        self.formula, self.value = "load", pump_a + valve_a
        self.inputs = [("load", given(self.value, "A", means, estimate))]
        if self.ac:
            factor = pump.get("power_factor")
            used = 1.0 if factor is None else factor
            self.formula, self.value = "(pump * pf + valve)", pump_a * used + valve_a
            self.inputs = [("pump", given(pump_a, "A", "pump on this cable", estimate)),
                           ("valve", given(valve_a, "A", "valve on this cable")),
                           ("pf", given(used, "1", "power factor of the pump", factor is None))]


class Cable:
    """A described cable: length one way [m], resistance at 20 °C [Ω/km], temperature [°C]."""

    def __init__(self, wiring, length, area, gauge):
        self.length, self.area, self.by_gauge = length, area, area is None
        self.ohm, self.source = COPPER / (awg_area(gauge) if area is None else area), AWG
        for size, ohm in RESISTANCE:
            if area is not None and abs(size - area) < 1e-9:
                self.ohm, self.source = ohm, IEC_60228
        if area is None:
            self.area = awg_area(gauge)
        self.guess = wiring.get("conductor_c") is None
        self.warm = DEFAULT_CONDUCTOR_C if self.guess else wiring["conductor_c"]

    def lost(self, load, ohm=None):
        """Voltage lost along it, out and back [V]; `ohm`: with another resistance at 20 °C [Ω/km]."""
        return 2 * self.length * load.value * (self.ohm if ohm is None else ohm) * resistance_factor(self.warm) / 1000

    def _formula(self, load):
        return "2 * length * %s * r20 * %s" % (load.formula, _WARMED)

    def _inputs(self, load, ohm=None):
        return [("length", given(self.length, "m", "cable, one way"))] + load.inputs + [
            ("r20", given(self.ohm if ohm is None else ohm, "Ω/km", "conductor at 20 °C")),
            ("t", given(self.warm, "°C", "conductor", self.guess))]

    def _source(self, load, source=None):
        return (source or self.source) + (AC_LEFT_OUT if load.ac else "")

    def volts(self, load):
        """Voltage lost, a figure [V]."""
        return figure(self.lost(load), "V", self._formula(load), self._inputs(load), self._source(load))

    def percent(self, load, standing=False):
        """Voltage lost over the supply, a figure [%].

        standing: at the start. The load is what would flow at the whole supply; a motor that does not turn yet is taken as a
        resistance, so that what the cable keeps from it lowers the current as well.
        """
        lost, formula = self.lost(load), "100 * %s / supply" % self._formula(load)
        value = 100 * lost / load.supply
        if standing:
            formula = "100 * (1 - supply / (supply + %s))" % self._formula(load)
            value = 100 * (1 - load.supply / (load.supply + lost))
        inputs = self._inputs(load) + [("supply", given(load.supply, "V", "supply"))]
        return figure(value, "%", formula, inputs, self._source(load))

    def smallest(self, load, by_gauge=False):
        """Smallest conductor that keeps the loss within the limit, a figure [mm², or an AWG number]; None where none does."""
        table = [(number, COPPER / awg_area(number)) for number in GAUGES] if by_gauge else RESISTANCE
        sizes, ohms = [float(size) for size, _ in table], [ohm for _, ohm in table]
        chosen = next((size for size, ohm in table if 100 * self.lost(load, ohm) / load.supply <= MOST_DROP_PERCENT), None)
        if chosen is None:
            return None
        return figure(chosen, "count" if by_gauge else "mm²",
                      "first_within(sizes, 100 * %s / supply, limit)" % self._formula(load),
                      self._inputs(load, ohms) + [
                          ("supply", given(load.supply, "V", "supply")),
                          ("sizes", given(sizes, "count" if by_gauge else "mm²", "conductors, thinnest first")),
                          ("limit", given(MOST_DROP_PERCENT, "%", "most that may be lost"))],
                      self._source(load, AWG if by_gauge else IEC_60228), method="chosen")

    def carries(self):
        """Current that the size may carry for good, a figure [A]; None outside of the table."""
        largest = CARRIES[-1][0]
        fitting = [most for size, most in CARRIES if size <= self.area]
        if not fitting or self.area > largest:
            return None
        return figure(max(fitting), "A", "max(carries * (sizes <= area))", [
            ("area", given(self.area, "mm²", "conductor")),
            ("sizes", given([float(size) for size, _ in CARRIES], "mm²", "sizes of the table")),
            ("carries", given([float(most) for _, most in CARRIES], "A", "what each carries"))], CAPACITY, method="chosen")


def cable_of(wiring, own=""):
    """The Cable to the pump, or with own="vent_" that of the vent valve alone; None where it is not described.

    The valve's conductor is that of the pump's cable where none is stated.
    """
    length = wiring.get(own + "cable_m")
    area, gauge = wiring.get(own + "conductor_mm2"), wiring.get(own + "awg")
    if area is None and gauge is None:
        area, gauge = wiring.get("conductor_mm2"), wiring.get("awg")
    if length is None or (area is None and gauge is None):
        return None
    return Cable(wiring, length, area, gauge)
