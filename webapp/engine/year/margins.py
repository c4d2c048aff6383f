"""Bounds of a system at one temperature in closed form: they decide whether it works wherever that is clear without a simulation.

What the bounds rest on: while pressure rises no pipe carries more than the pump delivers, and every pipe on the way to what moves
last carries something; while it falls every pipe carries at least as much as those behind it. Bar, cm³ and s throughout.
"""
from math import pi

from ..basics.kinds import DUAL, PROGRESSIVE, SIDES, TIMED, VENTED
from ..basics.ranges import at_least, largest
from ..line.build import margin_of, median, short_vent
from ..line.flow import flow_rate, pressure_drop
from ..line.grid import ATMOSPHERE_PA
from ..line.line import drops_to, locked_pressures
from ..line.tree import PUMP, Tree
from ..line.warmth import section_c
from ..lubricants.lubricant import lubricant_at

# what may stop a system: nothing may reset in time, the pump's relief pressure, the longest time limit that the controller accepts,
# the limit on the settings sheet, a device or switch that never acts
RESET, RELIEF, TIME_LIMIT, AS_SET, IDLE = "reset", "relief", "time_limit", "as_set", "idle"
# a limit is surely kept where no more than this share of it may be used, and surely missed from the other on: the bounds are the
# line's own, the shares leave room for the cells and steps of the simulation. Common practice, no published source
CLEAR, MISSED = 0.9, 1.05
# a device or another switch surely acts where its pressure is no more than this share of what is surely there
_ACTS = 0.98
_BAR, _CM3 = 1e5, 1e-6
# a block takes the pump's whole delivery within this above its working pressure
_SPAN_BAR = 0.2
# shares of the pressure that a throttling vent valve may keep: whichever lets most flow is the bound
_AT_VALVE = (0.05, 0.1, 0.2, 0.4, 0.6, 0.8)


def stroke_of(device):
    """Seconds that a device takes for its dose; 1 s where it is not stated."""
    return 1.0 if device.get("stroke_s") is None else device["stroke_s"]


def locked_share(document, at_c):
    """(share, kind, thing): what may stay locked in over the reset pressure, where that is greatest; 0 where nothing resets."""
    if document["kind"] not in VENTED:
        return 0.0, None, None
    locked = locked_pressures(document, at_c)
    ranked = [(locked[thing["at"]] / thing["resets_bar"], -number, kind, thing) for number, (kind, thing) in enumerate(
        [("device", device) for device in document["devices"]] + [("switch", switch) for switch in document["switches"]])]
    share, _, kind, thing = max(ranked, key=lambda entry: entry[:2])
    return share, kind, thing


def states(document, at_c):
    """Node -> the lubricant in the pipe that feeds it."""
    known, out = {}, {}
    for section in document["sections"]:
        own_c = section_c(document, section, at_c)
        if own_c not in known:
            known[own_c] = lubricant_at(document["lubricant"], own_c)
        out[section["to"]] = known[own_c]
    return out


class _Half:
    """Build-up of one line in closed form: the greatest and the least pressures, volumes and times until its goal.

    goal   (node, pressure [bar]) of the switch or block that ends it; None: until all devices have dosed
    least, most  device -> cm³ that it takes until then
    """

    def __init__(self, document, at_c, goal, least, most):
        self.document, self.most, self.doses = document, most, [sum(least.values()), sum(most.values())]
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
        self.volumes = [sum([self._pressed(section, bounds[section[end]]) for section in document["sections"]])
                        for bounds, end in ((self.low, "to"), (self.high, "from"))]

    def _by_switch(self, node, pressure):
        """At the goal: nodes on the way to it are above its pressure, others below what they hang on, each by a drop at most."""
        way = {PUMP}
        for section in self.tree.way(node):
            way.add(section["to"])
        self.high, self.low = {}, {}
        for here in self.tree.order:
            above = self.tree.section[here]["from"] if here in self.tree.section else here
            self.high[here] = pressure + self.flow[node] - self.flow[here] if here in way else self.high[above]
            self.low[here] = pressure if here in way else self.low[above] - self.drop[here]
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

    def _pressed(self, section, bar):
        """Pressed into a section at a pressure [cm³]."""
        if bar <= 0:
            return 0.0
        pa, room = bar * _BAR, pi / 4 * section["bore_mm"] ** 2 * section["length_m"]
        return room * (pa / self.state["bulk_modulus_pa"] + self.state["air_fraction"] * pa / (pa + ATMOSPHERE_PA)) \
            + (section.get("expansion_cm3_per_m_per_100bar") or 0) * section["length_m"] * bar / 100

    def pressed_at(self, bar):
        """Pressed into the whole line at one pressure [cm³]."""
        return sum([self._pressed(section, bar) for section in self.document["sections"]])

    def times(self):
        """(least, most) seconds until the goal."""
        return [(volume + dose) / self.per_s for volume, dose in zip(self.volumes, self.doses)]

    def stays_up(self):
        """True where no device can fall back to its reset pressure before the goal and dose again.

        It could only where all doses together took more from the line than it gives while it falls from the firing pressure to
        the reset pressure at the device, and elsewhere to what all of them drawing at once need from there.
        """
        drawn = sum([self.most[device["id"]] / max(stroke_of(device), 0.01) for device in self.used])
        way = {PUMP: 0.0}
        for node in self.tree.order[1:]:
            section, state = self.tree.section[node], self.states[node]
            way[node] = pressure_drop(max(drawn, self.per_s) * _CM3, section["bore_mm"] / 1000, section["length_m"],
                                      state["yield_pa"], state["consistency_pa_sn"], state["flow_index"]) / _BAR
        places = {(device["at"], device["fires_bar"], device["resets_bar"]) for device in self.used}
        return all([self._gives(way, *place) > self.doses[1] for place in places])

    def _gives(self, way, node, fires, resets):
        """cm³ that leave the line while it falls from one pressure at a node to another; `way`: what its pipes need by then."""
        level = {node: (fires, resets)}
        here = node
        while here != PUMP:
            above = self.tree.section[here]["from"]
            level[above] = fires, level[here][1] + way[here]
            here = above
        for here in self.tree.order:
            if here not in level:
                start, end = level[self.tree.section[here]["from"]]
                level[here] = start - self.drop[here], end + way[here]
        out = 0.0
        for section in self.document["sections"]:
            start = min([level[section[end]][0] for end in ("from", "to")])
            out += self._pressed(section, start) - self._pressed(section, min(start, max([level[section[end]][1] for end in ("from", "to")])))
        return out

    def reached(self):
        """Greatest share that a device's firing pressure, or another switch's, is of the pressure that is surely there at the goal."""
        out = 0.0
        for thing, acts in [(device, device["fires_bar"]) for device in self.used] \
                + [(switch, switch["trips_bar"]) for switch in self.document["switches"][1:]]:
            here = self.low[thing["at"]]
            out = max(out, acts / here if here > 0 else float("inf"))
        return out


class _Vent:
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
            own = self.rest[section["to"]] - self.rest[section["from"]] + free * weight / sum(weights)
            flows.append(flow_rate(own * _BAR, section["bore_mm"] / 1000, section["length_m"], state["yield_pa"],
                                   state["consistency_pa_sn"], state["flow_index"]) * 1e6)
        return min(flows or [float("inf")])


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
            return [_Half(document, at_c, (job.first["at"], job.first["fires_bar"] + _SPAN_BAR), volume, volume)]
        demands = {demand.device: demand for demand in job.demands}
        goal = None if self.kind == TIMED else (document["switches"][0]["at"], document["switches"][0]["trips_bar"])
        out = []
        for side in SIDES if self.kind == DUAL else (None,):
            least, most = {}, {}
            for point in document["points"]:
                if side is None or point["side"] == side:
                    name, demand = point["device"], demands[point["device"]]
                    least[name], most[name] = least.get(name, 0.0) + demand.least, most.get(name, 0.0) + demand.most
            out.append(_Half(document, at_c, goal, least, most))
        return out

    def _act(self, halves):
        return self.kind == TIMED or max([half.reached() for half in halves]) <= _ACTS

    def _add_times(self, out):
        """Shares of the longest time limit and of the one on the sheet."""
        ambient = self.document["ambient"]
        if self.runs:
            measured = self.document["measured"]
            at_c = ambient["usual_c"] if measured.get("at_c") is None else measured["at_c"]
            seconds = median(self.runs) * self._growth(self._halves(at_c))
            out[AS_SET] = seconds / self._set(max(self.runs + (measured.get("build_b_s") or [])))
        else:
            seconds, others = max([half.times()[1] for half in self.halves]), self._halves(ambient["coldest_c"])
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
        seconds = _Vent(document, self.at_c).longest(pressed) + max([stroke_of(device) for device in document["devices"]])
        there, choice, controller = [], self.job.choice, document["controller"]
        if len(document["switches"]) == 1 or self.kind == TIMED:
            there.append(choice.pause + short_vent(document)["value"])
        if len(document["switches"]) > 1 or max(controller.get("cycles_max") or 1, choice.cycles) > 1:
            there.append(largest(controller["vent"]))
        if self.kind == DUAL:
            there += [half.volumes[0] / half.per_s for half in self.halves]
        return seconds / min(there)
