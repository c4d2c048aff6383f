"""A line's build-up and vent in closed form: the least and the most that pressures, volumes and times may be.

What the bounds rest on: while pressure rises no pipe carries more than the pump delivers, and every pipe on the way to what moves
last carries something; while it falls every pipe carries at least as much as those behind it. Bar, cm³ and s throughout.
"""
from math import pi

from ..basics.adding import added_up
from ..basics.kinds import VENTED
from ..line.flow import flow_rate, pressure_drop
from ..line.grid import ATMOSPHERE_PA
from ..line.line import drops_to, locked_pressures
from ..line.tree import PUMP, Tree
from ..line.warmth import section_c
from ..lubricants.lubricant import lubricant_at

_BAR, _CM3 = 1e5, 1e-6
# shares of the pressure that a throttling vent valve may keep: whichever lets most flow is the bound
_AT_VALVE = (0.05, 0.1, 0.2, 0.4, 0.6, 0.8)


def stroke_of(device):
    """Seconds that a device takes for its dose; 1 s where it is not stated."""
    return 1.0 if device.get("stroke_s") is None else device["stroke_s"]


def states(document, at_c):
    """Node -> the lubricant in the pipe that feeds it."""
    known, out = {}, {}
    for section in document["sections"]:
        own_c = section_c(document, section, at_c)
        if own_c not in known:
            known[own_c] = lubricant_at(document["lubricant"], own_c)
        out[section["to"]] = known[own_c]
    return out


class Build:
    """Build-up of one line in closed form: the greatest and the least pressures, volumes and times until its goal.

    goal         (node, pressure [bar]) of the switch or block that ends it; None: until all devices have dosed
    least, most  device -> cm³ that it takes until then
    low, high    node -> pressure that is there at the goal at least and at most
    needs        most and least pressure at the pump until then
    volumes      least and most that is pressed into the line until then
    """

    def __init__(self, document, at_c, goal, least, most):
        self.document, self.most, self.doses = document, most, [added_up(least.values()), added_up(most.values())]
        self.used = [device for device in document["devices"] if device["id"] in most and document["kind"] in VENTED]
        self.tree, self.flow, self.rest = Tree(document), drops_to(document, at_c), locked_pressures(document, at_c)
        self.states = states(document, at_c)
        self.drop = {node: self.flow[node] - self.flow[section["from"]] for node, section in self.tree.section.items()}
        self.state = lubricant_at(document["lubricant"], at_c)
        self.per_s = document["pump"]["delivery_cm3_min"] / 60
        if goal:
            self._by_switch(*goal)
        else:
            self._by_devices()
        self.volumes = [added_up([self._pressed(section, bounds[section[end]]) for section in document["sections"]])
                        for bounds, end in ((self.low, "to"), (self.high, "from"))]
        if not goal:
            self.volumes[0] = max([self.volumes[0]] + [self._when_fires(*place) for place in self._places()])
            # the pump runs on while the last device takes its dose
            self.volumes[1] += self.per_s * max([stroke_of(device) for device in self.used])

    def _by_switch(self, node, pressure):
        """At the goal: nodes on the way to it are above its pressure, others below what they hang on, each by a drop at most."""
        way = {PUMP}
        for section in self.tree.way(node):
            way.add(section["to"])
        self.high, self.low = {}, self._around(node, pressure)
        for here in self.tree.order:
            self.high[here] = pressure + self.flow[node] - self.flow[here] if here in way else self.high[self.tree.section[here]["from"]]
        self.needs = self.high[PUMP], pressure + self.rest[node]

    def _by_devices(self):
        """When the last has begun to dose the others are above their reset pressures, and the pump no higher than one of them needs."""
        self.needs = [max([device["fires_bar"] + way[device["at"]] for device in self.used]) for way in (self.flow, self.rest)]
        self.high = {node: self.needs[0] for node in self.tree.order}
        self.low = {node: 0.0 for node in self.tree.order}
        for device in self.used:
            self.low[device["at"]] = max(self.low[device["at"]], device["resets_bar"])
        for node in reversed(self.tree.order[1:]):
            above = self.tree.section[node]["from"]
            self.low[above] = max(self.low[above], self.low[node])

    def _places(self):
        """(node, firing pressure, reset pressure) where devices hang."""
        return {(device["at"], device["fires_bar"], device["resets_bar"]) for device in self.used}

    def _when_fires(self, node, fires, _resets):
        """Least that is pressed in when a device there fires, less what those may take that fire after it [cm³]."""
        low = self._around(node, fires)
        late = added_up([self.most[device["id"]] for device in self.used if device["fires_bar"] >= low[device["at"]]])
        return added_up([self._pressed(section, low[section["to"]]) for section in self.document["sections"]]) - late

    def _around(self, node, pressure):
        """Node -> least pressure there when one node has reached a pressure while the line fills."""
        low = {node: pressure}
        while node != PUMP:
            node = self.tree.section[node]["from"]
            low[node] = pressure
        for here in self.tree.order:
            if here not in low:
                low[here] = low[self.tree.section[here]["from"]] - self.drop[here]
        return low

    def _pressed(self, section, bar):
        """Pressed into a section at a pressure [cm³]."""
        if bar <= 0:
            return 0.0
        pa, room = bar * _BAR, pi / 4 * section["bore_mm"] ** 2 * section["length_m"]
        return room * (pa / self.state["bulk_modulus_pa"] + self.state["air_fraction"] * pa / (pa + ATMOSPHERE_PA)) \
            + (section.get("expansion_cm3_per_m_per_100bar") or 0) * section["length_m"] * bar / 100

    def pressed_at(self, bar):
        """Pressed into the whole line at one pressure [cm³]."""
        return added_up([self._pressed(section, bar) for section in self.document["sections"]])

    def times(self):
        """(least, most) seconds until the goal."""
        return [(volume + dose) / self.per_s for volume, dose in zip(self.volumes, self.doses)]

    def stays_up(self):
        """True where no device can fall back to its reset pressure before the goal and dose again.

        It could only where all doses together took more from the line than it gives while it falls from the firing pressure to
        the reset pressure at the device, and elsewhere to what all of them drawing at once need from there.
        """
        behind = {node: 0.0 for node in self.tree.order}
        for device in self.used:
            behind[device["at"]] += self.most[device["id"]] / max(stroke_of(device), 0.01)
        for node in reversed(self.tree.order[1:]):
            behind[self.tree.section[node]["from"]] += behind[node]
        outwards = {node: self._drop(node, behind[node]) for node in self.tree.order[1:]}
        back = {node: self._drop(node, behind[PUMP]) for node in self.tree.order[1:]}
        return all([self._gives(outwards, back, *place) > self.doses[1] for place in self._places()])

    def _drop(self, node, flow):
        """bar along the pipe that feeds a node, at a flow [cm³/s], or the pump's where that is more."""
        section, state = self.tree.section[node], self.states[node]
        return pressure_drop(max(flow, self.per_s) * _CM3, section["bore_mm"] / 1000, section["length_m"], state["yield_pa"],
                             state["consistency_pa_sn"], state["flow_index"]) / _BAR

    def _gives(self, outwards, back, node, fires, resets):
        """cm³ that leave the line while it falls from one pressure at a node to another; outwards, back: what pipes need for that."""
        start, end, here = self._around(node, fires), {node: resets}, node
        while here != PUMP:
            above = self.tree.section[here]["from"]
            end[above] = end[here] + outwards[here]
            here = above
        out = 0.0
        for here in self.tree.order[1:]:
            above = self.tree.section[here]["from"]
            if here not in end:
                end[here] = end[above] + back[here]
            left = min(start[here], max(end[here], end[above]))
            out += self._pressed(self.tree.section[here], start[here]) - self._pressed(self.tree.section[here], left)
        return out

    def reached(self):
        """Greatest share that a device's firing pressure, or another switch's, is of the pressure that is surely there at the goal."""
        out = 0.0
        for thing, acts in [(device, device["fires_bar"]) for device in self.used] \
                + [(switch, switch["trips_bar"]) for switch in self.document["switches"][1:]]:
            here = self.low[thing["at"]]
            out = max(out, acts / here if here > 0 else float("inf"))
        return out


class Vent:
    """A vent in closed form: the longest that any device or switch takes to reset."""

    def __init__(self, document, at_c):
        self.document, self.tree = document, Tree(document)
        self.rest, self.state = locked_pressures(document, at_c), states(document, at_c)
        self.valve = (document.get("vent_valve") or {}).get("flow_cm3_min_per_bar") or 0

    def longest(self, pressed_cm3):
        """Seconds until all have reset when so much is pressed into the line."""
        least = {}
        for thing in self.document["devices"] + self.document["switches"]:
            least[thing["at"]] = min(least.get(thing["at"], thing["resets_bar"]), thing["resets_bar"])
        slowest = min([self._flow(node, bar) for node, bar in least.items()])
        return pressed_cm3 / slowest if slowest > 0 else float("inf")

    def _flow(self, node, bar):
        """Flow [cm³/s] that leaves the line at least while this pressure is at the node."""
        way = self.tree.way(node)
        if not self.valve:
            return self._along(way, node, bar)
        return max([min(self.valve / 60 * bar * share, self._along(way, node, bar * (1 - share))) for share in _AT_VALVE])

    def _along(self, way, node, bar):
        """However the drop is shared out among pipes in a row, the least of their flows is no more than what flows."""
        free = bar - self.rest[node]
        if free <= 0:
            return 0.0
        weights, flows = [], []
        for section in way:
            state = self.state[section["to"]]
            weights.append(section["length_m"] * state["consistency_pa_sn"] / section["bore_mm"] ** (1 + 3 * state["flow_index"]))
        for section, weight in zip(way, weights):
            state = self.state[section["to"]]
            own = self.rest[section["to"]] - self.rest[section["from"]] + free * weight / added_up(weights)
            flows.append(flow_rate(own * _BAR, section["bore_mm"] / 1000, section["length_m"], state["yield_pa"],
                                   state["consistency_pa_sn"], state["flow_index"]) * 1e6)
        return min(flows or [float("inf")])
