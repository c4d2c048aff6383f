"""What a system's records say over time: readings and refills for the charts, and what happened, as plain data."""
from collections import OrderedDict

from ..basics.dates import day_of, day_text, days_of
from ..basics.figure import given
from ..words.sentences import sentence

# items of a round that time a cycle, by kind, and those that go with it
_TIMED = ("timed_cycle:whole", "timed_line_a:whole", "timed_turn:whole")
_WARMTH, _LEFT = "line_temperature:whole", "vent_falls:pump"
_NOT_OK = "not ok"


def gathered(records):
    """{"readings", "refills", "begins", "events"} of records {kind: [bodies]}; what cannot be read is left out.

    readings   as trend.trend takes them, by time; `run`: the document of the test run that one is the median of
    begins     days on which a signed test run made a new baseline
    events     [{"day", "kind" (fault, defect, setting, refill, run), "until" (the day a defect was closed, None while open), "id",
               "with"}] by time
    """
    runs = [one for one in _of(records, "test-run") if one.get("signed")]
    readings = [reading for reading in [_of_run(one) for one in runs] + [_of_round(one) for one in _of(records, "round")] if reading]
    refills = [{"at": one["made_at"], "refill_l": one.get("refill_l"), "cycles": one.get("cycles")} for one in _of(records, "refill")]
    return {"readings": _by_time(readings, "at"), "refills": refills, "begins": sorted([days_of(one["made_at"]) for one in runs]),
            "events": _events(records, runs)}


def _of(records, kind):
    return [one for one in records.get(kind) or [] if isinstance(one, dict) and days_of(one.get("made_at")) is not None]


def _median(values):
    ranked = sorted(values)
    return (ranked[(len(ranked) - 1) // 2] + ranked[len(ranked) // 2]) / 2


def _of_run(body):
    builds = [run.get("cycle_s") or run["build_s"] for run in body["runs"] if run.get("counts") is not False and run.get("build_s")]
    return {"at": body["made_at"], "build_s": _median(builds), "at_c": body.get("at_c"), "run": body["id"]} if builds else None


def _of_round(body):
    values = dict([(item["id"], item.get("value")) for item in body["items"] if item.get("answer") == "reading"])
    timed = [values[key] for key in _TIMED if values.get(key) is not None]
    if not timed and values.get(_LEFT) is None:
        return None
    return {"at": body["made_at"], "build_s": timed[0] if timed else None, "at_c": values.get(_WARMTH), "residual_bar": values.get(_LEFT)}


def _event(kind, body, identifier, values, until=None):
    return OrderedDict((("day", days_of(body["made_at"])), ("kind", kind), ("until", until), ("id", "event." + identifier),
                        ("with", OrderedDict(values))))


def _cause(text):
    """A cause as the diagnosis writes it, `blocked=S2`, in words; what somebody wrote in words stays as it is."""
    name = (text or "").partition("=")[0]
    try:
        return sentence("cause." + ("return" if text == "leak=pump" else name), {"at": ""})["says"].replace("  ", " ")
    except KeyError:
        return text or "not found yet"


def _events(records, runs):
    out = [_event("run", one, "run", []) for one in runs]
    for one in _of(records, "round"):
        wrong = [item for item in one["items"] if item.get("answer") == _NOT_OK]
        if wrong:
            out.append(_event("fault", one, "round", [("count", str(len(wrong))), ("where", wrong[0].get("where") or wrong[0]["id"]),
                                                      ("note", wrong[0].get("note") or wrong[0].get("ask") or "")]))
    out += [_event("fault", one, "case", [("symptom", one.get("symptom") or ""), ("cause", _cause(one.get("cause")))])
            for one in _of(records, "fault-case")]
    for one in _of(records, "defect"):
        closed = one.get("closed") or {}
        words = [("what", one.get("what") or ""), ("severity", one.get("severity") or "")]
        if closed:
            at = closed["at"] if days_of(closed.get("at")) is not None else one["made_at"]
            out.append(_event("defect", one, "defect_closed", words + [
                ("on", day_text(day_of(at))), ("how", closed.get("how") or "")], days_of(at)))
        else:
            out.append(_event("defect", one, "defect_open", words))
    for one in _of(records, "adjustment"):
        was = one["from"] + " to " if one.get("from") else ""
        out.append(_event("setting", one, "setting", [("setting", one.get("setting") or ""), ("was", was), ("to", one.get("to") or "")]))
    for one in _of(records, "refill"):
        if one.get("refill_l"):
            named = ", " + one["lubricant"] if one.get("lubricant") else ""
            out.append(_event("refill", one, "refill", [("litres", given(one["refill_l"], "l", "filled in")), ("lubricant", named)]))
    return _by_time(out, "day")


def _by_time(rows, name):
    """Rows by the day (or the time) of that name, as they came where it is the same."""
    keyed = [(days_of(row[name]) if name == "at" else row[name], number, row) for number, row in enumerate(rows)]
    return [row for _, _, row in sorted(keyed, key=lambda entry: entry[:2])]
