"""One system going through its cycles: time steps, devices, switches, pump and vent, and what happened when."""
from .implicit import step
from .tree import PUMP

_PA = 1e5
_CM3 = 1e-6
_FIRST_STEP_S = 0.05
_SHORTEST_STEP_S = 1e-6
# 2 bar a step put the trip time 2.5 % off where a stiff grease creeps along a long line; 1.5 bar keep it within 2 %
_BAR_A_STEP = 1.5
# a step that moved a cell this many times as far is taken again in halves: devices and switches would be passed over
_TOO_FAR = 4
_GROWTH = 1.5
# a vent dies away ever more slowly: steps that grew faster would say that it takes much longer than it does
_VENT_GROWTH = 1.2
_AT_REST_BAR = 0.002
_LONGEST_VENT_S = 6 * 3600.0
# a device that has dosed this often in one build-up pulls the line down below its reset pressure each time
_MOST_STROKES = 50

READY, DOSING, DOSED = "ready", "dosing", "dosed"


class _Device:
    def __init__(self, device, cell, dose_cm3):
        self.name, self.cell = device["id"], cell
        self.fires, self.resets = device["fires_bar"] * _PA, device["resets_bar"] * _PA
        stroke = device.get("stroke_s")
        self.stroke, self.dose = 1.0 if stroke is None else max(stroke, 0.01), dose_cm3 * _CM3
        self.state, self.start, self.taken, self.given, self.pending = READY, 0.0, 0.0, 0.0, 0.0
        self.strokes = 0

    def share(self, end):
        """m³ that the device takes up to the time `end`, beyond what it has taken."""
        self.pending = 0.0
        if self.state == DOSING:
            self.pending = min(1.0, (end - self.start) / self.stroke) * self.dose - self.taken
        return self.pending


class _Switch:
    def __init__(self, switch, cell):
        self.name, self.cell, self.on = switch["id"], cell, False
        self.trips, self.resets = switch["trips_bar"] * _PA, switch["resets_bar"] * _PA


class Cycle:
    """Holds the line's state between phases. `build` and `vent` run a phase; `why` is set when a cycle fails."""

    def __init__(self, document, grid, doses):
        self.grid, self.now, self.events, self.why = grid, 0.0, [], None
        self.inflow = document["pump"]["delivery_cm3_min"] / 60 * _CM3
        self.relief = document["pump"]["relief_bar"] * _PA
        self.vent_rate = ((document.get("vent_valve") or {}).get("flow_cm3_min_per_bar") or 0) / 60 * _CM3 / _PA
        self.devices = [_Device(device, grid.cell_of[device["at"]], doses.get(device["id"], 0.0))
                        for device in document["devices"]]
        self.switches = [_Switch(switch, grid.cell_of[switch["at"]]) for switch in document["switches"]]
        self.p = [0.0] * len(grid.parent)
        self.rate = [0.0] * len(grid.parent)
        # states are replaced, never changed: keeping them is free
        self.times, self.states = [0.0], [self.p]
        self.balance_error = 0.0

    def delivered(self):
        """Device id -> cm³ given so far."""
        return {device.name: device.given / _CM3 for device in self.devices}

    # ---- phases

    def build(self, end_s, marked_limit_s):
        """Pump on until the first switch trips; returns its time after pump on [s], None where it never does."""
        start, stored, given = self.now, self.grid.stored(self.p), self._given()
        self._tell("pump on", PUMP)
        first, dt, tripped = self.switches[0], _FIRST_STEP_S, None
        for device in self.devices:
            device.strokes = 0
        marked = marked_limit_s is None
        while True:
            left = start + end_s - self.now
            taken = self._advance(min(dt, left), self.inflow, None, stop_at=first)
            if not marked and self.now - start >= marked_limit_s:
                marked = self._tell("fault", "controller", start + marked_limit_s) or True
            if first.on:
                tripped = self.now - start
                break
            if self.p[0] >= self.relief:
                self._fail("the pump's relief pressure is reached before the first switch trips")
                break
            if self.now - start >= end_s * (1 - 1e-12):
                self._fail("the time limit passes before the first switch trips")
                break
            if self._goes_round():
                break
            dt = self._next_step(taken)
        pumped = (self.now - start) * self.inflow
        self._tell("pump off", PUMP)
        if tripped is not None:
            self._wait_for_other_switches()
            self._check_doses()
        self.balance_error = abs(pumped - (self.grid.stored(self.p) - stored) - (self._given() - given)) / pumped
        return tripped

    def vent(self, lasts_s, last):
        """Vent open: until lasts_s [s] has passed, or until everything has reset where none is given."""
        start, dt = self.now, _FIRST_STEP_S
        self._tell("vent open", "vent valve")
        paused = False
        while True:
            passed = self.now - start
            ready = self._all_reset()
            over = ready if lasts_s is None else passed >= lasts_s * (1 - 1e-12)
            if over and not paused and (ready or not last):
                paused = True
                self._tell("pause" if last else "vent shut", "controller" if last else "vent valve")
            if over and ready:
                break
            if over and not last:
                self._fail("the next cycle starts before everything has reset")
                break
            if self._at_rest(dt) or passed > _LONGEST_VENT_S:
                self._fail_to_reset()
                break
            if lasts_s is not None and passed < lasts_s:
                dt = min(dt, lasts_s - passed)
            taken = self._advance(dt, 0.0, self.vent_rate)
            dt = self._next_step(taken, 1, _VENT_GROWTH)
        self.rate = [0.0] * len(self.p)

    def _goes_round(self):
        """True, and told, where a device doses over and over in one build-up."""
        for device in self.devices:
            if device.strokes > _MOST_STROKES:
                self._fail("device %s doses over and over: the doses empty the line faster than the pump fills it" % device.name)
                return True
        return False

    def _wait_for_other_switches(self):
        """Pump off, vent still shut: pressure evens out along the line until every switch has tripped, or it rests."""
        dt = _FIRST_STEP_S
        while not all([switch.on for switch in self.switches]):
            taken = self._advance(dt, 0.0, None)
            dt = self._next_step(taken)
            if self._at_rest(dt):
                waiting = [switch.name for switch in self.switches if not switch.on]
                self._fail("switch %s never trips after the first has stopped the pump" % waiting[0])
                return

    # ---- one step

    def _advance(self, dt, inflow, vent, stop_at=None):
        """Take one step of at most dt, ending where the switch `stop_at` trips; returns the step taken [s]."""
        fresh, dt = self._solve(dt, inflow, vent)
        if stop_at is not None and fresh[stop_at.cell] >= stop_at.trips:
            before = self.p[stop_at.cell]
            dt *= (stop_at.trips - before) / (fresh[stop_at.cell] - before)
            fresh, dt = self._solve(max(dt, _SHORTEST_STEP_S), inflow, vent)
            fresh[stop_at.cell] = max(fresh[stop_at.cell], stop_at.trips)
        for device in self.devices:
            self._move_device(device, fresh, dt)
        for switch in self.switches:
            self._move_switch(switch, fresh, dt)
        self.rate = [(b - a) / dt for a, b in zip(self.p, fresh)]
        self.p = fresh
        self.now += dt
        self.times.append(self.now)
        self.states.append(fresh)
        return dt

    def _solve(self, dt, inflow, vent):
        while True:
            taken = [0.0] * len(self.p)
            for device in self.devices:
                if device.state == DOSING:
                    taken[device.cell] += device.share(self.now + dt)
            guess = [p + rate * dt for p, rate in zip(self.p, self.rate)]
            fresh = step(self.grid, self.p, guess, dt, taken, inflow, vent)
            if fresh is None:
                fresh = step(self.grid, self.p, self.p, dt, taken, inflow, vent)
            if fresh is not None and (dt <= _FIRST_STEP_S or self._moved(fresh) < _TOO_FAR * _BAR_A_STEP * _PA):
                return fresh, dt
            if dt <= _SHORTEST_STEP_S:
                raise ArithmeticError("the line model did not close at its shortest step")
            dt /= 2

    def _moved(self, fresh):
        """How far the cell beyond the pump that moved farthest has moved [Pa]."""
        return max([abs(b - a) for a, b in zip(self.p[1:], fresh[1:])])

    def _move_device(self, device, fresh, dt):
        before, after = self.p[device.cell], fresh[device.cell]
        if device.state == DOSING:
            device.taken += device.pending
            device.given += device.pending
            end = device.start + device.stroke
            if self.now + dt >= end:
                device.state = DOSED
                self._tell("device dosed", device.name, end)
        if device.state == READY and after >= device.fires:
            device.state, device.taken, device.strokes = DOSING, 0.0, device.strokes + 1
            device.start = self.now + dt * (device.fires - before) / (after - before) if after > before else self.now + dt
            device.start = max(device.start, self.now)
        elif device.state == DOSED and after <= device.resets:
            device.state = READY
            crossed = self._crossing(before, after, device.resets, dt)
            self._tell("device reset", device.name, max(crossed, device.start + device.stroke))

    def _move_switch(self, switch, fresh, dt):
        before, after = self.p[switch.cell], fresh[switch.cell]
        if not switch.on and after >= switch.trips:
            switch.on = True
            self._tell("switch tripped", switch.name, self._crossing(before, after, switch.trips, dt))
        elif switch.on and after <= switch.resets:
            switch.on = False
            self._tell("switch returned", switch.name, self._crossing(before, after, switch.resets, dt))

    def _crossing(self, before, after, level, dt):
        if before == after:
            return self.now + dt
        return self.now + dt * min(1.0, max(0.0, (level - before) / (after - before)))

    def _next_step(self, dt, from_cell=0, growth=_GROWTH):
        """The next step [s]: so long that no cell beyond from_cell moves by much more than _BAR_A_STEP."""
        fastest = max([abs(rate) for rate in self.rate[from_cell:]])
        longest = dt * growth
        if fastest * longest > _BAR_A_STEP * _PA:
            longest = max(_BAR_A_STEP * _PA / fastest, _FIRST_STEP_S)
        for device in self.devices:
            if device.state == DOSING:
                longest = min(longest, device.stroke)
        return longest

    # ---- what is so

    def _given(self):
        return sum([device.given for device in self.devices])

    def _all_reset(self):
        return (all([device.state == READY for device in self.devices])
                and not any([switch.on for switch in self.switches]))

    def _at_rest(self, dt):
        if dt <= 2.0 or any([device.state == DOSING for device in self.devices]):
            return False
        return max([abs(rate) for rate in self.rate]) * dt < _AT_REST_BAR * _PA

    def _check_doses(self):
        idle = [device.name for device in self.devices if device.state == READY and device.dose > 0]
        if idle and not self.why:
            self._fail("device %s never reaches its firing pressure" % idle[0])

    def _fail_to_reset(self):
        held = ["device " + device.name for device in self.devices if device.state != READY]
        held += ["switch " + switch.name for switch in self.switches if switch.on]
        self._fail("%s does not reset: pressure stays locked in the line" % held[0])

    def _fail(self, why):
        self.why = why
        self._tell("fault", "controller")

    def _tell(self, what, where, at=None):
        self.events.append({"at_s": self.now if at is None else at, "what": what, "where": where})
