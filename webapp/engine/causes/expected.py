"""What one would read on a system under a fault, from a trace of the simulation; path.py has it in closed form."""
from ..events.simulate import moments
from ..line.tree import PUMP

SAMPLES = 20


class Predicted:
    """Readings to expect: `build_s` until the trip or None; `at_once` a switch reads as tripped at pump on; `pressure` {node: bar}
    when the pump stops; `residual` {node: bar} and `vent_s` after venting, None where unknown; `dry` devices; `used` cm³ a cycle;
    `ran`: the time limit ends it; `simulated`. `current` share of the pump's, `low` reservoir at its low level, `points` dry."""

    def __init__(self, build_s, pressure, dry, ran):
        self.build_s, self.pressure, self.dry, self.ran = build_s, pressure, dry, ran
        self.residual, self.vent_s, self.used = None, None, None
        self.at_once, self.low, self.current, self.points, self.simulated = False, False, 1.0, None, False
        # limit_s: a time limit that is not the sheet's; spread: bar by which the pressures change where the volume is wrong by its
        # whole, where it is the volume that sets them
        self.limit_s, self.spread = None, 0.0
        # how many times as stiff as at the temperature of the readings
        self.stiffer = 1.0


def fed_keys(document):
    """What feeds each point: its device, with its side where there is one."""
    if document["kind"] == "dual-line":
        return [point["device"] + "/" + point["side"] for point in document["points"]]
    return [point["device"] for point in document["points"]]


def off_s(trace):
    """When the pump stops in the first cycle of a trace [s]."""
    return ([event["at_s"] for event in trace["events"] if event["what"] == "pump off"] or trace["time_s"][-1:])[0]


def at_time(trace, at_s):
    """Node -> pressure [bar] at a time of a trace, up to the stop of the pump.

    The trace keeps some samples only: the last ones before the stop are drawn on to it, not towards the vent that follows.
    """
    off, times = off_s(trace), trace["time_s"]
    at_s = min(at_s, off)
    built = len([time for time in times if time <= off + 1e-9])
    k = min(max(1, len([time for time in times if time < at_s])), max(1, built - 1))
    if built < 2:
        return {node: values[0] for node, values in trace["pressure_bar"].items()}
    part = (at_s - times[k - 1]) / (times[k] - times[k - 1])
    return {node: values[k - 1] + part * (values[k] - values[k - 1]) for node, values in trace["pressure_bar"].items()}


def vent_s(trace):
    """From vent open until all that moved has reset [s]; None where the switch does not return or the vent never opens."""
    when = moments(trace)
    if when["open"] is None or (when["trips"] and when["returned"] is None):
        return None
    return max([at for at in (when["returned"], when["devices_reset"], when["open"]) if at is not None]) - when["open"]


def from_trace(document, trace, limit_s):
    """Predicted readings of a simulated cycle that the controller would end at limit_s."""
    build = (trace.get("fed_s") or trace["trip_s"])[0]
    ran = build is None or build > limit_s
    end = min(limit_s, off_s(trace)) if ran else build
    if document["kind"] == "progressive":
        began = trace["working_s"]
        done = [name for name, cm3 in trace["delivered_cm3"].items() if cm3 > 0 and began <= end]
    elif "fed_s" in trace and not ran:
        done = fed_keys(document)
    else:
        done = [event["where"] + ("/" + event["line"] if "line" in event else "") for event in trace["events"]
                if event["what"] == "device dosed" and (not ran or event["at_s"] <= end)]
    out = Predicted(build, at_time(trace, end), [key for key in fed_keys(document) if key not in done], ran)
    out.at_once = any([event["what"] == "switch tripped" and event["at_s"] <= 0.01 for event in trace["events"]])
    if not ran and "vent open" in [event["what"] for event in trace["events"]]:
        out.residual = {node: values[-1] for node, values in trace["pressure_bar"].items()}
        out.vent_s = vent_s(trace)
    out.simulated = True
    return out


def plain(seen):
    """What a simulation says, as JSON can hold it: it travels from one request to the next."""
    return {"build_s": seen.build_s, "pressure": seen.pressure, "residual": seen.residual, "vent_s": seen.vent_s,
            "dry": seen.dry, "ran": seen.ran, "at_once": seen.at_once}


def taken(kept, surrogate=None):
    """The Predicted of what was kept; what a simulation does not tell stays as the closed form `surrogate` has it."""
    out = Predicted(kept["build_s"], kept["pressure"], kept["dry"], kept["ran"])
    out.residual, out.vent_s, out.at_once, out.simulated = kept["residual"], kept["vent_s"], kept["at_once"], True
    if surrogate:
        out.used, out.low, out.current = surrogate.used, surrogate.low, surrogate.current
        out.points, out.spread, out.stiffer = surrogate.points, surrogate.spread, surrogate.stiffer
    return out


def good_day(document, trace, limit_s):
    """What is kept of the healthy cycle: its readings and the states of its build-up, by what the pump has given [cm³]."""
    seen = from_trace(document, trace, limit_s)
    end = off_s(trace) if seen.build_s is None else seen.build_s
    delivery = document["pump"]["delivery_cm3_min"] / 60
    states = [[at_s * delivery, at_time(trace, at_s)] for at_s in _sampled(trace, end)]
    return {"seen": plain(seen), "states": states}


def _sampled(trace, end_s):
    """SAMPLES + 1 times up to the end, as close where the pressure rises as where time goes by: a progressive line is up to pressure
    soon, and stays there."""
    times = [at_s for at_s in trace["time_s"] if at_s < end_s] + [end_s]
    bars = [at_time(trace, at_s)[PUMP] for at_s in times]
    top, reached, gone = max(max(bars), 1e-9), 0.0, []
    for at_s, bar in zip(times, bars):
        reached = max(reached, bar)
        gone.append(at_s / max(end_s, 1e-9) + reached / top)
    out, k = [], 1
    for number in range(SAMPLES + 1):
        wanted = gone[0] + (gone[-1] - gone[0]) * number / SAMPLES
        while k < len(times) - 1 and gone[k] < wanted:
            k += 1
        part = (wanted - gone[k - 1]) / max(gone[k] - gone[k - 1], 1e-9) if len(times) > 1 else 0.0
        out.append(times[k - 1] + min(1.0, part) * (times[k] - times[k - 1]) if len(times) > 1 else end_s)
    return out
