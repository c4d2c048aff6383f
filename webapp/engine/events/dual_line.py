"""A dual-line system's event: line A is built up until its end-of-line switch trips, then line B while A vents; then both vent.

The two lines are alike, and each is fed and vented by itself. A device's side moves only when its other side has reset.
"""
from .cycle import Cycle
from ..line.grid import Grid
from .movers import Device, Switch, delivered
from ..line.tree import PUMP

LINES = ("A", "B")


def run(document, doses, at_c, cycles, end_s, settings, faults, careful):
    """(cycle, its part of the trace) of one event."""
    grid = Grid(document, at_c, 2, faults.get("blocked", ()))
    wrong = faults.get("contacts", ())
    devices = [[Device(device, places[device["at"]], doses.get(name, {}).get(device["id"]) or 0.0, name)
                for device in document["devices"]] for name, places in zip(LINES, grid.places)]
    switches = [[Switch(switch, places[switch["at"]], switch["id"] in wrong, name)
                 for switch in document["switches"]] for name, places in zip(LINES, grid.places)]
    for one, other in zip(*devices):
        one.other, other.other = other, one
    cycle, trips = Cycle(document, grid, devices[0] + devices[1], switches[0] + switches[1], faults, careful), []
    for number in range(cycles):
        cycle.tell("pump on", PUMP)
        cycle.tell_wrong_contacts()
        for line in range(2):
            trips.append(_half(cycle, line, switches[line][0], end_s, settings))
            if cycle.ended:
                break
            cycle.check_doses(devices[line])
        cycle.tell("pump off", PUMP)
        if cycle.ended:
            break
        cycle.vent(settings.get("vent"), number == cycles - 1, "B")
        if cycle.ended:
            break
    return cycle, {"trip_s": trips, "delivered_by_line": {name: delivered(half) for name, half in zip(LINES, devices)}}


def _half(cycle, line, switch, end_s, settings):
    """The pump on one line until its switch trips, the other line open; returns the time that took [s], None for never."""
    cycle.feed, cycle.fed = cycle.grid.roots[line], [device for device in cycle.devices if device.line == LINES[line]]
    cycle.vents = [] if cycle.stuck else [cycle.grid.roots[1 - line]]
    if line:
        cycle.tell("vent open", "vent valve", None, LINES[1 - line])
    before, start = cycle.held(line), cycle.now
    reached = cycle.build(switch, end_s, settings.get("time_limit"))
    cycle.balance(before, (cycle.now - start) * cycle.inflow, line)
    return reached
