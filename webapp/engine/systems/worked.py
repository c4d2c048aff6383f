"""A system worked: every figure, setting and finding of one document. Texts for readers are added by present.py."""
from collections import OrderedDict

from ..document.check import check
from ..basics.findings import ordered
from ..basics.kinds import DUAL, PROGRESSIVE, SIDES, SINGLE, fitting


def work(document, simulated=True, keep_traces=False):
    """Work a `system/1` document into `worked/1`, without texts.

    simulated    False leaves the simulated figures, and what follows from them alone, out: fast enough while typing
    keep_traces  also return the traces by name

    Doses and build-up time depend on one another through the event: two rounds are made, the last doses stand.
    A document that the check stops is returned with its findings and no figures.
    """
    out, findings, stopped = _checked(document, simulated)
    if stopped:
        return out
    job = job_of(document, simulated)
    job.choose_interval()
    out.update(job.sections())
    out["settings"] = job.settings(out)
    out["findings"] = ordered(findings + job.findings)
    if keep_traces and simulated:
        out["traces"] = job.traces
    return out


def outline(document):
    """The pause and what a cycle takes at least, at once, for the foot of a form while somebody types; same shape as work."""
    out, findings, stopped = _checked(document, False)
    if not stopped:
        job = job_of(document, False)
        job.choose_interval()
        out.update((("interval", {"pause": job.pause()}), ("build", job.at_once())))
        out["findings"] = ordered(findings)
    return out


def job_of(document, simulated):
    """The job of the checked document's kind; only that kind's module is loaded."""
    kind = document["kind"]
    if kind == SINGLE:
        from .kind_single import SingleLine as Kind
    elif kind == PROGRESSIVE:
        from .kind_progressive import Progressive as Kind
    elif kind == DUAL:
        from .kind_dual import DualLine as Kind
    else:
        from .kind_timed import Timed as Kind
    return Kind(fitting(document), simulated)


def _checked(document, simulated):
    """(head of a worked document, findings of the check, True when they stop it; the head then holds them)."""
    findings = check(document)
    system = document.get("id") if isinstance(document, dict) else None
    out = OrderedDict((("format", "worked/1"), ("system", system if isinstance(system, str) else None), ("simulated", simulated)))
    stopped = any(entry["severity"] == "stop" for entry in findings)
    if stopped:
        out["findings"] = ordered(findings)
    return out, findings, stopped


def doses_from(document, worked):
    """What `simulate` asks for, from a worked document: device id -> cm³ that it takes from the line in a cycle.

    Dual-line: {"A": ..., "B": ...}, one a half; progressive: nothing, the outlets say it.
    """
    return {} if document["kind"] == PROGRESSIVE else _by_device(document, [figures["dose"]["value"] for figures in worked["points"]])


def doses_of(document):
    """The same doses without the rest of the figures; None of a document that the check stops. Not of a progressive system."""
    _, _, stopped = _checked(document, False)
    if stopped:
        return None
    job = job_of(document, False)
    job.choose_interval()
    return _by_device(document, [job.doses[job.demand_key(point)] for point in document["points"]])


def _by_device(document, doses):
    """The doses of the points, in their order, added up by device, of a dual line by side too."""
    of_side = {side: {device["id"]: 0.0 for device in document["devices"]} for side in SIDES}
    dual = document["kind"] == DUAL
    for point, dose in zip(document["points"], doses):
        of_side[point["side"] if dual else "A"][point["device"]] += dose
    return of_side if dual else of_side["A"]
