"""One worked system at one temperature: how long it builds and resets there, and which limit stops it. Reads traces, knows no kind."""
from collections import OrderedDict

from ..line.build import limit, median
from ..basics.kinds import fitting
from ..basics.ranges import largest
from ..events.simulate import moments, simulate
from ..line.tree import PUMP
from ..systems.worked import doses_from, work
from . import build_ups

# what may stop a system: nothing may reset in time, the pump's relief pressure, the time limit, a device or switch that never acts
RESET, RELIEF, TIME_LIMIT, IDLE = "reset", "relief", "time_limit", "idle"
# a run longer than until the last device has moved by this factor: with other steps the simulation ends its stroke a little sooner or later
_AND_ITS_STROKE = 1.02


def begun(form, document, worked):
    """(head of an answer, fitting document, worked document with traces or None): None, and findings in the head, where nothing follows."""
    worked = worked or work(document, True, True)
    head = OrderedDict((("format", form), ("system", worked["system"])))
    if "build" not in worked:
        head["findings"] = worked["findings"]
        return head, document, None
    return head, fitting(document), worked


def _value(section, name):
    return (section.get(name) or {}).get("value")


class Outlook:
    """What must hold for a worked system at any temperature.

    limit_s     longest time limit that the controller accepts [s]
    resets_in   time in which everything must have reset [s]; None where the line does not vent
    factor      measured over predicted build-up at the temperature of the runs; 1 without runs
    """

    def __init__(self, document, worked, traces=None, doses=None):
        self.document, self.doses = document, doses_from(document, worked) if doses is None else doses
        self.known = {trace["at_c"]: trace for trace in (traces or {}).values() if trace.get("doses", self.doses) == self.doses
                      and not (trace.get("limit_s") and build_ups.ends(trace)[-1] is None)}
        controller, cycles = document["controller"], worked["interval"]["cycles_per_event"]["value"]
        self.limit_s = largest(controller["time_limit"])
        self.vented = "vent" in worked
        self.vents_long, self.resets_in = self.vented and (len(document["switches"]) > 1 or cycles > 1), None
        if self.vented:
            self.resets_in = largest(controller["vent"]) if self.vents_long else \
                worked["interval"]["pause"]["value"] + (_value(worked["vent"], "time") or 0)
        # a pump that runs a set time runs it all the year, as long as it suffices; not in a document that was changed
        self.run_s = _value(worked["interval"], "run_time") if doses is None else None
        self.factor = 1.0
        self.factor = self._measured_over_predicted()

    def _measured_over_predicted(self):
        """Of the build-up that is farthest above its prediction."""
        measured = self.document.get("measured") or {}
        runs, at_c = measured.get("build_s") or [], measured.get("at_c")
        if not runs:
            return 1.0
        trace = self.trace(self.document["ambient"]["usual_c"] if at_c is None else at_c)
        each = (runs, measured.get("build_b_s") or runs)
        found = [median(seen) / end for seen, end in zip(each, build_ups.times(self.document, trace)) if end]
        # where nothing confirms that all are fed, no run that was seen shortens what is predicted
        return max(found + [1.0]) if "fed_s" in trace else max(found or [1.0])

    def trace(self, at_c):
        """The simulation at a temperature; each is made once."""
        if at_c not in self.known:
            self.known[at_c] = self._simulated(at_c)
        return self.known[at_c]

    def _simulated(self, at_c):
        """The cycle; where a pump runs a set time, the run that the temperature asks for: what it adds must vent as well."""
        trace = None
        if self.run_s and at_c >= self.document["ambient"]["coldest_c"]:
            trace = simulate(self.document, self.doses, at_c, 1, self.run_s)
        if trace is None or build_ups.ends(trace)[-1] is None:
            trace = simulate(build_ups.waiting(self.document), self.doses, at_c)
            fed_s = build_ups.ends(trace)[-1] if "fed_s" in trace else None
            if fed_s is not None:
                needs = limit(self.document, fed_s * self.factor, "", True)[0]["value"]
                trace = simulate(self.document, self.doses, at_c, 1, max(needs, self.run_s or 0, fed_s * _AND_ITS_STROKE))
        return trace

    def at(self, at_c):
        """{"at_c", "trace", "moments", "build" [s], "reset" [s], "limit"}: what is so at a temperature; None where it never comes."""
        trace = self.trace(at_c)
        moment, end = moments(trace), build_ups.slowest(self.document, trace)[0]
        out = {"at_c": at_c, "trace": trace, "moments": moment, "build": None if end is None else end * self.factor,
               "reset": None if moment["ready"] is None else moment["ready"] - moment["open"]}
        out["limit"] = self._limit(out)
        return out

    def figures(self, here):
        """Figures of what is so at a temperature, but for the build-up's."""
        return build_ups.at_rest(self.document, here["trace"], here["moments"])

    def _limit(self, out):
        trace = out["trace"]
        if build_ups.ends(trace)[-1] is None:
            highest = max([max(trace[name][PUMP]) for name in ("pressure_bar", "pressure_b_bar") if name in trace])
            return RELIEF if highest >= self.document["pump"]["relief_bar"] * (1 - 1e-9) else TIME_LIMIT
        if out["build"] is not None and out["build"] > self.limit_s:
            return TIME_LIMIT
        idle = self._idle(trace)
        if idle or not trace["completed"] and out["moments"]["open"] is None:
            return RESET if self._held_by_the_other_side(trace, idle) else IDLE
        if self.vented and (out["reset"] is None or out["reset"] > self.resets_in
                            or build_ups.share(self.document, out["at_c"])[0] >= 1):
            return RESET
        return None

    def _idle(self, trace):
        """(line, device) that had something to dose and did not."""
        dosed = [(event.get("line"), event["where"]) for event in trace["events"] if event["what"] == "device dosed"]
        lines = self.doses if "pressure_b_bar" in trace else {None: self.doses}
        return [(name, device) for name in lines for device, dose in lines[name].items() if dose > 0 and (name, device) not in dosed]

    def _held_by_the_other_side(self, trace, idle):
        """True where devices did not move in the second half alone, one because its first side was not reset."""
        last = {event["where"]: event["what"] for event in trace["events"] if event.get("line") == "A"}
        return any([last.get(device) == "device dosed" for _, device in idle]) and not any([name == "A" for name, _ in idle])
