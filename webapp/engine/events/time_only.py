"""A time-only system's event: the pump runs a set time, or until the last device has dosed; the line vents."""
from .cycle import Cycle
from ..line.grid import Grid
from .movers import DOSED, DOSING, Device
from ..line.tree import PUMP

# while the relief valve holds the pressure: the pump's whole delivery within this [Pa] above it
_RELIEF_SPAN_PA = 1e4


class _AllFed:
    """Done when every device that has something to dose has dosed."""

    says = "all devices have dosed"

    def __init__(self, devices):
        self.waiting = [device for device in devices if device.dose > 0]

    def done(self):
        return all([device.state == DOSED for device in self.waiting])

    def part(self, _before, _after, _dt):
        return None


class _RunTime(_AllFed):
    """Done when the pump has run its time."""

    def __init__(self, cycle, run_s):
        self.cycle, self.end = cycle, cycle.now + run_s

    def done(self):
        return self.cycle.now >= self.end - 1e-9


def run(document, doses, at_c, cycles, end_s, settings, faults, careful):
    """(cycle, its part of the trace) of one event. settings["limit"]: the run time [s]; None: until the last device has dosed."""
    run_s = settings["limit"]
    grid = Grid(document, at_c, 1, faults.get("blocked", ()))
    devices = [Device(device, grid.cell_of[device["at"]], doses.get(device["id"], 0.0)) for device in document["devices"]]
    cycle, fed = Cycle(document, grid, devices, [], faults, careful), []
    if run_s:
        cycle.hold_relief(_RELIEF_SPAN_PA)
    for number in range(cycles):
        before, start = cycle.held(), cycle.now
        cycle.tell("pump on", PUMP)
        goal = _RunTime(cycle, run_s) if run_s else _AllFed(devices)
        cycle.build(goal, end_s, settings.get("time_limit"))
        cycle.balance(before, (cycle.now - start) * cycle.inflow)
        cycle.tell("pump off", PUMP)
        fed.append(_fed_s(cycle, devices, start))
        if cycle.ended:
            break
        cycle.check_doses(devices)
        cycle.vent(settings.get("vent"), number == cycles - 1)
        if cycle.ended:
            break
    return cycle, {"trip_s": [None] * len(fed), "fed_s": fed}


def _fed_s(cycle, devices, start):
    """From pump on until the last device has completed its first stroke [s]; None where one never does."""
    waiting, first = [device for device in devices if device.dose > 0], {}
    for event in cycle.events:
        if event["what"] == "device dosed" and event["at_s"] >= start:
            first.setdefault(event["where"], event["at_s"])
    if not all([device.name in first or device.state in (DOSING, DOSED) for device in waiting]):
        return None
    return max([first.get(device.name, device.start + device.stroke) for device in waiting] or [start]) - start
