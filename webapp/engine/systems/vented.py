"""What the kinds share whose line is vented after each cycle, so that devices and switches reset."""
from collections import OrderedDict

from ..line import build
from ..basics.figure import given
from ..basics.findings import finding
from .job import Job
from .line_findings import line_findings


class Vented(Job):
    """A job whose cycles end with a vent."""

    def simulate(self, when, doses, limit_s=None, document=None):
        """Keep trace and moments of these doses at the temperature `when`, unless they are known already.

        document: another one than the job's own, that it may run longer than its controller lets it
        """
        known = self.traces.get(when)
        if known and known["doses"] == doses and known.get("limit_s") == limit_s:
            return
        from ..events.simulate import moments, simulate
        trace = simulate(document or self.document, doses, self.temperature(when), 1, limit_s)
        trace["doses"] = doses
        if limit_s is not None:
            trace["limit_s"] = limit_s
        self.traces[when], self.moments[when] = trace, moments(trace)

    def line(self):
        """The line, and whether everything resets in it at the coldest."""
        out = Job.line(self)
        out["resets_at_coldest"], found = line_findings(self.document)
        self.findings += found
        return out

    def vent_part(self):
        """The vent as a part of `busy`: the median of the runs, else predicted at the usual temperature."""
        moment, vent = self.moments.get("usual"), 0.0
        if moment and moment["ready"] is not None:
            vent = moment["ready"] - moment["open"]
        return "vent", build.median(self.vent_runs) if self.vent_runs else vent, "vent of one cycle"

    def vent(self, in_full):
        """The section `vent`; `in_full`: the controller waits for the reset after a single cycle too."""
        out = OrderedDict()
        for when in ("usual", "coldest"):
            if when in self.traces:
                out["reset_" + when] = build.reset_time(self.traces[when], self.moments[when])
        reset = out.get("reset_coldest")
        if not in_full and self.choice.cycles == 1:
            out["time"] = build.short_vent(self.document)
            if reset and reset["value"] is not None and reset["value"] > self.choice.pause + out["time"]["value"]:
                self.findings.append(finding("stop", "controller.pause", "vent.longer_than_pause", [
                    ("reset", given(reset["value"], "s", "until all have reset")),
                    ("pause", given(self.choice.pause, "s", "pause"))]))
        elif reset and reset["value"] is not None:
            out["time"], found = build.long_vent(self.document, reset["value"], reset["estimate"])
            self.findings += found
        return out
