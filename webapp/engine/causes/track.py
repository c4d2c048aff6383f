"""One line's healthy build-up, which a faulty one passes as well, only sooner or later. A place on it is the number of a state and the
part of the way to the next."""
from ..basics.adding import added_up
from ..basics.kinds import BY_PRESSURE, PROGRESSIVE, TIMED
from ..line.grid import ATMOSPHERE_PA
from ..line.tree import PUMP
from .expected import NEVER, Half

_PA = 1e5
_CM3 = 1e-6
_BEYOND = 6
# the pressure at which a block goes round is held within a hair's breadth
_JUST = 1 - 1e-3
# so little of its delivery left over builds up nothing
_LEAST = 0.02
# of the volume so much at most is not there
_MOST_LESS = 0.98


class Track:
    """The healthy build-up of one line by what the pump has given it. The two lines of a dual-line system differ by their doses alone.

    states: [(cm³ given, {node: bar})], as simulated, then on to the relief pressure by the line's compliance; doses: device -> cm³
    that it takes; fires_at: device -> the place at which it fires; end: number of the state in which the build-up ends
    """

    def __init__(self, document, tree, grid, states, doses, dry, limit_s):
        """grid: of one line; states as kept of the healthy cycle; dry: devices that it does not feed."""
        self.document, self.tree, self.kind, self.doses, self.limit_s = document, tree, document["kind"], doses, limit_s
        self.delivery = document["pump"]["delivery_cm3_min"] / 60
        self.relief = document["pump"]["relief_bar"]
        self.soft, self.air = added_up(grid.soft) / _CM3 * _PA, added_up(grid.air) / _CM3
        self.room = added_up(grid.room) / _CM3
        self.first = first_device(document)
        self.end, self.given = len(states) - 1, states[-1][0]
        self.states = self._states(states)
        self.at_end = self.states[self.end][1]
        self.given_at = [given for given, _ in self.states]
        self.bars = {node: [bars[node] for _, bars in self.states] for node in self.at_end}
        self.pressed = [self._pressed(bars) for _, bars in self.states]
        self.fires_at = {device["id"]: self._fires_at(device, device["id"] not in dry) for device in document["devices"]}
        # what was followed before: many guesses leave this line, or the time, as another had it
        self.known = {}

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

    def _fires_at(self, device, fed):
        """The place at which the pressure at a device first reaches that at which it fires; what hangs on a block moves with it."""
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
        bar, time = max(low, _mean(self.at_end)), 0.0
        step = (bar - low) / _BEYOND
        for _ in range(_BEYOND):
            bar -= step
            time += self._compliance(bar + step / 2) * step / (share * valve / 60 * (bar + step / 2))
        return time

    def predict(self, flow, leak, air, relief, trips, limit, left, shut, idle):
        """(half to expect, devices that it does not feed, cm³ that leave the system by it); arguments as Path.predict has them."""
        opens, less = min(relief or self.relief, self.relief), min(_MOST_LESS, self._less(shut, idle))
        asked = (flow, leak, air, less, opens, self._goal(trips, shut, idle), limit, left)
        if asked not in self.known:
            self.known[asked] = self._followed(*asked)
        place, build, lost = self.known[asked]
        given, bars = self.at(place)
        for node in shut:
            bars[node] = 0.0
        half = Half(build, bars, build is None or build > limit)
        half.spread = self._spread(int(place)) if half.ran and not (leak or relief) else 0.0
        still = [device["id"] for device in self.document["devices"]
                 if self.fires_at[device["id"]] > place or device["id"] in idle or device["at"] in shut]
        # what leaks at the pump returns to the reservoir
        return half, still, (lost if leak and leak[0] != PUMP else 0.0) + self._fed(still, given)

    def _less(self, shut, idle):
        """The share of the volume that is not taken where nodes are shut and devices idle."""
        if not shut and not idle:
            return 0.0
        doses = added_up([self.doses.get(device["id"], 0.0) for device in self.document["devices"]
                     if device["id"] in idle or device["at"] in shut])
        room = added_up([_room(self.tree.section[node]) for node in shut])
        everything = added_up([_room(one) for one in self.document["sections"]])
        return (doses + (self.given - added_up(self.doses.values())) * room / everything) / max(self.given, 1e-9)

    def held_at(self):
        """The node whose pressure stays what it is whatever the friction: where the switch listens, the first block is, or the device
        that fires last."""
        if self.kind in BY_PRESSURE and self.document["switches"]:
            return self.document["switches"][0]["at"]
        if self.kind == PROGRESSIVE:
            return self.first["at"]
        return max(self.document["devices"], key=lambda device: (self.fires_at[device["id"]], device["id"]))["at"]

    def stiffen(self, half, stiffer):
        """Put a lubricant so many times as stiff into a half: what friction takes grows as much, to what the pump can give. True where
        that is too little to end it."""
        held, end = half.pressure[self.held_at()], half.pressure
        bars = {node: max(0.0, held + (bar - held) * stiffer) for node, bar in end.items()}
        over = max(0.0, bars[PUMP] - self.relief)
        half.pressure = {node: max(0.0, bar - over) for node, bar in bars.items()}
        return over > 0

    def _fed(self, still, given):
        """cm³ that devices take of the first half; `still` take none. Blocks take all that is given once they go round."""
        if self.kind != PROGRESSIVE:
            return added_up([cm3 for name, cm3 in self.doses.items() if name not in still])
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


def first_device(document):
    """The device, or block, that hangs on no other."""
    return [device for device in document["devices"] if not device.get("hangs_from")][0]


def _crossed(before, after, bar):
    """The part of the way from one pressure to another at which a third is reached."""
    return min(1.0, max(0.0, (bar - before) / (after - before))) if after > before else 0.0


def _gone(bar):
    """The share of free air that a pressure takes away."""
    bar = max(bar, 0.0)
    return bar / (bar + ATMOSPHERE_PA / _PA)


def _mean(bars):
    return added_up(bars.values()) / len(bars)


def _room(section):
    return section["length_m"] * section["bore_mm"] ** 2
