"""A test run judged: spread of its runs, what was predicted at its temperature, and the time limit that follows."""
from collections import OrderedDict

from .build import limit, median
from .figure import figure, given
from .findings import finding, ordered
from .simulate import simulate
from .worked import doses_from, work

SPREAD = "order statistics"
WIDEST_SPREAD_PERCENT = 15
FEWEST_RUNS = 3
# how far a run may lie from the prediction: air and flow figures are rarely known better
TOLERANCE = 0.3


def counted(record):
    """The runs that count and have a build-up time."""
    return [run for run in record.get("runs") or [] if run.get("counts") is not False and run.get("build_s")]


def _predicted(document, at_c):
    """Predicted build-up at the temperature [s], or None: the simulation with the doses of the worked system."""
    worked = work(document, False)
    if "points" not in worked:
        return None
    return simulate(document, doses_from(document, worked), at_c)["trip_s"][0]


def verdict(document, record):
    """Figures and findings of a test run: {"runs", "median", "spread", "predicted", "time_limit", "verdict", "findings"}.

    `verdict` is the id of the sentence that says how measurement and prediction agree.
    """
    times = [run["build_s"] for run in counted(record)]
    out, findings = OrderedDict((("runs", len(times)),)), []
    if not times:
        out["verdict"] = "verdict.no_runs"
        out["findings"] = [finding("note", "runs", "verdict.no_runs")]
        return out
    runs = ("runs", given(times, "s", "build-up of each run that counts"))
    out["median"] = figure(median(times), "s", "median(runs)", [runs], SPREAD)
    out["spread"] = figure(100 * (max(times) - min(times)) / median(times), "%",
                           "100 * (max(runs) - min(runs)) / median(runs)", [runs], SPREAD)
    out["time_limit"], found = limit(document, max(times), "longest run", False)
    findings += found
    at_c = record.get("at_c")
    predicted = _predicted(document, document["ambient"]["usual_c"] if at_c is None else at_c)
    out["verdict"] = _judge(out, times, predicted)
    values = [("median", given(out["median"]["value"], "s", "median")), ("spread", given(out["spread"]["value"], "%", "spread")),
              ("fewest", str(FEWEST_RUNS))]
    if predicted is not None:
        out["predicted_low"] = _band(predicted, 1 - TOLERANCE)
        out["predicted_high"] = _band(predicted, 1 + TOLERANCE)
        values += [("low", given(predicted * (1 - TOLERANCE), "s", "low")), ("high", given(predicted * (1 + TOLERANCE), "s", "high"))]
    severity = "note" if out["verdict"] == "verdict.agrees" else "warn"
    findings.append(finding(severity, "runs", out["verdict"], values))
    out["findings"] = ordered(findings)
    return out


def _band(predicted, share):
    return figure(predicted * share, "s", "predicted * share", [
        ("predicted", given(predicted, "s", "predicted by the line model at the temperature of the test", True)),
        ("share", given(share, "ratio", "how far a run may lie off: the line's figures are rarely known better", True))],
        "line model, tolerance by common practice, no published source")


def _judge(out, times, predicted):
    if out["spread"]["value"] > WIDEST_SPREAD_PERCENT:
        return "verdict.spread"
    if len(times) < FEWEST_RUNS:
        return "verdict.few_runs"
    if predicted is None:
        return "verdict.no_prediction"
    if out["median"]["value"] > predicted * (1 + TOLERANCE):
        return "verdict.slow"
    if out["median"]["value"] < predicted * (1 - TOLERANCE):
        return "verdict.quick"
    return "verdict.agrees"
