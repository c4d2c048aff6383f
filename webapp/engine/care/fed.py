"""Which lubrication points are confirmed fed, since when the others are not, and why: now, and over a period.

A point is confirmed while a cycle was completed by its switch and its device was seen to move, both within a month, and nothing open
says otherwise. A time-only system says nothing by itself: there a round must have seen fresh lubricant, within the time of a round.
All work is on spans of days in which something is missing; `EVER` is before any record, `END` after any.
"""
from collections import OrderedDict

from ..basics.adding import added_up
from ..basics.dates import day_of, day_text, days_of, moment_of, offset_of
from ..basics.figure import figure, given
from ..basics.findings import finding
from ..basics.kinds import DUAL, PROGRESSIVE, TIMED
from ..systems.checklist import ROUND_EVERY_D
from .looked import BAD, END, EVER, GOOD, NOTHING, looked

MONTH_D = 31.0
# consequences that mean: not fed, or stopped so that nobody is hurt; the milder ones work today
_SAY_OTHERWISE = ("danger", "starving")
_CYCLE = {DUAL: {"A": "timed_line_a:whole", "B": "timed_line_b:whole"}, PROGRESSIVE: "timed_turn:whole"}
_FOR_ALL = ("pump_runs:pump", "controller_faults:controller", "vent_falls:pump")


def fed(lacks):
    """{"points": [...], "unconfirmed", "of", "longest", "told"} now, as Lacks knows it; texts not filled in.

    A point: point, name, confirmed, since (RFC 3339; None where it never was confirmed), for_d [days], because (a finding or None).
    """
    points = [_at(point, lacks.of(point), lacks.moment) for point in lacks.document["points"]]
    open_ones = [row for row in points if not row["confirmed"]]
    ever = [row for row in open_ones if row["since"] is None]
    longest = (ever or sorted(open_ones, key=lambda row: (-row["for_d"], row["point"])) or [None])[0]
    out = OrderedDict((("points", points), ("unconfirmed", len(open_ones)), ("of", len(points)),
                       ("since", longest and longest["since"]), ("for_d", longest and longest["for_d"])))
    out["told"] = _told(out, offset_of(lacks.now))
    return out


def _told(out, offset):
    values = [("count", given(out["unconfirmed"], "count", "points")), ("of", given(out["of"], "count", "points"))]
    if not out["unconfirmed"]:
        return finding("note", "points", "fed.all", values)
    if out["since"] is None:
        return finding("warn", "points", "fed.some_never", values)
    return finding("warn", "points", "fed.some", values + [
        ("since", day_text(days_of(out["since"]) + offset)), ("days", given(out["for_d"], "days", "since"))])


def _at(point, lacks, moment):
    """One point at one moment, from what it lacks: [(spans, why)], the weightiest first."""
    here = [(begin, why) for spans, why in lacks for begin, end in joined(spans) if begin <= moment < end]
    since = min([begin for begin, _ in here] + [moment])
    counted = bool(here) and since > EVER
    return OrderedDict((("point", point["id"]), ("name", point["name"]), ("confirmed", not here),
                        ("since", moment_of(since) if counted else None), ("for_d", moment - since if counted else None),
                        ("because", here[0][1] if here else None)))


def over(lacks, begin, end):
    """{"points": [{point, name, hours, spans: [{"from", "until"}]}], "hours"} not confirmed from `begin` to `end` (RFC 3339).

    lacks   of a system of which rounds and runs are known from a month before the period on, and all defects, closed ones too
    """
    first, last = days_of(begin), days_of(end)
    rows = []
    for point in lacks.document["points"]:
        spans = [(max(first, start), min(last, stop)) for start, stop in
                 joined([span for spans, _ in lacks.of(point) for span in spans]) if start < last and stop > first]
        hours = [24 * (stop - start) for start, stop in spans]
        rows.append(OrderedDict((("point", point["id"]), ("name", point["name"]), ("hours", _sum(hours, "each span")),
                                 ("spans", [{"from": moment_of(start), "until": moment_of(stop)} for start, stop in spans]))))
    return {"points": rows, "hours": _sum([row["hours"]["value"] for row in rows], "each point")}


def _sum(hours, means):
    return figure(added_up(hours), "h", "sum(hours)", [("hours", given(hours, "h", means))], "time not confirmed fed")


def joined(spans):
    """The same time as spans that neither touch nor overlap, in order."""
    out = []
    for begin, end in sorted(spans):
        if out and begin <= out[-1][1]:
            out[-1] = (out[-1][0], max(out[-1][1], end))
        else:
            out.append((begin, end))
    return out


def without(spans):
    """All time but these spans."""
    out, begin = [], EVER
    for start, end in joined(spans):
        if start > begin:
            out.append((begin, start))
        begin = max(begin, end)
    return out + [(begin, END)] if begin < END else out


def within(spans, frames):
    """The parts of the spans that lie within one of the frames."""
    cut = [(max(begin, first), min(end, last)) for begin, end in spans for first, last in frames]
    return [(begin, end) for begin, end in cut if begin < end]


class Lacks:
    """What the points of a system lack, and when, as far as it is known at `now` (RFC 3339).

    known   of the system, each part may be missing: "answers" {item's key: last answer}, "runs" [signed test runs],
            "rounds" [signed rounds], "defects" [open ones, or all], "worked", "checklist", "system_at" (its newest revision)
    """

    def __init__(self, document, now, known):
        self.document, self.now, self.moment, self.known = document, now, days_of(now), known
        self.kind = document["kind"]
        checklist, worked = known.get("checklist") or {}, known.get("worked") or {}
        self.left_out = [item["id"] for item in checklist.get("items") or [] if item.get("left_out")]
        self.round_d = (checklist.get("round_every_d") or ROUND_EVERY_D) + 1.0  # the day on which it is due is still in time
        build = worked.get("build") or {}
        limit = (build.get("time_limit") or build.get("window") or {}).get("value")
        self.log = looked(document, known, self.moment, limit)
        self.stops = [entry for entry in worked.get("findings") or [] if entry["severity"] == "stop"]
        self.defects = [defect for defect in known.get("defects") or [] if defect.get("severity") in _SAY_OTHERWISE]
        self.below, self.points, self.bad, self.lacking = _below(document), {}, {}, {}

    def of(self, point):
        """[(spans, why)] of one point, the weightiest first."""
        if point["id"] not in self.points:
            self.points[point["id"]] = self._of(point)
        return self.points[point["id"]]

    def _of(self, point):
        cycle = _CYCLE.get(self.kind, "timed_cycle:whole")
        cycle = cycle[point["side"]] if self.kind == DUAL else cycle
        moves = "%s:%s" % ({PROGRESSIVE: "block_moves", DUAL: "device_moves_twice"}.get(self.kind, "device_moves"), point["device"])
        film, line = "point_film:" + point["id"], "point_line:" + point["id"]
        lacks = [([self._while_open(defect)], finding("warn", "defects", "fed.defect", [("what", defect.get("what") or "")]))
                 for defect in self.defects if point["id"] in self._concerned(defect)]
        at = days_of(self.known.get("system_at"))
        lacks += [([(EVER if at is None else at, END)], entry) for entry in self.stops
                  if not entry["where"].startswith("points.") or entry["where"] == "points." + point["id"]]
        for key in _FOR_ALL + (() if self.kind == TIMED else (cycle,)) + (moves, line, film):
            lacks += self._while_bad(key)
        if self.kind != TIMED:
            lacks.append(self._lacking(cycle, MONTH_D, "fed.cycle"))
        unseen = [(EVER, END)] if moves in self.left_out else self._while(moves, NOTHING)
        spans, why = self._lacking(moves, MONTH_D, "fed.moves")
        lacks.append((within(spans, without(unseen)), why))
        # where a device shows nothing, fresh lubricant at the point stands in for it
        spans, why = self._lacking(film, self.round_d if self.kind == TIMED else MONTH_D, "fed.film")
        lacks.append((spans if self.kind == TIMED else within(spans, unseen), why))
        return [(spans, why) for spans, why in lacks if spans]

    def _while_open(self, defect):
        begin, end = days_of(defect.get("made_at")), days_of((defect.get("closed") or {}).get("at"))
        return EVER if begin is None else begin, END if end is None else end

    def _concerned(self, defect):
        """Ids of the points that a defect concerns: those it names, else those fed through its place, else all."""
        named = defect.get("points")
        return named if named else self.below.get(defect.get("place")) or [point["id"] for point in self.document["points"]]

    def _while(self, key, wanted):
        """Spans in which the last answer was GOOD, NOTHING or BAD."""
        rows = self.log.get(key, [])
        ends = [row[0] for row in rows[1:]] + [END]
        return [(row[0], end) for row, end in zip(rows, ends) if row[2] == wanted]

    def _while_bad(self, key):
        """[(spans in which the last answer was that it is not well, why by the newest)], or []; what concerns all points is told once."""
        if key not in self.bad:
            found = [row for row in self.log.get(key, []) if row[2] == BAD]
            self.bad[key] = [(self._while(key, BAD), _not_well(*found[-1][3:]))] if found else []
        return self.bad[key]

    def _lacking(self, key, lasting, identifier):
        """(spans without a good answer of at most `lasting` days before, why)."""
        if key not in self.lacking:
            self.lacking[key] = self._without_good(key, lasting, identifier)
        return self.lacking[key]

    def _without_good(self, key, lasting, identifier):
        spans = without([(begin, min(begin + lasting, end)) for begin, end in self._while(key, GOOD)])
        last = [row[3] for row in self.log.get(key, []) if row[2] == GOOD]
        if not last:
            return spans, finding("warn", "points", identifier + "_never")
        return spans, finding("warn", "points", identifier, [("on", day_text(day_of(last[-1])))])


def _not_well(at, item, limit):
    """Why an answer says that points are not fed."""
    values = [("where", item.get("where") or ""), ("ask", item.get("ask") or item["id"]), ("on", day_text(day_of(at)))]
    if item["answer"] != "reading":
        return finding("warn", "points", "fed.not_ok", values)
    return finding("warn", "points", "fed.reading", values + [
        (name, given(value, item.get("unit") or "1", name)) for name, value in (("value", item["value"]), ("limit", limit))])


def _below(document):
    """{id of a pipe, device or point: ids of the points fed through it}; a progressive block holds up all others, so it is not there."""
    out = {point["id"]: [point["id"]] for point in document["points"]}
    if document["kind"] == PROGRESSIVE:
        return out
    from ..line.tree import Tree
    tree = Tree(document)
    for device in document["devices"]:
        points = [point["id"] for point in document["points"] if point["device"] == device["id"]]
        for place in [device["id"]] + [section["id"] for section in tree.way(device["at"])]:
            out[place] = out.get(place, []) + points
    return out
