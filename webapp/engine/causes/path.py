"""What one would read on a system under a fault in closed form: along the healthy build-up, which a faulty one passes as well, only
sooner or later. A place on that path is the number of a state and the part of the way to the next."""
from ..basics.kinds import BY_PRESSURE, DUAL, PROGRESSIVE, TIMED
from ..events import blocks
from ..line.grid import ATMOSPHERE_PA, Grid
from ..line.tree import PUMP, Tree
from .expected import Predicted, fed_keys, taken

_PA = 1e5
_CM3 = 1e-6
_BEYOND = 6
NEVER = float("inf")
# the pressure at which a block goes round is held within a hair's breadth
_JUST = 1 - 1e-3
# so little of its delivery left over builds up nothing
_LEAST = 0.02


class Path:
    """The healthy build-up by what the pump has given.

    states: [(cm³ given, {node: bar})], as simulated, then on to the relief pressure by the line's compliance; doses: device -> cm³ of
    the half that comes first, doses_b of the other half of a dual-line system; fires_at: device -> the place at which it fires
    """

    def __init__(self, document, doses, at_c, kept, limit_s):
        self.document, self.limit_s, self.kind = document, limit_s, document["kind"]
        self.healthy = taken(kept["seen"])
        self.delivery = document["pump"]["delivery_cm3_min"] / 60
        self.relief = document["pump"]["relief_bar"]
        grid = Grid(document, at_c)
        self.soft, self.air = sum(grid.soft) / _CM3 * _PA, sum(grid.air) / _CM3
        self.room = sum(grid.room) / _CM3
        self.tree, self.keys = Tree(document), fed_keys(document)
        self.first = [device for device in document["devices"] if not device.get("hangs_from")][0]
        self.doses, self.doses_b = self._doses(doses)
        self.healthy.used = sum(self.doses.values()) + sum(self.doses_b.values())
        # the number of the state in which a healthy build-up ends
        self.end = len(kept["states"]) - 1
        self.given, self.states = kept["states"][-1][0], self._states(kept["states"])
        self.at_end = self.states[self.end][1]
        self.given_at = [given for given, _ in self.states]
        self.bars = {node: [bars[node] for _, bars in self.states] for node in self.at_end}
        self.pressed = [self._pressed(bars) for _, bars in self.states]
        self.known_dry = {}
        self.fires_at = {device["id"]: self._fires_at(device) for device in document["devices"]}

    def _doses(self, doses):
        """(doses of the first half, of the other); of a progressive system what its first block takes until the switch counts."""
        if self.kind == DUAL:
            return doses["A"], doses["B"]
        if self.kind != PROGRESSIVE:
            return doses, {}
        counted = ([switch["counts"] for switch in self.document["switches"] if switch.get("counts")] or [self.first["id"]])[0]
        turns = blocks.turns(self.document)[counted]
        return {self.first["id"]: blocks.sums(self.document)[self.first["id"]] / turns}, {}

    def _states(self, states):
        """The kept states and, beyond them, those on the way to the relief pressure."""
        states = [(given, bars) for given, bars in states]
        step = max(0.0, self.relief - states[-1][1][PUMP]) / _BEYOND
        for _ in range(_BEYOND if step > 0 else 0):
            given, bars = states[-1]
            mean = _mean(bars) + step / 2
            given += step * self._compliance(mean)
            states.append((given, {node: bar + step for node, bar in bars.items()}))
        return states

    def _compliance(self, bar):
        """cm³ that the line takes per bar."""
        p0 = ATMOSPHERE_PA / _PA
        return self.soft + self.air * p0 / (bar + p0) ** 2

    def _pressed(self, bars):
        """The share of free air, spread evenly, that is pressed away; friction makes it differ along the line."""
        gone = whole = 0.0
        for section in self.document["sections"]:
            start, end, room = bars[section["from"]], bars[section["to"]], _room(section)
            whole += room
            # Simpson's rule along the pipe
            gone += room * (_gone(start) + 4 * _gone((start + end) / 2) + _gone(end)) / 6
        return gone / whole

    def _fires_at(self, device):
        """The place at which the pressure at a device first reaches that at which it fires; what hangs on a block moves with it."""
        fed = device["id"] not in [key.partition("/")[0] for key in self.healthy.dry]
        if self.kind == PROGRESSIVE:
            device = self.first
        bars, fires = self.bars[device["at"]], device["fires_bar"] * _JUST
        if fed:
            # a device that has fired pulls its pressure down: the states may lie on both sides of the peak
            fires = min(fires, max(bars[:self.end + 1]))
        for number in range(1, len(bars)):
            if bars[number] >= fires:
                return number - 1 + _crossed(bars[number - 1], bars[number], fires)
        return NEVER

    def at(self, place):
        """(cm³ given, {node: bar}) at a place."""
        number = min(int(place), len(self.states) - 2)
        (given, before), (more, after) = self.states[number], self.states[number + 1]
        part = place - number
        return given + part * (more - given), {node: bar + part * (after[node] - bar) for node, bar in before.items()}

    def vented_s(self, share):
        """How long a vent valve that opens to a share lets the line fall to its lowest reset pressure [s], friction left out."""
        low = min([device["resets_bar"] for device in self.document["devices"]])
        valve = (self.document.get("vent_valve") or {}).get("flow_cm3_min_per_bar") or self.delivery * 60
        bar, time = max(low, _mean(self.healthy.pressure)), 0.0
        step = (bar - low) / _BEYOND
        for _ in range(_BEYOND):
            bar -= step
            time += self._compliance(bar + step / 2) * step / (share * valve / 60 * (bar + step / 2))
        return time

    def beyond(self, section):
        """(nodes, share of the line's volume that is taken) beyond a pipe."""
        nodes, stack = [], [section["to"]]
        while stack:
            nodes.append(stack.pop())
            stack += self.tree.children[nodes[-1]]
        room = sum([_room(self.tree.section[node]) for node in nodes])
        doses = sum([self.doses.get(device["id"], 0.0) for device in self.document["devices"] if device["at"] in nodes])
        everything = sum([_room(one) for one in self.document["sections"]])
        return nodes, (doses + (self.given - sum(self.doses.values())) * room / everything) / max(self.given, 1e-9)

    def held_at(self):
        """The node whose pressure stays what it is whatever the friction: where the switch listens, the first block is, or the device
        that fires last."""
        if self.kind in BY_PRESSURE and self.document["switches"]:
            return self.document["switches"][0]["at"]
        if self.kind == PROGRESSIVE:
            return self.first["at"]
        return max(self.document["devices"], key=lambda device: (self.fires_at[device["id"]], device["id"]))["at"]

    def predict(self, flow=1.0, leak=None, air=0.0, less=0.0, relief=None, trips=None, limit=None, left=None, shut=(), idle=()):
        """Predicted readings where: the pump gives `flow` of its delivery; `leak` (node, cm³/(min·bar)); `air` more than usual;
        `less` share of the volume is not there; `relief` bar; `trips` {switch: bar}; `limit` s; `left` cm³ in the reservoir;
        `shut` nodes get nothing, in a dual-line system of line A; `idle` devices stand still."""
        other, limit = limit, limit or self.limit_s
        opens = min(relief or self.relief, self.relief)
        place, build, lost = self._followed(flow, leak, air, less, opens, self._goal(trips or {}, shut, idle), limit, left)
        ran = build is None or build > limit
        given, bars = self.at(place)
        if shut:
            bars = {node: 0.0 if node in shut else bar for node, bar in bars.items()}
        still = [name for name, at in self.fires_at.items() if at > place or name in idle]
        cut = still + [device["id"] for device in self.document["devices"] if device["at"] in shut]
        # a first half that does not end never gives way to the second
        still_b = list(self.fires_at) if ran else still
        out = Predicted(build, bars, self._dry(cut, still_b), ran)
        out.limit_s, out.spread = other, self._spread(int(place)) if ran and not (leak or relief) else 0.0
        if not ran:
            out.vent_s, out.residual = self.healthy.vent_s, self.healthy.residual
            if shut and out.residual:
                out.residual = {node: 0.0 if node in shut else bar for node, bar in out.residual.items()}
        # what leaks at the pump returns to the reservoir
        out.used = lost if leak and leak[0] != PUMP else 0.0
        out.used += self._fed(cut, given) + sum([cm3 for name, cm3 in self.doses_b.items() if name not in still_b])
        return out

    def _dry(self, still, still_b):
        """What feeds points that get nothing where devices stand still, in the second half of a dual line `still_b`."""
        known = tuple(still + [""] + still_b)
        if known not in self.known_dry:
            self.known_dry[known] = [key for point, key in zip(self.document["points"], self.keys)
                                     if point["device"] in (still_b if self.kind == DUAL and point["side"] == "B" else still)]
        return self.known_dry[known]

    def starve_second(self, out):
        """The second half of a dual line feeds nothing: put that into readings."""
        out.dry = [key for point, key in zip(self.document["points"], self.keys)
                   if key in out.dry or (self.doses_b and point["side"] == "B")]
        out.used -= sum(self.doses_b.values())

    def stiffen(self, out, stiffer):
        """Put a lubricant so many times as stiff into readings: what friction takes grows as much, to what the pump can give."""
        held, end = out.pressure[self.held_at()], out.pressure
        bars = {node: max(0.0, held + (bar - held) * stiffer) for node, bar in end.items()}
        over = max(0.0, bars[PUMP] - self.relief)
        out.pressure, out.stiffer = {node: max(0.0, bar - over) for node, bar in bars.items()}, stiffer
        if over:
            out.build_s, out.ran, out.residual, out.vent_s = None, True, None, None

    def _fed(self, still, given):
        """cm³ that devices take of the first half; `still` take none. Blocks take all that is given once they go round."""
        if self.kind != PROGRESSIVE:
            return sum([cm3 for name, cm3 in self.doses.items() if name not in still])
        name = self.first["id"]
        if name in still or self.fires_at[name] >= self.end:
            return 0.0
        began = self.at(self.fires_at[name])[0]
        return self.doses[name] * min(1.0, max(0.0, (given - began) / max(self.given - began, 1e-9)))

    def _followed(self, flow, leak, air, less, relief, goal, limit, left):
        """(place at which pump or time limit stop, build-up [s] or None, cm³ lost by then)."""
        time, lost, loss, stop, given, p0 = 0.0, 0.0, 0.0, None, 0.0, ATMOSPHERE_PA / _PA
        full, airs, least = flow * self.delivery, air * self.room, _LEAST * self.delivery
        pump, (node, hole) = self.bars[PUMP], leak or (PUMP, 0.0)
        holes, hole = self.bars[node], hole / 60
        state, levels, bar = goal[0], self.bars.get(goal[1]), goal[2]
        for number in range(1, len(self.states)):
            before, given = given, self.given_at[number]
            wanted, part, reached = (given - before) * (1 - less), 1.0, None
            if airs:
                wanted += airs * (self.pressed[number] - self.pressed[number - 1])
            if left is not None and given > left:
                # what it gives from then on is air, all of it pressed as small as the pump's pressure makes it
                wanted = left + (given - left) * (1 + pump[number] / p0) - self.delivery * time
            if pump[number] >= relief or (levels[number] >= bar if levels else number >= state):
                part, reached = self._ends(number, levels, bar, relief)
            fresh_loss = hole * holes[number]
            mean_loss = loss + (fresh_loss - loss) * part / 2
            if full - fresh_loss < least:
                balance = max(0.0, (full - least - loss) / (fresh_loss - loss)) if fresh_loss > loss else 0.0
                if balance < part or reached is None:
                    return stop or (number - 1 + balance, None, lost + full * max(0.0, limit - time))
            step = wanted * part / (full - mean_loss) if wanted > 0 else 0.0
            if stop is None and time + step > limit:
                share = (limit - time) / step
                stop = number - 1 + part * share, None, lost + mean_loss * step * share
            time, lost, loss = time + step, lost + mean_loss * step, fresh_loss
            if reached is False and number - 1 + part >= self._last(state):
                # the last stroke has begun, and goes on while the relief valve holds the pressure
                time, reached = time + max(0.0, self.given - before - part * (given - before)) / full, True
            if reached:
                return stop[0] if stop else number - 1 + part, time, stop[2] if stop else lost
            if reached is False or time > 100 * self.limit_s:
                return stop or (number - 1 + part, None, lost)
        return stop or (float(len(self.states) - 1), None, lost)

    def _last(self, state):
        """The place at which the last device of a time-only system fires; NEVER where that or its goal is never reached."""
        if self.kind != TIMED or state > self.end:
            return NEVER
        return max([self.fires_at[name] for name, cm3 in self.doses.items() if cm3 > 0] or [0.0])

    def _ends(self, number, levels, bar, relief):
        """(part of the way to a state at which the pump stops, True at its goal, False at the relief pressure). levels: of the node
        that has to reach bar; None: the state itself is the goal, unless the relief pressure comes before."""
        pump = self.bars[PUMP]
        at_relief = _crossed(pump[number - 1], pump[number], relief) if pump[number] >= relief else NEVER
        if levels:
            at_goal = _crossed(levels[number - 1], levels[number], bar) if levels[number] >= bar else NEVER
        else:
            at_goal = 1.0 if number == self.end else NEVER
        return (at_goal, True) if at_goal <= at_relief else (at_relief, False)

    def _spread(self, number):
        """How fast pressure rises with the volume at a state, as bar per whole of that volume."""
        (low, slack), (high, tight) = self.states[max(0, number - 1)], self.states[min(len(self.states) - 1, number + 1)]
        return (tight[PUMP] - slack[PUMP]) / max(high - low, 1e-9) * self.states[number][0]

    def as_healthy(self, limit=None):
        """The healthy cycle, as well known as it is; limit: ended at that time [s]."""
        out = self.predict(limit=limit)
        out.simulated = True
        return out

    def _goal(self, trips, shut, idle):
        """(state, node, bar) that end a build-up: a state where no pressure does; one that is never reached behind a blockage or,
        in a time-only system, where a device gets or gives nothing."""
        switches = self.document["switches"] if self.kind in BY_PRESSURE else []
        if not switches:
            starves = self.kind == TIMED and any([
                self.doses.get(device["id"]) and (device["id"] in idle or device["at"] in shut) for device in self.document["devices"]])
            return len(self.states) if starves else self.end, None, 0.0
        first = switches[0]
        if first["at"] in shut:
            return len(self.states), None, 0.0
        return 0, first["at"], trips.get(first["id"], first["trips_bar"]) * (1 - 1e-6)


def _crossed(before, after, bar):
    """The part of the way from one pressure to another at which a third is reached."""
    return min(1.0, max(0.0, (bar - before) / (after - before))) if after > before else 0.0


def _gone(bar):
    """The share of free air that a pressure takes away."""
    bar = max(bar, 0.0)
    return bar / (bar + ATMOSPHERE_PA / _PA)


def _mean(bars):
    return sum(bars.values()) / len(bars)


def _room(section):
    return section["length_m"] * section["bore_mm"] ** 2
