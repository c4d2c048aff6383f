"""Calls of the charts that a person has set aside, and when they come back.

A record covers a finding as it stood at the reading it was made of (`of`). A drift comes back with a new call, and with a later
reading that lies further out than all that were set aside by more than readings scatter (half the width between the control
limits). Everything else comes back with the next reading that says it again.
"""
from collections import OrderedDict

from ..basics.dates import day_of, day_text, days_of
from ..basics.figure import given

_SAME = 1e-6


def judge_set_aside(trend, records):
    """Give each warning of a trend `of`, the time of the newest reading behind it, and move what a record covers to `set_aside`:
    [{"finding", "by", "at", "why", "back": when it comes back, a sentence's id and texts}].
    """
    still, aside = [], []
    for entry in trend["findings"]:
        chart = trend.get(entry["where"]) if entry["where"] in ("build_up", "residual") else None
        points = chart["points"] if chart else trend["consumption"].get("intervals") if entry["where"].startswith("consumption") else None
        covered = None
        if points and entry["severity"] != "note":
            entry["of"] = points[-1]["at"]
            covered = _covered(entry, chart, points, records)
        if covered:
            aside.append(covered)
        else:
            still.append(entry)
    trend["findings"], trend["set_aside"] = still, aside


def _covered(entry, chart, points, records):
    """The newest record that covers a finding, with it; None where none does."""
    for one in sorted([one for one in records if one.get("finding") == entry["id"] and days_of(one.get("of")) is not None],
                      key=lambda one: (-days_of(one["of"]), one.get("made_at") or "", one.get("id") or "")):
        back = _back(entry, chart, points, days_of(one["of"]))
        if back:
            return OrderedDict((("finding", entry), ("by", one.get("made_by") or ""), ("at", _day(one.get("made_at"))),
                                ("why", one.get("why") or ""), ("back", back)))
    return None


def _day(text):
    day = day_of(text)
    return "" if day is None else day_text(day)


def _back(entry, chart, points, day):
    """When a finding that was set aside at a reading of that day comes back; None where it is back."""
    call = chart["calls"][-1] if chart and chart["calls"] and chart["calls"][-1]["over"] is None else None
    if call is None or entry["id"] == "trend.outside":
        return None if days_of(points[-1]["at"]) > day + _SAME else OrderedDict((("id", "aside.once"), ("with", OrderedDict())))
    if call["at_day"] > day + _SAME:
        return None
    way = 1 if call["rises"] else -1
    room = (chart["upper"]["value"] - chart["lower"]["value"]) / 2 if "upper" in chart else 0.0
    furthest = max([way * point["corrected"] for point in points if call["since_day"] <= point["day"] <= day + _SAME])
    if [point for point in points if point["day"] > day + _SAME and way * point["corrected"] > furthest + room]:
        return None
    return OrderedDict((("id", "aside.drift"), ("with", OrderedDict([
        ("limit", given(way * (furthest + room), chart["unit"], "where it comes back"))]))))
