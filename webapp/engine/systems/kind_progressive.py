"""Progressive: blocks in series, each outlet in turn; a cycle switch counts, a monitoring time waits for it."""
from collections import OrderedDict

from ..events import blocks
from ..line import build
from . import settings
from ..basics.figure import LINE_MODEL, figure, given
from ..basics.findings import finding
from ..feeding.interval import Demand
from .job import Job

_NEAR = 0.8
HANDED_ON = "each outlet gives its stroke once a cycle of its block; a block turns as its feeding outlet gives"


def cycle_time(document):
    """How long the first block takes to go round [s]."""
    volume, delivery = blocks.sums(document)[blocks.roots(document)[0]["id"]], document["pump"]["delivery_cm3_min"]
    return figure(60 * volume / delivery, "s", "60 * volume / delivery", [
        ("volume", given(volume, "cm³", "what a cycle of the first block takes")),
        ("delivery", given(delivery, "cm³/min", "pump delivery"))], HANDED_ON)


def time_counted(document, trace):
    """From pump on until the cycle switch signals [s]; value None where it never does."""
    return figure(trace["trip_s"][0], "s", "time when the cycle switch signals in the line model", [
        ("fires", given(blocks.roots(document)[0]["fires_bar"], "bar", "pressure at which the first block moves")),
        ("cycle", given(cycle_time(document)["value"], "s", "cycle of the first block")),
        ("turns", given(blocks.turns(document)[document["switches"][0]["counts"]], "ratio",
                        "cycles of the counted block in a cycle of the first")),
        ("t", given(trace["at_c"], "°C", "temperature"))], LINE_MODEL, method="simulated", residual=build.balance(trace))


class Progressive(Job):
    """A progressive system: what each point gets follows from the blocks; pause and cycles are what can be chosen."""

    def make_demands(self, needs):
        """One Demand a point: its dose is fixed by the blocks."""
        self.sums, self.turns, self.gives = blocks.sums(self.document), blocks.turns(self.document), blocks.gives(self.document)
        self.first = blocks.roots(self.document)[0]
        self.counted = self.document["switches"][0]["counts"]
        doses = [(point["id"], self.gives[(point["device"], point["outlet"])] * self.turns[point["device"]])
                 for point in self.document["points"]]
        return [Demand({"id": name, "output_min_cm3": dose, "output_max_cm3": dose}, [needs[name]]) for name, dose in doses]

    def demand_key(self, point):
        """The point itself."""
        return point["id"]

    def choose_interval(self):
        """Choose pause and cycles, once: no dose depends on them. Then simulate the start at both temperatures."""
        self.cycle_time = cycle_time(self.document)
        self.choose()
        if self.simulated:
            from ..events.simulate import simulate
            for when in ("usual", "coldest"):
                self.traces[when] = simulate(self.document, {}, self.temperature(when))

    def at_once(self):
        """The cycle time."""
        return {"cycle_time": self.cycle_time}

    def busy(self):
        """A cycle of the first block [s]."""
        return [("cycle", self.cycle_time["value"], "cycle of the first block")], False

    def cycle_cm3(self):
        """All that the first block takes [cm³]."""
        return self.sums[self.first["id"]]

    def dose(self, point, demand):
        """What the outlet gives, its own stroke and those joined to it, each time its block goes round."""
        return figure(demand.most, "cm³", "sum(strokes) * turns", [
            ("strokes", given(blocks.strokes(self.document)[(point["device"], point["outlet"])], "cm³",
                              "the outlet's stroke and those joined to it")),
            ("turns", given(self.turns[point["device"]], "ratio", "cycles of its block in a cycle of the first"))], HANDED_ON)

    # ---- sections

    def cycle_sections(self, out):
        """Blocks, cycle time and monitoring window; what stops all of them."""
        out["blocks"] = [OrderedDict((("id", block["id"]), ("volume", self._volume(block)), ("turns", self._turns(block))))
                         for block in self.document["devices"]]
        out["build"] = self._build()
        self._one_stops_all()
        self._near_relief(out["line"]["drop_coldest"])
        self._other_block()

    def _volume(self, block):
        strokes = [outlet["output_cm3"] for outlet in block["outlets"]]
        return figure(self.sums[block["id"]], "cm³", "sum(strokes)", [
            ("strokes", given(strokes, "cm³", "stroke of each outlet"))], HANDED_ON)

    def _turns(self, block):
        above = block.get("hangs_from")
        if not above:
            return figure(1.0, "ratio", "1", [], "the first block counts the cycles")
        return figure(self.turns[block["id"]], "ratio", "above * fed / volume", [
            ("above", given(self.turns[above["block"]], "ratio", "cycles of the block that feeds it")),
            ("fed", given(self.gives[(above["block"], above["outlet"])], "cm³", "what its outlet gives each time")),
            ("volume", given(self.sums[block["id"]], "cm³", "what a cycle of this block takes"))], HANDED_ON)

    def _build(self):
        out = OrderedDict((("cycle_time", self.cycle_time),))
        for when in ("usual", "coldest"):
            if when in self.traces:
                out["time_" + when] = time_counted(self.document, self.traces[when])
                self._went_wrong(self.traces[when])
        coldest = out.get("time_coldest")
        if self.build_runs:
            longest = max(self.build_runs), "longest measured wait for the cycle switch", False
        elif coldest and coldest["value"] is not None:
            longest = coldest["value"], "start and a cycle, predicted at the coldest temperature", True
        else:
            return out
        out["window"], found = build.limit(self.document, *longest)
        self.findings += found
        if self.build_runs:
            self.winter(out["window"], coldest and coldest["value"])
        return out

    def _went_wrong(self, trace):
        t = ("t", given(trace["at_c"], "°C", "temperature"))
        if trace["trip_s"][0] is None:
            self.findings.append(finding("stop", "pump.relief_bar", "progressive.never_counts", [t, ("why", trace["why"])]))
        elif not trace["completed"]:
            self.findings.append(finding("stop", "devices", "build.incomplete", [t, ("why", trace["why"])]))

    def _one_stops_all(self):
        self.findings.append(finding("note", "devices", "progressive.one_stops_all", [
            ("points", given(len(self.document["points"]), "count", "points"))]))

    def _near_relief(self, drop):
        """The blocks move at their pressure behind the drop along the line; the pump must reach the sum."""
        relief = self.document["pump"]["relief_bar"]
        needed = drop["value"] + max([block["fires_bar"] for block in self.document["devices"]])
        if needed > _NEAR * relief:
            self.findings.append(finding("warn", "pump.relief_bar", "progressive.near_relief", [
                ("needed", given(needed, "bar", "needed")), ("relief", given(relief, "bar", "relief")),
                ("t", given(self.document["ambient"]["coldest_c"], "°C", "coldest"))]))

    def _other_block(self):
        turns = self.turns[self.counted]
        if self.counted != self.first["id"]:
            self.findings.append(finding("warn", "switches[0].counts", "progressive.other_block", [
                ("block", self.counted), ("turns", given(turns, "ratio", "turns")),
                ("cycles", given(self.choice.cycles, "count", "cycles")),
                ("signals", given(self.choice.cycles * turns, "ratio", "signals"))]))

    def settings(self, out):
        """All settings of a controller that counts cycles."""
        document = self.document
        return (settings.interval(document, out) + [settings.window(document, out), settings.cycle_switch(document)]
                + settings.protection(document, out) + settings.signals(document, out))
