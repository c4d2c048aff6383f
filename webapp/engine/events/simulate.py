"""Whole events simulated: the pump fills the line, devices dose, switches trip, the line vents; each kind of system in its way.

The model: at every cell C dp/dt = inflow - outflow - doses, C = V (1/K + phi p0/(p+p0)²) + wall expansion, Herschel-Bulkley
flow between cells. The line starts at rest at zero pressure (the first cycle after a standstill: the slow, so the safe case).

single-line   `doses` {device: cm³ from the line in a cycle}. `trip_s`: one a cycle, from pump on until the first switch trips.
              With two switches the first stops the pump and the vent opens when the second has tripped as well.
dual-line     `doses` {"A": {device: cm³ in the half of line A}, "B": ...}. `trip_s`: two a cycle, A then B, each from the moment
              when the line gets the pump. `pressure_bar` is line A, `pressure_b_bar` line B; events carry their `line`;
              `delivered_by_line`. A device's side moves only when its other side has reset.
time-only     `doses` as single-line. `trip_s` [None] a cycle; `fed_s`: from pump on until the last device has completed its
              stroke, None where one never does. limit_s is the run time; without it the pump stops when all are fed.
progressive   `doses` is not used: the outlets say it. `trip_s`: from pump on until the cycle switch counts, then from count to
              count, the pump running on. `delivered_cm3` is what went through each block; `working_s`: when the first block
              begins to move. Without a cycle switch the first block is counted; one on a further block counts that block's
              own cycles. The line does not vent: after the last count the pump stops.
"""
from .stepping import NearReset
from .movers import delivered

MOST_SAMPLES = 160
# a careful run of so few costs a tenth more; of sixty that start one by one it costs as much again
_FEW_DEVICES = 20
_PA = 1e5


def longest_limit(document):
    """The longest time limit that the controller accepts [s]; two hours where it is not stated."""
    ranges = document["controller"]["time_limit"]
    if isinstance(ranges, dict):
        ranges = [ranges]
    return max([entry["max_s"] for entry in ranges] or [7200])


def _runner(kind):
    """What runs a system of a kind; imported when it is asked for, since the phone compiles each module as it comes."""
    if kind == "dual-line":
        from .dual_line import run
    elif kind == "time-only":
        from .time_only import run
    elif kind == "progressive":
        from .progressive import run
    else:
        from .single_line import run
    return run


def simulate(document, doses, at_c, cycles=1, limit_s=None, settings=None, faults=None):
    """Run one event of `cycles` cycles at the ambient temperature at_c [°C]; returns a `trace/1` document without texts.

    doses      what devices take from the line, by kind as above
    limit_s    the controller ends a build-up here [s]; None: it runs until the switch trips, the relief pressure is
               reached or the controller's longest limit has passed
    settings   {"time_limit", "vent"} [s]: where the recommended limit went by is marked by a `fault`; the vent between
               cycles lasts that long. Without: the vent lasts until everything has reset
    faults     plain numbers, as faults.read gives them; None: a good day
    """
    faults = faults or {}
    if faults:
        from .faults import applied
        document = applied(document, faults)
    settings = dict(settings or {}, limit=limit_s)
    run, end_s = _runner(document.get("kind")), limit_s or longest_limit(document)
    try:
        cycle, found = run(document, doses, at_c, cycles, end_s, settings, faults, len(document["devices"]) <= _FEW_DEVICES)
    except NearReset:
        cycle, found = run(document, doses, at_c, cycles, end_s, settings, faults, True)
    kept = _kept(cycle.times, cycle.events)
    trace = {"format": "trace/1", "system": document.get("id"), "at_c": at_c, "time_s": [cycle.times[k] for k in kept],
             "events": _in_order(cycle.events), "delivered_cm3": delivered(cycle.devices), "balance_error": cycle.balance_error,
             "completed": not cycle.why, "why": cycle.why}
    states = [cycle.states[k] for k in kept]
    for name, places in zip(("pressure_bar", "pressure_b_bar"), cycle.grid.places):
        trace[name] = {node: [state[cell] / _PA for state in states] for node, cell in places.items()}
    trace.update(found)
    return trace


def _in_order(events):
    """Events by their time; what happened at the same time stays in the order in which it was told."""
    ranked = sorted([(event["at_s"], number) for number, event in enumerate(events)])
    return [events[number] for _, number in ranked]


def _kept(times, events):
    """Numbers of the samples that are kept: MOST_SAMPLES and the last, and those at which the pump stops or the vent opens."""
    stride = (len(times) + MOST_SAMPLES - 1) // MOST_SAMPLES or 1
    turns = [event["at_s"] for event in events if event["what"] in ("pump off", "vent open")]
    return [k for k, at in enumerate(times) if k % stride == 0 or k == len(times) - 1 or at in turns]


def moments(trace):
    """When what happened in the first cycle of a trace [s from pump on], None where it did not.

    trips           [(switch id, time)] in the order in which they tripped; dual-line: both halves
    open            the vent opens; dual-line: after the second half, when both lines are open
    returned        the last switch is back at rest
    devices_reset   the last device has reset
    ready           all of these
    """
    out = {"trips": [], "open": None, "returned": None, "devices_reset": None, "ready": None}
    seen_open = False
    for event in trace["events"]:
        what, at = event["what"], event["at_s"]
        if what == "pump on" and seen_open:
            break
        if what == "switch tripped":
            out["trips"].append((event["where"], at))
        elif what == "vent open":
            out["open"], seen_open = at, True
        elif what == "switch returned" and seen_open:
            out["returned"] = at
        elif what == "device reset" and seen_open:
            out["devices_reset"] = at
    if trace["completed"] and out["open"] is not None:
        out["ready"] = max([at for at in (out["returned"], out["devices_reset"], out["open"]) if at is not None])
    return out
