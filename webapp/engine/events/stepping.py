"""The line in time: how long a step may be, what it may not pass, and what moves in it."""
from ..basics.adding import added_up
from ..line.grid import ATMOSPHERE_PA, PARTS_PA
from ..line.implicit import step
from .movers import DOSING, READY, Level, Opening

_PA = 1e5
_CM3 = 1e-6
FIRST_STEP_S = 0.05
_SHORTEST_STEP_S = 1e-6
# 2 bar a step put the trip time 2.5 % off where a stiff grease creeps along a long line; 1.5 bar keep it within 2 %
_BAR_A_STEP = 1.5
# the clock of a vent is right for more
_BAR_A_STEP_OF_VENT = 3
# where pressure goes on as it went, a step may be longer: it ends no more than this from where the one before it pointed,
_BEND_BAR = 0.5
# and no farther than this from where it starts
_STRAIGHT_BAR = 10
# a device fires within a step and takes its dose from the next on: no later than by this share of its stroke
_LATE = 0.5
_JUST_BEYOND = 1.0001
# a step that moved a cell this many times as far, and not straight on, is taken again in halves: devices would be passed over
_TOO_FAR = 4
_GROWTH = 1.5
_VENT_GROWTH = 1.2
_AT_REST_BAR = 0.002
# a line can be coming to rest only in steps longer than this
_RESTS_AFTER_S = 2.0
# how near Newton comes; whether a line has come to rest is seen from its last small changes
_CLOSE_BUILDING_PA, _CLOSE_VENTING_PA, _CLOSE_RESTING_PA = 1.5e4, 5e4, 100.0
# so near its reset pressure, two steps' worth, a rough run does not tell whether a device doses again
_NEAR_PA = 3e5
# a second line's wide-open vent [m³/(s·Pa)]: so wide that its cell is at rest
_WIDE_OPEN = 1e20
# where the pump gives nothing, an error of the balance is measured by this [m³]
_LEAST_PUMPED = 1e-8


class NearReset(Exception):
    """While devices dosed, the line came near a reset pressure: only a careful run tells whether one doses again."""


class SteppedLine:
    """The line's state between steps, and what has happened on it so far (`events`).

    faults   plain numbers of faults.py; openings, devices, switches: what moves on the line
    careful  True: steps end where strokes begin and end. False, in half the time: a dose that began within a step is taken from the
             next on, the faster; NearReset where that may decide whether a device doses once or twice
    fed      the devices on the line that the pump feeds
    """

    def __init__(self, document, grid, devices, switches, faults, careful):
        self.careful, self.fed = careful, devices
        self.grid, self.now, self.events = grid, 0.0, []
        self.faults = faults
        self.inflow = document["pump"]["delivery_cm3_min"] / 60 * _CM3
        self.relief = document["pump"]["relief_bar"] * _PA
        self.devices, self.switches = devices, switches
        self.openings = [Opening(grid.places[line][node], rate / 60 * _CM3 / _PA) for node, line, rate in faults.get("leaks", ())]
        self._set_vent((document.get("vent_valve") or {}).get("flow_cm3_min_per_bar") or 0)
        self.feed, self.vents = 0, []
        # what a step may not pass: it is cut to end there
        self.stops = []
        self.p = [0.0] * len(grid.parent)
        self.rate = [0.0] * len(grid.parent)
        # of the last step, the pump's cell apart: the fastest rate [Pa/s], how far it ended from where the one before it pointed [Pa]
        self.fastest = self.bent = 0.0
        # m³/s that left the line in the last step of a vent; 0 before its first
        self.flow = 0.0
        # m³ pressed into each cell, less its free air
        self.pressed = [-free for free in grid.air]
        # devices that take from the line in the next step, and that took in the last one
        self.dosing, self.dosed = [], []
        # states are replaced, never changed: keeping them is free
        self.times, self.states = [0.0], [self.p]
        self.balance_error = 0.0
        # m³ left in the reservoir (None: enough), and air drawn in by the step that is being tried
        self.left, self.drawn = faults.get("empty_m3"), 0.0

    def _set_vent(self, cm3_min_per_bar):
        """Its rate [m³/(s·Pa)], 0 wide open. A wide-open valve that opens to a share passes that share of the pump's delivery
        per bar: an estimate, since it has no flow of its own."""
        share = self.faults.get("vent")
        self.stuck = share == 0
        if share is not None:
            cm3_min_per_bar = share * (cm3_min_per_bar or self.inflow * 60 / _CM3)
        self.vent_rate = cm3_min_per_bar / 60 * _CM3 / _PA

    def add(self, openings):
        """More that lets lubricant out of the line."""
        self.openings += openings

    def hold_relief(self, span_pa):
        """The relief valve lets the pump's whole delivery out within span_pa above its pressure; nothing ends there."""
        self.add([Opening(self.feed, self.inflow / span_pa, self.relief)])
        self.relief = float("inf")

    def advance(self, dt, inflow, goal=None):
        """Take one step of at most dt, ending where the goal is done; returns the step taken [s]."""
        fresh, pressed, rate, dt = self._solve(dt, inflow)
        part, stop = self._first_stop(goal, fresh, dt) if goal else (None, None)
        if stop:
            fresh, pressed, rate, dt = self._solve(max(dt * part, _SHORTEST_STEP_S), inflow)
            stop.settle(fresh)
        if goal and self.dosing and not self.careful and self._near_reset(fresh):
            raise NearReset()
        if self.left is not None:
            left = self.left - inflow * dt
            self.left, self.drawn = left if left > inflow * _SHORTEST_STEP_S else 0.0, 0.0
        self._keep(fresh, pressed, rate, dt, dt)
        return dt

    def drain(self, dt):
        """Take one step of a vent, of at most dt; returns the step taken [s].

        An implicit step lets out all the time what flows at its end, the least of it: it goes through the right pressures, but
        too slowly. The clock goes on by the time that the mean of its first and its last flow takes, which is of second order.
        """
        fresh, pressed, rate, dt = self._solve(dt, 0.0)
        flow = (added_up(self.pressed) - added_up(pressed)) / dt
        lasted = dt * 2 * flow / (self.flow + flow) if self.flow > 0 and flow > 0 else dt
        self.flow = flow
        self._keep(fresh, pressed, rate, dt, lasted)
        return dt

    def _keep(self, fresh, pressed, rate, dt, lasted):
        """Let everything follow a step of dt that has lasted so long."""
        self._move(fresh, lasted)
        for opening in self.openings:
            opening.move(self, self.p, fresh, dt)
        self.p, self.pressed, self.rate = fresh, pressed, rate
        self.now += lasted
        self.times.append(self.now)
        self.states.append(fresh)

    def _first_stop(self, goal, fresh, dt):
        """(part of a step, what it may not pass and comes to first, after that part); (None, None) where there is nothing."""
        first, stop, starting = None, None, []
        if self.careful:
            starting = [device for device in self.fed if device.state == READY and fresh[device.cell] >= device.fires]
        for one in [goal, Level(self.feed, self.relief, _TOO_FAR * _BAR_A_STEP * _PA)] + self.stops + starting:
            part = one.part(self.p, fresh, dt)
            if part is not None and (stop is None or part < first):
                first, stop = part, one
        return first, stop

    def _near_reset(self, fresh):
        """True where a device that has started is near its reset pressure after a step."""
        for device in self.fed:
            if device.state != READY and fresh[device.cell] < device.resets + _NEAR_PA:
                return True
        return False

    def _move(self, fresh, dt):
        """Let devices and switches follow a step."""
        moved = []
        for device in self.devices:
            at = fresh[device.cell]
            if at >= device.above or at <= device.below:
                device.move(self, self.p, fresh, dt)
                moved.append(device)
        for switch in self.switches:
            switch.move(self, self.p, fresh, dt)
        self.dosed, self.dosing = self.dosing, [device for device in moved if device.state == DOSING]

    def _solve(self, dt, inflow):
        """(pressures after the step, what the cells then hold, rates, step taken [s]): halved until it closes and passes over nothing."""
        openings = self._open_now()
        vented = 0 in self.vents and not self.vent_rate
        while True:
            held = self.pressed[:]
            for device in self.dosing:
                held[device.cell] -= device.share(self.now, dt)
            given = inflow if self.left is None else self._with_air(inflow, dt, held)
            close = _CLOSE_BUILDING_PA if inflow else _CLOSE_RESTING_PA if dt > _RESTS_AFTER_S else _CLOSE_VENTING_PA
            how = dt, self.feed, given, openings, vented, close
            found = step(self.grid, held, self._guess(dt, vented), *how) or step(self.grid, held, self.p, *how)
            if found:
                rate = self._rates(found[0], dt)
                if dt <= FIRST_STEP_S or not self._went_astray(dt):
                    return found[0], found[1], rate, dt
            if dt <= _SHORTEST_STEP_S:
                raise ArithmeticError("the line model did not close at its shortest step")
            dt /= 2

    def _went_astray(self, dt):
        """True where a step went far and elsewhere than the one before it pointed."""
        return self.fastest * dt >= _TOO_FAR * _BAR_A_STEP * _PA and self.bent >= _BAR_A_STEP * _PA

    def _guess(self, dt, vented):
        """Pressures after dt if all goes on as it went; a dose that begins or ends leads elsewhere."""
        if self.dosing or self.dosed:
            return self.p
        p, rate = self.p, self.rate
        guess = [p[i] + rate[i] * dt for i in range(len(p))]
        if vented:
            guess[0] = 0.0
        return guess

    def _rates(self, fresh, dt):
        """How fast each cell's pressure has changed [Pa/s]; keeps the fastest and how far they turned from the rates before."""
        p, before, rates = self.p, self.rate, fresh[:]
        rises = falls = up = down = 0.0
        for i in range(len(p)):
            rate = (fresh[i] - p[i]) / dt
            rates[i] = rate
            if i:
                turn = rate - before[i]
                if rate > rises:
                    rises = rate
                elif rate < falls:
                    falls = rate
                if turn > up:
                    up = turn
                elif turn < down:
                    down = turn
        self.fastest, self.bent = max(rises, -falls), max(up, -down) * dt
        return rates

    def _open_now(self):
        """What lets lubricant out: (cell, rate, opens), vents with it."""
        openings = [(one.cell, one.rate, one.opens) for one in self.openings]
        for cell in self.vents:
            if cell or self.vent_rate:
                openings.append((cell, self.vent_rate or _WIDE_OPEN, 0.0))
        return openings

    def until_dry(self, dt):
        """A step no longer than the reservoir lasts."""
        return min(dt, self.left / self.inflow) if self.left and self.inflow else dt

    def _with_air(self, inflow, dt, held):
        """What the pump gives from a reservoir that may be empty [m³/s at the pressure of the pump's cell].

        From then on it is free air, which stays at the pump: its cell gets that much more of it, and of the volume only what
        the pressure leaves of it. The air of a step tried before and not taken is taken back.
        """
        air = 0.0 if self.left else inflow * dt
        self.grid.add_air(self.feed, air - self.drawn)
        self.drawn = air
        share = ATMOSPHERE_PA / (max(self.p[self.feed], PARTS_PA) + ATMOSPHERE_PA)
        held[self.feed] -= air * share
        return inflow if self.left else inflow * share

    def next_step(self, dt, venting=False):
        """The next step [s]: so long that no cell moves by much more than _BAR_A_STEP, or bends by more than _BEND_BAR.

        A leak needs the former: what runs out by a step's last pressure would be wrong in long ones.
        """
        fastest = self.fastest if venting else self._fastest()
        growth, pa = (_VENT_GROWTH, _BAR_A_STEP_OF_VENT * _PA) if venting else (_GROWTH, _BAR_A_STEP * _PA)
        longest = max(dt * growth, FIRST_STEP_S) if self.careful else dt * growth
        if fastest * longest > pa:
            straight = 0.0
            if not venting and not any([one.rate for one in self.openings]):
                straight = min(dt * (_BEND_BAR * _PA / max(self.bent, 1.0)) ** 0.5, _STRAIGHT_BAR * _PA / fastest)
            longest = max(min(longest, straight), pa / fastest, FIRST_STEP_S)
        for device in self.dosing:
            longest = min(longest, max(device.start + device.stroke - self.now, _SHORTEST_STEP_S) if self.careful else device.stroke)
        return longest if venting else self._until_one_fires(longest)

    def _until_one_fires(self, longest):
        """At most `longest` [s], and little longer than until the first device fires."""
        p, rates = self.p, self.rate
        for device in self.devices:
            rate = rates[device.cell]
            left = device.above - p[device.cell]
            if 0 < left < longest * rate:
                longest = min(longest, max(left / rate * _JUST_BEYOND, device.stroke * _LATE))
        return longest

    def _fastest(self):
        """The fastest rate of all cells, the pump's too [Pa/s]."""
        return max(self.fastest, self.rate[0], -self.rate[0])

    def at_rest(self, dt):
        return dt > _RESTS_AFTER_S and not self.dosing and self._fastest() * dt < _AT_REST_BAR * _PA

    def held(self, line=0):
        """m³ that have come into a line so far and are in it, dosed or lost."""
        first, end = self.grid.span(line)
        given = added_up([device.given for device in self.devices if first <= device.cell < end])
        return self.grid.stored(self.p, first, end), given, added_up([one.passed for one in self.openings if first <= one.cell < end])

    def balance(self, before, pumped, line=0):
        """Keep the greatest relative error of the volume balance since `before`, what `held` returned then."""
        stored, given, lost = self.held(line)
        error = abs(pumped - (stored - before[0]) - (given - before[1]) - (lost - before[2]))
        self.balance_error = max(self.balance_error, error / max(pumped, _LEAST_PUMPED))

    def tell(self, what, where, at=None, line=None):
        """Keep an event."""
        event = {"at_s": self.now if at is None else at, "what": what, "where": where}
        if line is not None:
            event["line"] = line
        self.events.append(event)
