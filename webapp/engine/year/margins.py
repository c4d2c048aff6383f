"""Whether a system works at one temperature, by closed forms: decided wherever the margin is clear without a simulation."""
from ..basics.kinds import DUAL, PROGRESSIVE, SIDES, TIMED, VENTED
from ..basics.ranges import at_least, largest
from ..feeding.interval import DEFAULT_LONGEST_EVENT_H
from ..line.build import margin_of, median, short_vent
from ..line.line import locked_pressures
from .bounds import Build, Vent, stroke_of

# what may stop a system: nothing may reset in time, the pump's relief pressure, the longest time limit that the controller accepts,
# the limit on the settings sheet, a device or switch that never acts
RESET, RELIEF, TIME_LIMIT, AS_SET, IDLE = "reset", "relief", "time_limit", "as_set", "idle"
# a limit is surely kept where no more than this share of it may be used, and surely missed from the other on: the bounds are the
# line's own, the shares leave room for the cells and steps of the simulation. Common practice, no published source
CLEAR, MISSED = 0.9, 1.05
# a device or another switch surely acts where its pressure is no more than this share of what is surely there
_ACTS = 0.98
# a block takes the pump's whole delivery within this above its working pressure
_SPAN_BAR = 0.2


def locked_share(document, at_c):
    """(share, kind, thing): what may stay locked in over the reset pressure, where that is greatest; 0 where nothing resets."""
    if document["kind"] not in VENTED:
        return 0.0, None, None
    locked = locked_pressures(document, at_c)
    ranked = [(locked[thing["at"]] / thing["resets_bar"], -number, kind, thing) for number, (kind, thing) in enumerate(
        [("device", device) for device in document["devices"]] + [("switch", switch) for switch in document["switches"]])]
    share, _, kind, thing = max(ranked, key=lambda entry: entry[:2])
    return share, kind, thing


class Margins:
    """What closed forms say of a checked, fitting document at an ambient temperature [°C]; its job has chosen the interval."""

    def __init__(self, document, job, at_c):
        self.document, self.job, self.at_c, self.kind = document, job, at_c, document["kind"]
        self.relief, self.limit_s = document["pump"]["relief_bar"], largest(document["controller"]["time_limit"])
        self.runs = (document.get("measured") or {}).get("build_s") or []

    def missed(self):
        """limit -> share of it that is used at least, of those that are surely missed."""
        out, locked = {}, locked_share(self.document, self.at_c)[0]
        if locked >= 1:
            out[RESET] = locked
        self.halves = self._halves(self.at_c)
        needs = max([half.needs[1] for half in self.halves]) / self.relief
        if needs > MISSED:
            out[RELIEF] = needs
        least = max([half.times()[0] for half in self.halves]) / self.limit_s
        if least > MISSED and not self.runs:
            out[TIME_LIMIT] = least
        return out

    def kept(self):
        """limit -> greatest share of it that may be used; None where that is not clear for all of them. After missed()."""
        out = {RELIEF: max([half.needs[0] for half in self.halves]) / self.relief,
               RESET: locked_share(self.document, self.at_c)[0]}
        if not self._act(self.halves) or max(out.values()) > CLEAR:
            return None
        self._add_times(out)
        if max(out.values()) > CLEAR or not all([half.stays_up() for half in self.halves]):
            return None
        if self.kind in VENTED:
            out[RESET] = max(out[RESET], self._reset())
        return None if max(out.values()) > CLEAR else out

    def _halves(self, at_c):
        document, job = self.document, self.job
        if self.kind == PROGRESSIVE:
            turns = job.turns[job.counted]
            volume = {job.first["id"]: job.sums[job.first["id"]] / turns if turns > 0 else float("inf")}
            return [Build(document, at_c, (job.first["at"], job.first["fires_bar"] + _SPAN_BAR), volume, volume)]
        demands = {demand.device: demand for demand in job.demands}
        goal = None if self.kind == TIMED else (document["switches"][0]["at"], document["switches"][0]["trips_bar"])
        out, hours = [], self._longest_h()
        for side in SIDES if self.kind == DUAL else (None,):
            least, most = {}, {}
            for point in document["points"]:
                if side is None or point["side"] == side:
                    name, demand = point["device"], demands[point["device"]]
                    least[name] = least.get(name, 0.0) + demand.least
                    most[name] = most.get(name, 0.0) + (demand.most if hours is None else demand.dose(demand.need * hours))
            out.append(Build(document, at_c, goal, least, most))
        return out

    def _longest_h(self):
        """Hours that a cycle's doses have to last at most, whatever interval is chosen; None where it cannot feed every point."""
        if not self.job.choice.fed:
            return None
        longest = (self.document.get("choices") or {}).get("longest_event_h")
        return min([DEFAULT_LONGEST_EVENT_H if longest is None else longest]
                   + [demand.most / demand.need for demand in self.job.demands if demand.need > 0])

    def _act(self, halves):
        return self.kind == TIMED or max([half.reached() for half in halves]) <= _ACTS

    def _add_times(self, out):
        """Shares of the longest time limit and of the one on the sheet."""
        ambient, seconds = self.document["ambient"], max([half.times()[1] for half in self.halves])
        if self.runs:
            measured = self.document["measured"]
            at_c = ambient["usual_c"] if measured.get("at_c") is None else measured["at_c"]
            grown = median(self.runs) * self._growth(self._halves(at_c))
            out[AS_SET] = grown / self._set(max(self.runs + (measured.get("build_b_s") or [])))
            seconds = max(seconds, grown)
        else:
            others = self._halves(ambient["coldest_c"])
            growth = 1.0 if self.at_c == ambient["coldest_c"] else self._growth(others)
            least = max([half.times()[0] for half in others]) if self._act(others) else 0.0
            out[AS_SET] = min(growth / margin_of(self.document), seconds / self._set(least))
        out[TIME_LIMIT] = seconds / self.limit_s

    def _set(self, longest):
        """The limit on the sheet for this longest time."""
        return at_least(self.document["controller"]["time_limit"], longest * margin_of(self.document)) or self.limit_s

    def _growth(self, others):
        """By how much more the build-up may take here than at another temperature."""
        if not self._act(others):
            return float("inf")
        return max([(here.volumes[1] + dose) / (other.volumes[0] + dose)
                    for here, other in zip(self.halves, others) for dose in here.doses])

    def _reset(self):
        """Share of the time for resetting, dual-line: or of the other line's build-up, that may be used."""
        document = self.document
        pressed = max([half.pressed_at(self.relief) if self.kind == TIMED else half.volumes[1] for half in self.halves])
        seconds = Vent(document, self.at_c).longest(pressed) + max([stroke_of(device) for device in document["devices"]])
        there, choice, controller = [], self.job.choice, document["controller"]
        if len(document["switches"]) == 1 or self.kind == TIMED:
            there.append(choice.pause + short_vent(document)["value"])
        if len(document["switches"]) > 1 or max(controller.get("cycles_max") or 1, choice.cycles) > 1:
            there.append(largest(controller["vent"]))
        if self.kind == DUAL:
            there += [half.volumes[0] / half.per_s for half in self.halves]
        return seconds / min(there)
