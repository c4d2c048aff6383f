"""What one would read on a system under a fault: from a trace of the simulation, or in closed form along the healthy build-up."""
from .grid import ATMOSPHERE_PA, Grid
from .simulate import moments
from .tree import PUMP, Tree

_PA = 1e5
_CM3 = 1e-6
_SAMPLES = 40
_BEYOND = 8


class Predicted:
    """Readings to expect: `build_s` until the trip or None; `at_once` a switch reads as tripped at pump on; `pressure` {node: bar}
    when the pump stops; `residual` {node: bar} and `vent_s` after venting, None where unknown; `dry` devices; `used` cm³ a cycle;
    `ran`: the time limit ends it; `simulated`. `current` share of the pump's, `low` reservoir at its low level, `points` dry."""

    def __init__(self, build_s, pressure, dry, ran):
        self.build_s, self.pressure, self.dry, self.ran = build_s, pressure, dry, ran
        self.residual, self.vent_s, self.used = None, None, None
        self.at_once, self.low, self.current, self.points, self.simulated = False, False, 1.0, None, False
        self.limit_shortened = False


def fed_keys(document):
    """What feeds each point: its device, with its side where there is one."""
    if document["kind"] == "dual-line":
        return [point["device"] + "/" + point["side"] for point in document["points"]]
    return [point["device"] for point in document["points"]]


def at_time(trace, at_s):
    """Node -> pressure [bar] at a time of a trace."""
    times = trace["time_s"]
    k = len([time for time in times if time < at_s])
    if k >= len(times) or k == 0:
        k = min(k, len(times) - 1)
        return {node: values[k] for node, values in trace["pressure_bar"].items()}
    part = (at_s - times[k - 1]) / (times[k] - times[k - 1])
    return {node: values[k - 1] + part * (values[k] - values[k - 1]) for node, values in trace["pressure_bar"].items()}


def from_trace(document, trace, limit_s):
    """Predicted readings of a simulated cycle that the controller would end at limit_s."""
    build = (trace.get("fed_s") or trace["trip_s"])[0]
    off = [event["at_s"] for event in trace["events"] if event["what"] == "pump off"] or [trace["time_s"][-1]]
    ran = build is None or build > limit_s
    end = min(limit_s, off[0]) if ran else build
    if document["kind"] == "progressive":
        done = [name for name, cm3 in trace["delivered_cm3"].items() if cm3 > 0]
    else:
        done = [event["where"] + ("/" + event["line"] if "line" in event else "") for event in trace["events"]
                if event["what"] == "device dosed" and (not ran or event["at_s"] <= end)]
    out = Predicted(build, at_time(trace, end), [key for key in fed_keys(document) if key not in done], ran)
    out.at_once = any([event["what"] == "switch tripped" and event["at_s"] <= 0.01 for event in trace["events"]])
    when = moments(trace)
    if when["open"] is not None and not ran:
        out.residual = {node: values[-1] for node, values in trace["pressure_bar"].items()}
        if when["ready"] is not None:
            out.vent_s = when["ready"] - when["open"]
    out.simulated = True
    return out


class Path:
    """The healthy build-up by what the pump has given: states of the line that a faulty one passes as well, only sooner or later.

    states: [(cm³ given, {node: bar})], as simulated, then on to the relief pressure by the line's compliance
    """

    def __init__(self, document, doses, at_c, trace, limit_s):
        self.document, self.limit_s = document, limit_s
        self.healthy = from_trace(document, trace, limit_s)
        self.delivery = document["pump"]["delivery_cm3_min"] / 60
        self.relief = document["pump"]["relief_bar"]
        grid = Grid(document, at_c)
        self.soft, self.air = sum(grid.soft) / _CM3 * _PA, sum(grid.air) / _CM3
        self.room = sum(grid.room) / _CM3
        flat = doses if "A" not in doses or not isinstance(doses["A"], dict) else doses["A"]
        self.doses = {name: cm3 for name, cm3 in flat.items() if cm3 > 0}
        self.healthy.used = sum(self.doses.values())
        self.states = self._states(trace)
        self.tree = Tree(document)

    def _states(self, trace):
        end = self.healthy.build_s
        if end is None:
            end = ([event["at_s"] for event in trace["events"] if event["what"] == "pump off"] or trace["time_s"][-1:])[0]
        states = []
        for k in range(_SAMPLES + 1):
            at_s = end * k / _SAMPLES
            states.append((at_s * self.delivery, at_time(trace, at_s)))
        self.given = states[-1][0]
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
        relief = min(relief or self.relief, self.relief)
        trips, p0 = trips or {}, ATMOSPHERE_PA / _PA
        time, lost, before, bars = 0.0, 0.0, None, self.states[0][1]
        build, at_limit = None, None
        for given, fresh in self.states:
            if before is not None:
                mean, was = _mean(fresh), _mean(before[1])
                wanted = (given - before[0]) * (1 - less) + air * self.room * (mean / (mean + p0) - was / (was + p0))
                if left is not None and given > left:
                    # what it gives from then on is air, all of it pressed as small as the pump's pressure makes it
                    wanted = (left + (given - left) * (1 + fresh[PUMP] / p0)) - self.delivery * time
                loss = leak[1] / 60 * max(0.0, (fresh[leak[0]] + before[1][leak[0]]) / 2) if leak else 0.0
                rest = flow * self.delivery - loss
                if rest < 0.02 * self.delivery:
                    break
                lost += loss * wanted / rest
                time += wanted / rest
            before, bars = (given, fresh), fresh
            if at_limit is None and time > limit:
                at_limit = fresh
            if self._goal(given, fresh, trips, shut):
                build = time
                break
            if fresh[PUMP] >= relief or time > 100 * self.limit_s:
                break
        ran = build is None or build > limit
        bars = dict(at_limit or bars)
        for node in shut:
            bars[node] = 0.0
        out = Predicted(build, bars, self._dry(bars, idle), ran)
        out.limit_shortened = limit != self.limit_s
        out.residual = None if ran else {node: 0.0 if node in shut else bar for node, bar in (self.healthy.residual or {}).items()} or None
        out.vent_s = None if ran else self.healthy.vent_s
        # what leaks at the pump returns to the reservoir
        out.used = self.healthy.used + (lost if leak and leak[0] != PUMP else 0.0) - sum([self.doses.get(name, 0.0) for name in out.dry])
        return out

    def as_healthy(self, limit=None):
        """The healthy cycle, as well known as it is; limit: ended at that time [s]."""
        out = self.predict(limit=limit)
        out.simulated = True
        return out

    def _goal(self, given, bars, trips, shut):
        switches = self.document["switches"] if self.document["kind"] in ("single-line", "dual-line") else []
        if not switches:
            return given >= self.given * (1 - 1e-9)
        first = switches[0]
        return first["at"] not in shut and bars[first["at"]] >= trips.get(first["id"], first["trips_bar"]) * (1 - 1e-6)

    def _dry(self, bars, idle):
        if self.document["kind"] == "progressive":
            return fed_keys(self.document) if idle else []
        never = [device["id"] for device in self.document["devices"]
                 if device["id"] in idle or bars[device["at"]] < 0.97 * device["fires_bar"]]
        return [key for key in fed_keys(self.document) if key.partition("/")[0] in never]


def _mean(bars):
    return sum(bars.values()) / len(bars)


def _room(section):
    return section["length_m"] * section["bore_mm"] ** 2
