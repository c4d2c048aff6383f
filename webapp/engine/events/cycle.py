"""The phases of a cycle: pump on, other switches awaited, vent open. Each kind of system puts them together."""
from ..line.tree import PUMP
from .movers import READY
from .stepping import FIRST_STEP_S, SteppedLine

_LONGEST_VENT_S = 6 * 3600.0
# so near the end of a vent that is to last a time, it is over
_NO_TIME_LEFT_S = 1e-3
# a device that has dosed this often in one build-up pulls the line down below its reset pressure each time
_MOST_STROKES = 50


class Cycle(SteppedLine):
    """A line that goes from phase to phase. `why` is set when something goes wrong, `ended` when the controller notices and goes
    no further. Made as a SteppedLine is.
    """

    why, ended = None, False

    def build(self, goal, end_s, marked_limit_s):
        """Pump on until the goal is done; returns its time after pump on [s], None where it never is.

        goal            done(), part(before, after, dt) of a step after which it is done, settle(after), says
        marked_limit_s  where this time goes by, a `fault` marks it; None: nowhere
        """
        start, dt, reached = self.now, FIRST_STEP_S, 0.0 if goal.done() else None
        for device in self.devices:
            device.strokes = 0
        marked = marked_limit_s is None
        while reached is None:
            taken = self.advance(self.until_dry(min(dt, start + end_s - self.now)), self.inflow, goal)
            if not marked and self.now - start >= marked_limit_s:
                marked = self.tell("fault", "controller", start + marked_limit_s) or True
            if goal.done():
                reached = self.now - start
            elif self._is_over(goal, self.now - start >= end_s * (1 - 1e-12)):
                break
            else:
                dt = self.next_step(taken)
        return reached

    def _is_over(self, goal, out_of_time):
        """True, and told, where nothing can make the build-up reach its goal any more."""
        if self.p[self.feed] >= self.relief:
            self.fail("the pump's relief pressure is reached before %s" % goal.says)
        elif out_of_time:
            self.fail("the time limit passes before %s" % goal.says)
        else:
            return self._goes_round()
        return True

    def vent(self, lasts_s, last, line=None):
        """Vent open: until lasts_s [s] has passed, or until everything has reset where none is given."""
        start, dt = self.now, FIRST_STEP_S
        self.vents, self.flow = [] if self.stuck else self.grid.roots, 0.0
        self.tell("vent open", "vent valve", None, line)
        paused = False
        while True:
            passed = self.now - start
            ready = self._all_reset()
            over = ready if lasts_s is None else passed >= lasts_s - _NO_TIME_LEFT_S
            if over and not paused and (ready or not last):
                paused = True
                self.tell("pause" if last else "vent shut", "controller" if last else "vent valve")
            if over and ready:
                break
            if over and not last:
                self.fail("the next cycle starts before everything has reset")
                break
            if not ready and (self.at_rest(dt) or passed > _LONGEST_VENT_S):
                self._fail_to_reset()
                break
            if lasts_s is not None and not over:
                dt = min(dt, lasts_s - passed)
            dt = self.next_step(self.drain(dt), True)
        self.rate = [0.0] * len(self.p)
        self.vents = []

    def wait_for_other_switches(self):
        """Pump off, vent still shut: pressure evens out along the line until every switch has tripped, or it rests."""
        dt = FIRST_STEP_S
        while not all([switch.done() for switch in self.switches]):
            dt = self.next_step(self.advance(dt, 0.0))
            if self.at_rest(dt):
                waiting = [switch.name for switch in self.switches if not switch.done()]
                self.fail("switch %s never trips after the first has stopped the pump" % waiting[0])
                return

    # ---- what is so

    def _goes_round(self):
        """True, and told, where a device doses over and over in one build-up."""
        for device in self.devices:
            if device.strokes > _MOST_STROKES:
                self.fail("device %s doses over and over: the doses empty the line faster than the pump fills it" % device.name)
                return True
        return False

    def _all_reset(self):
        for device in self.devices:
            if device.state != READY:
                return False
        return not any([switch.done() for switch in self.switches])

    def check_doses(self, devices):
        """Tell a device that had something to dose and did not. The controller does not see it: with a fault it goes on."""
        idle = [device for device in devices if device.dose > 0 and not device.strokes]
        if idle and not self.why:
            self.fail("device %s %s" % (idle[0].name, self._why_idle(idle[0])), ends=not self.faults)

    def _why_idle(self, device):
        if device.name in self.faults.get("devices", ()):
            return "never doses"
        if device.other is not None and device.other.state != READY:
            return "cannot dose: its other side has not reset"
        return "never reaches its firing pressure"

    def tell_wrong_contacts(self):
        """Switches that the controller reads as tripped while they are at rest."""
        for switch in self.switches:
            if switch.done() and switch.wrong:
                self.tell_wrong_contact(switch.name, switch.line)

    def tell_wrong_contact(self, name, line=None):
        """A switch that the controller reads as tripped while it is at rest."""
        self.tell("switch tripped", name, None, line)
        self.fail("switch %s reads as tripped while it is at rest: its resting state is entered wrongly" % name, False)

    def _fail_to_reset(self):
        held = ["device " + device.name for device in self.devices if device.state != READY]
        held += ["switch " + switch.name for switch in self.switches if switch.done()]
        self.fail("%s does not reset: pressure stays locked in the line" % held[0])

    def fail(self, why, ends=True):
        """Keep the first reason for which the cycle is not completed, and mark it; `ends`: the controller notices."""
        self.why, self.ended = self.why or why, self.ended or ends
        self.tell("fault", "controller")

