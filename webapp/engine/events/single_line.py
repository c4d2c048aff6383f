"""A single-line system's event: the pump builds pressure until the first switch trips, every device doses, the line vents."""
from .cycle import Cycle
from ..line.grid import Grid
from .movers import Device, Switch
from ..line.tree import PUMP


def run(document, doses, at_c, cycles, end_s, settings, faults, careful):
    """(cycle, its part of the trace) of one event."""
    grid = Grid(document, at_c, 1, faults.get("blocked", ()))
    wrong = faults.get("contacts", ())
    devices = [Device(device, grid.cell_of[device["at"]], doses.get(device["id"], 0.0)) for device in document["devices"]]
    switches = [Switch(switch, grid.cell_of[switch["at"]], switch["id"] in wrong) for switch in document["switches"]]
    cycle, trips = Cycle(document, grid, devices, switches, faults, careful), []
    for number in range(cycles):
        before, start = cycle.held(), cycle.now
        cycle.tell("pump on", PUMP)
        cycle.tell_wrong_contacts()
        trips.append(cycle.build(switches[0], end_s, settings.get("time_limit")))
        pumped = (cycle.now - start) * cycle.inflow
        cycle.tell("pump off", PUMP)
        if trips[-1] is not None:
            cycle.wait_for_other_switches()
            cycle.check_doses(devices)
        cycle.balance(before, pumped)
        if cycle.ended:
            break
        cycle.vent(settings.get("vent"), last=number == cycles - 1)
        if cycle.ended:
            break
    return cycle, {"trip_s": trips}
