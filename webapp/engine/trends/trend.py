"""Readings of many rounds on control charts: build-up and residual pressure, and when a drift meets the time limit."""
from collections import OrderedDict
from math import exp, sqrt

from ..line.build import limit
from ..document.check import is_number
from ..basics.adding import added_up
from ..basics.dates import date_of, day_text, days_of
from ..basics.figure import figure, given
from ..basics.findings import finding, ordered
from ..basics.kinds import PROGRESSIVE, fitting
from ..lubricants.lubricant import DEFAULTS, OIL
from ..systems.predict import Curve, curve_of
from .trend_chart import Chart
from ..systems.worked import work

# deviations of what a reading is made of, estimates: a hand on a stopwatch [s], two cycles one after the other [share], a
# thermometer held to the pipe [K], a gauge [bar]
STOPWATCH_S, REPEATS, THERMOMETER_K, GAUGE_BAR = 0.3, 0.005, 1.0, 0.3
FEWEST_FOR_LINE = 3
LINE_FIT = "straight line by least squares"
_SLOPE = "7 * (sum(days * times) - sum(days) * sum(times) / n) / (sum(days ** 2) - sum(days) ** 2 / n)"


def trend(document, readings, refills=None, curve=None):
    """A `trend/1` document without texts: charts `build_up` and `residual`, `consumption`, findings.

    readings  [{"at" (ISO 8601), "build_s", "at_c" [°C], "residual_bar" where one was read}] since the last repair or
              change of the line: earlier ones are the caller's to leave out. Of a dual-line system it is line A's
              build-up, of a progressive one a turn of its block
    refills   as consumption.consumption takes them
    curve     as predict.curve_of gives it, where it has been worked already for these temperatures and others
    """
    worked = work(document, False)
    out = OrderedDict((("format", "trend/1"), ("system", worked["system"])))
    if "points" not in worked:
        out["findings"] = worked["findings"]
        return out
    document, findings = fitting(document), []
    rows = _rows(readings, "build_s", 0.0)
    skipped = len([one for one in readings if not _only_residual(one)]) - len(rows)
    if skipped:
        findings.append(finding("note", "readings", "trend.skipped", [("count", given(skipped, "count", "left out"))]))
    if rows:
        out["build_up"], found = _build_up(document, rows, curve)
        findings += found
    rows = _rows(readings, "residual_bar", GAUGE_BAR)
    if rows and document["lubricant"]["nlgi"] != OIL:
        out["residual"], found = _residual(document, rows)
        findings += [one for one in found if one["id"] != "trend.few" or "build_up" not in out]
    if refills:
        from .consumption import consumption
        out["consumption"], found = consumption(document, refills, worked)
        findings += found
    out["findings"] = ordered(findings)
    return out


def _only_residual(reading):
    """True for what a time-only system's rounds read: nothing is timed there."""
    return isinstance(reading, dict) and reading.get("build_s") is None and reading.get("residual_bar") is not None


def _rows(readings, name, least):
    """Readings with a date, a temperature and a value above `least`, by date."""
    rows = []
    for number, reading in enumerate([one for one in readings if isinstance(one, dict)]):
        day, value, at_c = days_of(reading.get("at")), reading.get(name), reading.get("at_c")
        if day is not None and is_number(value) and least < value < 1e6 and is_number(at_c) and abs(at_c) < 200:
            rows.append((day, number, {"at": reading["at"], "day": day, "at_c": at_c, "value": value}))
    return [row for _, _, row in sorted(rows, key=lambda entry: entry[:2])]


def _build_up(document, rows, curve):
    curve, modelled = curve or curve_of(document, [row["at_c"] for row in rows])
    for row in rows:
        warmth = THERMOMETER_K * curve.slope(row["at_c"])
        row["noise"] = sqrt((STOPWATCH_S / row["value"]) ** 2 + REPEATS ** 2 + warmth ** 2)
    chart = Chart("build_up", "s", rows, curve, document["ambient"]["usual_c"])
    out = chart.worked()
    if not modelled:
        chart.find("note", "trend.no_model", [])
    if chart.standing and chart.standing["rises"]:
        _meeting(document, chart, out, curve if modelled else None)
    return out, chart.findings


def _residual(document, rows):
    """What stays after venting grows with the yield: straight in its logarithm over temperature."""
    stated = document["lubricant"].get("stiffening_per_k")
    stiffening = DEFAULTS["stiffening_per_k"] if stated is None else stated
    curve = Curve([(0.0, 1.0), (10.0, exp(-10 * stiffening))])
    for row in rows:
        row["noise"] = sqrt((GAUGE_BAR / row["value"]) ** 2 + REPEATS ** 2 + (THERMOMETER_K * stiffening) ** 2)
    chart = Chart("residual", "bar", rows, curve, document["ambient"]["usual_c"])
    return chart.worked(), chart.findings


def _time_limit(document, curve):
    """The time limit [s] by measured runs, else by the coldest prediction; None where there is neither, and where not one
    turn but the first signal is limited."""
    if document["kind"] == PROGRESSIVE:
        return None
    runs = (document.get("measured") or {}).get("build_s")
    if runs:
        return limit(document, max(runs), "longest measured run", False)[0]
    if curve:
        return limit(document, curve.at(document["ambient"]["coldest_c"]), "predicted at the coldest temperature", True)[0]
    return None


def _meeting(document, chart, out, curve):
    """`per_week`, `meets` and `meets_coldest`: the drift as a straight line, and when it reaches the time limit."""
    start = chart.standing["since"]
    last = chart.rows[-1]["day"]
    days = [row["day"] - last for row in chart.rows[start:]]
    times = chart.corrected[start:]
    n = len(days)
    wide = added_up([day * day for day in days]) - added_up(days) ** 2 / n
    if n < FEWEST_FOR_LINE or wide <= 0:
        return
    slope = (added_up([day * seconds for day, seconds in zip(days, times)]) - added_up(days) * added_up(times) / n) / wide
    level = (added_up(times) - slope * added_up(days)) / n
    inputs = [("days", given(days, "days", "before the last reading")),
              ("times", given(times, "s", "corrected build-ups of the drift")),
              ("n", given(n, "count", "readings of the drift"))]
    out["per_week"] = figure(7 * slope, "s", _SLOPE, inputs, LINE_FIT)
    most = _time_limit(document, curve)
    if slope <= 0 or most is None:
        return
    parts = [("limit", given(most["value"], "s", "time limit", most["estimate"])), ("level", given(level, "s", "the line today")),
             ("per_week", given(7 * slope, "s", "growth a week"))]
    out["meets"] = _meets(most["value"], level, slope, parts, 1.0)
    values = [("per_week", given(7 * slope, "s", "growth a week")), ("limit", given(most["value"], "s", "time limit")),
              ("date", day_text(last + out["meets"]["value"]))]
    out["meets_on"] = date_of(last + out["meets"]["value"])
    if curve:
        colder = curve.at(document["ambient"]["coldest_c"]) / curve.at(chart.reference)
        out["meets_coldest"] = _meets(most["value"], level, slope, parts, colder)
    chart.find("warn", "trend.meets" if out["meets"]["value"] > 0 else "trend.met", values)


def _meets(most, level, slope, parts, colder):
    inputs = parts + [("colder", given(colder, "ratio", "build-up there over that at the reference temperature", colder != 1.0))]
    return figure(max(0.0, (most / colder - level) / slope), "days", "max(0, (limit / colder - level) / (per_week / 7))", inputs,
                  LINE_FIT)
