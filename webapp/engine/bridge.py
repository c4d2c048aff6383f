"""The door to the phone: one JSON text in, one out. The server's commands use it as well, so both machines do the same.

What the first figure does not need is imported when it is asked for: the phone compiles each module as it comes.
"""
import json

from .document.check import check
from .basics.findings import ordered
from .basics.kinds import fitting
from .words.present import present
from .systems.worked import doses_from, outline, work


def _reader(request):
    return request.get("units") or "metric", request.get("language") or "en", request.get("detail") is not False


def _work(request):
    return present(work(request["document"], request.get("simulate") is not False, bool(request.get("keep_traces"))),
                   *_reader(request))


def _outline(request):
    return present(outline(request["document"]), *_reader(request))


def _check(request):
    return present({"findings": ordered(check(request["document"]))}, *_reader(request))


def _simulate(request):
    """A trace with the doses and settings that the system is worked out to need, under the `faults` typed as NAME=VALUE."""
    from .events.faults import read
    from .events.simulate import simulate
    document = request["document"]
    worked = work(document, True)
    if "build" not in worked:
        return present(worked, *_reader(request))
    document = fitting(document)
    faults, findings = read(document, request.get("faults") or [])
    if findings:
        return present({"findings": findings}, *_reader(request))
    at_c = request.get("at_c")
    limit = worked["build"].get("time_limit") or worked["build"].get("window") or {}
    settings = {"time_limit": limit.get("value"), "vent": (worked.get("vent", {}).get("time") or {}).get("value")}
    cycles = request.get("cycles") or 1
    if cycles == 1:
        settings["vent"] = None
    run_s = (worked["interval"].get("run_time") or {}).get("value")
    return simulate(document, doses_from(document, worked), document["ambient"]["usual_c"] if at_c is None else at_c,
                    cycles, request.get("limit_s") or run_s, settings, faults)


def _diagram(request):
    from .pictures.diagram import diagram
    return diagram(request["document"], request.get("worked"), request["width"], _reader(request)[0])


def _trace_picture(request):
    from .pictures.trace_picture import trace_picture
    return trace_picture(request["document"], request["traces"], request["width"], _reader(request)[0])


def _compared_picture(request):
    from .pictures.trace_picture import compared_picture
    return compared_picture(request["document"], *request["traces"], request["width"], _reader(request)[0])


def _along_line(request):
    from .pictures.along_line import along_line
    return along_line(request["document"], request["traces"], request["width"], request["panels"], _reader(request)[0],
                      request.get("names"))


def _faults_to_try(request):
    from .events.faults_to_try import to_try
    return to_try(request["document"], _reader(request)[0])


def _what_if(request):
    """What is seen under `faults` typed as NAME=VALUE, beside the healthy cycle. `worked`: where the phone has it."""
    from .systems.what_if import what_if
    worked = request.get("worked") or work(request["document"], True)
    if "build" not in worked:
        return present(worked, *_reader(request))
    return present(what_if(request["document"], worked, request["faults"], request["when"]), *_reader(request))


def _listing(request):
    from .basics.listing import OF_A_BLOCK, OF_A_POINT, groups
    return {"groups": groups(request["kind"]), "of_a_point": OF_A_POINT, "of_a_block": OF_A_BLOCK}


def _checklist(request):
    """As the plant's `plan` shapes it; with `today` and the `last` answers, what of it is due."""
    from .systems.shaped import asked
    return present(asked(request["document"], *[request.get(name) for name in ("worked", "plan", "last", "today")]), *_reader(request))


def _verdict(request):
    from .systems.test_run import verdict
    return present(verdict(request["document"], request["record"]), *_reader(request))


def _trend(request):
    from .trends.trend import trend
    return present(trend(request["document"], request["readings"], request.get("refills")), *_reader(request))


def _trend_picture(request):
    from .pictures.trend_picture import trend_picture
    return trend_picture(request["chart"], request["width"], _reader(request)[0])


def _over_time(request):
    from .trends.over_time import over_time
    return present(over_time(request["document"], request["records"]), *_reader(request))


def _history_picture(request):
    from .pictures.history_picture import history_picture
    return history_picture(request["history"], request["width"], request.get("days"), _reader(request)[0])


def _fit(request):
    from .trends.identify import identify
    return present(identify(request["document"], request["readings"]), *_reader(request))


def _season(request):
    from .year.season import season
    return present(season(request["document"], request.get("worked")), *_reader(request))


def _season_sets(request):
    from .year.season import season_sets
    return present(season_sets(request["document"], request.get("worked")), *_reader(request))


def _season_picture(request):
    from .pictures.season_picture import season_picture
    return season_picture(request["document"], request["season"], request["width"], _reader(request)[0])


def _sensitivity(request):
    from .year.sensitivity import sensitivity
    return present(sensitivity(request["document"], request.get("worked"), request.get("when")), *_reader(request))


def _design_help(request):
    from .year.design_help import design_help
    return present(design_help(request["document"], request.get("worked"), request.get("change")), *_reader(request))


def _case(request):
    """(the case, None), or (None, what to answer instead). `worked`: the worked document where the phone has it."""
    from .causes.diagnose import Case, stopped
    document, readings = request["document"], request["readings"]
    findings = stopped(document, readings, request.get("closed") or [], request.get("tried") or [])
    if findings:
        return None, present({"findings": findings}, *_reader(request))
    worked = request.get("worked") or work(document, True)
    if "build" not in worked and "interval" not in worked:
        return None, present(worked, *_reader(request))
    return Case(document, readings, worked), None


def _diagnose(request):
    """The order of causes: with `simulated` by what it holds, to be called again with more; without it the final one."""
    from .causes.diagnose import diagnose, finish
    from .causes.diagnosis_text import told
    case, instead = _case(request)
    if instead:
        return instead
    closed, tried = request.get("closed") or [], request.get("tried") or []
    if "simulated" in request:
        out = diagnose(case, closed, tried, request["simulated"])
    else:
        out = finish(case, closed, tried)
    return told(case, out, *_reader(request)[:2])


def _predict(request):
    """One simulated guess, by its key of `next`."""
    from .causes.diagnose import predict
    case, instead = _case(request)
    return instead or predict(case, request["key"])


def _severities(request):
    from .care.defects import severities
    return present(severities(request["today"], request.get("next_round")), *_reader(request))


def _defects(request):
    from .care.defects import standing
    return present(standing(request["defects"], request["today"]), *_reader(request))


def _parts(request):
    from .care.parts import parts
    return parts(request["document"])


def _adjusted(request):
    from .care.adjusted import adjusted
    return present(adjusted(request["adjustments"], request["settings"], request.get("entered") or []), *_reader(request))


def _causes(request):
    from .causes.diagnosis_text import names
    return {"causes": names(request["document"], _reader(request)[1])}


def _care(request):
    """What is due at one system, its points not confirmed fed and its reservoir, at `now`, and over a `period` where one is asked for."""
    from .care.care import care
    return present(care(request["document"], request["now"], request["known"], request.get("day"), request.get("period")), *_reader(request))


def _carry(request):
    """What to carry for refills: `rows` of {"name", "refill"}."""
    from .care.refills import carry
    return present({"carry": carry(request["rows"])}, *_reader(request))


REQUESTS = {"work": _work, "outline": _outline, "check": _check, "simulate": _simulate, "diagram": _diagram,
            "trace_picture": _trace_picture, "compared_picture": _compared_picture, "along_line": _along_line,
            "faults_to_try": _faults_to_try, "what_if": _what_if, "listing": _listing, "checklist": _checklist, "verdict": _verdict,
            "trend": _trend, "trend_picture": _trend_picture, "over_time": _over_time, "history_picture": _history_picture, "fit": _fit,
            "season": _season, "season_sets": _season_sets, "season_picture": _season_picture, "sensitivity": _sensitivity, "design_help": _design_help,
            "diagnose": _diagnose, "predict": _predict, "severities": _severities, "defects": _defects, "parts": _parts,
            "adjusted": _adjusted, "causes": _causes, "care": _care, "carry": _carry}


def ask(request):
    """Answer one request, {"do": name, ...}. An unknown name is a bug and raises KeyError."""
    return REQUESTS[request["do"]](request)


def answer(text):
    """The same as JSON text: all that crosses the border to the phone."""
    return json.dumps(ask(json.loads(text)))
