"""What moves on the line while pressure comes and goes: metering devices, switches, openings. SI throughout."""

_PA = 1e5
_CM3 = 1e-6
_SHORT_PA = 1e5
READY, DOSING, DOSED = "ready", "dosing", "dosed"
_ENDLESS = float("inf")
# a careful step may end after so much of a stroke
_LATE_CAREFUL = 0.05


class Device:
    """A metering device, or one side of one (`line`, `other`): starts at fires, takes its dose over its stroke, resets."""

    def __init__(self, device, cell, dose_cm3, line=None):
        self.name, self.cell, self.line, self.other = device["id"], cell, line, None
        self.fires, self.resets = device["fires_bar"] * _PA, device["resets_bar"] * _PA
        stroke = device.get("stroke_s")
        self.stroke, self.dose = 1.0 if stroke is None else max(stroke, 0.01), dose_cm3 * _CM3
        self.start, self.taken, self.given, self.pending, self.strokes = 0.0, 0.0, 0.0, 0.0, 0
        self._be(READY)

    def _be(self, state):
        """What it does now, and the pressures at which it does something else: at `above` or higher, at `below` or lower."""
        self.state = state
        self.above = {READY: self.fires, DOSING: -_ENDLESS, DOSED: _ENDLESS}[state]
        self.below = self.resets if state == DOSED else -_ENDLESS

    def share(self, now, dt):
        """m³ that it takes in dt from now on while it doses: what it has not taken yet, evenly until its stroke ends."""
        left = self.start + self.stroke - now
        self.pending = (self.dose - self.taken) * (dt / left if dt < left else 1.0)
        return self.pending

    def part(self, before, after, dt):
        """The part of a step soon after which its stroke begins; None where it does not, or where the step ends as soon."""
        before, after = before[self.cell], after[self.cell]
        if before >= self.fires or (self.other is not None and self.other.state != READY):
            return None
        late = dt * (after - self.fires) / (after - before)
        return 1 - (late - _LATE_CAREFUL / 2 * self.stroke) / dt if late > _LATE_CAREFUL * self.stroke else None

    def settle(self, after):
        """A step that falls short of its start goes on in the next."""

    def move(self, cycle, before, after, dt):
        """Follow one step of the cycle, from the pressures before to those after."""
        now, before, after = cycle.now, before[self.cell], after[self.cell]
        if self.state == DOSING:
            self.taken += self.pending
            self.given += self.pending
            end = self.start + self.stroke
            if now + dt >= end:
                self._be(DOSED)
                cycle.tell("device dosed", self.name, end, self.line)
        if self.state == READY and after >= self.fires and (self.other is None or self.other.state == READY):
            self._be(DOSING)
            self.taken, self.strokes = 0.0, self.strokes + 1
            self.start = crossing(now, before, after, self.fires, dt)
            if cycle.careful:
                self.start = max(self.start, now + dt - _LATE_CAREFUL * self.stroke)
        elif self.state == DOSED and after <= self.resets:
            self._be(READY)
            at = max(crossing(now, before, after, self.resets, dt), self.start + self.stroke)
            cycle.tell("device reset", self.name, at, self.line)


def delivered(devices):
    """Device id -> cm³ given so far, both sides of it together."""
    out = {}
    for device in devices:
        out[device.name] = out.get(device.name, 0.0) + device.given / _CM3
    return out


class Level:
    """A pressure [Pa] at a cell that a step may not pass: it is cut to end there where it goes beyond by more than `over`."""

    def __init__(self, cell, pa, over=0.0):
        self.cell, self.pa, self.over = cell, pa, over

    def part(self, before, after, _dt):
        """The part of a step after which it is reached; None where it is not."""
        before, after = before[self.cell], after[self.cell]
        if after < self.pa + self.over or before >= self.pa:
            return None
        return (self.pa - before) / (after - before)

    def settle(self, after):
        """The pressures of a step that was cut stay as they are: it may be cut again."""


class Switch(Level):
    """A pressure switch; `wrong`: its resting state is entered wrongly, so the controller reads it the other way round."""

    says = "the first switch trips"

    def __init__(self, switch, cell, wrong=False, line=None):
        Level.__init__(self, cell, switch["trips_bar"] * _PA)
        self.name, self.line, self.on, self.wrong = switch["id"], line, False, wrong
        self.resets = switch["resets_bar"] * _PA

    def done(self):
        """True while the controller reads it as tripped."""
        return self.on != self.wrong

    def settle(self, after):
        """A step that was cut to end at the trip ends there; one that falls well short of it goes on in the next."""
        if self.pa - _SHORT_PA < after[self.cell] < self.pa:
            after[self.cell] = self.pa

    def move(self, cycle, before, after, dt):
        """Follow one step of the cycle, from the pressures before to those after."""
        before, after = before[self.cell], after[self.cell]
        level = self.resets if self.on else self.pa
        if after <= level if self.on else after >= level:
            self.on = not self.on
            cycle.tell("switch tripped" if self.done() else "switch returned", self.name,
                       crossing(cycle.now, before, after, level, dt), self.line)


class Opening:
    """Where lubricant leaves: flow = rate · (pressure − opens), none below; a hole opens at 0 and lets back in as well.

    rate [m³/(s·Pa)], opens [Pa]
    """

    def __init__(self, cell, rate, opens=0.0):
        self.cell, self.rate, self.opens, self.passed = cell, rate, opens, 0.0

    def flow(self, after):
        """m³/s at the pressures of a step's end."""
        over = after[self.cell] - self.opens
        return self.rate * (max(over, 0.0) if self.opens else over)

    def move(self, _cycle, _before, after, dt):
        """Follow one step of the cycle."""
        self.passed += self.flow(after) * dt


def crossing(now, before, after, level, dt):
    """When the pressure crossed the level within a step."""
    if before == after:
        return now + dt
    return now + dt * min(1.0, max(0.0, (level - before) / (after - before)))
