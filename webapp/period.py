"""What happened at a system in a period: what was due, done, found and closed, and which points were not confirmed fed."""
from datetime import date, timedelta
from functools import cached_property

from .care import FEW, answer_by
from .engine.bridge import ask
from .engine.care.due import round_days
from .engine.document.record_fields import ADDED
from .reports.defect_list import is_overdue, open_on
from .reports.round_rows import is_bad
from .store import followed, revisions
from .worked import for_care

# rounds before the period that still say something of it [days]; and of an item that is asked once a year
_BEFORE_D, _YEAR_D = 35, 400
# kinds of which only what was made in the period counts, and so many days before it; of all others whatever came before its end
_SINCE_D = dict({kind: 0 for kind in ADDED}, **{"round": _BEFORE_D, "test-run": _BEFORE_D})


class Records:
    """What was recorded at systems until a period's end: one question to the store for each kind, however many the systems."""

    def __init__(self, connection, systems, span):
        self._connection, self._span, self._found = connection, span, {}
        self._sites = sorted({one["site"] for one in systems})
        self._alone = systems[0]["document"] if len(systems) == 1 else None

    def of(self, kind, system):
        """A system's records of a kind, the oldest first: those of the period, and before it as _SINCE_D says."""
        if kind not in self._found:
            found = self._found[kind] = {}
            narrowed = {"since": self._days_before(_SINCE_D[kind])} if kind in _SINCE_D else {}
            for one in self._asked(kind, self._alone, self._sites, **narrowed):
                found.setdefault(one["body"]["system"], []).append(one)
        return self._found[kind].get(system, [])

    def last(self, kind, system, before_d=None):
        """Its newest few before the end of the period; or all from so many days before the period on."""
        return self._asked(kind, system, **({"most": FEW} if before_d is None else {"since": self._days_before(before_d)}))

    def _asked(self, kind, system, sites=None, **narrowed):
        """As the store narrows, cut to the end of the period."""
        found = revisions.newest_of_kind(self._connection, kind, sites, system, until=self._span.in_utc()[1], **narrowed)
        return [one for one in found if self._span.over_by_its_end(one["body"].get("made_at") or one["made_at"])]

    def _days_before(self, days):
        return (date.fromisoformat(self._span.in_utc()[0]) - timedelta(days=days)).isoformat()


class Care:
    """One system's care in a period, by the days of the plant's clock. Records are revisions.

    rounds, runs           signed in the period;  added  {kind that is added at a system: those made in it}, `refills` among them
    bad                    [(round, item)] of answers that were not well
    found, closed, open    defects raised in it, closed in it, open at its end;  cases  fault cases closed in it
    every_d, gap_d         days from one round to the next as asked, and the longest that went by
    """

    def __init__(self, connection, system, span, records=None, worked=None):
        """records: Records of this system among others; worked: what engine.care asks of it worked, where that is kept."""
        self.system, self.span, self.body, self._worked = system, span, system["body"], worked
        self._connection, self._here, self._records = connection, span.clock.here, records or Records(connection, [system], span)
        self._begun = self._here(revisions.first(connection, system["document"])["made_at"])
        self._rounds, self._runs, self._defects = self._signed("round"), self._signed("test-run"), self._of("defect")
        self._checklist = ([one["body"] for one in self._of("checklist")] or [None])[-1]
        self.rounds, self.runs = self._within(self._rounds), self._within(self._runs)
        self.added = {kind: self._within(self._of(kind)) for kind in ADDED}
        self.refills = self.added["refill"]
        self.bad = [(one, item) for one in self.rounds for item in one["body"]["items"] if is_bad(item)]
        self.found, self.open = self._within(self._defects), open_on(self._defects, span)
        self.closed, self.cases = self._closed(self._defects), self._closed(self._of("fault-case"))
        self.every_d = round_days(self._checklist)
        self.gap_d = self._longest_gap()

    def _of(self, kind):
        return self._records.of(kind, self.system["document"])

    def _signed(self, kind):
        """Those signed in the period and shortly before it, else the last few before."""
        found = self._of(kind) or self._records.last(kind, self.system["document"])
        return [one for one in found if one["body"].get("signed")]

    def _at(self, revision):
        """When a record was made, by the plant's clock."""
        return self._here(revision["body"].get("made_at") or revision["made_at"])

    def _within(self, rows):
        return [one for one in rows if self.span.holds(self._at(one))]

    def _closed(self, rows):
        return [one for one in rows if self.span.holds((one["body"].get("closed") or {}).get("at"))]

    @property
    def first_day(self):
        """The period's first day, or the one on which the system was entered."""
        return max(self.span.since, self._begun[:10])

    @property
    def due_rounds(self):
        """How many rounds the period asked for at least."""
        return max(0, (date.fromisoformat(self.span.until) - date.fromisoformat(self.first_day)).days + 1) // self.every_d

    @property
    def rounds_kept(self):
        """How many of the rounds that were due were signed; more than were due do not make up for another system's."""
        return min(len(self.rounds), self.due_rounds)

    def _longest_gap(self):
        """Longest time without a round in the period [days], from the last one before it on."""
        before = [self._at(one)[:10] for one in self._rounds if self._at(one)[:10] < self.span.since]
        days = [max(before)] if before else [self.first_day]
        days += sorted(self._at(one)[:10] for one in self.rounds) + [self.span.until]
        return max((date.fromisoformat(later) - date.fromisoformat(earlier)).days for earlier, later in zip(days, days[1:]))

    @property
    def overdue(self):
        """Defects that were open and overdue at the end."""
        return [one for one in self.open if is_overdue(one["body"], self.span.until)]

    def _answers(self):
        """{item's key: its last answer at the end of the period}."""
        over, held = self.span.over_by_its_end, followed.last_answers(self._connection, self.system["document"])
        rows = {key: row for key, row in held.items() if over(row["at"])}
        if len(rows) < len(held):  # answered since: what was known at the end stands in older rounds
            for one in self._records.last("round", self.system["document"], _YEAR_D):
                if one["body"].get("signed"):
                    rows.update(followed.newer_answers(rows, one))
        return {key: answer_by(self.span.clock, row) for key, row in rows.items()}

    @cached_property
    def _known(self):
        worked = self._worked or for_care(self.body)
        rounds, runs = ([one["body"] | {"made_at": self._at(one)} for one in rows] for rows in (self._rounds, self._runs))
        defects = [{key: value for key, value in one["body"].items() if key != "closed"} | {"made_at": self._at(one)} for one in self.open]
        last = {"round_at": rounds[-1]["made_at"] if rounds else None, "run_at": runs[-1]["made_at"] if runs else None}
        return {"answers": self._answers(), "rounds": rounds, "runs": runs, "defects": defects, "worked": worked,
                "checklist": self._checklist, "system_at": self._begun, **last,
                "refills": [one["body"] | {"made_at": self._at(one)} for one in self._records.last("refill", self.system["document"])]}

    def at_its_end(self, units):
        """The engine's `care` at the end of the period: {"fed", "refill", "due"}, or {"findings"}."""
        known = dict(self._known, rounds=[])  # last answers say the same in less
        return ask({"do": "care", "document": self.body, "now": self.span.clock.end(self.span.until), "known": known,
                    "day": self.span.until, "units": units})

    def unconfirmed(self, units):
        """The engine's hours not confirmed fed, point by point, from the first day to the end of the last; None where there is no day."""
        if self.first_day > self.span.until:
            return None
        known = dict(self._known, defects=[one["body"] for one in self._defects], answers={})
        clock, after = self.span.clock, (date.fromisoformat(self.span.until) + timedelta(days=1)).isoformat()
        return ask({"do": "unconfirmed", "document": self.body, "begin": clock.begin(self.first_day), "end": clock.begin(after),
                    "known": known, "units": units})

    def records(self):
        """{kind: [bodies]} of the records that the summary speaks of."""
        named = (("round", self.rounds), ("test-run", self.runs), *self.added.items(),
                 ("defect", self.found + [one for one in self.closed + self.open if one not in self.found]), ("fault-case", self.cases))
        return {kind: [one["body"] for one in {one["id"]: one for one in rows}.values()] for kind, rows in named}
