"""A period counts the days of the plant's clock, over a change of clocks too, whatever zone the server's process is in."""
import json
import time
from contextlib import ExitStack

import pytest

from demo_site import plant
from tests.engine.cared import a_round
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
    hours = found.unconfirmed("metric")
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
