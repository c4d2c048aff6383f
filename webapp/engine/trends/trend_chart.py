"""One quantity over the rounds, corrected to one temperature: its chart, its limits, its calls."""
from collections import OrderedDict
from math import exp, log

from .charts import D2, D4, HANDBOOK, WEIGHT, WIDTH, ewma, individuals, ranges_of, sample_sd
from ..basics.dates import date_of, day_text
from .drift import LEARNING, Watch
from ..basics.figure import figure, given
from ..basics.findings import finding

CORRECTION = "line model for the shape over temperature; slope and bend that it leaves over, learnt from the readings"
_CORRECTED = "measured * usual / predicted * exp(-slope * ((at - reference) / 10) - bend * ((at - reference) / 10) ** 2)"
_SETTLED = "centre %s width * range / d2 * sqrt(weight / (2 - weight))"
# readings wander when they scatter so many times as far as neighbours differ. Estimate
_WANDERS = 1.6


class Chart:
    """Rows [{"at", "day", "at_c", "value", "noise"}] by date, `noise` the deviation of the value's logarithm that is known.

    name        under which it stands in the document; begins the ids of its findings
    curve       predict.Curve of the quantity over temperature
    reference   all readings are corrected to it [°C]
    """

    def __init__(self, name, unit, rows, curve, reference):
        self.name, self.unit, self.rows, self.curve, self.reference = name, unit, rows, curve, reference
        shift = curve.log_at(reference)
        xs = [(row["at_c"] - reference) / 10 for row in rows]
        ys = [log(row["value"]) - curve.log_at(row["at_c"]) + shift for row in rows]
        self.watch = Watch([(x, y - ys[0], row["noise"]) for x, y, row in zip(xs, ys, rows)])
        level, self.slope, self.bend = self.watch.reference.parts
        self.level = exp(level + ys[0])
        self.corrected = [exp(y - self.slope * x - self.bend * x * x) for x, y in zip(xs, ys)]
        self.standing = self.watch.standing()
        self.findings, self.averages, self.wanders = [], [], False

    def worked(self):
        """The chart as a part of the document, without texts; fills `findings`."""
        out = OrderedDict((("unit", self.unit), ("reference_c", self.reference), ("latest", self._latest())))
        normal = [self.corrected[number] for number in self.watch.normal()]
        if len(normal) > 1:
            self._limits(out, normal)
        out["points"] = self._points(out)
        out["calls"] = [self._call(call) for call in self.watch.calls]
        if len(self.rows) <= LEARNING:
            self.find("note", "trend.few", [("count", given(len(self.rows), "count", "readings")),
                                            ("wanted", given(LEARNING, "count", "readings wanted"))])
        elif self.standing:
            self._drift(out)
        else:
            self._steady(out)
        return out

    def find(self, severity, identifier, values):
        self.findings.append(finding(severity, self.name, identifier, values))

    def _latest(self):
        row = self.rows[-1]
        return figure(self.corrected[-1], self.unit, _CORRECTED, [
            ("measured", given(row["value"], self.unit, "last reading")),
            ("at", given(row["at_c"], "°C", "temperature at the line")),
            ("reference", given(self.reference, "°C", "temperature to which readings are corrected")),
            ("usual", given(self.curve.at(self.reference), self.unit, "predicted at that temperature", True)),
            ("predicted", given(self.curve.at(row["at_c"]), self.unit, "predicted at the reading's temperature", True)),
            ("slope", given(self.slope, "1", "growth in 10 K that the model leaves over, learnt", True)),
            ("bend", given(self.bend, "1", "bend that the model leaves over, learnt", True))], CORRECTION)

    def _limits(self, out, normal):
        limits = individuals(normal)
        count = ("count", given(len(normal), "count", "corrected readings of no drift"))
        values = ("values", given(normal, self.unit, "corrected readings of no drift"))
        ranges = ("ranges", given(ranges_of(normal), self.unit, "how much each differs from the one before"))
        parts = [("centre", given(limits["centre"], self.unit, "centre")),
                 ("width", given(WIDTH, "count", "standard deviations")),
                 ("range", given(limits["range_mean"], self.unit, "mean range")),
                 ("d2", given(D2, "ratio", "mean range over standard deviation"))]
        settled = ewma(self.corrected, limits["centre"], limits["sd"])
        weight = ("weight", given(WEIGHT, "ratio", "weight of the newest reading"))
        for name, value, formula, inputs in (
                ("centre", limits["centre"], "sum(values) / count", [values, count]),
                ("range_mean", limits["range_mean"], "sum(ranges) / (count - 1)", [ranges, count]),
                ("lower", limits["lower"], "centre - width * range / d2", parts),
                ("upper", limits["upper"], "centre + width * range / d2", parts),
                ("range_upper", limits["range_upper"], "d4 * range", [
                    ("d4", given(D4, "ratio", "upper limit over mean range")), parts[2]]),
                ("ewma_lower", settled["lower"], _SETTLED % "-", parts + [weight]),
                ("ewma_upper", settled["upper"], _SETTLED % "+", parts + [weight])):
            out[name] = figure(value, self.unit, formula, inputs, HANDBOOK)
        scatter = sample_sd(normal)
        out["scatter"] = figure(scatter, self.unit, "sqrt(sum((values - centre) ** 2) / (count - 1))",
                                [values, parts[0], count], HANDBOOK)
        self.averages, self.wanders = settled["values"], scatter > _WANDERS * limits["sd"]

    def _points(self, out):
        """Plain numbers for the chart; `off` in deviations from what the readings before foretell, `high` and `low` its sums."""
        points = []
        for number, row in enumerate(self.rows):
            value = self.corrected[number]
            point = OrderedDict((("at", row["at"]), ("day", row["day"]), ("measured", row["value"]), ("at_c", row["at_c"]),
                                 ("corrected", value), ("off", self.watch.offs[number]),
                                 ("high", self.watch.sums[number][0]), ("low", self.watch.sums[number][1])))
            if "centre" in out:
                point["ewma"] = self.averages[number]
                point["outside"] = not out["lower"]["value"] <= value <= out["upper"]["value"]
            points.append(point)
        return points

    def _date(self, number):
        return None if number is None else date_of(self.rows[number]["day"])

    def _read(self, number):
        return day_text(self.rows[number]["day"])

    def _call(self, call):
        return OrderedDict((("at", self._date(call["at"])), ("since", self._date(call["since"])),
                            ("since_day", self.rows[call["since"]]["day"]), ("at_day", self.rows[call["at"]]["day"]),
                            ("rises", call["rises"]),
                            ("over", self._date(call["over"]))))

    def _drift(self, out):
        """The finding of the call that stands, and by how much the last reading differs from the level before it."""
        out["change"] = figure(100 * (self.corrected[-1] / self.level - 1), "%", "100 * (latest / level - 1)", [
            ("latest", given(self.corrected[-1], self.unit, "last reading, corrected")),
            ("level", given(self.level, self.unit, "learnt level before the drift"))], CORRECTION)
        self.find("warn", "trend.%s.%s" % (self.name, "rises" if self.standing["rises"] else "falls"), [
            ("percent", given(abs(out["change"]["value"]), "%", "change")), ("since", self._read(self.standing["since"])),
            ("at", self._read(self.standing["at"]))])

    def _steady(self, out):
        """Findings where no call stands."""
        last = out["points"][-1]
        if last["outside"]:
            self.find("warn", "trend.outside", [("value", given(last["corrected"], self.unit, "corrected")),
                                                ("low", given(out["lower"]["value"], self.unit, "lower limit")),
                                                ("high", given(out["upper"]["value"], self.unit, "upper limit"))])
        elif self.wanders:
            self.find("note", "trend.wanders", [("scatter", given(out["scatter"]["value"], self.unit, "scatter"))])
        if out["calls"]:
            over = self.watch.calls[-1]
            self.find("note", "trend.over", [("of", {"words": ["trend.name." + self.name]}), ("since", self._read(over["since"])),
                                             ("at", self._read(over["over"]))])
