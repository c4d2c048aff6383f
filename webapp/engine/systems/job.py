"""What the working of all kinds of system shares: needs, interval, points, line, wiring, reservoir. One job, one document."""
from collections import OrderedDict

from ..line import line
from ..basics.adding import added_up
from ..basics.figure import figure, given
from ..basics.findings import finding
from ..feeding.interval import DEFAULT_LONGEST_EVENT_H, choose, demands_of, stretch_ends, waste_of
from ..feeding.needs import need_of, need_value
from ..basics.ranges import step_at

DEFAULT_OVER_FEED = 2.0
# ratios that the last bits alone tell apart, which the two machines do not share
_ALIKE = 1e-9


class Job:
    """What one run of `work` knows so far. A kind adds how its cycle is built up, vented and set:

    choose_interval()   chooses pause, cycles and doses, simulating where it helps
    busy()              ([(name, seconds, meaning)] of what one cycle takes, is it an estimate)
    at_once()           figures of `build` for the foot of a form
    cycle_sections(out) adds build, vent and what else the kind has
    settings(out)       the settings that its controller asks for
    """

    def __init__(self, document, simulated):
        self.document, self.simulated = document, simulated
        self.choices = document.get("choices") or {}
        self.measured = document.get("measured") or {}
        self.build_runs, self.vent_runs = self.measured.get("build_s") or [], self.measured.get("vent_s") or []
        self.findings, self.traces, self.moments = [], {}, {}
        self.demands = self.make_demands({point["id"]: need_value(point, document["lubricant"]) for point in document["points"]})
        self.stretch_ends = stretch_ends(self.demands)
        self.line_volume = line.volume(document)
        self.count_of = {demand.device: demand.count for demand in self.demands}

    # ---- interval and doses

    def make_demands(self, needs):
        """One Demand for each thing whose dose can be set by itself; `needs`: point id -> cm³/h."""
        return demands_of(self.document, needs)

    def demand_key(self, point):
        """Which Demand feeds the point."""
        return point["device"]

    def choose(self):
        """Pause, cycles and doses for what a cycle is known to take so far."""
        # whole numbers by the check, which lets 2.0 pass as one
        chosen, most = self.choices.get("cycles_per_event"), int(self.document["controller"].get("cycles_max") or 1)
        counts = [int(chosen)] if chosen else list(range(1, most + 1))
        longest = self.choices.get("longest_event_h")
        longest = (DEFAULT_LONGEST_EVENT_H if longest is None else longest) * 3600
        self.parts, self.busy_estimate = self.busy()
        self.choice = choose(self.demands, self.stretch_ends, self.document["controller"]["pause"], counts,
                             added_up([seconds for _, seconds, _ in self.parts]), longest)
        self.set_doses(self.choice.doses(self.demands))

    def set_doses(self, doses):
        """Keep the dose of one outlet by Demand [cm³] and what each device takes from the line in a cycle."""
        self.doses = doses
        self.taken = {device["id"]: doses.get(device["id"], 0.0) * self.count_of.get(device["id"], 0)
                      for device in self.document["devices"]}

    def temperature(self, when):
        """The temperature [°C] "usual", "coldest" or "measured", that of the runs, usual where none was noted."""
        if when == "measured" and self.measured.get("at_c") is not None:
            return self.measured["at_c"]
        return self.document["ambient"]["%s_c" % ("usual" if when == "measured" else when)]

    # ---- the worked document, section by section

    def sections(self):
        """All figures as an OrderedDict of sections; fills self.findings on the way."""
        out = OrderedDict()
        out["points"] = self._points()
        out["interval"] = self._interval()
        out["line"] = self.line()
        self.cycle_sections(out)
        from .around import around
        from ..feeding.lubricant_figures import add_lubricant
        self.findings += around(self.document, out, self.cycle_cm3(), self.drawn_cm3()) + add_lubricant(self.document, out)
        out["measured"] = bool(self.build_runs)
        out["leading_point"] = self._leading_point()
        return out

    def cycle_cm3(self):
        """What a cycle takes from the reservoir and keeps [cm³]."""
        return added_up([self.taken[device["id"]] for device in self.document["devices"]])

    def drawn_cm3(self):
        """What is out of the reservoir at the end of a build-up [cm³]; None: what the cycle takes."""
        return None

    def _leading_point(self):
        """Name of the point that is fed closest to its need: the one that sets the pause; the first of those alike."""
        hours = self.choice.event / 3600
        needs = [need_value(point, self.document["lubricant"]) for point in self.document["points"]]
        names = [(self.doses[self.demand_key(point)] * self.choice.cycles / hours / need, point["name"])
                 for point, need in zip(self.document["points"], needs) if need > 0]
        least = min([ratio for ratio, _ in names] or [0.0])
        return ([name for ratio, name in names if ratio <= least * (1 + _ALIKE)] or [self.document["points"][0]["name"]])[0]

    def _points(self):
        hours, cycles = self.choice.event / 3600, self.choice.cycles
        limit = self.choices.get("over_feed_limit")
        limit = DEFAULT_OVER_FEED if limit is None else limit
        by_key = {demand.device: demand for demand in self.demands}
        points, over, short = [], [], []
        for point in self.document["points"]:
            need = need_of(point, self.document["lubricant"])
            demand = by_key[self.demand_key(point)]
            dose = self.dose(point, demand)
            rate = figure(dose["value"] * cycles / hours, "cm³/h", "dose * cycles / (event / 3600)", [
                ("dose", given(dose["value"], "cm³", "dose a cycle")), ("cycles", given(cycles, "count", "cycles per event")),
                ("event", given(self.choice.event, "s", "from start to start", self.busy_estimate))], "dose over time")
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

    def dose(self, point, demand):
        """The point's dose a cycle, a figure [cm³]."""
        inputs = [("need", given(demand.need, "cm³/h", "largest need on this device")),
                  ("event", given(self.choice.event, "s", "from start to start", self.busy_estimate)),
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
                ("point", point["name"]), ("device", point["device"]),
                ("needed", given(need * self.choice.event / 3600 / self.choice.cycles, "cm³", "dose needed")),
                ("most", given(demand.most, "cm³", "most that an outlet gives"))]))
        if over:
            worst = max([(ratio, number) for number, (_, ratio) in enumerate(over)])
            self.findings.append(finding("warn", "points.%s" % over[worst[1]][0]["id"], "feed.over", [
                ("count", given(len(over), "count", "points")), ("of", given(len(self.document["points"]), "count", "points")),
                ("limit", given(limit, "ratio", "limit")), ("worst", over[worst[1]][0]["name"]),
                ("ratio", given(worst[0], "ratio", "times its need"))]))

    def _busy_inputs(self):
        return [("cycles", given(self.choice.cycles, "count", "cycles per event"))] + [
            (name, given(seconds, "s", means, self.busy_estimate)) for name, seconds, means in self.parts]

    def _busy_formula(self):
        names = " + ".join([name for name, _, _ in self.parts])
        return "cycles * %s" % (names if len(self.parts) == 1 else "(%s)" % names)

    def _waste(self):
        return "waste", given(waste_of(self.demands, self.choice.event, self.choice.cycles), "cm³/h", "fed beyond the needs")

    def pause(self):
        """The pause that was chosen, a figure [s]."""
        step = step_at(self.document["controller"]["pause"], self.choice.pause)
        return figure(self.choice.pause, "s", "event - " + self._busy_formula(),
                      [("event", given(self.choice.event, "s", "from start to start"))] + self._busy_inputs()
                      + [("step", given(step, "s", "the controller's step")), self._waste()],
                      "least waste among the pauses that the controller accepts", method="chosen")

    def _interval(self):
        choice, busy = self.choice, self._busy_inputs()
        event = figure(choice.event, "s", self._busy_formula() + " + pause",
                       busy + [("pause", given(choice.pause, "s", "pause"))], "from start to start")
        cycles = figure(choice.cycles, "count", "cycles", [busy[0], self._waste()],
                        "least waste, then fewer cycles", method="chosen")
        from .reservoir import hours_a_day
        hours = hours_a_day(self.document)
        events = figure(hours * 3600 / choice.event, "count", "hours * 3600 / event", [
            ("hours", given(hours, "h", "hours a day on which the interval runs")),
            ("event", given(choice.event, "s", "from start to start", self.busy_estimate))], "duty over the event")
        return OrderedDict((("event", event), ("pause", self.pause()), ("cycles_per_event", cycles), ("events_per_day", events)))

    def line(self):
        """The line in steady flow and at rest."""
        ambient = self.document["ambient"]
        out = OrderedDict((("volume", self.line_volume),))
        for when in ("usual", "coldest"):
            out["drop_" + when] = line.drop(self.document, ambient[when + "_c"])
        for when in ("usual", "coldest"):
            out["residual_" + when] = line.residual(self.document, ambient[when + "_c"])
        return out

    def winter(self, limit, coldest):
        """A limit from runs on a mild day may be too short for the coldest one; coldest [s] or None."""
        if coldest is not None and coldest > limit["value"]:
            self.findings.append(finding("warn", "measured.build_s", "limit.winter", [
                ("limit", given(limit["value"], "s", "time limit")), ("coldest", given(coldest, "s", "predicted at the coldest")),
                ("t", given(self.document["ambient"]["coldest_c"], "°C", "coldest"))]))
