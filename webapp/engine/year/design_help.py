"""Design help: for a line that does not work the smallest changes that make it work, each simulated; for a planned one a proposal."""
from collections import OrderedDict

from ..line import line
from . import build_ups
from .design_changes import (far_end, prices, roomy, series, softer, split, tapered, widened, with_bores, with_delivery, with_switch_at,
                             with_switch_counting)
from ..basics.adding import added_up
from ..basics.figure import COMMON_PRACTICE, figure, given
from ..basics.findings import finding
from ..basics.kinds import DUAL, PROGRESSIVE, TIMED
from ..feeding.interval import DEFAULT_LONGEST_EVENT_H
from ..systems.job import DEFAULT_OVER_FEED
from ..systems.line_findings import NEAR
from .outlook import IDLE, RELIEF, RESET, TIME_LIMIT, Outlook, begun
from ..line.tree import PUMP, Tree, spot
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
    A row: change, works, limit (what stops it), build, drop, volume, cost, what outlook.figures gives (all at the coldest), about.
    What a kind has no place for is not tried: no switch elsewhere where nothing confirms, no cut through blocks that move in turn.
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
        self.worked, self.at_c, self.kind = worked, document["ambient"]["coldest_c"], document["kind"]
        self.document = dict(document)
        self.document.pop("measured", None)
        self.doses = doses_from(document, worked)
        self.traces = worked.get("traces")
        self.here = self.look(self.document, self.traces)
        self.works = self.does(self.here)

    def look(self, document, traces=None):
        """The outlook of a document at the coldest temperature, with the document."""
        outlook = Outlook(document, self.worked, traces, build_ups.of_devices(document, self.doses))
        out = outlook.at(self.at_c)
        out.update(document=document, share=build_ups.share(document, self.at_c)[0], figures=outlook.figures(out))
        return out

    def does(self, outlook):
        """True where nothing stops it, with a fifth to spare (build_ups.share)."""
        return outlook["limit"] is None and outlook["share"] < NEAR

    def try_change(self, name):
        """The row of one change; None where there is nothing of the kind to change."""
        found = {"bores": self._bores, "grade": self._grade, "delivery": self._delivery, "switch": self._switch,
                 "split": self._split, "plan": self._plan}[name]()
        return self.row(name, *found) if found else None

    # ---- the changes: (outlook, values of the sentence) or None

    def _bores(self):
        out = self._widen(roomy(self.document, self.at_c))
        if out is None:
            return None
        changed = [(before, after) for before, after in zip(self.document["sections"], out["document"]["sections"])
                   if before["bore_mm"] != after["bore_mm"]]
        if not changed:
            return None
        return out, [("count", given(len(changed), "count", "pipes")), ("pipes", ", ".join([after["id"] for _, after in changed])),
                     ("length", given(added_up([after["length_m"] for _, after in changed]), "m", "length of pipe changed")),
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
        tight = self.here["share"] >= NEAR
        up = self.here["limit"] not in (RELIEF, IDLE) and not (tight and self.kind == PROGRESSIVE)
        factors = [_NEXT_PUMP ** (k if up else -k) for k in range(1, (1 if tight and self.kind != PROGRESSIVE else _MOST_PUMPS) + 1)]
        changed = [with_delivery(self.document, factor) for factor in factors]
        return self._first([(document, [("delivery", given(document["pump"]["delivery_cm3_min"], "cm³/min", "delivery"))])
                            for document in changed])

    def _switch(self):
        if self.kind == TIMED:
            return None
        if self.kind == PROGRESSIVE:
            return self._counts()
        now, tree = self.document["switches"][0]["at"], Tree(self.document)
        end = far_end(self.document)
        way = [PUMP] + [section["to"] for section in tree.way(end)]
        nodes = []
        for node in (end, way[len(way) // 2], way[len(way) // 4], PUMP):
            if node != now and node not in nodes:
                nodes.append(node)
        return self._first([(with_switch_at(self.document, node), [("node", spot(self.document, node))]) for node in nodes])

    def _counts(self):
        """The cycle switch on blocks that go round more often, the quickest last."""
        from ..events.blocks import turns
        turned = turns(self.document)
        now = turned[self.document["switches"][0]["counts"]]
        ranked = sorted([(turned[block["id"]], block["id"]) for block in self.document["devices"] if turned[block["id"]] > now * 1.001])
        return self._first([(with_switch_counting(self.document, block), [("node", block)]) for _, block in ranked])

    def _split(self):
        found = None if self.kind == PROGRESSIVE else split(self.document, self.at_c)
        if found is None:
            return None
        node, near, far = found
        parts = [self.look(part) for part in (near, far)]
        worse = min([(self.does(part), -part["share"], number) for number, part in enumerate(parts)])[2]
        parts[worse]["pipe"] = dict(near, sections=near["sections"] + far["sections"])
        return parts[worse], [("node", spot(self.document, node)), ("near", given(len(near["points"]), "count", "points")),
                          ("far", given(len(far["points"]), "count", "points"))]

    def _plan(self):
        """Bores for a line that is still to be bought: the narrowest that work, none narrower than what it feeds."""
        narrowest = series(self.document)[0]
        document = roomy(with_bores(self.document, [narrowest for _ in self.document["sections"]]), self.at_c)
        most = self.document["pump"]["relief_bar"] - build_ups.wanted_bar(self.document)
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
        tight = RELIEF if self.kind == PROGRESSIVE else RESET
        out = OrderedDict((("change", name), ("works", works), ("limit", outlook["limit"] or (None if works else tight))))
        out["build"] = build_ups.told(document, outlook["trace"], build_ups.slowest(document, outlook["trace"])[1])
        out["drop"] = line.drop(document, self.at_c)
        out.update(outlook["figures"])
        pipe = outlook.get("pipe", document)
        out["volume"], out["cost"] = line.volume(pipe), cost(pipe)
        out["sections"] = [OrderedDict((("id", section["id"]), ("bore", _bore(section)))) for section in pipe["sections"]]
        told = "counts" if name == "switch" and self.kind == PROGRESSIVE else name
        out["about"] = finding("note" if works else "warn", "sections", "design.%s%s" % (told, "" if works else "_not"),
                               values + [("spare", {"words": ["word.spare." + tight]})])
        return out

    def outputs(self):
        """What each device, or outlet of a block, should give in an event against what it can: in the longest event allowed; where the
        blocks settle what each gives, in the event that they were worked to need."""
        if self.kind == PROGRESSIVE:
            interval = self.worked["interval"]
            hours, cycles, means = interval["event"]["value"] / 3600, interval["cycles_per_event"]["value"], "event as worked"
        else:
            choices = self.document.get("choices") or {}
            hours, cycles, means = choices.get("longest_event_h"), choices.get("cycles_per_event") or 1, "longest event allowed"
        event = given(DEFAULT_LONGEST_EVENT_H if hours is None else hours, "h", means), given(cycles, "count", "cycles per event")
        return [self._output(name, need, device, event) for name, need, device in self._wanted() if need > 0]

    def _wanted(self):
        """[(name, largest need [cm³/h] on it, device)] of what can be given an output: devices, or outlets of blocks."""
        needs, out = {}, []
        for point, figures in zip(self.document["points"], self.worked["points"]):
            key = (point["device"], point.get("outlet") if self.kind == PROGRESSIVE else None)
            needs[key] = max(needs.get(key, 0.0), figures["need"]["value"])
        for device in self.document["devices"]:
            outlets = [outlet["id"] for outlet in device["outlets"]] if self.kind == PROGRESSIVE else [None]
            out += [(device["id"] + (" " + outlet if outlet else ""), needs[(device["id"], outlet)], device)
                    for outlet in outlets if (device["id"], outlet) in needs]
        return out

    def _output(self, name, need, device, event):
        hours, cycles = event
        inputs = [("need", given(need, "cm³/h", "largest need on it")), ("hours", hours), ("cycles", cycles)]
        formula, wanted = "need * hours / cycles", need * hours["value"] / cycles["value"]
        if self.kind == PROGRESSIVE:
            from ..events import blocks
            turned, gives = blocks.turns(self.document)[device["id"]], blocks.gives(self.document)[tuple(name.split(" ", 1))]
            formula, wanted = formula + " / turns", wanted / turned
            inputs.append(("turns", given(turned, "ratio", "cycles of its block in a cycle of the first, as it is")))
            fits = wanted <= gives * (1 + 1e-9) and gives <= wanted * self._over_feed()
        else:
            fits = device["output_min_cm3"] <= wanted <= device["output_max_cm3"]
        return OrderedDict((("device", name), ("output", figure(wanted, "cm³", formula, inputs, COMMON_PRACTICE)), ("fits", fits)))

    def _over_feed(self):
        limit = (self.document.get("choices") or {}).get("over_feed_limit")
        return DEFAULT_OVER_FEED if limit is None else limit


def _bore(section):
    return figure(section["bore_mm"], "mm", "bore", [("bore", given(section["bore_mm"], "mm", "bore"))], "as chosen")


def cost(document):
    """Price of the pipe by its length; None where a bore has no price."""
    known = prices(document)
    sections = document["sections"]
    if not all([section["bore_mm"] in known for section in sections]):
        return None
    each = [known[section["bore_mm"]] for section in sections]
    pipes = 2 if document["kind"] == DUAL else 1
    return figure(pipes * added_up([section["length_m"] * price for section, price in zip(sections, each)]), "count",
                  "pipes * sum(lengths * prices)", [
        ("pipes", given(pipes, "count", "pipes that each section stands for")),
        ("lengths", given([section["length_m"] for section in sections], "m", "length of each pipe")),
        ("prices", given(each, "count", "price a metre of each pipe, as entered"))], "as entered")
