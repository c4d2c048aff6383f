"""What one would read on a system under a fault, from a trace of the simulation; path.py has it in closed form."""
from ..basics.kinds import DUAL, PROGRESSIVE, SIDES
from ..events.simulate import moments
from ..line.tree import PUMP

SAMPLES = 20
# what holds the pressures of each line, in a trace and in readings
PRESSURES = ("pressure_bar", "pressure_b_bar")
NEVER = float("inf")


class Half:
    """The build-up of one line: `build_s` until the trip or None; `pressure` {node: bar} when it ends; `ran`: the time limit ends it;
    `spread` bar by which the pressures change where the volume is wrong by its whole, where it is the volume that sets them."""

    def __init__(self, build_s, pressure, ran):
        self.build_s, self.pressure, self.ran, self.spread = build_s, pressure, ran, 0.0


class Predicted:
    """Readings to expect: `halves`, one a line in their order (a second that never begins has neither time nor pressure); `dry` what
    feeds nothing; `at_once` a switch reads as tripped at pump on; `residual` {node: bar} on the first line and `vent_s` after venting,
    None where unknown; `used` cm³ a cycle; `limit_s` a time limit that is not the sheet's; `simulated`. `current` share of the pump's,
    `low` reservoir at its low level, `points` dry; `stiffer` how many times as stiff as at the temperature of the readings."""

    def __init__(self, halves, dry):
        self.halves, self.dry = halves, dry
        self.residual, self.vent_s, self.used, self.limit_s = None, None, None, None
        self.at_once, self.low, self.current, self.points, self.simulated, self.stiffer = False, False, 1.0, None, False, 1.0

    def ran(self):
        """True where the time limit ends one of its halves."""
        return any([half.ran for half in self.halves])


def never_begun(nodes):
    """A half that never begins."""
    return Half(None, {node: 0.0 for node in nodes}, False)


def half_of(document, point):
    """Number of the half in which a point is fed."""
    return SIDES.index(point["side"]) if document["kind"] == DUAL else 0


def fed_keys(document):
    """What feeds each point: its device, with its side where there is one."""
    if document["kind"] == DUAL:
        return [point["device"] + "/" + point["side"] for point in document["points"]]
    return [point["device"] for point in document["points"]]


def off_s(trace):
    """When the pump stops in the first cycle of a trace [s]."""
    return ([event["at_s"] for event in trace["events"] if event["what"] == "pump off"] or trace["time_s"][-1:])[0]


def at_time(trace, at_s, line=0):
    """Node -> pressure [bar] on a line at a time of a trace, up to the end of its build-up.

    The trace keeps some samples only: the last ones before the stop are drawn on to it, not towards the vent that follows.
    """
    off, times, bars = off_s(trace), trace["time_s"], trace[PRESSURES[line]]
    at_s = min(at_s, off)
    built = len([time for time in times if time <= off + 1e-9])
    k = min(max(1, len([time for time in times if time < at_s])), max(1, built - 1))
    if built < 2:
        return {node: values[0] for node, values in bars.items()}
    part = (at_s - times[k - 1]) / (times[k] - times[k - 1])
    return {node: values[k - 1] + part * (values[k] - values[k - 1]) for node, values in bars.items()}


def vent_s(trace):
    """From vent open until all that moved has reset [s]; None where the switch does not return or the vent never opens."""
    when = moments(trace)
    if when["open"] is None or (when["trips"] and when["returned"] is None):
        return None
    return max([at for at in (when["returned"], when["devices_reset"], when["open"]) if at is not None]) - when["open"]


def built_s(trace, line=0):
    """From when a line gets the pump until the switch, or until the last device of a time-only system is fed [s]; None for never."""
    built = trace.get("fed_s") or trace["trip_s"]
    return built[line] if line < len(built) else None


def halves_of(document, trace, limit_s):
    """[(half, when it begins, when it ends [s])] of a cycle that the controller would end at limit_s; of one that never begins the
    times are None."""
    out, start = [], 0.0
    for line in range(2 if document["kind"] == DUAL else 1):
        if start is None:
            out.append((never_begun(trace[PRESSURES[line]]), None, None))
            continue
        build = built_s(trace, line)
        ran = build is None or build > limit_s
        end = min(start + limit_s, off_s(trace)) if ran else start + build
        out.append((Half(build, at_time(trace, end, line), ran), start, end))
        start = None if ran else end
    return out


def strokes(trace, halves):
    """Events of devices that have dosed in `halves` (as halves_of gives them); a stroke goes on though its line's switch has tripped."""
    until = [-1.0 if end is None else end if half.ran else NEVER for half, _, end in halves]
    return [event for event in trace["events"] if event["what"] == "device dosed"
            and event["at_s"] <= until[SIDES.index(event.get("line", SIDES[0]))]]


def dosed(document, trace, halves):
    """What has fed its points in `halves`, as fed_keys names it."""
    first, _, end = halves[0]
    if document["kind"] == PROGRESSIVE:
        return [name for name, cm3 in trace["delivered_cm3"].items() if cm3 > 0 and (not first.ran or trace["working_s"] <= end)]
    if "fed_s" in trace and not first.ran:
        return fed_keys(document)
    return [event["where"] + ("/" + event["line"] if "line" in event else "") for event in strokes(trace, halves)]


def from_trace(document, trace, limit_s):
    """Predicted readings of a simulated cycle that the controller would end at limit_s."""
    halves = halves_of(document, trace, limit_s)
    done = dosed(document, trace, halves)
    out = Predicted([half for half, _, _ in halves], [key for key in fed_keys(document) if key not in done])
    out.at_once = any([event["what"] == "switch tripped" and event["at_s"] <= 0.01 for event in trace["events"]])
    if not out.ran() and "vent open" in [event["what"] for event in trace["events"]]:
        out.residual = {node: values[-1] for node, values in trace["pressure_bar"].items()}
        out.vent_s = vent_s(trace)
    out.simulated = True
    return out


def plain(seen):
    """What a simulation says, as JSON can hold it: it travels from one request to the next."""
    return {"halves": [{"build_s": half.build_s, "pressure": half.pressure, "ran": half.ran} for half in seen.halves],
            "residual": seen.residual, "vent_s": seen.vent_s, "dry": seen.dry, "at_once": seen.at_once}


def taken(kept, surrogate=None):
    """The Predicted of what was kept; what a simulation does not tell stays as the closed form `surrogate` has it."""
    out = Predicted([Half(half["build_s"], half["pressure"], half["ran"]) for half in kept["halves"]], kept["dry"])
    out.residual, out.vent_s, out.at_once, out.simulated = kept["residual"], kept["vent_s"], kept["at_once"], True
    if surrogate:
        out.used, out.low, out.current = surrogate.used, surrogate.low, surrogate.current
        out.points, out.stiffer = surrogate.points, surrogate.stiffer
        for half, closed in zip(out.halves, surrogate.halves):
            half.spread = closed.spread
    return out


def good_day(document, trace, limit_s):
    """What is kept of the healthy cycle: its readings and, for each line, the states of its build-up, by what the pump has given it
    [cm³]."""
    delivery, states, start = document["pump"]["delivery_cm3_min"] / 60, [], 0.0
    seen = from_trace(document, trace, limit_s)
    for line, half in enumerate(seen.halves):
        end = off_s(trace) if half.build_s is None else start + half.build_s
        states.append([[(at_s - start) * delivery, at_time(trace, at_s, line)] for at_s in _sampled(trace, line, start, end)])
        start = end
    return {"seen": plain(seen), "states": states}


def _sampled(trace, line, start_s, end_s):
    """SAMPLES + 1 times up to the end, as close where the pressure rises as where time goes by: a progressive line is up to pressure
    soon, and stays there."""
    times = [start_s] + [at_s for at_s in trace["time_s"] if start_s < at_s < end_s] + [end_s]
    bars = [at_time(trace, at_s, line)[PUMP] for at_s in times]
    top, reached, gone = max(max(bars), 1e-9), 0.0, []
    for at_s, bar in zip(times, bars):
        reached = max(reached, bar)
        gone.append((at_s - start_s) / max(end_s - start_s, 1e-9) + reached / top)
    out, k = [], 1
    for number in range(SAMPLES + 1):
        wanted = gone[0] + (gone[-1] - gone[0]) * number / SAMPLES
        while k < len(times) - 1 and gone[k] < wanted:
            k += 1
        part = (wanted - gone[k - 1]) / max(gone[k] - gone[k - 1], 1e-9)
        out.append(times[k - 1] + min(1.0, part) * (times[k] - times[k - 1]))
    return out
