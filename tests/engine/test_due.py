"""What is due, by whole days, at one system."""
import pytest

from demo_site import plant
from webapp.engine.bridge import ask
from webapp.engine.care.due import seconds_of
from webapp.engine.systems.checklist import checklist

from .cared import answered, a_defect, care

RIG = plant.head_rig()


def entries(what, document=RIG, **more):
    return [entry for entry in care(document, **more)["due"] if entry["what"] == what]


@pytest.mark.parametrize("now, state, days, when", [
    ("2026-11-26T23:59:00+01:00", "coming", 1, "due on 27 Nov 2026, in 1 day"), ("2026-11-27T00:01:00+01:00", "today", 0, "due today"),
    ("2026-11-29T10:00:00+01:00", "overdue", -2, "overdue since 27 Nov 2026: 2 days")])
def test_a_round_is_due_a_week_after_the_last(now, state, days, when):
    entry, = entries("round", now=now)
    assert (entry["state"], entry["days"], entry["due"], entry["when"]["says"]) == (state, days, "2026-11-27", when)


def test_the_checklist_says_how_often_a_round_is_walked():
    entry, = entries("round", checklist={"round_every_d": 14, "items": []})
    assert entry["due"] == "2026-12-04"


@pytest.mark.parametrize("more, due", [({"round_at": None}, "2026-01-17"), ({"round_at": None, "run_at": None}, "2026-01-16"),
                                       ({"round_at": None, "run_at": None, "system_at": None}, "2026-11-23")])
def test_without_a_round_the_first_is_counted_from_what_came_before(more, due):
    assert entries("round", **more)[0]["due"] == due


def test_items_of_the_month_and_the_year_are_due_by_when_they_were_last_answered():
    answers = answered(RIG, "2026-11-20T08:00:00+01:00", pump_current__pump={"at": "2026-10-20T08:00:00+02:00"},
                       alarm_heard__controller={"at": "2025-11-20T08:00:00+01:00"})
    found = {entry["item"]: (entry["due"], entry["says"]["says"]) for entry in entries("items", answers=answers)}
    assert found == {"month": ("2026-11-19", "Items of the month: 1"), "year": ("2026-11-20", "Items of the year: 1")}


def test_items_never_answered_are_due_with_the_next_round():
    assert entries("items", answers={}) == []
    asked, = entries("round", answers={})
    monthly, yearly = [len([item for item in checklist(RIG)["items"] if item["every"] == every]) for every in ("month", "year")]
    assert [one["says"] for one in asked["also"]] == ["Items of the cold: 1", "Items of the month: %d" % monthly, "Items of the year: %d" % yearly]


def test_a_round_asks_what_is_due_before_the_one_after_it():
    answers = answered(RIG, "2026-11-20T08:00:00+01:00", pump_current__pump={"at": "2026-11-03T08:00:00+01:00"},
                       pump_relief__pump={"at": "2026-11-04T08:00:00+01:00"})
    asked, = entries("round", answers=answers)
    assert [one["says"] for one in asked["also"]] == ["Items of the month: 1"]


def test_an_item_that_the_plant_left_out_is_not_due():
    items = [{"id": "own:1", "own": True, "ask": "Left out", "every": "month", "left_out": True}]
    assert entries("items", checklist={"round_every_d": 7, "items": items}, answers={}) == []


@pytest.mark.parametrize("value, lowest, answered_on, due", [
    (-12.0, None, "2026-11-13", True), (-12.0, -4.0, "2026-11-13", True), (-12.0, -12.0, "2026-11-13", False),
    (-12.0, -30.0, "2026-11-13", False), (-12.0, None, "2026-11-20", False), (25.0, None, "2026-11-13", True)])
def test_items_of_the_cold_are_due_once_when_the_coldest_day_so_far_came_in_lists_as_in_rounds(value, lowest, answered_on, due):
    read = dict({"value": value}, **({} if lowest is None else {"lowest": {"value": lowest, "at": "2026-01-20T08:00:00+01:00"}}))
    answers = answered(RIG, "2026-11-20T08:00:00+01:00", line_temperature__whole=read, season__whole={"at": answered_on + "T09:00:00+01:00"})
    assert [entry["due"] for entry in entries("items", answers=answers) if entry["item"] == "cold"] == (["2026-11-20"] if due else [])
    item = next(one for one in ask({"do": "checklist", "document": RIG, "last": answers})["items"] if one["key"] == "season:whole")
    assert (item["due_from"], item["below_c"]) == ("2026-11-20" if due else None, value if lowest is None else min(value, lowest))


def test_an_item_of_the_cold_that_was_never_answered_is_due_with_the_next_round_whatever_the_weather():
    answers = answered(RIG, "2026-11-20T08:00:00+01:00")
    del answers["season:whole"]
    assert [one["id"] for one in entries("round", answers=answers)[0]["also"]] == ["due.items_cold"]


@pytest.mark.parametrize("now, today", [("2026-11-27T00:30:00+02:00", "today"), ("2026-11-26T22:30:00+00:00", "coming")])
def test_the_day_is_that_of_the_clock_by_which_the_time_is_told(now, today):
    assert entries("round", now=now)[0]["state"] == today
    full = answered(RIG, "2026-11-20T23:40:00-05:00", reservoir_level__pump={"value": 3.0})
    assert care(RIG, now=now, answers=full)["refill"]["level_on"] == "2026-11-20"


def test_a_system_that_was_never_timed_is_due_for_it():
    assert entries("test run") == []
    entry, = entries("test run", run_at=None)
    assert (entry["due"], entry["state"]) == ("2026-01-09", "overdue")


@pytest.mark.parametrize("changes, due", [({"due": "2026-11-25"}, "2026-11-25"), ({"due": "2026-11-24T10:00:00+01:00"}, "2026-11-24"),
                                          ({"severity": "danger"}, "2026-11-21"), ({"severity": "failing"}, "2026-11-28"),
                                          ({"severity": "untidy"}, "2026-11-27"), ({"closed": {"at": "2026-11-22"}}, None)])
def test_an_open_defect_is_due_as_it_says_or_by_its_consequence(changes, due):
    assert [entry["due"] for entry in entries("defect", defects=[a_defect(**changes)])] == ([due] if due else [])


def test_a_refill_is_due_when_low_level_is_reached_and_says_how_much_of_what():
    answers = answered(RIG, "2026-11-20T08:00:00+01:00", reservoir_level__pump={"value": 0.65})
    entry, = entries("refill", answers=answers)
    assert entry["due"] == "2026-12-02" and entry["says"]["says"] == "Refill: 3.36 l of Winter grease, NLGI 00, GP00C-40"


SEASON = {"change_at": {"value": 4, "unit": "°C"}, "sets": [{"season": "summer", "time_limit": {"value": 30.0, "unit": "s"}},
                                                            {"season": "winter", "time_limit": {"value": 120.0, "unit": "s"}}]}


@pytest.mark.parametrize("at_c, entered, due", [(-3.0, "30 s", "winter"), (-3.0, "2 min", None), (12.0, "2 min", "summer"),
                                                (12.0, "30 s", None), (-3.0, None, "winter")])
def test_settings_of_the_other_season_are_due_once_the_temperature_has_passed(at_c, entered, due):
    answers = answered(RIG, "2026-11-20T08:00:00+01:00", line_temperature__whole={"value": at_c})
    rows = [{"name": "pause", "shown": "1 h"}, {"name": "time_limit", "shown": entered}]
    entry = {"made_at": "2026-06-01T08:00:00+02:00", "entries": rows}
    found = entries("season", answers=answers, season=SEASON, settings_entry=entered and entry)
    assert [entry["item"] for entry in found] == ([due] if due else [])
    changed = {"made_at": "2026-10-01T08:00:00+02:00", "setting": "Time limit ", "to": "2 min"}
    found = entries("season", answers=answers, season=SEASON, settings_entry=entered and entry, adjustments=[changed])
    assert [entry["item"] for entry in found] == (["summer"] if at_c > 4 else [])


def test_a_temperature_read_long_ago_says_nothing_of_the_season():
    answers = answered(RIG, "2026-11-01T08:00:00+01:00", line_temperature__whole={"value": -3.0})
    assert entries("season", answers=answers, season=SEASON) == []


def test_the_longest_overdue_comes_first():
    found = care(RIG, now="2027-02-01T10:00:00+01:00", run_at=None, defects=[a_defect()])["due"]
    assert [entry["due"] for entry in found] == sorted(entry["due"] for entry in found)
    assert found[0]["what"] == "test run"


@pytest.mark.parametrize("text, seconds", [("95 s", 95), ("1.5 min", 90), ("2 min 5 s", 125), ("1 h", 3600), ("soon", None), ("", None),
                                           ("5 bar", None), (None, None)])
def test_a_time_is_read_as_a_settings_entry_shows_it(text, seconds):
    assert seconds_of(text) == seconds


def test_a_system_that_the_check_stops_gets_its_findings():
    assert ask({"do": "care", "document": {"format": "system/1"}, "now": "2026-11-23T12:00:00Z", "known": {}})["findings"]
