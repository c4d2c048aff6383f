"""What one would read on a system under a fault: from a trace of the simulation, or in closed form along the healthy build-up."""
from ..line.grid import ATMOSPHERE_PA, Grid
from ..events.simulate import moments
from ..line.tree import PUMP, Tree

_PA = 1e5
_CM3 = 1e-6
SAMPLES = 28
_BEYOND = 8


class Predicted:
    """Readings to expect: `build_s` until the trip or None; `at_once` a switch reads as tripped at pump on; `pressure` {node: bar}
    when the pump stops; `residual` {node: bar} and `vent_s` after venting, None where unknown; `dry` devices; `used` cm³ a cycle;
    `ran`: the time limit ends it; `simulated`. `current` share of the pump's, `low` reservoir at its low level, `points` dry."""

    def __init__(self, build_s, pressure, dry, ran):
        self.build_s, self.pressure, self.dry, self.ran = build_s, pressure, dry, ran
        self.residual, self.vent_s, self.used = None, None, None
        self.at_once, self.low, self.current, self.points, self.simulated = False, False, 1.0, None, False
        # bar by which the pressures change where the volume is wrong by its whole, where it is the volume that sets them
        self.limit_shortened, self.spread = False, 0.0
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
        done = [name for name, cm3 in trace["delivered_cm3"].items() if cm3 > 0]
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
    delivery, states = document["pump"]["delivery_cm3_min"] / 60, []
    for k in range(SAMPLES + 1):
        at_s = end * k / SAMPLES
        states.append([at_s * delivery, at_time(trace, at_s)])
    return {"seen": plain(seen), "states": states}


class Path:
    """The healthy build-up by what the pump has given: states of the line that a faulty one passes as well, only sooner or later.

    states: [(cm³ given, {node: bar})], as simulated, then on to the relief pressure by the line's compliance
    """

    def __init__(self, document, doses, at_c, kept, limit_s):
        self.document, self.limit_s = document, limit_s
        self.healthy = taken(kept["seen"])
        self.delivery = document["pump"]["delivery_cm3_min"] / 60
        self.relief = document["pump"]["relief_bar"]
        grid = Grid(document, at_c)
        self.soft, self.air = sum(grid.soft) / _CM3 * _PA, sum(grid.air) / _CM3
        self.room = sum(grid.room) / _CM3
        flat = doses if "A" not in doses or not isinstance(doses["A"], dict) else doses["A"]
        self.doses = {name: cm3 for name, cm3 in flat.items() if cm3 > 0}
        self.healthy.used = sum(self.doses.values())
        self.given, self.states = kept["states"][-1][0], self._states(kept["states"])
        self.at_end = self.states[SAMPLES][1]
        self.means = [_mean(bars) for _, bars in self.states]
        self.keys, self.dry_at = fed_keys(document), {}
        # of a progressive system the block that hangs on no other
        self.first = [number for number, device in enumerate(document["devices"]) if not device.get("hangs_from")][0]
        self.tree = Tree(document)

    def _states(self, states):
        """The kept states and, beyond them, those on the way to the relief pressure."""
        states = [(given, bars) for given, bars in states]
        step = max(0.0, self.relief - states[-1][1][PUMP]) / _BEYOND
        for _ in range(_BEYOND if step > 0 else 0):
            given, bars = states[-1]
            mean = _mean(bars) + step / 2
            given += step * self._compliance(mean)
            states.append((given, {node: bar + step for node, bar in bars.items()}))
        return states

    def _compliance(self, bar):
        """cm³ that the line takes per bar."""
        p0 = ATMOSPHERE_PA / _PA
        return self.soft + self.air * p0 / (bar + p0) ** 2

    def vented_s(self, share):
        """How long a vent valve that opens to a share lets the line fall to its lowest reset pressure [s], friction left out."""
        low = min([device["resets_bar"] for device in self.document["devices"]])
        valve = (self.document.get("vent_valve") or {}).get("flow_cm3_min_per_bar") or self.delivery * 60
        bar, time = max(low, _mean(self.healthy.pressure)), 0.0
        step = (bar - low) / _BEYOND
        for _ in range(_BEYOND):
            bar -= step
            time += self._compliance(bar + step / 2) * step / (share * valve / 60 * (bar + step / 2))
        return time

    def beyond(self, section):
        """(nodes, share of the line's volume that is taken) beyond a pipe."""
        nodes, stack = [], [section["to"]]
        while stack:
            nodes.append(stack.pop())
            stack += self.tree.children[nodes[-1]]
        room = sum([_room(self.tree.section[node]) for node in nodes])
        doses = sum([self.doses.get(device["id"], 0.0) for device in self.document["devices"] if device["at"] in nodes])
        everything = sum([_room(one) for one in self.document["sections"]])
        return nodes, (doses + (self.given - sum(self.doses.values())) * room / everything) / max(self.given, 1e-9)

    def predict(self, flow=1.0, leak=None, air=0.0, less=0.0, relief=None, trips=None, limit=None, left=None, shut=(), idle=()):
        """Predicted readings where: the pump gives `flow` of its delivery; `leak` (node, cm³/(min·bar)); `air` more than usual;
        `less` share of the volume is not there; `relief` bar; `trips` {switch: bar}; `limit` s; `left` cm³ in the reservoir;
        `shut` nodes get nothing; `idle` devices stand still."""
        limit = limit or self.limit_s
        opens = min(relief or self.relief, self.relief)
        number, build, lost = self._followed(flow, leak, air, less, opens, self._goal(trips or {}, shut, idle), limit, left)
        ran = build is None or build > limit
        bars = self.states[number][1]
        if shut:
            bars = {node: 0.0 if node in shut else bar for node, bar in bars.items()}
        out = Predicted(build, bars, self._dry(number, bars, shut, idle, build is None), ran)
        out.limit_shortened, out.spread = limit != self.limit_s, self._spread(number) if ran and not (leak or relief) else 0.0
        if not ran:
            out.vent_s, out.residual = self.healthy.vent_s, self.healthy.residual
            if shut and out.residual:
                out.residual = {node: 0.0 if node in shut else bar for node, bar in out.residual.items()}
        # what leaks at the pump returns to the reservoir
        out.used = self.healthy.used + (lost if leak and leak[0] != PUMP else 0.0)
        for name in out.dry:
            out.used -= self.doses.get(name, 0.0)
        return out

    def _followed(self, flow, leak, air, less, relief, goal, limit, left):
        """(number of the state at which pump or time limit stop, build-up [s] or None, cm³ lost by then)."""
        time, lost, given, mean, p0 = 0.0, 0.0, 0.0, 0.0, ATMOSPHERE_PA / _PA
        goal, node, bar = goal
        ended, ended_lost, airs = None, 0.0, air * self.room * p0
        least, full = 0.02 * self.delivery, flow * self.delivery
        for number, (fresh_given, fresh) in enumerate(self.states):
            fresh_mean = self.means[number]
            wanted = (fresh_given - given) * (1 - less)
            if airs:
                wanted += airs * (fresh_mean - mean) / ((fresh_mean + p0) * (mean + p0))
            if left is not None and fresh_given > left:
                # what it gives from then on is air, all of it pressed as small as the pump's pressure makes it
                wanted = left + (fresh_given - left) * (1 + fresh[PUMP] / p0) - self.delivery * time
            loss = leak[1] / 60 * max(0.0, fresh[leak[0]]) if leak else 0.0
            if full - loss < least and number:
                return (number - 1 if ended is None else ended), None, lost if ended is None else ended_lost
            if number:
                lost += loss * wanted / (full - loss)
                time += wanted / (full - loss)
            given, mean = fresh_given, fresh_mean
            if ended is None and time > limit:
                ended, ended_lost = number, lost
            if number >= goal if node is None else fresh[node] >= bar:
                return (number if ended is None else ended), time, lost if ended is None else ended_lost
            if fresh[PUMP] >= relief or time > 100 * self.limit_s:
                break
        return (number if ended is None else ended), None, lost if ended is None else ended_lost

    def _spread(self, number):
        """How fast pressure rises with the volume at a state, as bar per whole of that volume."""
        (low, slack), (high, tight) = self.states[max(0, number - 1)], self.states[min(len(self.states) - 1, number + 1)]
        return (tight[PUMP] - slack[PUMP]) / max(high - low, 1e-9) * self.states[number][0]

    def as_healthy(self, limit=None):
        """The healthy cycle, as well known as it is; limit: ended at that time [s]."""
        out = self.predict(limit=limit)
        out.simulated = True
        return out

    def _goal(self, trips, shut, idle):
        """(state, node, bar) that end a build-up: a state where no pressure does; one that is never reached behind a blockage or,
        in a time-only system, where a device gets or gives nothing."""
        switches = self.document["switches"] if self.document["kind"] in ("single-line", "dual-line") else []
        if not switches:
            starves = self.document["kind"] == "time-only" and any([
                device["id"] in self.doses and (device["id"] in idle or device["at"] in shut) for device in self.document["devices"]])
            return len(self.states) if starves else SAMPLES, None, 0.0
        first = switches[0]
        if first["at"] in shut:
            return len(self.states), None, 0.0
        return 0, first["at"], trips.get(first["id"], first["trips_bar"]) * (1 - 1e-6)

    def _dry(self, number, bars, shut, idle, for_ever):
        """What feeds points that get nothing; `for_ever`: the first half of a dual line never gives way to the second."""
        if for_ever and self.document["kind"] == "dual-line":
            first = self._dry(number, bars, shut, idle, False)
            return [key for key in self.keys if key in first or key[-2:] == "/B"]
        if self.document["kind"] == "progressive":
            return self.keys if idle else []
        if not shut and not idle and number in self.dry_at:
            return self.dry_at[number]
        never = [device["id"] for device in self.document["devices"]
                 if device["id"] in idle or bars[device["at"]] < 0.97 * device["fires_bar"]]
        out = [key for key in self.keys if key.partition("/")[0] in never]
        if not shut and not idle:
            self.dry_at[number] = out
        return out


def _mean(bars):
    return sum(bars.values()) / len(bars)


def _room(section):
    return section["length_m"] * section["bore_mm"] ** 2
