"""Build-up and vent: volume to press in, times from it and from the simulation, and the limits that follow."""
from ..basics.adding import added_up
from ..basics.figure import COMMON_PRACTICE, LINE_MODEL, figure, given
from ..basics.findings import finding
from .grid import ATMOSPHERE_PA
from ..lubricants.lubricant import lubricant_at
from ..basics.ranges import at_least, largest, smallest, step_at

DEFAULT_MARGIN = 1.5
COMPRESSION = "compression of the lubricant, its free air (isothermal) and the pipe walls"
_BAR = 1e5


def margin_of(document):
    """The margin on measured or predicted times."""
    margin = (document.get("choices") or {}).get("margin")
    return DEFAULT_MARGIN if margin is None else margin


def median(values):
    """Middle of the ranked values."""
    ranked = sorted(values)
    middle = len(ranked) // 2
    return ranked[middle] if len(ranked) % 2 else (ranked[middle - 1] + ranked[middle]) / 2


def volume(document, doses, line_cm3, at=None):
    """All doses + compression V (p/K + phi (1 - p0/(p+p0))) + wall expansion [cm³], at the first switch's trip pressure.

    doses  device id -> cm³ taken from the line in a cycle
    at     (pressure [bar], meaning) where no switch ends the build-up
    Source: COMPRESSION.
    Departs from the source: the liquid counts as filling the air's place too, phi of its own share more.
    """
    trips, means = at or (document["switches"][0]["trips_bar"], "trip pressure of the first switch")
    state = lubricant_at(document["lubricant"], document["ambient"]["usual_c"])
    pressure = trips * _BAR
    swells = [(section.get("expansion_cm3_per_m_per_100bar") or 0) * section["length_m"] for section in document["sections"]]
    pressed = line_cm3 * (pressure / state["bulk_modulus_pa"]
                          + state["air_fraction"] * (1 - ATMOSPHERE_PA / (pressure + ATMOSPHERE_PA)))
    given_doses = [doses[device["id"]] for device in document["devices"]]
    return figure(added_up(given_doses) + pressed + added_up(swells) * trips / 100, "cm³",
                  "sum(doses) + V * (p / (10 * K) + phi * (1 - p0 / (p + p0))) + sum(swells) * p / 100", [
                      ("doses", given(given_doses, "cm³", "what each device takes from the line")),
                      ("V", given(line_cm3, "cm³", "volume of the line")),
                      ("p", given(trips, "bar", means)),
                      ("K", given(state["bulk_modulus_pa"] / 1e6, "MPa", "bulk modulus",
                                  "bulk_modulus_mpa" in state["estimates"])),
                      ("phi", given(state["air_fraction"], "1", "free air by volume", "air_fraction" in state["estimates"])),
                      ("p0", given(ATMOSPHERE_PA / _BAR, "bar", "atmosphere")),
                      ("swells", given(swells, "cm³", "swelling of each pipe at 100 bar"))], COMPRESSION)


def time_frictionless(document, volume_figure):
    """That volume over the pump's delivery [s]."""
    delivery = document["pump"]["delivery_cm3_min"]
    return figure(60 * volume_figure["value"] / delivery, "s", "60 * volume / delivery", [
        ("volume", given(volume_figure["value"], "cm³", "volume to press in", volume_figure["estimate"])),
        ("delivery", given(delivery, "cm³/min", "pump delivery"))], COMPRESSION)


def time_simulated(document, trace, number=0):
    """The simulation's trip time number `number` [s]; value None where the relief pressure or the longest limit came first."""
    lubricant = lubricant_at(document["lubricant"], trace["at_c"])
    first, trips = document["switches"][0], trace["trip_s"]
    return figure(trips[number] if number < len(trips) else None, "s", "time when pressure(switch) >= trips in the line model", [
        ("trips", given(first["trips_bar"], "bar", "trip pressure of the first switch")),
        ("relief", given(document["pump"]["relief_bar"], "bar", "relief pressure of the pump")),
        ("delivery", given(document["pump"]["delivery_cm3_min"], "cm³/min", "pump delivery")),
        ("t", given(trace["at_c"], "°C", "temperature", bool(lubricant["estimates"])))],
        LINE_MODEL, method="simulated", residual=balance(trace))


def balance(trace):
    """How well a simulation's volumes add up: the residual of what it gives."""
    return {"says": "volume balance of the simulation", "value": trace["balance_error"], "limit": 0.005}


def limit(document, longest, means, estimate, too_long="limit.out_of_range"):
    """A time limit [s]: `longest` times the margin, up to the next value that the controller accepts; and its findings."""
    ranges = document["controller"]["time_limit"]
    wanted = longest * margin_of(document)
    value = at_least(ranges, wanted)
    findings = []
    if value is None:
        value = largest(ranges)
        findings.append(finding("stop" if value < longest else "warn", "controller.time_limit", too_long, [
            ("wanted", given(wanted, "s", "time limit wanted")), ("largest", given(value, "s", "largest accepted"))]))
    return figure(value, "s", "min(largest, up_to_step(longest * margin, step, least))", [
        ("longest", given(longest, "s", means, estimate)), ("margin", given(margin_of(document), "ratio", "margin")),
        ("step", given(step_at(ranges, value), "s", "the controller's step")),
        ("least", given(_start(ranges, value), "s", "where the controller's range begins")),
        ("largest", given(largest(ranges), "s", "largest value accepted"))], COMMON_PRACTICE, method="chosen"), findings


def _start(ranges, value):
    """Start of the range in which a value lies."""
    if isinstance(ranges, dict):
        return ranges["min_s"]
    return max([entry["min_s"] for entry in ranges if entry["min_s"] <= value] or [smallest(ranges)])


def reset_time(trace, moments):
    """From opening the vent until all devices and switches have reset [s]; value None where they do not."""
    value = None if moments["ready"] is None else moments["ready"] - moments["open"]
    return figure(value, "s", "time when every pressure <= resets in the line model", [
        ("t", given(trace["at_c"], "°C", "temperature"))], LINE_MODEL, method="simulated", residual=balance(trace))


def short_vent(document):
    """One switch and one cycle: the shortest vent that the controller accepts, since venting goes on through the pause.

    None at all only where it accepts no other: the whole vent is then the pause's.
    """
    ranges = document["controller"]["vent"]
    value = at_least(ranges, max(smallest(ranges), step_at(ranges, smallest(ranges))))
    value = largest(ranges) if value is None else value
    return figure(value, "s", "least", [("least", given(value, "s", "shortest vent that the controller accepts"))],
                  COMMON_PRACTICE, method="chosen")


def long_vent(document, reset_s, estimate):
    """Two switches or several cycles: the reset time with the margin, up to the controller's step; and its findings."""
    ranges = document["controller"]["vent"]
    wanted = reset_s * margin_of(document)
    value = at_least(ranges, wanted)
    findings = []
    if value is None:
        value = largest(ranges)
        findings.append(finding("stop" if value < reset_s else "warn", "controller.vent", "vent.out_of_range", [
            ("wanted", given(wanted, "s", "vent wanted")), ("largest", given(value, "s", "largest accepted"))]))
    return figure(value, "s", "min(largest, up_to_step(reset * margin, step, least))", [
        ("reset", given(reset_s, "s", "until everything has reset at the coldest temperature", estimate)),
        ("margin", given(margin_of(document), "ratio", "margin")),
        ("step", given(step_at(ranges, value), "s", "the controller's step")),
        ("least", given(_start(ranges, value), "s", "where the controller's range begins")),
        ("largest", given(largest(ranges), "s", "largest value accepted"))], COMMON_PRACTICE, method="chosen"), findings
