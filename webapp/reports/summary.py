"""Period summaries, of one system and of a plant: points not confirmed fed first, then what was due and done, found and closed."""
from datetime import datetime, timedelta

from ..engine.basics.text import shown
from ..engine.bridge import ask
from ..engine.document.documents import KINDS
from ..engine.document.record_fields import ADDED
from .base import day, page_of, render, together
from .defect_list import rows as defect_rows
from .plain import told
from .round_rows import answer_of

_CALLED = {"adjustment": "Settings changed"}
_EVIDENCE = {"photo": "a photo", "reading": "a reading", "test run": "a test run"}


class _Told:
    """One system's care (period.Care) as a reader reads it."""

    def __init__(self, care, reader, people):
        self.care, self.units, self.people = care, reader.units, people
        self.name = care.body.get("name") or "No name yet"
        self.end = care.at_its_end(reader.units)
        self.fed, self.lacked = self.end.get("fed"), self.end.get("lacked")

    def points(self):
        """Rows of the points that were not confirmed for some of the time, the longest first: system, name, for how long, spans,
        why at the end."""
        if not self.lacked:
            return []
        why = {row["point"]: row["because"]["says"] if row["because"] else "" for row in self.fed["points"]}
        rows = [{"system": self.name, "name": row["name"], "hours": row["hours"]["value"], "for": self._days(row["hours"]["value"]),
                 "because": why[row["point"]], "spans": "; ".join(_days_of(one, self.care.span.clock) for one in row["spans"])}
                for row in self.lacked["points"] if row["hours"]["value"] > 0]
        return sorted(rows, key=lambda row: (-row["hours"], row["name"]))

    def _days(self, hours):
        return shown(hours / 24, "days", self.units) if hours >= 48 else shown(hours, "h", self.units)

    def total(self):
        """Time of all points together that was not confirmed."""
        return self._days(self.lacked["hours"]["value"]) if self.lacked else "cannot be judged"

    def who(self, revision):
        return self.people.get(revision["made_by"], "unknown")

    def bad(self):
        """What rounds found: rows of system, when, where, what, answer, note."""
        return [{"system": self.name, "at": item.get("at") or revision["body"].get("made_at"), "where": item.get("where") or "",
                 "ask": item.get("ask") or item["id"], "answer": answer_of(item, self.units), "note": item.get("note") or ""}
                for revision, item in self.care.bad]

    def closed(self):
        """Defects and fault cases that were closed."""
        defects = [(one, "%s: %s" % (one["body"]["where"], one["body"]["what"]), _EVIDENCE[one["body"]["closed"]["evidence"]])
                   for one in self.care.closed]
        cases = [(one, "Fault: %s" % (one["body"].get("symptom") or "no symptom noted"), "") for one in self.care.cases]
        return [{"system": self.name, "at": one["body"]["closed"]["at"], "by": one["body"]["closed"]["by"], "what": what,
                 "how": one["body"]["closed"]["how"], "evidence": evidence} for one, what, evidence in defects + cases]

    def done(self):
        """[(what, how much was due, how much was done)] of the period."""
        care = self.care
        litres = sum(one["body"]["refill_l"] for one in care.refills)
        return [("Rounds, every %s" % shown(care.every_d, "days", self.units), str(care.due_rounds),
                 "%d signed%s" % (len(care.rounds), ", at most %s apart" % shown(care.gap_d, "days", self.units) if care.gap_d else "")),
                ("Test runs", "", "%d signed" % len(care.runs)),
                ("Refills", "", "%d%s" % (len(care.refills), ", %s in all" % shown(litres, "l", self.units) if litres else "")),
                *((_CALLED.get(kind, ADDED[kind][0]), "", str(len(rows))) for kind, rows in care.added.items() if kind != "refill")]

    def changed(self):
        """What was added at the system, by time."""
        rows = [(one, *self._said(kind, one["body"])) for kind, found in self.care.added.items() for one in found]
        return sorted([{"at": one["body"]["made_at"], "by": self.who(one), "what": what, "why": why} for one, what, why in rows],
                      key=lambda row: row["at"])

    def _said(self, kind, body):
        """(What was done, why or which) by a record that was added."""
        if kind == "adjustment":
            return "%s: %s → %s" % (body["setting"], body.get("from") or "not noted", body["to"]), body["why"]
        if kind == "note":
            return body["text"], ""
        if kind == "refill":
            which = [part for part in (body.get("lubricant"), body.get("batch")) if part]
            return "%s filled in" % shown(body["refill_l"], "l", self.units), ", ".join(which)
        return KINDS[kind][0], "; ".join("%s: %s" % one for one in told(kind, body, self.units, self.care.span.clock))


def _days_of(spell, clock):
    """A spell's first and last day; one that ends at midnight does not reach into the next day."""
    last = datetime.fromisoformat(spell["until"]) - timedelta(seconds=1)
    first, last = together(day(spell["from"], clock)), together(day(last.isoformat(), clock))
    return first if first == last else "%s to %s" % (first, last)


def _attached(told):
    return {"system": told.care.body, "records": told.care.records(), "care": told.end}


def system_summary(reader, care, people):
    """Paper of one system's care in a period; care: period.Care, people: {id: name}."""
    told, span = _Told(care, reader, people), care.span
    found = defect_rows(reader, care.found, {care.body["id"]: told.name}, span.until, people)
    return render(reader, "summary.html", "Period summary: %s" % told.name, span.until + "T00:00:00+00:00",
                  {"summary.json": _attached(told)}, page_of(care.system["document"]), kind="Period summary", system=care.body,
                  revision="%s · days by %s" % (span, span.clock.name), told=told, care=care, points=told.points(), bad=told.bad(),
                  found=found, closed=told.closed(), done=told.done(), changed=told.changed(), late=len(care.overdue))


def plant_summary(reader, plant, cares, span):
    """Paper of many systems' care in a period; plant: papers.Plant, cares: a period.Care of each of its systems."""
    told = [_Told(care, reader, plant.people) for care in cares]
    found = defect_rows(reader, [one for care in cares for one in care.found], plant.names, span.until, plant.people)
    by_time = {"bad": [row for one in told for row in one.bad()], "closed": [row for one in told for row in one.closed()]}
    return render(reader, "plant_summary.html", "Period summary: %s" % plant.where, plant.made_at(span),
                  {"summary.json": {"where": plant.where, "systems": [_attached(one) for one in told]}}, "/plant",
                  kind="Period summary", where=plant.where, revision="%s · %d systems · days by %s" % (span, len(told), span.clock.name),
                  systems=sorted(told, key=_worst), points=sorted([row for one in told for row in one.points()], key=_longest),
                  found=found, **{name: sorted(rows, key=lambda row: row["at"]) for name, rows in by_time.items()})


def _longest(row):
    return -row["hours"], row["system"], row["name"]


def _worst(told):
    return -(told.lacked["hours"]["value"] if told.lacked else 1e12), told.name


def refill_list(reader, plant, cares, span):
    """Paper of what is to be filled in where, and of what was in the period: the soonest first, and what to carry."""
    rows, apart = [], []
    for care in cares:
        name, end = care.body.get("name") or "No name yet", care.at_its_end(reader.units)
        if "refill" in end:
            rows.append({"name": name, "area": care.body.get("area") or "", "refill": end["refill"]})
        else:
            apart.append(name)
    rows.sort(key=lambda row: (row["refill"]["low_on"] or "9999", row["name"]))
    carried = ask({"do": "carry", "rows": rows, "units": reader.units})["carry"]
    filled = [{"at": body["made_at"], "system": care.body.get("name") or "No name yet", "by": plant.people.get(one["made_by"], "unknown"),
               "litres": shown(body["refill_l"], "l", reader.units), "lubricant": body.get("lubricant") or "",
               "batch": body.get("batch") or ""}
              for care in cares for one, body in ((one, one["body"]) for one in care.refills)]
    return render(reader, "refill_list.html", "Refill list: %s" % plant.where, plant.made_at(span),
                  {"refills.json": {"systems": rows, "carry": carried, "filled": [one["body"] for care in cares for one in care.refills]}},
                  "/plant/refills", kind="Refill list", where=plant.where, revision="For %s · %d systems" % (day(span.until), len(cares)),
                  rows=rows, apart=apart, carried=carried, filled=sorted(filled, key=lambda row: (row["at"], row["system"])), span=span)
