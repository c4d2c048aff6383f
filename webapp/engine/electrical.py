"""Whether the wiring carries pump and vent valve: current, fuse, relay, voltage drop along the cable."""
from math import pi

from .figure import COMMON_PRACTICE, figure, given
from .findings import finding

IEC_60228 = "IEC 60228 class 5, greatest resistance at 20 °C (secondary page); 0.00393 per K"
AWG = "AWG by the ASTM B258 ratio; copper 17.241 Ω·mm²/km"
# conductor [mm²] -> Ω/km at 20 °C
RESISTANCE = ((0.5, 39.0), (0.75, 26.0), (1, 19.5), (1.5, 13.3), (2.5, 7.98), (4, 4.95), (6, 3.30), (10, 1.91))
COPPER = 17.241
FUSES = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100)
MOST_DROP_PERCENT = 5.0
DEFAULT_CONDUCTOR_C = 60
DEFAULT_RELAY_ABOVE_A = 5


def awg_area(number):
    """Cross-section [mm²] of an AWG number (n/0 sizes: 1 - n). Source: AWG."""
    return pi / 4 * awg_diameter(number) ** 2


def awg_diameter(number):
    """Diameter [mm] of an AWG number. Source: AWG."""
    return 0.127 * 92 ** ((36 - number) / 39)


def resistance_factor(t_c):
    """Copper's resistance at t_c [°C] over that at 20 °C."""
    return 1 + 0.00393 * (t_c - 20)


def _conductor(wiring):
    """(Ω/km at 20 °C, source) of the cable's conductor."""
    area = wiring.get("conductor_mm2")
    for size, ohm in RESISTANCE:
        if area is not None and abs(size - area) < 1e-9:
            return ohm, IEC_60228
    if area is None:
        area = awg_area(wiring["awg"])
    return COPPER / area, AWG


def _drop(current, cable_m, ohm, factor):
    return 2 * cable_m * current * ohm * factor / 1000


def current_of(document):
    """Pump and vent valve together [A]."""
    pump, valve = document["pump"]["current_a"], (document.get("vent_valve") or {}).get("current_a") or 0
    return figure(pump + valve, "A", "pump + valve", [("pump", given(pump, "A", "pump")),
                                                      ("valve", given(valve, "A", "vent valve"))], "sum of the loads")


def _fuse(current):
    size = next((fuse for fuse in FUSES if fuse >= 1.25 * current), FUSES[-1])
    return figure(size, "A", "next_size(1.25 * load, sizes)", [
        ("load", given(current, "A", "continuous load")),
        ("sizes", given([float(fuse) for fuse in FUSES], "A", "usual sizes"))], COMMON_PRACTICE, method="chosen")


def _relay(document, current):
    controller, choices = document["controller"], document.get("choices") or {}
    above = choices.get("relay_above_a")
    above = DEFAULT_RELAY_ABOVE_A if above is None else above
    carried = controller.get("outputs_a")
    limit = above if carried is None else min(above, carried)
    return figure(current > limit, "bool", "load > limit", [
        ("load", given(current, "A", "pump and vent valve")),
        ("limit", given(limit, "A", "what the controller's own contacts may switch"))], COMMON_PRACTICE)


def _voltage_figures(document, current):
    wiring, supply = document["wiring"], document["pump"]["supply_v"]
    ohm, source = _conductor(wiring)
    warm = wiring.get("conductor_c")
    warm_given = DEFAULT_CONDUCTOR_C if warm is None else warm
    drop = _drop(current, wiring["cable_m"], ohm, resistance_factor(warm_given))
    volts = figure(drop, "V", "2 * length * load * r20 * (1 + 0.00393 * (t - 20)) / 1000", [
        ("length", given(wiring["cable_m"], "m", "cable, one way")),
        ("load", given(current, "A", "pump and vent valve")),
        ("r20", given(ohm, "Ω/km", "conductor at 20 °C")),
        ("t", given(warm_given, "°C", "conductor", warm is None))], source)
    percent = figure(100 * drop / supply, "%", "100 * drop / supply", [
        ("drop", given(drop, "V", "voltage drop", warm is None)), ("supply", given(supply, "V", "supply"))], source)
    return volts, percent


def _smallest_conductor(document, current):
    """The smallest conductor of the table that keeps the drop within the limit [mm²]; None where none does."""
    wiring = document["wiring"]
    warm = wiring.get("conductor_c")
    factor = resistance_factor(DEFAULT_CONDUCTOR_C if warm is None else warm)
    for size, ohm in RESISTANCE:
        if 100 * _drop(current, wiring["cable_m"], ohm, factor) / document["pump"]["supply_v"] <= MOST_DROP_PERCENT:
            return size
    return None


def _drop_finding(document, current, percent):
    size = _smallest_conductor(document, current)
    values = [("drop", given(percent["value"], "%", "voltage drop")), ("limit", given(MOST_DROP_PERCENT, "%", "limit"))]
    if size is None:
        return finding("warn", "wiring", "wiring.drop", values)
    return finding("warn", "wiring.conductor_mm2", "wiring.drop_size", values + [("size", given(size, "mm²", "conductor"))])


def electrical(document):
    """({figures}, [findings]) of the electrical check. Voltage drop only where the wiring is described."""
    current = current_of(document)
    load = current["value"]
    figures = {"current": current, "fuse": _fuse(load), "relay_needed": _relay(document, load)}
    findings = []
    if figures["relay_needed"]["value"]:
        findings.append(finding("note", "controller.outputs_a", "wiring.relay", [("load", given(load, "A", "load"))]))
    wiring = document.get("wiring") or {}
    if wiring.get("cable_m") is None:
        return figures, findings + [finding("note", "wiring", "wiring.unknown")]
    figures["voltage_drop"], figures["voltage_drop_percent"] = _voltage_figures(document, load)
    if figures["voltage_drop_percent"]["value"] > MOST_DROP_PERCENT:
        findings.append(_drop_finding(document, load, figures["voltage_drop_percent"]))
    fitted = wiring.get("fuse_a")
    if fitted is not None and fitted < 1.25 * load:
        findings.append(finding("warn", "wiring.fuse_a", "wiring.fuse", [
            ("fitted", given(fitted, "A", "fuse fitted")), ("load", given(load, "A", "load")),
            ("wanted", given(figures["fuse"]["value"], "A", "fuse wanted"))]))
    return figures, findings
