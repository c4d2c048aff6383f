"""A progressive system's event: the pump runs until the cycle switch has counted the cycles; the line stays under pressure.

A block moves when the pressure at it reaches its working pressure, and takes what flows then: it holds its place at about that
pressure. What passes it is handed on to the blocks that hang on its outlets; one that is stuck stops all of them.
"""
from . import blocks
from .cycle import Cycle
from ..line.grid import Grid
from .movers import Opening
from ..line.tree import PUMP

# a block takes the pump's whole delivery within this [Pa] above its working pressure
_WORKING_SPAN_PA = 2e4
_CM3 = 1e-6
# a volume that has passed but for this share of it has passed
_ROUNDING = 1e-9


class _Block(Opening):
    """A block on the line with all that hangs on it: shut until the pressure there reaches its working pressure.

    rate  of its opening from then on; 0: it never moves
    fed    [(block, m³ through this one for an own cycle of that)], this one first
    """

    def __init__(self, block, cell, rate, fed):
        Opening.__init__(self, cell, 0.0, block["fires_bar"] * 1e5)
        self.name, self.fed, self.began, self.full_rate = block["id"], fed, None, rate

    def part(self, before, after, _dt):
        """The part of the step after which it begins to move; None where it does not, or moves already."""
        before, after = before[self.cell], after[self.cell]
        if self.began is not None or not before < self.opens <= after:
            return None
        return (self.opens - before) / (after - before)

    def settle(self, after):
        """The step ends at its working pressure."""
        after[self.cell] = max(after[self.cell], self.opens)

    def move(self, cycle, before, after, dt):
        """Follow one step; own cycles completed in it are told, at the time when their volume had passed."""
        flow, passed = self.flow(after), self.passed
        Opening.move(self, cycle, before, after, dt)
        if self.began is None and self.full_rate and after[self.cell] >= self.opens:
            self.began, self.rate = cycle.now + dt, self.full_rate
        for name, volume in self.fed:
            for turn in range(_turns(passed, volume) + 1, _turns(self.passed, volume) + 1):
                cycle.tell("device dosed", name, cycle.now + max(turn * volume - passed, 0.0) / flow)


def _turns(passed, volume):
    """Own cycles completed by what has passed."""
    return int(passed / volume * (1 + _ROUNDING))


class _Count:
    """Done when so much has passed a block that the block which the switch counts has made its next own cycle."""

    says = "the cycle switch counts"

    def __init__(self, block, volume):
        self.block, self.volume, self.target = block, volume, 0.0

    def next(self):
        """Wait for one more own cycle."""
        self.target += self.volume

    def done(self):
        return self.block.passed >= self.target * (1 - _ROUNDING / 2)

    def part(self, _before, after, dt):
        """The part of a step after which it has passed; None where it has not."""
        moved, left = self.block.flow(after) * dt, self.target - self.block.passed
        return left / moved if 0 < left < moved else None

    def settle(self, _after):
        """What the shorter step leaves passes in the next."""


def run(document, _doses, at_c, cycles, end_s, settings, faults, careful):
    """(cycle, its part of the trace) of one event. Without a cycle switch the first block is counted."""
    cycle = Cycle(document, Grid(document, at_c, 1, faults.get("blocked", ())), [], [], faults, careful)
    moving = _blocks_on_line(document, cycle)
    cycle.add(moving)
    cycle.stops = moving
    switch = ([one for one in document["switches"] if one.get("counts")] or [None])[0]
    goal, trips, before = _goal(moving, switch, faults), [], cycle.held()
    cycle.tell("pump on", PUMP)
    if switch and switch["id"] in faults.get("contacts", ()):
        cycle.tell_wrong_contact(switch["id"])
        trips, cycles = [0.0], 0
    for _ in range(cycles):
        goal.next()
        trips.append(cycle.build(goal, end_s, settings.get("time_limit")))
        if cycle.ended:
            break
        if switch:
            cycle.tell("switch tripped", switch["id"])
    cycle.balance(before, cycle.now * cycle.inflow)
    cycle.tell("pump off", PUMP)
    if not cycle.ended:
        _check(cycle, moving)
        cycle.tell("pause", "controller")
    return cycle, {"trip_s": trips, "delivered_cm3": _through(document, moving), "working_s": moving[0].began}


def _blocks_on_line(document, cycle):
    """A _Block for each block that hangs on the line itself; one with a stuck block among its own lets nothing through."""
    sums, turns, out = blocks.sums(document), blocks.turns(document), []
    above = {block["id"]: block["hangs_from"]["block"] for block in document["devices"] if block.get("hangs_from")}
    stuck = cycle.faults.get("devices", ())
    for root in blocks.roots(document):
        own = [root["id"]]
        for block in document["devices"]:
            way = block["id"]
            while way in above:
                way = above[way]
            if way == root["id"] and block["id"] != way and turns[block["id"]] > 0:
                own.append(block["id"])
        rate = 0.0 if any([name in stuck for name in own]) else cycle.inflow / _WORKING_SPAN_PA
        fed = [(name, sums[root["id"]] * _CM3 / turns[name]) for name in own]
        out.append(_Block(root, cycle.grid.cell_of[root["at"]], rate, fed))
    return out


def _goal(moving, switch, faults):
    """What the switch waits for; a stuck switch for ever."""
    counted = switch["counts"] if switch else moving[0].name
    block = ([one for one in moving if counted in dict(one.fed)] or moving)[0]
    if switch and switch["id"] in faults.get("switches", {}):
        return _Count(block, float("inf"))
    return _Count(block, dict(block.fed).get(counted, float("inf")))


def _through(document, moving):
    """Block -> cm³ that went through it."""
    sums, out = blocks.sums(document), {block["id"]: 0.0 for block in document["devices"]}
    for one in moving:
        for name, volume in one.fed:
            out[name] = one.passed / volume * sums[name]
    return out


def _check(cycle, moving):
    """Tell a block on the line that has not moved at all, though the switch has counted."""
    idle = [one.name for one in moving if one.began is None]
    if idle:
        cycle.fail("block %s does not move" % idle[0], False)
