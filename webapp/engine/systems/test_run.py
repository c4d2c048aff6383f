"""A test run judged: spread of its runs, what was predicted at its temperature, and the time limit that follows."""
from collections import OrderedDict

from ..line.build import limit, median
from ..basics.figure import figure, given
from ..basics.findings import finding, ordered
from ..basics.kinds import DUAL, PROGRESSIVE, TIMED, fitting
from ..events.simulate import simulate
from .worked import doses_of

SPREAD = "order statistics"
WIDEST_SPREAD_PERCENT = 15
FEWEST_RUNS = 3
# how far a run may lie from the prediction: air and flow figures are rarely known better
TOLERANCE = 0.3


def counted(record):
    """The runs that count and have a build-up time."""
    return [run for run in record.get("runs") or [] if run.get("counts") is not False and run.get("build_s")]


def _timed(document, at_c):
    """(suffix of the figures, who it is about, field of a run, predicted [s] or None) of what the runs of the kind time."""
    if document["kind"] == PROGRESSIVE:
        from .predict import turn_s
        return [("", "", "cycle_s", turn_s(document))]
    doses = doses_of(document)
    if doses is None:
        return [("", "", "build_s", None)]
    trace = simulate(document, doses, at_c)
    if document["kind"] == TIMED:
        return [("", "", "build_s", trace["fed_s"][0])]
    if document["kind"] == DUAL:
        trips = (trace["trip_s"] + [None, None])[:2]
        return [("", "Line A: ", "build_s", trips[0]), ("_b", "Line B: ", "build_b_s", trips[1])]
    return [("", "", "build_s", trace["trip_s"][0])]


def verdict(document, record):
    """Figures and findings of a test run: {"runs", "median", "spread", "predicted", "time_limit", "verdict", "findings"}.

    `verdict` is the id of the sentence that says how measurement and prediction agree; without a run there is what to expect.
    Dual-line: figures of the half of line B end in `_b`. Progressive: judged are the times from signal to signal, the limit comes
    from the waits since the start.
    """
    document = fitting(document)
    runs = counted(record)
    out, findings = OrderedDict((("runs", len(runs)),)), _seen(document, record)
    at_c = record.get("at_c")
    verdicts = []
    for suffix, of, field, predicted in _timed(document, document["ambient"]["usual_c"] if at_c is None else at_c):
        times = [run[field] for run in runs if run.get(field)]
        if predicted is not None:
            out["predicted_low" + suffix] = _band(predicted, 1 - TOLERANCE)
            out["predicted_high" + suffix] = _band(predicted, 1 + TOLERANCE)
        if times:
            verdicts.append(_judged(out, findings, suffix, of, times, predicted))
    if not runs:
        out["verdict"] = "verdict.no_runs"
        out["findings"] = findings + [finding("note", "runs", "verdict.no_runs")]
        return out
    if document["kind"] != TIMED:
        waits = [run["build_s"] for run in runs] + [run["build_b_s"] for run in runs if run.get("build_b_s")]
        out["time_limit"], found = limit(document, max(waits), "longest run", False)
        findings += found
    out["verdict"] = ([one for one in verdicts if one != "verdict.agrees"] or verdicts or ["verdict.no_runs"])[0]
    out["findings"] = ordered(findings)
    return out


def _seen(document, record):
    """Findings of the points that were looked at: which stayed dry, and how many nobody looked at where nothing else tells."""
    seen = {row["point"]: row["fed"] for row in record.get("seen") or []}
    dry = [point["name"] for point in document["points"] if seen.get(point["id"]) is False]
    left = len([point for point in document["points"] if point["id"] not in seen])
    findings = [finding("warn", "seen", "verdict.dry", [("points", ", ".join(dry))])] if dry else []
    if document["kind"] == TIMED and left:
        findings.append(finding("warn", "seen", "verdict.unseen", [("count", given(left, "count", "points"))]))
    return findings


def _judged(out, findings, suffix, of, times, predicted):
    """Add the figures of one kind of time to `out`; returns the id of its verdict, which is added to the findings."""
    runs = ("runs", given(times, "s", "time of each run that counts"))
    middle, spread = median(times), 100 * (max(times) - min(times)) / median(times)
    out["median" + suffix] = figure(middle, "s", "median(runs)", [runs], SPREAD)
    out["spread" + suffix] = figure(spread, "%", "100 * (max(runs) - min(runs)) / median(runs)", [runs], SPREAD)
    said = _judge(middle, spread, times, predicted)
    values = [("median", given(middle, "s", "median")), ("spread", given(spread, "%", "spread")), ("fewest", str(FEWEST_RUNS)), ("of", of)]
    if predicted is not None:
        values += [("low", given(predicted * (1 - TOLERANCE), "s", "low")), ("high", given(predicted * (1 + TOLERANCE), "s", "high"))]
    findings.append(finding("note" if said == "verdict.agrees" else "warn", "runs", said, values))
    return said


def _band(predicted, share):
    return figure(predicted * share, "s", "predicted * share", [
        ("predicted", given(predicted, "s", "predicted by the line model at the temperature of the test", True)),
        ("share", given(share, "ratio", "how far a run may lie off: the line's figures are rarely known better", True))],
        "line model, tolerance by common practice, no published source")


def _judge(middle, spread, times, predicted):
    if spread > WIDEST_SPREAD_PERCENT:
        return "verdict.spread"
    if len(times) < FEWEST_RUNS:
        return "verdict.few_runs"
    if predicted is None:
        return "verdict.no_prediction"
    if middle > predicted * (1 + TOLERANCE):
        return "verdict.slow"
    if middle < predicted * (1 - TOLERANCE):
        return "verdict.quick"
    return "verdict.agrees"
