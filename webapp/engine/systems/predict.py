"""The line model's build-up over temperature: simulated at a few temperatures, read between them."""
from math import exp, log

from ..basics.kinds import PROGRESSIVE
from ..events.simulate import simulate
from .worked import doses_from, work

NODES = 7


def waited(trace):
    """What a stopwatch shows at the end of the first build-up of a trace [s]: the switch's trip or first count, or in a time-only
    system the last device's stroke; None where it never comes."""
    return (trace.get("fed_s") or trace["trip_s"])[0]


def build_up(document, at_c):
    """Predicted build-up [s] at each temperature of the list, None where it never ends or nothing can be worked."""
    worked = work(document, False)
    if "points" not in worked:
        return [None] * len(at_c)
    doses = doses_from(document, worked)
    return [waited(simulate(document, doses, t)) for t in at_c]


def turn_s(document):
    """From one signal of a progressive system's cycle switch to the next [s]: what the pump gives fills the first block's cycle."""
    from ..events.blocks import roots, sums, turns
    turned = turns(document)[document["switches"][0]["counts"]]
    return 60 * sums(document)[roots(document)[0]["id"]] / document["pump"]["delivery_cm3_min"] / turned


class Curve:
    """A quantity over temperature, its logarithm straight between nodes [(°C, value)] and beyond; fewer than two: constant."""

    def __init__(self, nodes):
        self.nodes = sorted(nodes) if len(nodes) > 1 else [(0.0, 1.0), (1.0, 1.0)]

    def log_at(self, t):
        """Logarithm of the quantity at t [°C]."""
        (low, start), _ = self._piece(t)
        return log(start) + self.slope(t) * (t - low)

    def slope(self, t):
        """By how much the logarithm grows a K at t [°C]."""
        (low, start), (high, end) = self._piece(t)
        return log(end / start) / (high - low)

    def at(self, t):
        """The quantity at t [°C]."""
        return exp(self.log_at(t))

    def _piece(self, t):
        place = 0
        while place < len(self.nodes) - 2 and t > self.nodes[place + 1][0]:
            place += 1
        return self.nodes[place], self.nodes[place + 1]


def curve_of(document, temperatures):
    """(Curve of the predicted build-up over all these temperatures and the ambient's, does the model predict one).

    What a progressive system's rounds time is a turn of its block, which takes as long in the cold.
    """
    if document["kind"] == PROGRESSIVE:
        turn = turn_s(document)
        return Curve([(0.0, turn), (1.0, turn)]), True
    ambient = document["ambient"]
    spread = temperatures + [ambient["coldest_c"], ambient["hottest_c"]]
    low, high = min(spread), max(spread)
    high = max(high, low + 1)
    at_c = [low + (high - low) * number / (NODES - 1) for number in range(NODES)]
    nodes = [(t, seconds) for t, seconds in zip(at_c, build_up(document, at_c)) if seconds is not None]
    return Curve(nodes), len(nodes) > 1
