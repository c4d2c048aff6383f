"""Single-line: the pump builds pressure until the first switch trips, every device doses, the line vents."""
from collections import OrderedDict

from ..line import build
from . import settings
from ..line.fit import fit
from .line_findings import sequence_findings
from .vented import Vented


class SingleLine(Vented):
    """A single-line system with one or two pressure switches."""

    def choose_interval(self):
        """Choose pause, cycles and doses: by the frictionless time, then by the simulated time of those doses; simulate both.

        While somebody types the first choice stands: friction, which it leaves out, weighs more than a second look.
        """
        self.set_doses({demand.device: demand.most for demand in self.demands})
        self.choose()
        if self.simulated:
            self.simulate("usual", self.taken)
            self.choose()
            self.simulate("usual", self.taken)
            self.simulate("coldest", self.taken)

    def set_doses(self, doses):
        """Beside the doses the volume to press in and its time without friction."""
        Vented.set_doses(self, doses)
        self.build_volume = build.volume(self.document, self.taken, self.line_volume["value"])
        self.frictionless = build.time_frictionless(self.document, self.build_volume)

    def at_once(self):
        """The build-up without friction."""
        return {"time_frictionless": self.frictionless}

    def drawn_cm3(self):
        """The volume to press in."""
        return self.build_volume["value"]

    def busy(self):
        """Build-up and vent of one cycle [s]: medians of the runs, else predicted at the usual temperature."""
        trace = self.traces.get("usual")
        builds = self.frictionless["value"]
        if trace and trace["trip_s"][0] is not None:
            builds = trace["trip_s"][0]
        return [("build", build.median(self.build_runs) if self.build_runs else builds, "build-up of one cycle"),
                self.vent_part()], not self.build_runs

    # ---- build-up, vent, fit

    def cycle_sections(self, out):
        """Build-up, vent and what the runs say of the lubricant."""
        out["build"] = self._build()
        out["vent"] = self.vent(len(self.document["switches"]) == 2)
        out["fit"] = self._fit()

    def _build(self):
        out = OrderedDict((("volume", self.build_volume), ("time_frictionless", self.frictionless)))
        for when in ("usual", "coldest"):
            if when in self.traces:
                out["time_" + when] = build.time_simulated(self.document, self.traces[when])
        self.findings += sequence_findings(self.document, self.traces, self.moments)
        if self.build_runs:
            out["time_limit"], found = build.limit(self.document, max(self.build_runs), "longest measured run", False)
            self.findings += found
            self.winter(out["time_limit"], out.get("time_coldest") and out["time_coldest"]["value"])
        elif "time_coldest" in out and out["time_coldest"]["value"] is not None:
            coldest = out["time_coldest"]
            out["time_limit"], found = build.limit(self.document, coldest["value"], "predicted at the coldest temperature", True)
            self.findings += found
        if len(self.document["switches"]) == 2:
            self._second_limit(out)
        return out

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

    def _fit(self):
        if self.build_runs and self.simulated:
            self.simulate("measured", self.taken)
        trace = self.traces.pop("measured", None)
        return fit(self.document, self.build_volume, self.frictionless["value"], trace["trip_s"][0] if trace else None)

    # ---- settings

    def settings(self, out):
        """All settings of a single-line controller, in the order in which they are usually thought through."""
        document = self.document
        timing = settings.interval(document, out) + [settings.limit(document, out)]
        if len(document["switches"]) == 2:
            timing.append(settings.second_limit(document, out))
        return (timing + [settings.vent(document, out)] + settings.switches(document) + settings.protection(document, out)
                + settings.signals(document, out))
