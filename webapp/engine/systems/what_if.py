"""What one would see if a system had these faults: the alarm that comes, what stays still, the times beside the healthy ones."""
from ..basics.figure import LINE_MODEL, figure, given
from ..basics.findings import finding
from ..basics.kinds import DUAL, PROGRESSIVE, TIMED, fitting
from ..events.faults import read
from ..events.simulate import moments, simulate
from ..line.build import balance
from .worked import doses_from


def what_if(document, worked, typed, when):
    """What the controller and somebody at the gauge see of one cycle at the temperature `when` ("usual", "coldest").

    worked  the worked document with figures; typed  faults as NAME=VALUE
    Both cycles run under the time limit that the settings recommend, as the controller would run them. Returns {"findings",
    "build": [{"name", "healthy", "faulted"}], "traces": [healthy, faulted]}, or {"findings"} where a fault cannot be tried.
    """
    document = fitting(document)
    faults, findings = read(document, typed)
    if findings:
        return {"findings": findings}
    limit = _limit(worked)
    at_c, doses = document["ambient"][when + "_c"], doses_from(document, worked)
    healthy = simulate(document, doses, at_c, 1, limit and limit["value"], {}, None)
    faulted = simulate(document, doses, at_c, 1, limit and limit["value"], {}, faults)
    seen = _Seen(document, worked, faults, faulted, limit)
    spoiled = [finding("warn", "faults", "seen.healthy_too", [("why", healthy["why"])])] if healthy["why"] else []
    return {"findings": seen.alarm() + seen.level() + seen.still() + seen.why() + spoiled,
            "build": _times(document, healthy, faulted), "traces": [healthy, faulted]}


def _limit(worked):
    """The figure of the time after which the controller ends a build-up, None where there is none."""
    build = worked["build"]
    limit = build.get("time_limit") or build.get("window") or worked["interval"].get("run_time")
    return limit if limit and limit["value"] else None


class _Seen:
    """Findings on one faulted trace."""

    def __init__(self, document, worked, faults, trace, limit):
        self.document, self.worked, self.faults, self.trace, self.limit = document, worked, faults, trace, limit
        self.kind, self.moments = document["kind"], moments(trace)
        self.idle = self._idle()

    def _idle(self):
        """[(device, line)] of what has not moved in the whole cycle; a block need not have gone round once."""
        moved = {(event["where"], event.get("line")) for event in self.trace["events"] if event["what"] == "device dosed"}
        if self.kind == PROGRESSIVE:
            moved = {(name, None) for name, given_cm3 in self.trace["delivered_cm3"].items() if given_cm3 > 0}
        lines = ("A", "B") if self.kind == DUAL else (None,)
        fed = {(point["device"], point["side"] if self.kind == DUAL else None) for point in self.document["points"]}
        return [(device, line) for device in self.document["devices"] for line in lines
                if (device["id"], line) in fed and (device["id"], line) not in moved]

    def alarm(self):
        """The alarm that comes, or that none does."""
        says, values = self._alarm()
        if says is None:
            return [finding("stop" if self.idle else "note", "faults", "seen.silent" if self.idle else "seen.no_alarm")]
        return [finding("warn", "faults", says, values)]

    def _alarm(self):
        trips = self.trace["trip_s"]
        if self.kind == TIMED:
            return "seen.unconfirmed", []
        for switch, says in zip(self.document["switches"], ("seen.contact", "seen.contact_second")):
            if switch["id"] in self.faults.get("contacts", ()):
                return says, [("switch", switch["id"])]
        if None in trips:
            if self.limit is None:
                return "seen.never", []
            line = "AB"[trips.index(None) % 2] if self.kind == DUAL else ""
            return "seen.limit." + self.kind, [("limit", given(self.limit["value"], "s", "time limit")), ("line", line)]
        if self.kind != PROGRESSIVE and len(self.moments["trips"]) < len(self.document["switches"]) * len(trips):
            second = self.worked["build"].get("time_limit_second")
            return ("seen.second", [("limit", given(second["value"], "s", "time limit of the second switch"))]) if second else (
                "seen.second_never", [])
        if self.kind != PROGRESSIVE and not self.trace["completed"] and self._still_tripped():
            return "seen.still_tripped", []
        return None, None

    def _still_tripped(self):
        told = [event["what"] for event in self.trace["events"] if event["what"] in ("switch tripped", "switch returned")]
        return told.count("switch tripped") > told.count("switch returned")

    def level(self):
        """What the low-level switch tells of a reservoir that runs empty."""
        left = self.faults.get("empty_m3")
        if left is None:
            return []
        low, pump = self.document.get("low_level") or {}, self.document["pump"]
        if not low.get("fitted"):
            return [finding("stop", "low_level", "seen.low_not_fitted")]
        if left * 1000 > (pump.get("low_level_l") or 0) and left:
            return [finding("note", "low_level", "seen.low_later")]
        stops = low.get("on_low") == "stop pump"
        return [finding("warn", "low_level", "seen.low_stops" if stops else "seen.low_warns")]

    def still(self):
        """Devices that do not move, with the points that stay dry."""
        if not self.idle:
            return [finding("note", "devices", "seen.all_move")]
        names = [point["name"] for point in self.document["points"] for device, line in self.idle
                 if point["device"] == device["id"] and line in (None, point["side"] if line else None)]
        devices = [device["id"] + (", line " + line if line else "") for device, line in self.idle]
        return [finding("stop", "devices", "seen.still", [("devices", "; ".join(devices)), ("points", "; ".join(names))])]

    def why(self):
        """What the line model gives as the reason."""
        return [finding("note", "faults", "seen.why", [("why", self.trace["why"])])] if self.trace["why"] else []


def _times(document, healthy, faulted):
    """[{"name", "healthy", "faulted"}]: what a stopwatch would show; the value None: never."""
    kind = document["kind"]
    if kind == TIMED:
        rows = [("Until the last device is fed", lambda trace: trace["fed_s"][0])]
    elif kind == DUAL:
        rows = [("Build-up, line " + line, lambda trace, k=k: trace["trip_s"][k] if k < len(trace["trip_s"]) else None)
                for k, line in enumerate("AB")]
    else:
        rows = [("Until the cycle switch signals" if kind == PROGRESSIVE else "Build-up", lambda trace: (trace["trip_s"] or [None])[0])]
    if kind != PROGRESSIVE:
        rows.append(("From the vent until all has reset", _reset))
    return [{"name": name, "healthy": _time(healthy, of(healthy)), "faulted": _time(faulted, of(faulted))} for name, of in rows]


def _reset(trace):
    """From the (last) opening of the vent until all that had moved has reset [s]; None where it does not, or nothing vents."""
    opens, waiting, last = moments(trace)["open"], set(), None
    for event in trace["events"]:
        name = event["where"], event.get("line")
        if event["what"] in ("device dosed", "switch tripped"):
            waiting.add(name)
        elif event["what"] in ("device reset", "switch returned"):
            waiting.discard(name)
            last = event["at_s"]
    return None if opens is None or waiting else max(last or opens, opens) - opens


def _time(trace, value):
    return figure(value, "s", "time of the event in the line model", [("t", given(trace["at_c"], "°C", "temperature"))],
                  LINE_MODEL, method="simulated", residual=balance(trace))
