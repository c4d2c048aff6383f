"""Design help: for a line that does not work the smallest changes that make it work, each simulated; for a planned one a proposal."""
from collections import OrderedDict

from ..line import build, line
from .design_changes import (far_end, prices, series, softer, split, tapered, venting, widened, with_bores, with_delivery, with_switch_at,
                             worst_lock)
from ..basics.figure import COMMON_PRACTICE, figure, given
from ..basics.findings import finding
from ..feeding.interval import DEFAULT_LONGEST_EVENT_H
from ..systems.line_findings import NEAR
from .outlook import IDLE, RELIEF, RESET, TIME_LIMIT, Outlook, begun
from ..line.tree import PUMP, Tree
from ..systems.worked import doses_from

CHANGES = ("bores", "grade", "delivery", "switch", "split", "plan")
# a pump's next size: preferred numbers of series R 5, ISO 3
_NEXT_PUMP, _MOST_PUMPS = 1.6, 3
_MOST_GRADES = 3
_MOST_WIDENED = 6
# pipe is widened until the drop has fallen to this share before the line is simulated again
_LOWER = 0.8


def design_help(document, worked=None, change=None):
    """`design/1` without texts: `as_is`, and a row for each change that was tried (all, or the one named).

    worked   the worked document with its traces, where it is known already
    A row: change, works, limit (what stops it), build, residual, drop, volume, cost (figures at the coldest temperature), about.
    """
    out, document, worked = begun("design/1", document, worked)
    if worked is None:
        return out
    job = _Design(document, worked)
    out["as_is"] = job.row("as_is", job.here, [])
    tried = [change] if change else [name for name in CHANGES if name == "plan" or not job.works]
    rows = [job.try_change(name) for name in tried if name == "plan" or not job.works]
    rows = [row for row in rows if row]
    out["changes"] = [row for row in rows if row["works"]] + [row for row in rows if not row["works"]]
    out["outputs"] = job.outputs() if "plan" in tried else []
    out["findings"] = []
    return out


class _Design:
    """One line and what was found for it. Doses stay those that were worked; measured runs belong to the line as it is."""

    def __init__(self, document, worked):
        self.worked, self.at_c = worked, document["ambient"]["coldest_c"]
        self.document = dict(document)
        self.document.pop("measured", None)
        self.doses = doses_from(document, worked)
        self.traces = worked.get("traces")
        self.here = self.look(self.document, self.traces)
        self.works = self.does(self.here)

    def look(self, document, traces=None):
        """The outlook of a document at the coldest temperature, with the document."""
        doses = {device["id"]: self.doses[device["id"]] for device in document["devices"]}
        out = Outlook(document, self.worked, traces, doses).at(self.at_c)
        out["document"] = document
        out["share"] = worst_lock(document, self.at_c)[0]
        return out

    def does(self, outlook):
        """True where nothing stops it, with a fifth to spare on what stays locked in."""
        return outlook["limit"] is None and outlook["share"] < NEAR

    def try_change(self, name):
        """The row of one change; None where there is nothing of the kind to change."""
        found = {"bores": self._bores, "grade": self._grade, "delivery": self._delivery, "switch": self._switch,
                 "split": self._split, "plan": self._plan}[name]()
        return self.row(name, *found) if found else None

    # ---- the changes: (outlook, values of the sentence) or None

    def _bores(self):
        out = self._widen(venting(self.document, self.at_c))
        if out is None:
            return None
        changed = [(before, after) for before, after in zip(self.document["sections"], out["document"]["sections"])
                   if before["bore_mm"] != after["bore_mm"]]
        if not changed:
            return None
        return out, [("count", given(len(changed), "count", "pipes")), ("pipes", ", ".join([after["id"] for _, after in changed])),
                     ("length", given(sum([after["length_m"] for _, after in changed]), "m", "length of pipe changed")),
                     ("widest", given(max([after["bore_mm"] for _, after in changed]), "mm", "widest new bore"))]

    def _widen(self, document):
        """Widen where it flows until the simulation works; the last outlook, None where the series does not suffice."""
        out = None
        for _ in range(_MOST_WIDENED):
            if document is None:
                break
            out = self.look(document)
            if self.does(out) or out["limit"] == TIME_LIMIT:
                break
            target = line.drop(document, self.at_c)["value"] * _LOWER
            while document is not None and line.drop(document, self.at_c)["value"] > target:
                document = widened(document, line.drop(document, self.at_c)["at"], 2)
        return out

    def _first(self, documents):
        """The first of [(document, values)] that works, else the last; None where there is none."""
        out = None
        for document, values in documents:
            out = self.look(document), values
            if self.does(out[0]):
                break
        return out

    def _grade(self):
        softened = [softer(self.document, grades) for grades in range(1, _MOST_GRADES + 1)]
        return self._first([(document, [("grade", document["lubricant"]["nlgi"])]) for document in softened if document])

    def _delivery(self):
        up = self.here["limit"] not in (RELIEF, IDLE)
        factors = [_NEXT_PUMP ** (k if up else -k) for k in range(1, (_MOST_PUMPS if self.here["share"] < NEAR else 1) + 1)]
        changed = [with_delivery(self.document, factor) for factor in factors]
        return self._first([(document, [("delivery", given(document["pump"]["delivery_cm3_min"], "cm³/min", "delivery"))])
                            for document in changed])

    def _switch(self):
        now, tree = self.document["switches"][0]["at"], Tree(self.document)
        end = far_end(self.document)
        way = [PUMP] + [section["to"] for section in tree.way(end)]
        nodes = []
        for node in (end, way[len(way) // 2], way[len(way) // 4], PUMP):
            if node != now and node not in nodes:
                nodes.append(node)
        return self._first([(with_switch_at(self.document, node), [("node", node)]) for node in nodes])

    def _split(self):
        found = split(self.document, self.at_c)
        if found is None:
            return None
        node, near, far = found
        parts = [self.look(part) for part in (near, far)]
        worse = min([(self.does(part), -part["share"], number) for number, part in enumerate(parts)])[2]
        parts[worse]["pipe"] = dict(near, sections=near["sections"] + far["sections"])
        return parts[worse], [("node", node), ("near", given(len(near["points"]), "count", "points")),
                          ("far", given(len(far["points"]), "count", "points"))]

    def _plan(self):
        """Bores for a line that is still to be bought: the narrowest that vent and flow, none narrower than what it feeds."""
        narrowest = series(self.document)[0]
        document = venting(with_bores(self.document, [narrowest for _ in self.document["sections"]]), self.at_c)
        most = self.document["pump"]["relief_bar"] - self.document["switches"][0]["trips_bar"]
        while document is not None and line.drop(document, self.at_c)["value"] > most:
            document = widened(document, line.drop(document, self.at_c)["at"], 2)
        out = self._widen(None if document is None else tapered(document))
        if out is None:
            return None
        bores = [section["bore_mm"] for section in out["document"]["sections"]]
        return out, [("least", given(min(bores), "mm", "narrowest pipe")), ("most", given(max(bores), "mm", "widest pipe"))]

    # ---- what is told

    def row(self, name, outlook, values):
        """Figures of one way to do it, to compare."""
        document = outlook["document"]
        works = self.does(outlook)
        out = OrderedDict((("change", name), ("works", works), ("limit", outlook["limit"] or (None if works else RESET))))
        out["build"] = build.time_simulated(document, outlook["trace"])
        out["residual"], out["drop"] = line.residual(document, self.at_c), line.drop(document, self.at_c)
        pipe = outlook.get("pipe", document)
        out["volume"], out["cost"] = line.volume(pipe), cost(pipe)
        out["sections"] = [OrderedDict((("id", section["id"]), ("bore", _bore(section)))) for section in pipe["sections"]]
        out["about"] = finding("note" if works else "warn", "sections", "design.%s%s" % (name, "" if works else "_not"), values)
        return out

    def outputs(self):
        """What each device should give at an outlet in the longest event allowed, against what it can."""
        choices = self.document.get("choices") or {}
        hours = choices.get("longest_event_h")
        hours = DEFAULT_LONGEST_EVENT_H if hours is None else hours
        cycles = choices.get("cycles_per_event") or 1
        needs = {}
        for point, figures in zip(self.document["points"], self.worked["points"]):
            needs[point["device"]] = max(needs.get(point["device"], 0.0), figures["need"]["value"])
        rows = []
        for device in self.document["devices"]:
            if needs.get(device["id"], 0) > 0:
                wanted = needs[device["id"]] * hours / cycles
                output = figure(wanted, "cm³", "need * hours / cycles", [
                    ("need", given(needs[device["id"]], "cm³/h", "largest need on this device")),
                    ("hours", given(hours, "h", "longest event allowed")),
                    ("cycles", given(cycles, "count", "cycles per event"))], COMMON_PRACTICE)
                rows.append(OrderedDict((("device", device["id"]), ("output", output),
                                         ("fits", device["output_min_cm3"] <= wanted <= device["output_max_cm3"]))))
        return rows


def _bore(section):
    return figure(section["bore_mm"], "mm", "bore", [("bore", given(section["bore_mm"], "mm", "bore"))], "as chosen")


def cost(document):
    """Price of the pipe by its length; None where a bore has no price."""
    known = prices(document)
    sections = document["sections"]
    if not all([section["bore_mm"] in known for section in sections]):
        return None
    each = [known[section["bore_mm"]] for section in sections]
    return figure(sum([section["length_m"] * price for section, price in zip(sections, each)]), "count", "sum(lengths * prices)", [
        ("lengths", given([section["length_m"] for section in sections], "m", "length of each pipe")),
        ("prices", given(each, "count", "price a metre of each pipe, as entered"))], "as entered")
