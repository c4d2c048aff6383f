"""The range in which a build-up, or the time until all has reset, lies in 80 % of cases, where something that goes in is an estimate.

A build-up: what must be pressed in (air, bulk modulus) and how the lubricant flows are independent. The first has a closed form.
The second counts through the drop at full delivery: the share that friction adds is drawn as a line through the simulations that the
worked document brings. A reset: `venting_time.py` ranks it over every estimate by itself.

Cases of equal probability give the range; there is no upper end where the switch may never trip, or something never reset. Each end is
then simulated, with the mean of the cases that come out there: two simulations for a temperature and what is asked. A cycle of two
build-ups is ranked by its slower one.
"""
from math import exp, log, sqrt

from ..line import build, line
from ..basics.adding import added_up
from ..basics.figure import given
from ..line.flow import pressure_drop
from ..line.warmth import section_c
from ..lubricants.lubricant import lubricant_at
from ..events.simulate import longest_limit, moments, simulate
from ..line.tree import PUMP, Tree
from . import build_ups
from .uncertainty import TEN_TO_NINETY, moved_by, uncertain
from .venting_time import VentingTime

SHARE = 0.8
NEVER = float("inf")
# standard normal quantiles at 1/34, 3/34, ... 33/34: steps of equal probability, so many that a power of odd order orders them anew
_STEPS = 17
_HIGH = (0.1479871097, 0.2993069105, 0.4578519310, 0.6289042176, 0.8207920883, 1.0491313980, 1.3517022399, 1.8895099603)
_LEVELS = sorted([-z for z in _HIGH]) + [0.0] + list(_HIGH)
_NEAR, _TRIES = 11, 4
_NEAR_K = 3.0
_AIRY = ("bulk_modulus_mpa", "air_fraction")
_LEAST_DROP = 1e-6


def _peak(trace, end_s):
    """Greatest pressure at the pump until a build-up came to its end [bar]."""
    highest = 0.0
    for name in ("pressure_bar", "pressure_b_bar"):
        if name in trace:
            highest = max([highest] + [p for at, p in zip(trace["time_s"], trace[name][PUMP]) if end_s is None or at <= end_s])
    return highest


class Surrogate:
    """Closed forms of one line: volume to press in and drop at full delivery, for any lubricant."""

    def __init__(self, document, doses):
        self.document, self.doses = document, doses
        worst = build_ups.far_node(document)
        self.way = [section["id"] for section in Tree(document).way(worst)]
        self.volume = line.volume(document)["value"]

    def frictionless(self, document):
        """Build-up without friction [s], of two the longer."""
        most = max(build_ups.volumes(document, self.doses, self.volume))
        return 60 * most / document["pump"]["delivery_cm3_min"]

    def drop(self, document, at_c):
        """Pressure [Pa] along the way with the greatest drop, the whole delivery flowing."""
        lengths, states = {}, {}
        for section in document["sections"]:
            if section["id"] in self.way:
                own_c = section_c(document, section, at_c)
                lengths[(section["bore_mm"], own_c)] = lengths.get((section["bore_mm"], own_c), 0.0) + section["length_m"]
                if own_c not in states:
                    states[own_c] = lubricant_at(document["lubricant"], own_c)
        delivery, total = document["pump"]["delivery_cm3_min"] / 60e6, _LEAST_DROP
        for bore, own_c in sorted(lengths):
            state = states[own_c]
            total += lengths[(bore, own_c)] * pressure_drop(delivery, bore / 1000, 1, state["yield_pa"], state["consistency_pa_sn"],
                                                            state["flow_index"])
        return total


class _Along:
    """A logarithm that grows along the steepest direction of some inputs: its value z standard deviations that way."""

    def __init__(self, document, inputs, measure):
        self.document, self.inputs = document, inputs
        slopes = [log(measure(one.moved(document, 0.5)) / measure(one.moved(document, -0.5))) for one in inputs]
        size = sqrt(added_up([slope * slope for slope in slopes]))
        self.moves = [slope / size if size else 0.0 for slope in slopes]
        low, self.middle, high = [log(measure(self.at(z))) for z in (-TEN_TO_NINETY, 0.0, TEN_TO_NINETY)]
        self.slope = (high - low) / (2 * TEN_TO_NINETY)
        self.bend = ((high + low) / 2 - self.middle) / TEN_TO_NINETY ** 2
        self.flat = size < 1e-9

    def at(self, z, document=None):
        """The document, or another one, moved there."""
        return moved_by(document or self.document, self.inputs, [z * move for move in self.moves])

    def value(self, z):
        """The logarithm there, by a parabola."""
        return self.middle + self.slope * z + self.bend * z * z


class Friction:
    """What friction does to the build-up: log of simulated over frictionless time, by the log of the drop; where it stalls."""

    def __init__(self, document, surrogate):
        self.document, self.surrogate, self.points, self.failed = document, surrogate, [], []
        self.wanted, self.stalls = build_ups.wanted_bar(document), NEVER

    def add(self, document, trace):
        """Learn from a simulation of a document."""
        drop, end = log(self.surrogate.drop(document, trace["at_c"])), build_ups.slowest(document, trace)[0]
        if end is None:
            self.failed.append(drop)
        else:
            whole = end if len(build_ups.ends(trace)) == 1 else None
            self.points.append((drop, log(end / self.surrogate.frictionless(document)), _peak(trace, whole)))
            self.points.sort()
        self.stalls = self._stalls()

    def _stalls(self):
        """Drop at which the relief pressure is reached first: pressure above the trip grows with the drop."""
        stalls = min(self.failed or [NEVER])
        if self.points:
            drop, _, peak = self.points[-1]
            relief = self.document["pump"]["relief_bar"]
            if peak > self.wanted * 1.001:
                stalls = min(stalls, max(drop, drop + log((relief - self.wanted) / (peak - self.wanted))))
            elif self.failed:
                stalls = (drop + stalls) / 2
        return stalls

    def share(self, drop):
        """Log of simulated over frictionless time at the log of a drop; NEVER where the line stalls."""
        if drop > self.stalls or not self.points:
            return NEVER
        points = self.points
        if points[-1][0] - points[0][0] < 1e-6:  # friction adds by the drop alone
            return points[0][1] + (1 - exp(-points[0][1])) * (drop - points[0][0])
        for (low, a, _), (high, b, _) in zip(points, points[1:]):
            if drop <= high:
                break
        return a + (b - a) * (drop - low) / max(high - low, 1e-6)


def build_trace(document, doses, at_c):
    """A simulation to the end of the build-up."""
    return simulate(build_ups.waiting(document), doses, at_c)


def worked_traces(document, worked, doses):
    """The simulations that a worked document brings, each to the end of its build-up."""
    out = []
    for when in ("usual", "coldest"):
        trace = worked["traces"][when]
        if trace.get("limit_s") and build_ups.ends(trace)[-1] is None:
            trace = build_trace(document, doses, trace["at_c"])
        out.append(trace)
    return out


def _ranked(time, directions):
    """289 cases of equal probability, (time, moves), the quickest first.

    moves: standard deviations in each of up to eight independent directions; any two of these see every pair of steps.
    """
    made = [[_LEVELS[((i + k * j) % _STEPS) ** (2 * k + 1) % _STEPS] for k in range(directions)]
            for i in range(_STEPS) for j in range(_STEPS)]
    return sorted([(time(moves), moves) for moves in made])


def _case(ranked, share):
    """What is moved by how much, in the mean, where a share of all cases takes less time; None where those never end."""
    place = int(share * len(ranked))
    if ranked[place][0] == NEVER:
        return None
    near = [moves for time, moves in ranked[max(0, place - _NEAR):place + _NEAR + 1] if time != NEVER]
    return [added_up([moves[k] for moves in near]) / len(near) for k in range(len(near[0]))]


class Ranges:
    """Ranges of a worked document's build-up and reset; two simulations for each, and those that the worked document brings."""

    def __init__(self, document, worked, doses):
        self.document, self.doses = build_ups.waiting(document), doses
        self.inputs = uncertain(document)
        self.surrogate = Surrogate(document, doses)
        self.filling = _Along(document, [one for one in self.inputs if one.field in _AIRY], self.surrogate.frictionless)
        self.flows = [one for one in self.inputs if one.field not in _AIRY]
        self.flowing = {when: _Along(document, self.flows, self._drop_at(when)) for when in ("usual", "coldest")}
        self.still = self.filling.flat and self.flowing["coldest"].flat and self.flowing["usual"].flat
        self.friction = Friction(document, self.surrogate)
        for trace in worked_traces(document, worked, doses):
            self.friction.add(document, trace)
        if document["ambient"]["usual_c"] - document["ambient"]["coldest_c"] < _NEAR_K and not self.flowing["coldest"].flat:
            moved = self.flowing["coldest"].at(TEN_TO_NINETY)
            self.friction.add(moved, build_trace(moved, doses, document["ambient"]["coldest_c"]))

    def _drop_at(self, when):
        at_c = self.document["ambient"][when + "_c"]
        return lambda document: self.surrogate.drop(document, at_c)

    def _time(self, when, x, y):
        """Build-up [s] by the closed forms, x and y standard deviations along filling and flowing."""
        share = self.friction.share(self.flowing[when].value(y))
        time = NEVER if share == NEVER else exp(self.filling.value(x) + share)
        return NEVER if time > longest_limit(self.document) else time

    def build(self, when):
        """[(low, high)] of each build-up of a cycle, figures [s]; high None where it may never end, low None too where it hardly ever
        does."""
        high = self._end(when, 0.9)
        low = self._end(when, 0.2 if high is None else 0.1)
        each = range(len(build_ups.sides(self.document)))
        return [tuple([end and self._told(build_ups.told(end[0], end[1], number), end[0]) for end in (low, high)]) for number in each]

    def _end(self, when, share):
        """(document, simulation) where the closed forms say that a share of all cases lies below; None where nothing ends there.

        A simulation that does not trip where the closed forms say it does tells more about where the line stalls: look anew.
        """
        for _ in range(_TRIES):
            case = _case(_ranked(lambda moves: self._time(when, moves[0], moves[1]), 2), share)
            if case is None:
                return None
            moved = self.flowing[when].at(case[1], self.filling.at(case[0]))
            trace = build_trace(moved, self.doses, self.document["ambient"][when + "_c"])
            if build_ups.slowest(moved, trace)[0] is not None:
                return moved, trace
            self.friction.add(moved, trace)
        return None

    def reset(self, when):
        """(low, high) of the time until all has reset, figures [s]; high None where it may never come, low None too where it hardly
        ever does; None where the estimates do not move it."""
        at_c = self.document["ambient"][when + "_c"]
        venting = VentingTime(self.document, at_c)
        ranked = _ranked(lambda moves: venting.seconds(moved_by(self.document, self.inputs, moves), at_c), len(self.inputs))
        if ranked[-1][0] == ranked[0][0] < NEVER:
            return None
        high = self._reset_end(ranked, 0.9, at_c)
        return self._reset_end(ranked, 0.2 if high is None else 0.1, at_c), high

    def _reset_end(self, ranked, share, at_c):
        """The figure of the case of which a share of all takes less time; None where that never resets."""
        case = _case(ranked, share)
        if case is None:
            return None
        moved = moved_by(self.document, self.inputs, case)
        trace = simulate(moved, self.doses, at_c)
        moment = moments(trace)
        return None if moment["ready"] is None else self._told(build.reset_time(trace, moment), moved)

    def _told(self, out, moved):
        """A figure of a moved document with what was moved among its inputs."""
        for one in self.inputs:
            out["inputs"][one.field] = given(one.value(moved), one.unit, one.label.lower() + ", as it may be", True)
        out["estimate"] = True
        return out

    def closed(self, works, when):
        """(low, high) figures of line.drop or line.residual at a temperature; None where the estimates do not move it."""
        at_c = self.document["ambient"][when + "_c"]
        if not works(self.document, at_c)["value"] > 0:
            return None
        along = _Along(self.document, self.inputs, lambda document: works(document, at_c)["value"])
        if along.flat:
            return None
        moved = [along.at(z) for z in (-TEN_TO_NINETY, TEN_TO_NINETY)]
        return [self._told(works(one, at_c), one) for one in moved]
