"""A system over time: its trend since the newest baseline, and all that is held on one axis of time."""
from collections import OrderedDict
from math import sqrt

from ..basics.adding import added_up
from ..basics.dates import days_of
from ..basics.figure import figure, given
from ..basics.kinds import fitting
from ..document.check import check, is_number
from ..systems.predict import curve_of
from .drift import LEARNING
from .gathered import gathered
from .set_aside import judge_set_aside
from .trend import REPEATS, STOPWATCH_S, THERMOMETER_K, trend

# so many known deviations of a reading make the band of what is expected
WIDE = 3
LEVEL = "mean of the first readings since the baseline over what the line model predicts at their temperatures"


def over_time(document, records):
    """An `over-time/1` document without texts: {"trend", "history"}; records: {kind: [bodies]}, rounds with at least their
    readings of the whole system and what was not ok.

    history   {"points" (timed cycles with the band expected at their temperature), "level" (a figure), "residual", "reset_bar", "uses",
              "events", "first", "last"}; the model is today's document, its level learnt anew after each baseline
    """
    found = gathered(records)
    out = OrderedDict((("format", "over-time/1"), ("system", document.get("id") if isinstance(document, dict) else None)))
    if [entry for entry in check(document) if entry["severity"] == "stop"]:
        out["trend"], out["history"] = dict(trend(document, []), set_aside=[]), None
        return out
    timed = [row for row in found["readings"] if is_number(row["build_s"]) and row["build_s"] > 0 and is_number(row["at_c"])]
    curve = curve_of(fitting(document), [row["at_c"] for row in timed]) if timed else None
    since = _since(found["readings"], document.get("baseline_run"))
    out["trend"] = trend(document, since if len(since) > 1 else [], found["refills"] if len(found["refills"]) > 1 else None, curve)
    judge_set_aside(out["trend"], records.get("set-aside") or [])
    out["history"] = _history(document, found, timed, curve, out["trend"])
    return out


def _since(readings, baseline):
    """Readings from the baseline on: what was normal before a repair says nothing of what is now."""
    begins = [days_of(row["at"]) for row in readings if baseline is not None and row.get("run") == baseline]
    return [row for row in readings if (not begins or days_of(row["at"]) >= begins[0]) and row.get("run") in (None, baseline)]


def _history(document, found, timed, curve, worked):
    out = OrderedDict((("points", []),))
    for rows in _between(timed, found["begins"]):
        points, level = _expected(rows, *curve)
        out["points"] += points
        out["level"] = level
    out["residual"] = [OrderedDict((("day", days_of(row["at"])), ("value", row["residual_bar"]))) for row in found["readings"]
                       if is_number(row.get("residual_bar"))]
    resets = [thing["resets_bar"] for thing in document["devices"] + document["switches"] if is_number(thing.get("resets_bar"))]
    out["reset_bar"] = min(resets) if resets else None
    intervals = worked["consumption"].get("intervals", []) if "consumption" in worked else []
    out["uses"] = [OrderedDict((("from", days_of(one["since"])), ("to", days_of(one["at"])), ("share", one["share"]), ("low", one["low"]),
                                ("high", one["high"]))) for one in intervals]
    out["events"] = found["events"]
    days = [point["day"] for point in out["points"] + out["residual"] + out["events"]]
    out["first"], out["last"] = (min(days), max(days)) if days else (None, None)
    return out


def _between(rows, begins):
    """The rows in groups, each from a baseline to the next."""
    groups = [[]]
    left = list(begins)
    for row in rows:
        while left and days_of(row["at"]) >= left[0]:
            left.pop(0)
            groups.append([])
        groups[-1].append(row)
    return [group for group in groups if group]


def _expected(rows, curve, modelled):
    """([points], figure of the level or None): each reading with what the model, moved to the first readings' level, expects there."""
    if not modelled:
        return [_point(row, None, 0.0) for row in rows], None
    ratios = [row["build_s"] / curve.at(row["at_c"]) for row in rows[:LEARNING]]
    level = figure(added_up(ratios) / len(ratios), "ratio", "sum(ratios) / count", [
        ("ratios", given(ratios, "ratio", "measured over predicted, the first readings since the baseline", True)),
        ("count", given(len(ratios), "count", "of them"))], LEVEL)
    points = []
    for row in rows:
        wanted = level["value"] * curve.at(row["at_c"])
        warmth = THERMOMETER_K * curve.slope(row["at_c"])
        points.append(_point(row, wanted, WIDE * wanted * sqrt((STOPWATCH_S / wanted) ** 2 + REPEATS ** 2 + warmth ** 2)))
    return points, level


def _point(row, wanted, half):
    low, high = (None, None) if wanted is None else (wanted - half, wanted + half)
    return OrderedDict((("day", days_of(row["at"])), ("at_c", row["at_c"]), ("measured", row["build_s"]), ("low", low), ("high", high),
                        ("outside", wanted is not None and not low <= row["build_s"] <= high)))
