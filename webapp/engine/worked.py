"""A system worked: every figure, setting and finding of one document. Texts for readers are added by present.py."""
from collections import OrderedDict

from . import build, line
from .check import check
from .figure import figure, given
from .findings import finding, ordered
from .fit import fit
from .interval import DEFAULT_LONGEST_EVENT_H, choose, demands_of, stretch_ends, waste_of
from .line_findings import line_findings, lubricant_findings, sequence_findings
from .needs import need_of
from .ranges import step_at
from .settings import settings_of

DEFAULT_OVER_FEED = 2.0


def work(document, simulated=True, keep_traces=False):
    """Work a `system/1` document into `worked/1`, without texts.

    simulated    False leaves the simulated figures, and what follows from them alone, out: fast enough while typing
    keep_traces  also return the two traces

    Doses and build-up time depend on one another through the event: two rounds are made, the last doses stand.
    A document that the check stops is returned with its findings and no figures.
    """
    out, findings, stopped = _checked(document, simulated)
    if stopped:
        return out
    job = _Job(document, simulated)
    job.choose_interval()
    out.update(job.sections())
    out["settings"] = settings_of(document, out)
    out["findings"] = ordered(findings + job.findings)
    if keep_traces and simulated:
        out["traces"] = job.traces
    return out


def outline(document):
    """The pause and the frictionless build-up alone, at once, for the foot of a form while somebody types; same shape as work."""
    out, findings, stopped = _checked(document, False)
    if not stopped:
        job = _Job(document, False)
        job.choose_interval()
        out.update((("interval", {"pause": job.pause()}), ("build", {"time_frictionless": job.frictionless})))
        out["findings"] = ordered(findings)
    return out


def _checked(document, simulated):
    """(head of a worked document, findings of the check, True when they stop it; the head then holds them)."""
    findings = check(document)
    system = document.get("id") if isinstance(document, dict) else None
    out = OrderedDict((("format", "worked/1"), ("system", system if isinstance(system, str) else None), ("simulated", simulated)))
    stopped = any(entry["severity"] == "stop" for entry in findings)
    if stopped:
        out["findings"] = ordered(findings)
    return out, findings, stopped


def doses_from(document, worked):
    """Device id -> cm³ that it takes from the line in a cycle, from a worked document."""
    doses = {device["id"]: 0.0 for device in document["devices"]}
    for point, figures in zip(document["points"], worked["points"]):
        doses[point["device"]] += figures["dose"]["value"]
    return doses


class _Job:
    """What one run of `work` knows so far."""

    def __init__(self, document, simulated):
        self.document, self.simulated = document, simulated
        self.choices = document.get("choices") or {}
        self.measured = document.get("measured") or {}
        self.build_runs, self.vent_runs = self.measured.get("build_s") or [], self.measured.get("vent_s") or []
        self.findings, self.traces, self.moments = [], {}, {}
        self.needs = [need_of(point, document["lubricant"]) for point in document["points"]]
        self.demands = demands_of(document, {point["id"]: need["value"]
                                             for point, need in zip(document["points"], self.needs)})
        self.stretch_ends = stretch_ends(self.demands)
        self.line_volume = line.volume(document)
        self.count_of = {demand.device: demand.count for demand in self.demands}

    # ---- interval and doses

    def choose_interval(self):
        """Choose pause, cycles and doses: by the frictionless time, then by the simulated time of those doses; simulate both.

        While somebody types the first choice stands: friction, which it leaves out, weighs more than a second look.
        """
        self._set_doses({demand.device: demand.most for demand in self.demands})
        self._choose()
        if self.simulated:
            self._simulate("usual")
            self._choose()
            self._simulate("usual")
            self._simulate("coldest")

    def _set_doses(self, doses):
        self.doses = doses
        self.taken = {device["id"]: doses.get(device["id"], 0.0) * self.count_of.get(device["id"], 0)
                      for device in self.document["devices"]}
        self.build_volume = build.volume(self.document, self.taken, self.line_volume["value"])
        self.frictionless = build.time_frictionless(self.document, self.build_volume)

    def _simulate(self, when):
        known = self.traces.get(when)
        if known and known["doses"] == self.taken:
            return
        from .simulate import moments, simulate  # late: no figure needs it while somebody types
        trace = simulate(self.document, self.taken, self._temperature(when))
        trace["doses"] = self.taken
        self.traces[when], self.moments[when] = trace, moments(trace)

    def _temperature(self, when):
        """The temperature [°C] "usual", "coldest" or "measured", that of the runs, usual where none was noted."""
        if when == "measured" and self.measured.get("at_c") is not None:
            return self.measured["at_c"]
        return self.document["ambient"]["%s_c" % ("usual" if when == "measured" else when)]

    def _busy(self):
        """(build-up, vent, is it an estimate) of one cycle [s]: medians of the runs, else predicted at the usual temperature."""
        trace, moment = self.traces.get("usual"), self.moments.get("usual")
        vent = 0.0
        if moment and moment["ready"] is not None:
            vent = moment["ready"] - moment["open"]
        builds = self.frictionless["value"]
        if trace and trace["trip_s"][0] is not None:
            builds = trace["trip_s"][0]
        return (build.median(self.build_runs) if self.build_runs else builds, build.median(self.vent_runs) if self.vent_runs else vent,
                not self.build_runs)

    def _choose(self):
        chosen = self.choices.get("cycles_per_event")
        counts = [chosen] if chosen else list(range(1, (self.document["controller"].get("cycles_max") or 1) + 1))
        longest = self.choices.get("longest_event_h")
        longest = (DEFAULT_LONGEST_EVENT_H if longest is None else longest) * 3600
        self.busy = self._busy()
        self.choice = choose(self.demands, self.stretch_ends, self.document["controller"]["pause"], counts,
                             self.busy[0] + self.busy[1], longest)
        self.longest = longest
        self._set_doses(self.choice.doses(self.demands))

    # ---- the worked document, section by section

    def sections(self):
        """All figures as an OrderedDict of sections; fills self.findings on the way."""
        out = OrderedDict()
        out["points"] = self._points()
        out["interval"] = self._interval()
        out["line"] = self._line()
        out["build"] = self._build()
        out["vent"] = self._vent()
        out["fit"] = self._fit()
        from .around import around  # late: no figure needs it while somebody types
        cycle_cm3 = sum([self.taken[device["id"]] for device in self.document["devices"]])
        self.findings += around(self.document, out, cycle_cm3, self.build_volume["value"]) + lubricant_findings(self.document)
        out["measured"] = bool(self.build_runs)
        out["leading_point"] = self._leading_point()
        return out

    def _leading_point(self):
        """Name of the point that is fed closest to its need: the one that sets the pause."""
        hours = self.choice.event / 3600
        names = [(self.doses[point["device"]] * self.choice.cycles / hours / need["value"], number, point["name"])
                 for number, (point, need) in enumerate(zip(self.document["points"], self.needs)) if need["value"] > 0]
        return min(names)[2] if names else self.document["points"][0]["name"]

    def _points(self):
        hours, cycles = self.choice.event / 3600, self.choice.cycles
        limit = self.choices.get("over_feed_limit")
        limit = DEFAULT_OVER_FEED if limit is None else limit
        by_device = {demand.device: demand for demand in self.demands}
        points, over, short = [], [], []
        for point, need in zip(self.document["points"], self.needs):
            demand = by_device[point["device"]]
            dose = self._dose(demand)
            rate = figure(dose["value"] * cycles / hours, "cm³/h", "dose * cycles / (event / 3600)", [
                ("dose", given(dose["value"], "cm³", "dose a cycle")), ("cycles", given(cycles, "count", "cycles per event")),
                ("event", given(self.choice.event, "s", "from start to start", self.busy[2]))], "dose over time")
            ratio = None
            if need["value"] > 0:
                ratio = figure(rate["value"] / need["value"], "ratio", "rate / need", [
                    ("rate", given(rate["value"], "cm³/h", "delivered")),
                    ("need", given(need["value"], "cm³/h", "needed", need["estimate"]))], "delivered over needed")
                if ratio["value"] > limit:
                    over.append((point, ratio["value"]))
                if ratio["value"] < 1 - 1e-6:
                    short.append((point, demand, need["value"]))
            points.append(OrderedDict((("id", point["id"]), ("name", point["name"]), ("need", need), ("dose", dose),
                                       ("rate", rate), ("ratio", ratio))))
        self._feeding_findings(over, short, limit)
        return points

    def _dose(self, demand):
        inputs = [("need", given(demand.need, "cm³/h", "largest need on this device")),
                  ("event", given(self.choice.event, "s", "from start to start", self.busy[2])),
                  ("cycles", given(self.choice.cycles, "count", "cycles per event")),
                  ("least", given(demand.least, "cm³", "least that an outlet gives")),
                  ("most", given(demand.most, "cm³", "most that an outlet gives"))]
        wanted = "max(least, need * event / 3600 / cycles)"
        if demand.step:
            wanted = "up_to_step(%s, step, least)" % wanted
            inputs.append(("step", given(demand.step, "cm³", "step of the adjustment")))
        return figure(self.doses[demand.device], "cm³", "min(most, %s)" % wanted, inputs,
                      "need over one event, within the device's range", method="chosen")

    def _feeding_findings(self, over, short, limit):
        for point, demand, need in short:
            self.findings.append(finding("stop", "points.%s" % point["id"], "feed.short", [
                ("point", point["name"]), ("device", demand.device),
                ("needed", given(need * self.choice.event / 3600 / self.choice.cycles, "cm³", "dose needed")),
                ("most", given(demand.most, "cm³", "most that an outlet gives"))]))
        if over:
            worst = max([(ratio, number) for number, (_, ratio) in enumerate(over)])
            self.findings.append(finding("warn", "points.%s" % over[worst[1]][0]["id"], "feed.over", [
                ("count", given(len(over), "count", "points")), ("of", given(len(self.needs), "count", "points")),
                ("limit", given(limit, "ratio", "limit")), ("worst", over[worst[1]][0]["name"]),
                ("ratio", given(worst[0], "ratio", "times its need"))]))

    def _busy_inputs(self):
        builds, vents, estimate = self.busy
        return [("cycles", given(self.choice.cycles, "count", "cycles per event")),
                ("build", given(builds, "s", "build-up of one cycle", estimate)),
                ("vent", given(vents, "s", "vent of one cycle", estimate))]

    def _waste(self):
        return "waste", given(waste_of(self.demands, self.choice.event, self.choice.cycles), "cm³/h", "fed beyond the needs")

    def pause(self):
        """The pause that was chosen, a figure [s]."""
        step = step_at(self.document["controller"]["pause"], self.choice.pause)
        return figure(self.choice.pause, "s", "event - cycles * (build + vent)",
                      [("event", given(self.choice.event, "s", "from start to start"))] + self._busy_inputs()
                      + [("step", given(step, "s", "the controller's step")), self._waste()],
                      "least waste among the pauses that the controller accepts", method="chosen")

    def _interval(self):
        choice, busy = self.choice, self._busy_inputs()
        event = figure(choice.event, "s", "cycles * (build + vent) + pause",
                       busy + [("pause", given(choice.pause, "s", "pause"))], "from start to start")
        cycles = figure(choice.cycles, "count", "cycles", [busy[0], self._waste()],
                        "least waste, then fewer cycles", method="chosen")
        from .reservoir import hours_a_day
        hours = hours_a_day(self.document)
        events = figure(hours * 3600 / choice.event, "count", "hours * 3600 / event", [
            ("hours", given(hours, "h", "hours a day on which the interval runs")),
            ("event", given(choice.event, "s", "from start to start", self.busy[2]))], "duty over the event")
        return OrderedDict((("event", event), ("pause", self.pause()), ("cycles_per_event", cycles), ("events_per_day", events)))

    def _line(self):
        ambient = self.document["ambient"]
        out = OrderedDict((("volume", self.line_volume),))
        for when in ("usual", "coldest"):
            out["drop_" + when] = line.drop(self.document, ambient[when + "_c"])
        for when in ("usual", "coldest"):
            out["residual_" + when] = line.residual(self.document, ambient[when + "_c"])
        out["resets_at_coldest"], found = line_findings(self.document)
        self.findings += found
        return out

    def _build(self):
        out = OrderedDict((("volume", self.build_volume), ("time_frictionless", self.frictionless)))
        for when in ("usual", "coldest"):
            if when in self.traces:
                out["time_" + when] = build.time_simulated(self.document, self.traces[when])
        self.findings += sequence_findings(self.document, self.traces, self.moments)
        if self.build_runs:
            out["time_limit"], found = build.limit(self.document, max(self.build_runs), "longest measured run", False)
            self.findings += found + self._winter(out)
        elif "time_coldest" in out and out["time_coldest"]["value"] is not None:
            coldest = out["time_coldest"]
            out["time_limit"], found = build.limit(self.document, coldest["value"], "predicted at the coldest temperature", True)
            self.findings += found
        if len(self.document["switches"]) == 2:
            self._second_limit(out)
        return out

    def _winter(self, out):
        """A limit from runs on a mild day may be too short for the coldest one."""
        coldest = out.get("time_coldest")
        if coldest is None or coldest["value"] is None or coldest["value"] <= out["time_limit"]["value"]:
            return []
        return [finding("warn", "measured.build_s", "limit.winter", [
            ("limit", given(out["time_limit"]["value"], "s", "time limit")),
            ("coldest", given(coldest["value"], "s", "predicted at the coldest")),
            ("t", given(self.document["ambient"]["coldest_c"], "°C", "coldest"))])]

    def _second_limit(self, out):
        moment = self.moments.get("coldest")
        if self.build_runs and self.vent_runs:
            longest, means = max(self.build_runs) + max(self.vent_runs), "longest measured build-up and vent"
        elif moment and moment["returned"] is not None and len(moment["trips"]) == 2:
            longest, means = moment["returned"], "until both have tripped and returned, predicted at the coldest temperature"
        else:
            return
        out["time_limit_second"], found = build.limit(self.document, longest, means, not self.build_runs)
        self.findings += found

    def _vent(self):
        out = OrderedDict()
        for when in ("usual", "coldest"):
            if when in self.traces:
                out["reset_" + when] = build.reset_time(self.traces[when], self.moments[when])
        reset = out.get("reset_coldest")
        if len(self.document["switches"]) == 1 and self.choice.cycles == 1:
            out["time"] = build.short_vent(self.document)
            if reset and reset["value"] is not None and reset["value"] > self.choice.pause + out["time"]["value"]:
                self.findings.append(finding("stop", "controller.pause", "vent.longer_than_pause", [
                    ("reset", given(reset["value"], "s", "until all have reset")),
                    ("pause", given(self.choice.pause, "s", "pause"))]))
        elif reset and reset["value"] is not None:
            out["time"], found = build.long_vent(self.document, reset["value"], reset["estimate"])
            self.findings += found
        return out

    def _fit(self):
        if self.build_runs and self.simulated:
            self._simulate("measured")
        trace = self.traces.pop("measured", None)
        return fit(self.document, self.build_volume, self.frictionless["value"], trace["trip_s"][0] if trace else None)
