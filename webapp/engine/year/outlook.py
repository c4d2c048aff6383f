"""One worked system at one temperature: how long it builds and resets there, and which limit stops it. Reads traces, knows no kind."""
from collections import OrderedDict

from ..line.build import median
from ..basics.findings import finding
from ..basics.kinds import SINGLE, fitting
from ..line.line import locked_pressures
from ..basics.ranges import largest
from ..events.simulate import moments, simulate
from ..line.tree import PUMP
from ..systems.worked import doses_from, work

# what may stop a system: nothing may reset in time, the pump's relief pressure, the time limit, a device or switch that never acts
RESET, RELIEF, TIME_LIMIT, IDLE = "reset", "relief", "time_limit", "idle"


def begun(form, document, worked):
    """(head of an answer, fitting document, worked document with traces or None): None, and findings in the head, where nothing follows."""
    worked = worked or work(document, True, True)
    head = OrderedDict((("format", form), ("system", worked["system"])))
    if "build" not in worked:
        head["findings"] = worked["findings"]
    elif document["kind"] != SINGLE:
        head["findings"] = [finding("note", "kind", "season.kind", [("kind", document["kind"])])]
    else:
        return head, fitting(document), worked
    return head, document, None


def _value(section, name):
    return (section.get(name) or {}).get("value")


class Outlook:
    """What must hold for a worked system at any temperature.

    limit_s     longest time limit that the controller accepts [s]
    resets_in   time in which everything must have reset [s]
    factor      measured over predicted build-up at the temperature of the runs; 1 without runs
    """

    def __init__(self, document, worked, traces=None, doses=None):
        self.document, self.doses = document, doses_from(document, worked) if doses is None else doses
        self.known = {trace["at_c"]: trace for trace in (traces or {}).values() if trace.get("doses", self.doses) == self.doses}
        controller, cycles = document["controller"], worked["interval"]["cycles_per_event"]["value"]
        self.limit_s = largest(controller["time_limit"])
        self.vents_long = len(document["switches"]) > 1 or cycles > 1
        self.resets_in = largest(controller["vent"]) if self.vents_long else \
            worked["interval"]["pause"]["value"] + (_value(worked["vent"], "time") or 0)
        self.factor = self._measured_over_predicted()

    def _measured_over_predicted(self):
        measured = self.document.get("measured") or {}
        runs, at_c = measured.get("build_s") or [], measured.get("at_c")
        if not runs:
            return 1.0
        trip = self.trace(self.document["ambient"]["usual_c"] if at_c is None else at_c)["trip_s"][0]
        return median(runs) / trip if trip else 1.0

    def trace(self, at_c):
        """The simulation at a temperature; each is made once."""
        if at_c not in self.known:
            self.known[at_c] = simulate(self.document, self.doses, at_c)
        return self.known[at_c]

    def at(self, at_c):
        """{"at_c", "trace", "moments", "build" [s], "reset" [s], "limit"}: what is so at a temperature; None where it never comes."""
        trace = self.trace(at_c)
        moment, trip = moments(trace), trace["trip_s"][0]
        out = {"at_c": at_c, "trace": trace, "moments": moment, "build": None if trip is None else trip * self.factor,
               "reset": None if moment["ready"] is None else moment["ready"] - moment["open"]}
        out["limit"] = self._limit(out)
        return out

    def _limit(self, out):
        trace = out["trace"]
        if out["build"] is None:
            return RELIEF if max(trace["pressure_bar"][PUMP]) >= self.document["pump"]["relief_bar"] * (1 - 1e-9) else TIME_LIMIT
        if out["build"] > self.limit_s:
            return TIME_LIMIT
        if not trace["completed"] and out["moments"]["open"] is None or self._some_idle(trace):
            return IDLE
        if out["reset"] is None or out["reset"] > self.resets_in or self._locked(out["at_c"]):
            return RESET
        return None

    def _some_idle(self, trace):
        dosed = {event["where"] for event in trace["events"] if event["what"] == "device dosed"}
        return any([dose > 0 and device not in dosed for device, dose in self.doses.items()])

    def _locked(self, at_c):
        locked = locked_pressures(self.document, at_c)
        return any([locked[thing["at"]] >= thing["resets_bar"] for thing in self.document["devices"] + self.document["switches"]])
