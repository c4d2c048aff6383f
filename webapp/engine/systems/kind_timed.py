"""Time-only: the pump runs a set time, long enough for the last device at the coldest; nothing confirms that it was fed."""
from collections import OrderedDict

from ..line import build
from . import settings
from ..basics.figure import LINE_MODEL, figure, given
from ..basics.findings import finding
from ..line.fit import fit
from .vented import Vented


# a run is looked at no longer than this, whatever the controller accepts
_LONGEST_S = 7200


def highest_fires(document):
    """The pressure at which the last device fires [bar]."""
    return max([device["fires_bar"] for device in document["devices"]])


def waiting(document):
    """The document with a controller that lets the pump run until the last device is fed, however long that takes."""
    return dict(document, controller=dict(document["controller"], time_limit={"min_s": 0, "max_s": _LONGEST_S, "step_s": 1}))


def time_fed(document, trace):
    """From pump on until the last device has dosed [s]; value None where one never does."""
    return figure(trace["fed_s"][0], "s", "time when the last device has dosed in the line model", [
        ("fires", given(highest_fires(document), "bar", "highest firing pressure")),
        ("delivery", given(document["pump"]["delivery_cm3_min"], "cm³/min", "pump delivery")),
        ("t", given(trace["at_c"], "°C", "temperature"))], LINE_MODEL, method="simulated", residual=build.balance(trace))


class Timed(Vented):
    """A time-only system."""

    def choose_interval(self):
        """Choose pause, cycles and doses: by the frictionless time, then by the run time simulated for those doses."""
        self.fed_s = None
        self.set_doses({demand.device: demand.most for demand in self.demands})
        self.choose()
        if self.simulated:
            self._simulate_run()
            self.choose()
            self._simulate_run()
            self.simulate("coldest", self.taken, self._run_s())
            del self.traces["fed"]

    def _simulate_run(self):
        """First how long the last device takes at the coldest, then the whole run at the usual temperature."""
        self.simulate("fed", self.taken, None, waiting(self.document))
        self.fed_s = self.traces["fed"]["fed_s"][0]
        self.simulate("usual", self.taken, self._run_s())

    def temperature(self, when):
        """[°C]; "fed" is worked at the coldest."""
        return Vented.temperature(self, "coldest" if when == "fed" else when)

    def set_doses(self, doses):
        """Beside the doses the volume to press in until the last device fires, and its time without friction."""
        Vented.set_doses(self, doses)
        self.build_volume = build.volume(self.document, self.taken, self.line_volume["value"],
                                         (highest_fires(self.document), "pressure at which the last device fires"))
        self.frictionless = build.time_frictionless(self.document, self.build_volume)

    def at_once(self):
        """The build-up without friction."""
        return {"time_frictionless": self.frictionless}

    def _longest(self):
        """(seconds until the last device is fed, what they are): the longer of predicted and seen."""
        if self.build_runs and max(self.build_runs) > (self.fed_s or 0.0):
            return max(self.build_runs), "longest time seen until the last device had moved"
        if self.fed_s is None:
            return self.frictionless["value"], "predicted without friction"
        return self.fed_s, "until the last device is fed, predicted at the coldest temperature"

    def _run(self):
        longest, means = self._longest()
        return build.limit(self.document, longest, means, True, "timed.out_of_range")

    def _run_s(self):
        return self._run()[0]["value"] if self.fed_s is not None else None

    def drawn_cm3(self):
        """The volume to press in."""
        return self.build_volume["value"]

    def busy(self):
        """Run time and vent of one cycle [s]."""
        return [("run", self._run()[0]["value"], "run time of one cycle"), self.vent_part()], True

    # ---- sections

    def cycle_sections(self, out):
        """The run time among the interval's figures, build-up, vent, and that nothing is confirmed."""
        self.findings.append(finding("warn", "kind", "timed.unconfirmed"))
        out["build"] = self._build()
        if self.fed_s is not None:
            out["interval"]["run_time"], found = self._run()
            self.findings += found + self._while_it_runs(out["interval"]["run_time"]["value"])
        out["vent"] = self.vent(False)
        out["fit"] = fit(self.document, None, None, None)

    def _build(self):
        out = OrderedDict((("volume", self.build_volume), ("time_frictionless", self.frictionless)))
        for when in ("usual", "coldest"):
            if when in self.traces:
                trace = self.traces[when]
                out["time_" + when] = time_fed(self.document, trace)
                self.findings += self._not_fed(trace)
        return out

    def _not_fed(self, trace):
        if trace["fed_s"][0] is None and self.fed_s is not None and self._run()[0]["value"] < self.fed_s:
            return []  # the run is too short, which its limit's finding says
        t = ("t", given(trace["at_c"], "°C", "temperature"))
        if trace["fed_s"][0] is None:
            return [finding("stop", "devices", "timed.never_fed", [t, ("why", trace["why"])])]
        return [] if trace["completed"] else [finding("stop", "devices", "build.incomplete", [t, ("why", trace["why"])])]

    def _while_it_runs(self, run_s):
        """What else to know of the run: that a run seen was longer than predicted, that the relief valve opens."""
        found, fed, pump = [], self.fed_s, self.document["pump"]
        if self.build_runs and max(self.build_runs) > fed:
            found.append(finding("warn", "measured.build_s", "timed.measured", [
                ("measured", given(max(self.build_runs), "s", "seen")), ("predicted", given(fed, "s", "predicted"))]))
        whole = build.volume(self.document, self.taken, self.line_volume["value"], (pump["relief_bar"], "relief pressure"))
        if whole["value"] < run_s * pump["delivery_cm3_min"] / 60:
            found.append(finding("note", "pump.relief_bar", "timed.relief", [("relief", given(pump["relief_bar"], "bar", "relief"))]))
        return found

    def settings(self, out):
        """All settings of a controller that only runs the pump by time."""
        document = self.document
        return (settings.interval(document, out) + [settings.run_time(document, out), settings.vent(document, out),
                settings.unconfirmed(document)] + settings.protection(document, out) + settings.signals(document, out))
