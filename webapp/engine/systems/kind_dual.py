"""Dual-line: two lines used in turn. Each half of a cycle builds one line up to the changeover and feeds that line's points."""
from collections import OrderedDict

from ..line import build
from . import settings
from ..basics.figure import figure, given
from ..basics.findings import finding
from ..line.fit import fit
from ..basics.kinds import SIDES
from .vented import Vented


class DualLine(Vented):
    """A dual-line system: each section stands for two equal pipes, line A is used first."""

    def choose_interval(self):
        """Choose pause, cycles and doses: by the frictionless times, then by the simulated ones; simulate both temperatures."""
        self.runs_b = self.measured.get("build_b_s") or self.build_runs
        self.set_doses({demand.device: demand.most for demand in self.demands})
        self.choose()
        if self.simulated:
            self.simulate("usual", self.of_side)
            self.choose()
            self.simulate("usual", self.of_side)
            self.simulate("coldest", self.of_side)

    def set_doses(self, doses):
        """Beside the doses what each device takes from each line, the volumes to press in and their times without friction."""
        Vented.set_doses(self, doses)
        self.of_side = OrderedDict((side, {device["id"]: 0.0 for device in self.document["devices"]}) for side in SIDES)
        for point in self.document["points"]:
            self.of_side[point["side"]][point["device"]] += doses[point["device"]]
        self.volumes = OrderedDict((side, build.volume(self.document, self.of_side[side], self.line_volume["value"]))
                                   for side in SIDES)
        self.frictionless = OrderedDict((side, build.time_frictionless(self.document, self.volumes[side])) for side in SIDES)

    def _slower(self):
        volumes = [self.volumes[side]["value"] for side in SIDES]
        delivery = self.document["pump"]["delivery_cm3_min"]
        return figure(60 * max(volumes) / delivery, "s", "60 * max(volumes) / delivery", [
            ("volumes", given(volumes, "cm³", "volume to press into each line", self.volumes["A"]["estimate"])),
            ("delivery", given(delivery, "cm³/min", "pump delivery"))], build.COMPRESSION)

    def at_once(self):
        """The slower half's build-up without friction."""
        return {"time_frictionless": self._slower()}

    def busy(self):
        """Both halves and the vent of one cycle [s]: medians of the runs, else predicted at the usual temperature."""
        trips = (self.traces.get("usual") or {"trip_s": []})["trip_s"]
        parts = []
        for number, (side, runs) in enumerate(zip(SIDES, (self.build_runs, self.runs_b))):
            seconds = self.frictionless[side]["value"]
            if number < len(trips) and trips[number] is not None:
                seconds = trips[number]
            parts.append(("build_" + side.lower(), build.median(runs) if runs else seconds, "build-up of line " + side))
        return parts + [self.vent_part()], not self.build_runs

    # ---- sections

    def cycle_sections(self, out):
        """Build-up of both lines, vent, and what residual pressures say of the lubricant."""
        out["build"] = self._build()
        out["vent"] = self.vent(False)
        out["fit"] = fit(self.document, None, None, None)

    def _build(self):
        out = OrderedDict((("volume_" + side.lower(), self.volumes[side]) for side in SIDES))
        out["time_frictionless"] = self._slower()
        for side in SIDES:
            out["time_frictionless_" + side.lower()] = self.frictionless[side]
            if not any([value for value in self.of_side[side].values()]):
                self.findings.append(finding("warn", "points", "dual.empty_side", [("side", side)]))
        for when in ("usual", "coldest"):
            if when in self.traces:
                for number, side in enumerate(SIDES):
                    out["time_%s_%s" % (when, side.lower())] = build.time_simulated(self.document, self.traces[when], number)
                self.findings += self._what_went_wrong(self.traces[when])
        self._limit(out)
        return out

    def _limit(self, out):
        runs = self.build_runs + self.runs_b
        coldest = [out.get("time_coldest_" + side.lower()) for side in SIDES]
        known = all([half is not None and half["value"] is not None for half in coldest])
        if runs:
            out["time_limit"], found = build.limit(self.document, max(runs), "longest measured half", False)
            self.findings += found
            self.winter(out["time_limit"], max([half["value"] for half in coldest]) if known else None)
        elif known:
            out["time_limit"], found = build.limit(self.document, max([half["value"] for half in coldest]),
                                                   "slower half predicted at the coldest temperature", True)
            self.findings += found

    def _what_went_wrong(self, trace):
        t, trips = ("t", given(trace["at_c"], "°C", "temperature")), trace["trip_s"]
        for number, side in enumerate(SIDES):
            if number < len(trips) and trips[number] is None:
                return [finding("stop", "pump.relief_bar", "dual.never_trips", [t, ("side", side), ("why", trace["why"])])]
        return [] if trace["completed"] else [finding("stop", "devices", "dual.incomplete", [t, ("why", trace["why"])])]

    def settings(self, out):
        """All settings of a controller that changes lines by a switch."""
        document = self.document
        return (settings.interval(document, out) + [
            settings.limit(document, out, ("reason.limit_dual_measured", "reason.limit_dual_predicted")),
            settings.vent(document, out), settings.changeover(document)] + settings.protection(document, out)
            + settings.signals(document, out))
