"""What happened at a system in a period: what was due, done, found and closed, and which points were not confirmed fed."""
from datetime import date, timedelta
from functools import cache, cached_property

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
# kinds of which one that was closed before the period says nothing of it
_CLOSED = ("defect", "fault-case")


class Records:
    """What was recorded at systems until a period's end: one question to the store for each kind, however many the systems.

    begun    {system: when its first revision was made};  answers  {system: last answers of its rounds, as followed.last_answers}
    """

    def __init__(self, connection, systems, span):
        self._connection, self._span, self._systems = connection, span, [one["document"] for one in systems]
        self.begun = revisions.begun(connection, self._systems)
        self.answers = followed.last_answers(connection, self._systems)
        self._of_period, self._others, self._last = cache(self._of_period), cache(self._others), cache(self._last)

    def of(self, kind, system):
        """A system's records of a kind, the oldest first: those of the period, and before it as _SINCE_D says."""
        return self._of_period(kind).get(system, [])

    def recent(self, kind, system):
        """The same; where there are none, its newest few before."""
        return self.of(kind, system) or self._last(kind, self._others(kind)).get(system, [])

    def last(self, kind, system):
        """Its newest few before the end of the period."""
        return self._last(kind).get(system, [])

    def rounds_of_a_year(self, system):
        """All that were begun in a year before the end of the period."""
        return self._until_end(self._asked("round", [system], since=self._days_before(_YEAR_D)))

    def _of_period(self, kind):
        narrowed, found = {}, {}
        if kind in _SINCE_D:
            narrowed["since"] = self._days_before(_SINCE_D[kind])
        elif kind in _CLOSED:
            narrowed["touched"] = self._days_before(0)
        for one in self._until_end(self._asked(kind, self._systems, **narrowed)):
            found.setdefault(one["body"]["system"], []).append(one)
        return found

    def _others(self, kind):
        """Systems that have no record of a kind as _SINCE_D says."""
        found = self._of_period(kind)
        return tuple(one for one in self._systems if one not in found)

    def _last(self, kind, systems=None):
        found = revisions.last_few_of_each(self._connection, kind, systems=systems or self._systems, most=FEW, until=self._span.in_utc()[1])
        return {system: self._until_end(rows) for system, rows in found.items()}

    def _asked(self, kind, systems, **narrowed):
        return revisions.newest_of_kind(self._connection, kind, systems=systems, until=self._span.in_utc()[1], **narrowed)

    def _until_end(self, rows):
        """Rows as the store narrows, cut to the end of the period."""
        return [one for one in rows if self._span.over_by_its_end(one["body"].get("made_at") or one["made_at"])]

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
        self._here, self._records = span.clock.here, records or Records(connection, [system], span)
        self._begun = self._here(self._records.begun[system["document"]])
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
        return _only_signed(self._records.recent(kind, self.system["document"]))

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

    @cached_property
    def _looked(self):
        """({item's key: its last answer at the end of the period}, the signed rounds that tell of it)."""
        held = {key: answer_by(self.span.clock, row) for key, row in self._records.answers.get(self.system["document"], {}).items()}
        later = {key: answer for key, answer in held.items() if not self.span.over_by_its_end(answer["at"])}
        rounds = self._rounds
        told = _told(rounds, later)
        if any(self._is_untold(answer, told[key]) for key, answer in later.items()):
            rounds = _only_signed(self._records.rounds_of_a_year(self.system["document"]))
            told = _told(rounds, later)
        was = {key: self._as_it_was(answer, told[key][-1]) for key, answer in later.items() if told[key]}
        return {key: answer for key, answer in held.items() if key not in later} | was, rounds

    def _is_untold(self, answer, told):
        """True where rounds of the period and shortly before it (`told`: what they say) do not tell what an item, whose last answer was
        given since, was at the end, or since when it was not well."""
        marked = [answer.get(name) for name in ("since", "ok_at")]
        return not told or all(is_bad(one) for one in told) and not any(self.span.over_by_its_end(one) for one in marked)

    def _as_it_was(self, answer, last):
        """The last answer until the end (`last`), with what the one given since tells of the time before it."""
        over = self.span.over_by_its_end
        lowest = answer["lowest"] if over((answer["lowest"] or {}).get("at")) else None
        return dict(last, at=self._here(last["at"]), lowest=lowest,
                    **{name: answer[name] if over(answer[name]) else None for name in ("since", "ok_at")})

    @cached_property
    def _known(self):
        answers, rounds = self._looked
        worked = self._worked or for_care(self.body)
        rounds, runs = ([one["body"] | {"made_at": self._at(one)} for one in rows] for rows in (rounds, self._runs))
        last = {"round_at": rounds[-1]["made_at"] if rounds else None, "run_at": runs[-1]["made_at"] if runs else None}
        return {"answers": answers, "rounds": rounds, "runs": runs, "defects": [self._as_open(one) for one in self._defects],
                "worked": worked, "checklist": self._checklist, "system_at": self._begun, **last,
                "refills": [one["body"] | {"made_at": self._at(one)} for one in self._records.last("refill", self.system["document"])]}

    def _as_open(self, defect):
        """A defect's body as it was at the end of the period: what was closed since was open."""
        body = defect["body"] | {"made_at": self._at(defect)}
        return body if self.span.over_by_its_end((body.get("closed") or {}).get("at")) else body | {"closed": None}

    def at_its_end(self, units):
        """The engine's `care` at the end of the period: {"fed", "refill", "due"}, or {"findings"}; where the system was there in it also
        "lacked", the hours not confirmed fed, point by point, from its first day to the end of its last."""
        clock, after = self.span.clock, (date.fromisoformat(self.span.until) + timedelta(days=1)).isoformat()
        period = (clock.begin(self.first_day), clock.begin(after)) if self.first_day <= self.span.until else None
        return ask({"do": "care", "document": self.body, "now": clock.end(self.span.until), "known": self._known,
                    "day": self.span.until, "units": units, "period": period})

    def records(self):
        """{kind: [bodies]} of the records that the summary speaks of."""
        named = (("round", self.rounds), ("test-run", self.runs), *self.added.items(),
                 ("defect", self.found + self.closed + self.open), ("fault-case", self.cases))
        return {kind: [one["body"] for one in {one["id"]: one for one in rows}.values()] for kind, rows in named}


def _only_signed(rows):
    return [one for one in rows if one["body"].get("signed")]


def _told(rounds, keys):
    """{key: what rounds answered to the item of that key, the oldest first}, each with its `at`."""
    told = {key: [] for key in keys}
    for one in rounds if told else ():
        for item in one["body"]["items"]:
            if item["id"] in told and item.get("answer", "not done") != "not done":
                told[item["id"]].append(item | {"at": item.get("at") or one["body"].get("made_at") or one["made_at"]})
    return told
