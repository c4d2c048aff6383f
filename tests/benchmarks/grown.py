"""A grown plant for the benchmark of growth: 50 systems walked every week for years, from a seed, put in as an import puts it."""
import random
import uuid
from datetime import datetime, timedelta, timezone

from demo_site import plant
from webapp.engine.systems.checklist import checklist
from webapp.engine.systems.worked import work
from webapp.engine.words.present import present
from webapp.store import people
from webapp.store.whole import Restoring

SYSTEMS, ITEMS = 50, 40
NAME, PASSWORD, SITE = "supervisor", "benchmark only", "Grown works"
_END = datetime(2026, 11, 23, 8, tzinfo=timezone(timedelta(hours=1)))
_READ = {"l": (2, 6), "V": (22, 26), "A": (3, 5), "bar": (20, 120), "°C": (5, 40), "s": (60, 90)}


class Grown:
    """Makes the revisions of one plant in the order in which they came in: weeks, in each of them every system."""

    def __init__(self, years, seed=50):
        self._random, self._weeks, self._number = random.Random(seed), 52 * years, 0
        kinds = [(system, present(checklist(system, work(system, False)))["items"]) for system in plant.systems()]
        self.systems = [self._system(number, *kinds[number % len(kinds)]) for number in range(SYSTEMS)]
        self.person = self._id()

    def _id(self):
        return str(uuid.UUID(int=self._random.getrandbits(128), version=4))

    def _system(self, number, body, items):
        own = [{"key": "own:%d" % extra, "where": "whole", "says": "Own item %d" % extra, "answer": "ok", "unit": None, "low": None,
                "high": None} for extra in range(ITEMS)]
        body = dict(body, id=self._id(), site=SITE, area="Hall %d" % (number % 5), name="%s %d" % (body["name"], number))
        return {"body": body, "items": (items + own)[:ITEMS], "revision": None}

    def _revision(self, document, kind, body, at, parent=None, reason=None):
        self._number += 1
        at = at.isoformat()
        return {"id": self._id(), "number": self._number, "document": document, "kind": kind, "site": SITE, "parent": parent, "also": None,
                "made_at": at, "made_by": self.person, "phone": None, "received_at": at, "deleted": False, "reason": reason,
                "state": "accepted", "fields": [], "body": body}

    def _record(self, kind, system, at, **values):
        body = {"format": kind + "/1", "id": self._id(), "system": system["body"]["id"], "made_at": at.isoformat(), "made_by": NAME}
        return self._revision(body["id"], kind, dict(body, **values), at)

    def _item(self, item, at):
        row = {"id": item["key"], "where": item["where"], "ask": item["says"], "at": at, "answer": item["answer"]}
        if item["answer"] == "reading":
            row.update(unit=item["unit"], value=round(self._random.uniform(*_READ[item["unit"]]), 2), low=item["low"], high=item["high"])
        elif self._random.random() < 0.02:
            row.update(answer="not ok", note="Wiped, look again next time.")
        return row

    def revisions(self):
        """All of them, in order of number."""
        begin = _END - timedelta(weeks=self._weeks)
        for system in self.systems:
            yield self._change(system, begin, None)
        for week in range(self._weeks):
            for place, system in enumerate(self.systems):
                at = begin + timedelta(weeks=week, minutes=20 * place)
                yield self._record("round", system, at, items=[self._item(item, at.isoformat()) for item in system["items"]],
                                   signed={"by": NAME, "at": at.isoformat()})
                yield from self._beside(week, system, at)

    def _change(self, system, at, reason):
        made = self._revision(system["body"]["id"], "system", system["body"], at, system["revision"], reason)
        system["revision"] = made["id"]
        return made

    def _beside(self, week, system, at):
        """What comes between rounds: refills, notes, defects, adjustments, a test run and a change of the system a year."""
        signed = {"by": NAME, "at": at.isoformat()}
        if week % 4 == 1:
            yield self._record("refill", system, at, refill_l=round(self._random.uniform(1, 4), 2), batch="B-%d" % week)
        if week % 13 == 2:
            yield self._record("note", system, at, text="Seen in week %d." % week)
        if week % 26 == 3:
            closed = {"closed": dict(signed, how="Tightened.", evidence="reading", reading="dry after a cycle")}
            yield self._record("defect", system, at, where="whole", what="A fitting weeps.", severity="untidy",
                               **(closed if week < self._weeks - 26 else {}))
        if week % 52 == 4:
            yield self._record("adjustment", system, at, setting="pause", to="%d min" % week, why="Summer")
            yield self._record("test-run", system, at, at_c=12, signed=signed,
                               runs=[{"id": "1", "started_at": at.isoformat(), "build_s": 80.0, "vent_s": 6.0, "counts": True}])
            system["body"] = dict(system["body"], area="Hall %d" % self._random.randrange(5))
            yield self._change(system, at, "moved")


def fill(store, grown):
    """Put it all into an empty store, with a supervisor who works on all sites; returns how many revisions."""
    with store.writing() as connection:
        restoring = Restoring(connection)
        restoring.put("people", {"id": grown.person, "name": NAME, "role": people.SUPERVISOR, "sites": [SITE], "all_sites": True, "active": True})
        for count, revision in enumerate(grown.revisions(), 1):
            restoring.put("revisions", revision)
        restoring.end()
        people.set_password(connection, grown.person, PASSWORD)
    return count
