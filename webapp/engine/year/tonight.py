"""Whether a system works at one temperature: by closed forms where that is clear, else by its simulation."""
from collections import OrderedDict

from ..basics.figure import given
from ..basics.findings import finding
from ..basics.kinds import DUAL, PROGRESSIVE, TIMED, VENTED, fitting
from ..basics.ranges import at_least, largest
from ..document.check import check
from ..events.simulate import moments, simulate
from ..line.build import margin_of, median
from ..line.line import locked_pressures, vents_down_to
from ..line.tree import PUMP
from ..systems.line_findings import place_name
from ..systems.worked import doses_from, job_of, work
from .margins import AS_SET, IDLE, RELIEF, RESET, TIME_LIMIT, Margins, locked_share

CHECK, CLOSED, SIMULATED = "check", "closed form", "simulation"
# a time-only run is looked at no longer than this, whatever the controller accepts
_LONGEST_S = 7200
# a pump whose switch has tripped has stayed below its relief pressure, whatever the last step rounds to
_REACHED = 0.9999


def tonight(document, at_c):
    """`tonight/1` without texts: whether a system works at an ambient temperature at_c [°C] with the settings of its sheet.

    works     True or False; None where the check stops the document: its findings say why
    by        CHECK, CLOSED or SIMULATED: what decided
    limits    limit -> share of it that is used, 1 and more where it is missed: what is used at most where closed forms found that the
              system works, what is used at least of the missed ones where they found that it does not
    findings  one for each missed limit, the worst first
    """
    stops = [entry for entry in check(document) if entry["severity"] == "stop"]
    out = OrderedDict((("format", "tonight/1"), ("system", document.get("id") if isinstance(document, dict) else None), ("at_c", at_c)))
    if stops:
        out.update((("works", None), ("by", CHECK), ("limits", {}), ("findings", stops)))
        return out
    document = fitting(document)
    by, case = CLOSED, None
    limits = _closed(document, at_c)
    if limits is None:
        by, case = SIMULATED, Simulated(document, work(document, True, True), at_c)
        limits = case.limits()
    missed = sorted([(-share, limit) for limit, share in limits.items() if share >= 1])
    if limits.get(TIME_LIMIT, 0) >= 1:
        missed = [entry for entry in missed if entry[1] != AS_SET]  # no limit that may be set would do
    out.update((("works", not missed), ("by", by), ("limits", limits),
                ("findings", [_finding(document, at_c, limit, case) for _, limit in missed])))
    return out


def _closed(document, at_c):
    """What the closed forms decide; None where they leave it open."""
    job = job_of(document, False)
    job.choose_interval()
    margins = Margins(document, job, at_c)
    return margins.missed() or margins.kept()


def _finding(document, at_c, limit, case):
    """What a missed limit means; `case`: the simulated system, None where closed forms found it."""
    values = [("t", given(at_c, "°C", "temperature")), ("coldest", given(document["ambient"]["coldest_c"], "°C", "coldest"))]
    if limit == RESET:
        return _not_reset(document, at_c, values, case)
    if limit == RELIEF:
        values.append(("relief", given(document["pump"]["relief_bar"], "bar", "relief pressure")))
        return finding("stop", "pump.relief_bar", "tonight.relief", values)
    if limit == IDLE:
        return finding("stop", "devices", "tonight.idle", values + [("why", case.trace["why"])])
    accepted = largest(document["controller"]["time_limit"])
    values.append(("limit", given(accepted, "s", "longest time limit that the controller accepts")))
    seconds = case.time if case else None
    if limit == TIME_LIMIT:
        if seconds is None:
            return finding("stop", "controller.time_limit", "tonight.never", values)
        return finding("stop", "controller.time_limit", "tonight.time_limit", values + [("build", given(seconds, "s", "build-up"))])
    wanted = at_least(document["controller"]["time_limit"], seconds * margin_of(document))
    return finding("stop", "controller.time_limit", "tonight.as_set", values + [
        ("build", given(seconds, "s", "build-up")), ("set", given(case.set_s, "s", "limit on the sheet")),
        ("wanted", given(accepted if wanted is None else wanted, "s", "limit with its margin"))])


def _not_reset(document, at_c, values, case):
    share, kind, thing = locked_share(document, at_c)
    where = "%s.%s" % ("devices" if kind == "device" else "switches", thing["id"])
    if share < 1:
        return finding("stop", where, "tonight.late", values + [("within", given(case.resets_in(), "s", "time for resetting"))])
    values += [("place", place_name(document, kind, thing)), ("resets", given(thing["resets_bar"], "bar", "resets at")),
               ("left", given(locked_pressures(document, at_c)[thing["at"]], "bar", "stays locked in"))]
    warmer = vents_down_to(document, thing["at"], thing["resets_bar"], at_c)
    if warmer is None:
        return finding("stop", where, "tonight.locked_always", values)
    return finding("stop", where, "tonight.locked", values + [("to", given(warmer, "°C", "resets down to"))])


class Simulated:
    """A worked system simulated at an ambient temperature [°C]: which limits it meets there."""

    def __init__(self, document, worked, at_c):
        self.document, self.worked, self.at_c = document, worked, at_c
        self.doses = doses_from(document, worked)
        self.known = {trace["at_c"]: trace for trace in worked["traces"].values()}
        self.limit_s = largest(document["controller"]["time_limit"])
        interval, build = worked["interval"], worked["build"]
        self.set_s = (build.get("time_limit") or build.get("window") or interval.get("run_time") or {}).get("value")
        self.trace = self._trace(at_c)
        self.time = self._time(self.trace)
        if self.time is None and document["kind"] == TIMED:
            self.trace = self._endless(at_c)
            self.time = self._time(self.trace)
        if self.time is not None:
            self.time *= self._measured_over_predicted()

    def _trace(self, at_c):
        run_s = (self.worked["interval"].get("run_time") or {}).get("value")
        return self.known.get(at_c) or simulate(self.document, self.doses, at_c, 1, run_s)

    def _endless(self, at_c):
        """A time-only system that may run until the last device is fed."""
        controller = dict(self.document["controller"], time_limit={"min_s": 0, "max_s": _LONGEST_S, "step_s": 1})
        return simulate(dict(self.document, controller=controller), self.doses, at_c)

    def _time(self, trace):
        """The longest wait of the cycle [s]; None where one never ends."""
        times = trace.get("fed_s") or trace["trip_s"]
        return None if None in times else max(times)

    def _measured_over_predicted(self):
        measured = self.document.get("measured") or {}
        runs, at_c = measured.get("build_s") or [], measured.get("at_c")
        if not runs:
            return 1.0
        predicted = self._time(self._trace(self.document["ambient"]["usual_c"] if at_c is None else at_c))
        return median(runs) / predicted if predicted else 1.0

    def limits(self):
        """limit -> share of it that is used; 1 and more where it is missed, 1 where nothing says by how much."""
        out, trace = {}, self.trace
        peak = max([max(trace[name][PUMP]) for name in ("pressure_bar", "pressure_b_bar") if name in trace])
        used = peak / self.document["pump"]["relief_bar"]
        if self.time is None:
            out[RELIEF if used >= 1 - 1e-9 else TIME_LIMIT] = 1.0
        else:
            if self.document["kind"] != TIMED:  # it runs on against its relief valve anyway
                out[RELIEF] = min(used, _REACHED)
            out[TIME_LIMIT] = self.time / self.limit_s
            if self.set_s:
                out[AS_SET] = self.time / self.set_s
            out.update(self._after())
        if self.document["kind"] in VENTED:
            out[RESET] = max(out.get(RESET, 0.0), locked_share(self.document, self.at_c)[0])
        return out

    def _after(self):
        """Whether all acted, and how long they take to reset."""
        if not self.trace["completed"] and not self._vented():
            return {IDLE: 1.0}
        if self.document["kind"] == PROGRESSIVE:
            return {}
        moment = moments(self.trace)
        if moment["ready"] is None:
            return {RESET: 1.0}
        return {RESET: (moment["ready"] - moment["open"]) / self.resets_in()}

    def _vented(self):
        last = "B" if self.document["kind"] == DUAL else None
        return any([event["what"] == "vent open" and event.get("line") == last for event in self.trace["events"]])

    def resets_in(self):
        """Time in which everything must reset [s]."""
        interval = self.worked["interval"]
        if len(self.document["switches"]) > 1 or interval["cycles_per_event"]["value"] > 1:
            return largest(self.document["controller"]["vent"])
        return interval["pause"]["value"] + self.worked["vent"]["time"]["value"]
