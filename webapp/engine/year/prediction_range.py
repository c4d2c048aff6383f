"""The range in which a build-up lies in 80 % of cases, where something that goes in is an estimate.

Two things are uncertain: what must be pressed in (air, bulk modulus), and how the lubricant flows. They are independent. The first has
a closed form. The second counts through the drop at full delivery: the share that friction adds to the build-up is drawn as a line
through the simulations that the worked document brings. All combinations of what either may be, in steps of equal
probability, give the range; there is no upper end where the switch may never trip. Each end is then simulated, with the mean of the
cases that come out there: two simulations for a temperature.
"""
from math import exp, log, sqrt

from ..line import build, line
from ..basics.figure import given
from ..line.flow import pressure_drop
from ..lubricants.lubricant import lubricant_at
from ..events.simulate import longest_limit, simulate
from ..line.tree import PUMP, Tree
from .uncertainty import TEN_TO_NINETY, moved_by, uncertain

SHARE = 0.8
NEVER = float("inf")
# standard normal quantiles at 1/30, 3/30, ... 29/30: fifteen steps of equal probability, one of them in the middle of the lowest fifth
_UPPER = (0.1678940048, 0.3406948271, 0.5244005127, 0.7279132909, 0.9674215661, 1.2815515655, 1.8339146358)
_STEPS = sorted([-z for z in _UPPER]) + [0.0] + list(_UPPER)
_NEAR, _TRIES = 11, 4
_NEAR_K = 3.0
_AIRY = ("bulk_modulus_mpa", "air_fraction")
_LEAST_DROP = 1e-6


class Surrogate:
    """Closed forms of one line: volume to press in and drop at full delivery, for any lubricant."""

    def __init__(self, document, doses):
        self.document, self.doses = document, doses
        tree = Tree(document)
        worst = line.drop(document, document["ambient"]["usual_c"])["at"]
        self.way = [section["to"] for section in tree.way(worst)]
        self.volume = line.volume(document)["value"]

    def frictionless(self, document):
        """Build-up without friction [s]."""
        return build.time_frictionless(document, build.volume(document, self.doses, line.volume(document)["value"]))["value"]

    def drop(self, document, at_c):
        """Pressure [Pa] along the way with the greatest drop, the whole delivery flowing."""
        state = lubricant_at(document["lubricant"], at_c)
        lengths = {}
        for section in document["sections"]:
            if section["to"] in self.way:
                lengths[section["bore_mm"]] = lengths.get(section["bore_mm"], 0.0) + section["length_m"]
        delivery, total = document["pump"]["delivery_cm3_min"] / 60e6, _LEAST_DROP
        for bore in sorted(lengths):
            total += lengths[bore] * pressure_drop(delivery, bore / 1000, 1, state["yield_pa"], state["consistency_pa_sn"],
                                                   state["flow_index"])
        return total


class _Along:
    """A logarithm that grows along the steepest direction of some inputs: its value z standard deviations that way."""

    def __init__(self, document, inputs, measure):
        self.document, self.inputs = document, inputs
        slopes = [log(measure(one.moved(document, 0.5)) / measure(one.moved(document, -0.5))) for one in inputs]
        size = sqrt(sum([slope * slope for slope in slopes]))
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
        self.stalls = NEVER

    def add(self, document, trace):
        """Learn from a simulation of a document."""
        drop, trip = log(self.surrogate.drop(document, trace["at_c"])), trace["trip_s"][0]
        if trip is None:
            self.failed.append(drop)
        else:
            self.points.append((drop, log(trip / self.surrogate.frictionless(document)), max(trace["pressure_bar"][PUMP])))
            self.points.sort()
        self.stalls = self._stalls()

    def _stalls(self):
        """Drop at which the relief pressure is reached first: pressure above the trip grows with the drop."""
        stalls = min(self.failed or [NEVER])
        if self.points:
            drop, _, peak = self.points[-1]
            trips, relief = self.document["switches"][0]["trips_bar"], self.document["pump"]["relief_bar"]
            if peak > trips * 1.001:
                stalls = min(stalls, max(drop, drop + log((relief - trips) / (peak - trips))))
            elif self.failed:
                stalls = (drop + stalls) / 2
        return stalls

    def share(self, drop):
        """Log of simulated over frictionless time at the log of a drop; NEVER where the line stalls."""
        if drop > self.stalls or not self.points:
            return NEVER
        points = self.points
        if points[-1][0] - points[0][0] < 1e-6:
            return points[0][1]
        for (low, a, _), (high, b, _) in zip(points, points[1:]):
            if drop <= high:
                break
        return a + (b - a) * (drop - low) / max(high - low, 1e-6)


class Ranges:
    """Ranges of a worked document's build-up; two simulations, and those that the worked document brings."""

    def __init__(self, document, worked, doses):
        self.document, self.doses = document, doses
        self.inputs = uncertain(document)
        self.surrogate = Surrogate(document, doses)
        self.filling = _Along(document, [one for one in self.inputs if one.field in _AIRY], self.surrogate.frictionless)
        flowing = [one for one in self.inputs if one.field not in _AIRY]
        self.flowing = {when: _Along(document, flowing, self._drop_at(when)) for when in ("usual", "coldest")}
        self.still = self.filling.flat and self.flowing["coldest"].flat and self.flowing["usual"].flat
        self.friction = Friction(document, self.surrogate)
        for when in ("usual", "coldest"):
            self.friction.add(document, worked["traces"][when])
        if document["ambient"]["usual_c"] - document["ambient"]["coldest_c"] < _NEAR_K and not self.flowing["coldest"].flat:
            moved = self.flowing["coldest"].at(TEN_TO_NINETY)
            self.friction.add(moved, simulate(moved, doses, document["ambient"]["coldest_c"]))

    def _drop_at(self, when):
        at_c = self.document["ambient"][when + "_c"]
        return lambda document: self.surrogate.drop(document, at_c)

    def _time(self, when, x, y):
        """Build-up [s] by the closed forms, x and y standard deviations along filling and flowing."""
        share = self.friction.share(self.flowing[when].value(y))
        time = NEVER if share == NEVER else exp(self.filling.value(x) + share)
        return NEVER if time > longest_limit(self.document) else time

    def build(self, when):
        """(low, high) figures [s]; high None where the switch may never trip, low None too where it hardly ever does."""
        high = self._end(when, 0.9)
        return self._end(when, 0.2 if high is None else 0.1), high

    def _end(self, when, share):
        """Simulated build-up where the closed forms say that a share of all cases lies below; None where nothing trips there.

        A simulation that does not trip where the closed forms say it does tells more about where the line stalls: look anew.
        """
        for _ in range(_TRIES):
            moved = self._case(when, share)
            if moved is None:
                return None
            trace = simulate(moved, self.doses, self.document["ambient"][when + "_c"])
            if trace["trip_s"][0] is not None:
                return self._told(build.time_simulated(moved, trace), moved)
            self.friction.add(moved, trace)
        return None

    def _case(self, when, share):
        """The document as it is, in the mean, where a share of all cases builds up more quickly; None where those never trip."""
        ranked = sorted([(self._time(when, x, y), x, y) for x in _STEPS for y in _STEPS])
        place = int(share * len(ranked))
        if ranked[place][0] == NEVER:
            return None
        near = [case for case in ranked[max(0, place - _NEAR):place + _NEAR + 1] if case[0] != NEVER]
        x, y = [sum([case[k] for case in near]) / len(near) for k in (1, 2)]
        return self.flowing[when].at(y, self.filling.at(x))

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
