"""How long the reservoir lasts by the duty, and how long the pump has lubricant after the low-level switch has acted."""
from math import floor

from ..basics.figure import figure, given
from ..basics.findings import finding

GEOMETRY = "volume used over time"
FEWEST_DAYS = 7
# a warning on Friday must last until Monday; common practice
WEEKEND_DAYS = 3


def hours_a_day(document):
    """Hours a working day on which the system counts its interval [h]."""
    duty = document["duty"]
    return duty["hours_per_day"] if duty.get("only_while_machine_runs") else 24


def _days(litres, left, per_day, days_per_week):
    if not per_day > 0:
        return None
    return figure((litres - left) * 1000 / (per_day * days_per_week / 7), "days",
                  "(reservoir - left) * 1000 / (per_day * days_per_week / 7)", [
                      ("reservoir", given(litres, "l", "reservoir")), ("left", given(left, "l", "not to be used")),
                      ("per_day", given(per_day, "cm³/day", "use on a working day")),
                      ("days_per_week", given(days_per_week, "count", "working days a week"))], GEOMETRY)


def days_a_week(document):
    """Days a week on which the system counts its interval."""
    duty = document["duty"]
    return duty["days_per_week"] if duty.get("only_while_machine_runs") else 7


def _after_low(document, cycle_cm3, drawn_cm3, cycles_per_day):
    """Figures of what is left when the low-level switch acts: whole cycles before air, and the days they last.

    cycle_cm3 stays out in each cycle, drawn_cm3 is out while the pressure is up; the rest of it comes back with the vent.
    """
    low, rest = document["pump"]["low_level_l"], document["pump"].get("not_drawn_l") or 0
    cycles = figure(max(0, floor(((low - rest) * 1000 - drawn_cm3) / cycle_cm3 + 1e-9) + 1), "count",
                    "max(0, floor(((low - rest) * 1000 - drawn) / cycle + 1e-9) + 1)", [
                        ("low", given(low, "l", "left when the low-level switch acts")),
                        ("rest", given(rest, "l", "cannot be drawn")),
                        ("drawn", given(drawn_cm3, "cm³", "out of the reservoir at the end of a build-up")),
                        ("cycle", given(cycle_cm3, "cm³", "doses of one cycle"))], GEOMETRY)
    days = days_a_week(document)
    return {"cycles_after_low": cycles,
            "time_after_low": figure(cycles["value"] / (cycles_per_day * days / 7), "days",
                                     "cycles / (a_day * days_per_week / 7)", [
                ("cycles", given(cycles["value"], "count", "cycles after low level")),
                ("a_day", given(cycles_per_day, "count", "cycles on a working day")),
                ("days_per_week", given(days, "count", "working days a week"))], GEOMETRY)}


def _low_findings(document, figures):
    """Findings of the low-level switch and of what happens when it acts."""
    pump, level = document["pump"], document.get("low_level") or {}
    low, rest = pump.get("low_level_l"), pump.get("not_drawn_l") or 0
    if not level.get("fitted"):
        return []
    if low is None:
        return [finding("note", "pump.low_level_l", "low.unknown")]
    if rest >= low:
        return [finding("warn", "pump.low_level_l", "low.too_late", [
            ("low", given(low, "l", "left when the switch acts")), ("rest", given(rest, "l", "cannot be drawn"))])]
    if level.get("on_low") != "warn only":
        return []
    cycles, days = figures["cycles_after_low"], figures["time_after_low"]
    return [finding("warn" if days["value"] < WEEKEND_DAYS else "note", "low_level.on_low", "low.warn_only", [
        ("cycles", given(cycles["value"], "count", "cycles")), ("days", given(days["value"], "days", "until air"))])]


def reservoir(document, event_cm3, events_per_day, cycles=1, drawn_cm3=None):
    """({figures}, [findings]).

    event_cm3   all doses of one event [cm³]
    cycles      cycles of one event
    drawn_cm3   what the pump has out of the reservoir at the end of a build-up [cm³]; the doses of the cycle if None
    """
    pump, days_per_week = document["pump"], days_a_week(document)
    per_day = figure(event_cm3 * events_per_day, "cm³/day", "event * events", [
        ("event", given(event_cm3, "cm³", "all doses of one event")),
        ("events", given(events_per_day, "count", "events a working day"))], GEOMETRY)
    figures = {"per_day": per_day}
    low = pump.get("low_level_l") or 0
    to_low = _days(pump["reservoir_l"], low, per_day["value"], days_per_week)
    if to_low is None:
        return figures, []
    figures["days_to_low"] = to_low
    figures["days_to_empty"] = _days(pump["reservoir_l"], 0, per_day["value"], days_per_week)
    if (document.get("low_level") or {}).get("fitted") and pump.get("low_level_l") is not None:
        cycle = event_cm3 / cycles
        figures.update(_after_low(document, cycle, cycle if drawn_cm3 is None else drawn_cm3, cycles * events_per_day))
    findings = _low_findings(document, figures)
    if to_low["value"] < FEWEST_DAYS:
        findings.append(finding("warn", "pump.reservoir_l", "reservoir.short", [
            ("days", given(to_low["value"], "days", "until low level")),
            ("fewest", given(FEWEST_DAYS, "days", "shortest sensible"))]))
    return figures, findings
