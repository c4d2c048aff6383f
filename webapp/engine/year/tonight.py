"""Whether a system works at one temperature: by closed forms where that is clear, else by its simulation."""
from collections import OrderedDict

from ..basics.figure import given
from ..basics.findings import finding, ordered
from ..basics.kinds import DUAL, PROGRESSIVE, TIMED, VENTED, fitting
from ..basics.ranges import at_least, largest
from ..document.check import check
from ..events.simulate import moments, simulate
from ..line.build import margin_of, median
from ..line.tree import PUMP
from ..systems.worked import doses_from, work
from .margins import AS_SET, IDLE, RELIEF, RESET, TIME_LIMIT, locked_share

# a run is looked at no longer than this, whatever the controller accepts
_LONGEST_S = 7200


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
        """limit -> share of it that is used; 1 and more where it is missed."""
        out, trace = {}, self.trace
        peak = max([max(trace[name][PUMP]) for name in ("pressure_bar", "pressure_b_bar") if name in trace])
        relief = self.document["pump"]["relief_bar"]
        out[RELIEF] = peak / relief
        if self.time is None:
            out[RELIEF if peak >= relief * (1 - 1e-9) else TIME_LIMIT] = 1.0
        else:
            if self.kind_holds_relief():
                del out[RELIEF]
            out[TIME_LIMIT] = self.time / self.limit_s
            if self.set_s:
                out[AS_SET] = self.time / self.set_s
            out.update(self._after())
        if self.document["kind"] in VENTED:
            out[RESET] = max(out.get(RESET, 0.0), locked_share(self.document, self.at_c)[0])
        return out

    def kind_holds_relief(self):
        """True where the pump runs on against its relief valve anyway."""
        return self.document["kind"] == TIMED

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
