"""How long the reservoir lasts by the duty."""
from .figure import figure, given
from .findings import finding

GEOMETRY = "volume used over time"
FEWEST_DAYS = 7


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


def reservoir(document, event_cm3, events_per_day):
    """({figures}, [findings]); event_cm3: all doses of one event [cm³]."""
    pump, duty = document["pump"], document["duty"]
    days_per_week = duty["days_per_week"] if duty.get("only_while_machine_runs") else 7
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
    findings = []
    if to_low["value"] < FEWEST_DAYS:
        findings.append(finding("warn", "pump.reservoir_l", "reservoir.short", [
            ("days", given(to_low["value"], "days", "until low level")),
            ("fewest", given(FEWEST_DAYS, "days", "shortest sensible"))]))
    return figures, findings
