"""A period counts the days of the plant's clock, over a change of clocks too, whatever zone the server's process is in."""
import json
import random
import time
from contextlib import ExitStack
from datetime import date, timedelta

import pytest

from demo_site import plant
from tests.engine.cared import a_defect, a_round
from tests.store.conftest import a_revision
from webapp import papers
from webapp.clock import Clock
from webapp.period import Care
from webapp.reports.base import Reader
from webapp.reports.span import Span
from webapp.store import revisions

VIENNA, UTC = Clock("Europe/Vienna"), Clock()
MARCH = "2026-03-01", "2026-03-31"  # of 743 hours in Vienna: its 29th has 23
RIG = plant.head_rig()
ENTERED = "2026-02-20T08:00:00+01:00"
# each Sunday half an hour past midnight in Vienna
SUNDAYS = ["2026-03-%02dT00:30:00+01:00" % day for day in (1, 8, 15, 22, 29)]
AFTER = "2026-03-31T22:15:00+00:00"  # the 1st of April in Vienna


@pytest.fixture
def care(store):
    """care(times of rounds, clock): the care of March of a system walked then."""
    with ExitStack() as open_ones:
        def make(times, clock=VIENNA):
            rounds = [dict(a_round(RIG, at), id="round-" + at) for at in times]
            with store.writing() as connection:
                revisions.add(connection, a_revision(RIG["id"], body=RIG, made_at=ENTERED), "accepted")
                for body in rounds:
                    revisions.add(connection, a_revision(body["id"], kind="round", body=body, made_at=body["made_at"]), "accepted")
            connection = open_ones.enter_context(store.reading())
            return Care(connection, revisions.newest(connection, RIG["id"]), Span(*MARCH, clock))
        yield make


def test_a_month_in_which_nothing_was_seen_lacks_each_of_its_hours_and_no_day_more(care):
    found = care([])
    hours = found.at_its_end("metric")["lacked"]
    spans = {(one["from"], one["until"]) for row in hours["points"] for one in row["spans"]}
    assert [row["hours"]["value"] for row in hours["points"]] == pytest.approx([743] * len(RIG["points"]))
    assert [tuple(VIENNA.here(text)[:19] for text in span) for span in spans] == [("2026-03-01T00:00:00", "2026-04-01T00:00:00")]
    assert (found.due_rounds, found.gap_d) == (4, 30)


@pytest.mark.parametrize("clock, count, gap_d", [(VIENNA, 5, 7), (UTC, 5, 7)])
def test_rounds_a_week_apart_are_seven_days_apart_over_the_change_of_clocks(care, clock, count, gap_d):
    found = care(SUNDAYS + [AFTER], clock)
    assert (len(found.rounds), found.gap_d) == (count, gap_d)
    assert (found.rounds[-1]["body"]["made_at"] == AFTER) is (clock is UTC)


def test_the_next_round_is_due_a_week_of_the_calendar_later(care):
    entry = next(one for one in care(SUNDAYS).at_its_end("metric")["due"] if one["what"] == "round")
    assert (entry["due"], entry["days"]) == ("2026-04-05", 5)


def half_a_year(seed):
    """[(day, kind, body)] of rounds a week apart, whose items stay not ok for weeks or, for odd seeds, are left out for months; and of
    defects that are closed later."""
    rng, days, bad, out = random.Random(seed), [date(2026, 1, 4) + timedelta(weeks=week) for week in range(26)], set(), []
    keys = [item["id"] for item in a_round(RIG, "2026-01-01")["items"]]
    seldom, lasting = rng.sample(keys, 12 * (seed % 2)), (days[rng.randint(1, 5)], days[rng.randint(15, 25)])
    for day in days:
        at, asked = "%sT08:00:00+01:00" % day, [key for key in keys if key not in seldom or rng.random() < 0.1]
        bad ^= set(rng.sample(keys, rng.choice([0, 0, 1, 2])))
        not_ok = bad | {"pump_runs:pump"} if lasting[0] <= day < lasting[1] else bad
        body = a_round(RIG, at, **{key.replace(":", "__"): "not ok" for key in not_ok})
        body.update(id="round %s" % day, items=[item for item in body["items"] if item["id"] in asked])
        out.append((day, "round", body))
    for number, (raised, closed) in enumerate(sorted(rng.sample(days, 2)) for _ in range(4)):
        body = a_defect(id="defect %d" % number, system=RIG["id"], made_at="%sT06:0%d:00+01:00" % (raised, number),
                        points=["P%d" % (number + 1)])
        out += [(raised, "defect", body), (closed, "defect", dict(body, closed={"at": "%sT07:00:00+01:00" % closed}))]
    return sorted(out, key=lambda one: one[0])


@pytest.mark.parametrize("seed", range(7, 12))
def test_what_comes_after_a_period_changes_nothing_of_it(store, seed):
    """April as its last evening knew it, and as it reads two months later."""
    span, heads = Span("2026-04-01", "2026-04-30", VIENNA), {}

    def add(rows):
        with store.writing() as connection:
            for day, kind, body in rows:
                made = a_revision(body["id"], kind=kind, body=body, made_at="%sT09:00:00+01:00" % day, parent=heads.get(body["id"]))
                revisions.add(connection, made, "accepted")
                heads[body["id"]] = made["id"]

    def told():
        with store.reading() as connection:
            return Care(connection, revisions.newest(connection, RIG["id"]), span).at_its_end("metric")

    rows = half_a_year(seed)
    add([("2026-01-01", "system", RIG)] + [row for row in rows if row[0] <= date(2026, 4, 30)])
    before = told()
    add([row for row in rows if row[0] > date(2026, 4, 30)])
    assert 0 < before["fed"]["unconfirmed"] and before["lacked"]["hours"]["value"] > 0
    assert told() == before


def test_papers_and_lists_are_the_same_in_every_zone_of_the_process(store, care, monkeypatch):
    care(SUNDAYS + [AFTER])
    made = []
    for zone in ("Pacific/Auckland", "America/Los_Angeles"):
        monkeypatch.setenv("TZ", zone)
        time.tzset()
        with store.reading() as connection:
            about, span = papers.plant_of(connection), Span(*MARCH, VIENNA)
            papers_made = [papers.make(connection, kind, Reader(clock=VIENNA), about, span)
                           for kind in ("plant-summary", "defects", "refills")]
            made.append([one.html + json.dumps(one.attached) for one in papers_made])
    monkeypatch.undo()
    time.tzset()
    assert made[0] == made[1] and "days by Europe/Vienna" in made[0][0]
