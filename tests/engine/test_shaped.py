"""A plant's own checklist: shaped by a document of the plant, and what of it is due today; alike on both interpreters."""
import copy

import pytest

from demo_site import plant
from webapp.engine.bridge import ask
from webapp.engine.document.check import check
from webapp.phone_engine import PhoneEngine

from .systems import random_system
from .test_parity import both, differences

TODAY = "2026-11-23T09:00:00+01:00"
SYSTEM = plant.head_rig()


def plan(*items, **more):
    return dict({"format": "checklist/1", "system": SYSTEM["id"], "items": list(items)}, **more)


def items(shaped_by=None, system=SYSTEM, **more):
    request = {"do": "checklist", "document": system, "worked": ask({"do": "work", "document": system, "simulate": False})}
    return ask(dict(request, plan=shaped_by, **more))["items"]


def keys(listed):
    return [item["key"] for item in listed]


def of(key, listed):
    return next(item for item in listed if item["key"] == key)


def answers(listed, at, **more):
    return {item["key"]: dict({"answer": "ok", "at": at}, **more) for item in listed}


def due(listed):
    return {item["key"] for item in listed if item["due"]}


def test_without_a_plan_it_is_the_make_up_s():
    assert keys(items()) == keys(items(plan()))


def test_items_are_walked_in_the_plant_s_order_with_its_words_and_limits():
    shaped = items(plan({"id": "pump_runs:pump", "ask": "Listen at the pump", "every": "month", "photo": False},
                        {"id": "pump_current:pump", "limits": "fixed", "low": 3.0, "high": 4.5}, {"id": "reservoir_level:pump", "left_out": True}))
    listened, current = of("pump_runs:pump", shaped), of("pump_current:pump", shaped)
    assert (listened["says"], listened["every"], listened["photo"]) == ("Listen at the pump", "month", False)
    assert (current["low"], current["high"], current["limit"]) == (3.0, 4.5, "fixed by the plant")
    assert current["says"] == "Current at the end of build-up" and of("reservoir_level:pump", shaped)["left_out"]
    assert keys(shaped).index("pump_runs:pump") < keys(shaped).index("pump_current:pump") < keys(shaped).index("reservoir_level:pump")


def test_limits_from_the_baseline_follow_it_while_fixed_ones_stay():
    measured = dict(copy.deepcopy(SYSTEM), measured={"build_s": [80.0, 81.0, 82.0]})
    fixed = plan({"id": "timed_cycle:whole", "limits": "fixed", "low": 70, "high": 90})
    assert [of("timed_cycle:whole", items(fixed, system))["low"] for system in (SYSTEM, measured)] == [70, 70]
    lows = [of("timed_cycle:whole", items(plan({"id": "timed_cycle:whole", "limits": "baseline"}), system))["low"] for system in (SYSTEM, measured)]
    assert lows[0] != lows[1] == 64.0


def test_a_new_part_is_met_where_the_walk_meets_it_and_a_part_that_is_gone_falls_out():
    made = keys(items())
    new = made[10]
    whole = plan(*[{"id": key} for key in made if key != new], {"id": "device_dry:D99", "ask": "Gone"})
    assert keys(items(whole)) == made


def test_what_the_plant_added_stays_where_it_put_it():
    own = {"id": "own:gate", "own": True, "ask": "Gate locked", "where": "Gate 3", "every": "month"}
    made = keys(items())
    shaped = items(plan(*[{"id": key} for key in made[:3]], own, *[{"id": key} for key in made[3:]]))
    assert keys(shaped) == made[:3] + ["own:gate"] + made[3:] and shaped[3]["says"] == "Gate locked"


def test_the_first_round_asks_everything_but_each_item_in_its_time_then():
    made = items(last={}, today=TODAY)
    assert due(made) == set(keys(made))
    week = items(last=answers(made, "2026-11-16T09:00:00+01:00"), today=TODAY)
    every = {item["every"] for item in week if item["due"] and not item["in_turn"]}
    assert every == {"round"}
    month = items(last=answers(made, "2026-10-26T09:00:00+01:00"), today=TODAY)
    assert {item["every"] for item in month if item["due"]} == {"round", "month"}
    year = items(last=answers(made, "2025-11-26T09:00:00+01:00"), today=TODAY)
    assert {item["every"] for item in year if item["due"]} == {"round", "month", "year"}


def test_what_would_be_too_old_by_the_next_round_is_due_now():
    last = answers(items(), "2026-11-01T09:00:00+01:00")  # 22 days ago
    rare, often = [of("controller_settings:controller", items(plan(round_every_d=days), last=last, today=TODAY)) for days in (14, 7)]
    assert rare["due"] and not often["due"]


def test_the_day_from_which_an_item_is_due_is_the_first_on_which_it_is():
    last = answers(items(), "2026-11-01T09:00:00+01:00")
    item = of("controller_settings:controller", items(last=last))
    assert "due" not in item and item["due_from"] == "2026-11-25"
    for day, wanted in ((24, False), (25, True)):
        assert of(item["key"], items(last=last, today="2026-11-%d" % day))["due"] is wanted


def test_indicators_come_in_turn_and_each_within_a_month():
    system = plant.head_rig()
    last, today, seen = answers(items(system=system), "2026-01-01T08:00:00+00:00"), 1, {}
    for week in range(1, 17):
        day = "2026-%02d-%02dT08:00:00+00:00" % (1 + today // 28, 1 + today % 28)  # weeks of seven days, months of four weeks
        today += 7
        listed = items(system=system, last=last, today=day)
        moving = {item["key"] for item in listed if item["in_turn"] and item["due"]}
        assert moving, week
        for key in due(listed):
            last[key] = {"answer": "ok", "at": day}
        for key in moving:
            assert week - seen.get(key, week) <= 4, key
            seen[key] = week
    assert set(seen) == {item["key"] for item in items(system=system) if item["in_turn"]}
    weekly = [item for item in listed if item["in_turn"] and item["due"]]
    assert len(weekly) < len(seen)


def test_what_was_not_ok_or_outside_its_limits_is_due_again():
    last = answers(items(), "2026-11-20T09:00:00+01:00")
    last["switch_cable:PS1"].update(answer="not ok")
    last["pump_current:pump"].update(answer="reading", value=9.0, low=3.0, high=5.0)
    listed = items(last=last, today=TODAY)
    assert {item["key"] for item in listed if item["was_not_ok"]} == {"switch_cable:PS1", "pump_current:pump"} <= due(listed)


def test_a_round_asks_the_cold_below_the_coldest_temperature_so_far():
    last = answers(items(), "2026-11-20T09:00:00+01:00")
    assert of("season:whole", items(last=last))["below_c"] is None
    last["line_temperature:whole"].update(answer="reading", value=6, lowest={"value": -4, "at": "2026-01-20T09:00:00+01:00"})
    item = of("season:whole", items(last=last, today=TODAY))
    assert (item["due"], item["due_from"], item["below_c"]) == (False, None, -4)
    last["line_temperature:whole"]["value"] = -5
    assert of("season:whole", items(last=last))["below_c"] == -5


def test_an_answer_without_a_readable_time_is_asked_again():
    assert due(items(last=answers(items(), "some day"), today=TODAY)) == set(keys(items()))


def test_the_reservoir_must_hold_until_the_next_round():
    weekly, monthly = [of("reservoir_level:pump", items(plan(round_every_d=days))) for days in (7, 28)]
    low = SYSTEM["pump"]["low_level_l"]
    assert low < weekly["low"] < monthly["low"] and abs((monthly["low"] - low) / (weekly["low"] - low) - 4) < 1e-9


@pytest.mark.parametrize("unit, stops", [("bar", 0), ("fathom", 1), (None, 1)])
def test_a_reading_of_the_plant_s_own_needs_a_unit_that_is_known(unit, stops):
    own = {"id": "own:depth", "own": True, "ask": "Depth", "answer": "reading", "unit": unit}
    assert len(check(plan(own))) == stops


@pytest.mark.parametrize("kind", ["single-line", "progressive", "dual-line", "time-only"])
def test_shaped_lists_are_alike_on_both_machines(kind):
    system = random_system(77, 12, kind)
    made = items(system=system)
    whole = plan({"id": "own:gate", "own": True, "ask": "Gate locked"}, *[
        {"id": key, "every": "month", "ask": "Look", "limits": "fixed", "low": 1} for key in keys(made)[::-2]], round_every_d=10)
    last = {item["key"]: {"answer": "reading", "value": number, "at": "2026-%02d-05T08:00:00+01:00" % (1 + number % 11), "lowest": {"value": -1, "at": "2026-01-20T09:00:00+01:00"}}
            for number, item in enumerate(made)}
    with PhoneEngine() as phone:
        here, there = both(phone, {"do": "checklist", "document": system, "plan": whole, "last": last, "today": TODAY, "units": "us"})
        assert differences(here, there) == [] and len(here["items"]) == len(made) + 1
