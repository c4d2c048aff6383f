"""A system over time: what records become, the band of what is expected, calls that were set aside and when they come back, the picture."""
import re
import xml.etree.ElementTree as ElementTree
from datetime import date, timedelta

import pytest

from demo_site import plant
from webapp.engine.basics.dates import days_of
from webapp.engine.bridge import ask
from webapp.engine.systems.predict import build_up
from webapp.engine.systems.worked import work

from .formula import evaluate
from .sound import figures_in
from .test_pictures import texts
from .test_trend import steady

BEGIN = date(2025, 1, 6)
USUAL = build_up(plant.head_rig(), [8])[0]


def day(week):
    return "%sT07:30:00+01:00" % (BEGIN + timedelta(weeks=week))


def a_round(week, seconds=None, at_c=8, **more):
    values = {"line_temperature:whole": at_c, "timed_cycle:whole": seconds, "vent_falls:pump": more.pop("left", None)}
    items = [{"id": key, "where": "Whole system", "ask": "One reading", "answer": "reading", "value": value} for key, value in values.items()
             if value is not None]
    return {"made_at": day(week), "items": items + more.pop("items", [])}


def rounds(seconds, begin=0):
    return [a_round(begin + week, one) for week, one in enumerate(seconds)]


def a_run(week, seconds=USUAL, identity="run", **more):
    return dict({"id": identity, "made_at": day(week), "at_c": 8, "runs": [{"build_s": seconds, "counts": True}], "signed": {"by": "somebody", "at": day(week)}}, **more)


def over_time(document=None, units="metric", **records):
    return ask({"do": "over_time", "document": document or plant.head_rig(), "units": units,
                "records": {kind.replace("_", "-"): bodies for kind, bodies in records.items()}})


def ids(out):
    return [one["id"] for one in out["trend"]["findings"] if one["severity"] != "note"]


DRIFT = steady(30) + [80 * (1 + 0.02 * week) for week in range(1, 8)]
RISES = "trend.build_up.rises"


def aside(week, finding=RISES, why="Spare pump ordered."):
    return {"finding": finding, "of": day(week), "why": why, "made_by": "somebody", "made_at": day(week)}


# ---- what records become

def test_readings_of_the_time_before_a_baseline_are_shown_but_say_nothing_of_what_is_now():
    document = dict(plant.head_rig(), baseline_run="second")
    out = over_time(document, round=rounds(DRIFT) + rounds(steady(12), 38), test_run=[a_run(-1, identity="first"), a_run(37, 80.0, "second")])
    assert len(out["history"]["points"]) == 51 and len(out["trend"]["build_up"]["points"]) == 13 and ids(out) == []


def test_the_level_of_a_progressive_system_is_its_timed_turn_over_the_predicted_one():
    document = next(one for one in plant.systems() if one["kind"] == "progressive")
    turn = work(document, False)["build"]["cycle_time"]["value"]
    items = [{"id": key, "where": "Whole system", "ask": "One reading", "answer": "reading", "value": value}
             for key, value in (("line_temperature:whole", 8), ("timed_turn:whole", 1.1 * turn))]
    level = over_time(document, round=[{"made_at": day(week), "items": items} for week in range(12)])["history"]["level"]
    assert level["value"] == pytest.approx(1.1)


def test_a_test_run_that_was_not_signed_begins_nothing():
    out = over_time(round=rounds(steady(12)), test_run=[dict(a_run(5), signed=None)])
    assert len(out["history"]["points"]) == 12 and [one["kind"] for one in out["history"]["events"]] == []


def test_a_run_counts_by_the_median_of_what_counts():
    runs = [{"build_s": 70.0, "counts": False}, {"build_s": 80.0}, {"build_s": 84.0, "counts": True}, {"build_s": 90.0}, {"vent_s": 4}]
    out = over_time(test_run=[a_run(0, runs=runs)])
    assert [one["measured"] for one in out["history"]["points"]] == [84.0]


def test_what_happened_is_told_in_the_order_of_time_with_its_words():
    closed = {"by": "somebody", "at": day(9), "how": "Hose renewed."}
    out = over_time(
        round=[a_round(4, 80.0, items=[{"id": "pipe_sound:S1", "where": "Pipe S1", "ask": "Sound", "answer": "not ok", "note": "Wet."}])],
        defect=[{"made_at": day(5), "what": "Hose seeps.", "severity": "failing", "closed": closed}, {"made_at": day(11), "what": "No label.", "severity": "untidy"}],
        refill=[{"made_at": day(6), "refill_l": 2.0, "lubricant": "Some grease"}, {"made_at": day(7), "refill_l": None}],
        adjustment=[{"made_at": day(8), "setting": "Pause", "from": "1 h", "to": "2 h"}], test_run=[a_run(2)],
        fault_case=[{"made_at": day(3), "symptom": "Point dry.", "cause": "blocked=S2"}])
    told = [(one["kind"], one["says"]) for one in out["history"]["events"]]
    assert told == [("run", "Test run, a new baseline"), ("fault", "Fault: Point dry. Cause: Branch blocked or crushed"), ("fault", "Round: 1 not ok, Pipe S1: Wet."),
                    ("defect", "Defect, failing, closed on 10 Mar 2025: Hose seeps. Hose renewed."), ("refill", "2 l filled in, Some grease"),
                    ("setting", "Setting changed: Pause, 1 h to 2 h"), ("defect", "Defect, untidy, open: No label.")]
    assert [one["until"] for one in out["history"]["events"] if one["kind"] == "defect"] == [days_of(day(9)), None]


def test_nothing_held_and_a_document_that_cannot_be_worked():
    assert over_time()["history"]["first"] is None
    out = over_time({"format": "system/1"}, round=rounds(steady(3)))
    assert out["history"] is None and out["trend"]["findings"] and out["trend"]["set_aside"] == []


# ---- what is expected

def test_nearly_all_readings_of_a_healthy_year_lie_where_they_are_expected():
    out = over_time(round=rounds(steady(52)))
    assert len([one for one in out["history"]["points"] if one["outside"]]) <= 1


def test_a_drift_leaves_the_band_and_a_plant_that_is_slower_than_its_model_does_not():
    slow = [one * 1.2 for one in DRIFT]
    points = over_time(round=rounds(slow))["history"]["points"]
    assert [one["outside"] for one in points[:30]] == [False] * 30 and [one["outside"] for one in points[-5:]] == [True] * 5


def test_the_level_is_learnt_anew_after_each_baseline():
    out = over_time(round=rounds(steady(12)) + rounds(steady(12, 90.0), 13), test_run=[a_run(12, 90.0)])["history"]
    assert [one["outside"] for one in out["points"]] == [False] * 25
    assert out["level"]["value"] == pytest.approx(90 / USUAL, rel=0.01)


def test_the_band_follows_the_temperature():
    document = plant.sorter_chain()
    cold, warm = (build_up(document, [t])[0] for t in (-15, 25))
    out = over_time(document, round=[a_round(week, cold if week % 2 else warm, -15 if week % 2 else 25) for week in range(12)])["history"]
    assert [one["outside"] for one in out["points"]] == [False] * 12
    assert out["points"][1]["low"] > out["points"][0]["high"]


# ---- set aside

def test_a_call_is_covered_by_who_set_it_aside_and_why():
    out = over_time(round=rounds(DRIFT), set_aside=[aside(36)])
    assert RISES not in ids(out)
    covered = out["trend"]["set_aside"][0]
    assert (covered["by"], covered["why"]) == ("somebody", "Spare pump ordered.") and "longer" in covered["finding"]["says"]
    assert covered["back"]["says"].startswith("It comes back when a later reading, corrected, passes 1 min 3")


def test_it_comes_back_with_a_reading_further_out_than_readings_scatter_and_not_before():
    assert RISES not in ids(over_time(round=rounds(DRIFT + [91.0, 91.4]), set_aside=[aside(36)]))
    assert RISES in ids(over_time(round=rounds(DRIFT + [91.0, 95.0]), set_aside=[aside(36)]))
    assert RISES in ids(over_time(round=rounds(DRIFT + [91.0, 95.0, 91.0]), set_aside=[aside(36)])), "one further out is enough"
    assert RISES not in ids(over_time(round=rounds(DRIFT + [91.0, 95.0]), set_aside=[aside(36), aside(38)])), "set aside once more"


def test_a_new_call_is_not_covered_by_what_was_said_of_the_one_before():
    seconds = DRIFT + steady(20) + [80 * (1 + 0.02 * week) for week in range(1, 7)]
    out = over_time(round=rounds(seconds), set_aside=[aside(36)])
    assert len(out["trend"]["build_up"]["calls"]) == 2 and RISES in ids(out)


def test_a_call_the_other_way_or_another_finding_is_not_covered():
    falling = steady(30) + [80 * (1 - 0.03 * week) for week in range(1, 6)]
    assert ids(over_time(round=rounds(falling), set_aside=[aside(34)])) == ["trend.build_up.falls"]


def test_one_wild_reading_that_was_set_aside_is_back_with_the_next_wild_one():
    wild = [aside(30, "trend.outside")]
    assert ids(over_time(round=rounds(steady(30) + [95.0]), set_aside=wild)) == []
    assert ids(over_time(round=rounds(steady(30) + [95.0, 80.0, 95.0]), set_aside=wild)) == ["trend.outside"]


def test_a_consumption_that_was_set_aside_is_back_with_the_next_refill_that_says_so():
    document, refills = plant.planer_feed(), [{"made_at": day(8 * number), "refill_l": 3.0} for number in range(6)]
    first = over_time(document, refill=refills[:5])
    finding = [one for one in first["trend"]["findings"] if one["id"] == "consumption.more"][0]
    covered = dict(aside(0, "consumption.more"), of=finding["of"])
    assert ids(over_time(document, refill=refills[:5], set_aside=[covered])) == []
    assert ids(over_time(document, refill=refills, set_aside=[covered])) == ["consumption.more"]


@pytest.mark.parametrize("bad", [{"of": "soon"}, {"of": None}, {"finding": "trend.met"}])
def test_a_record_that_names_another_finding_or_no_time_covers_nothing(bad):
    assert RISES in ids(over_time(round=rounds(DRIFT), set_aside=[dict(aside(36), **bad)]))


# ---- figures and the picture

@pytest.fixture(scope="module")
def full():
    document = dict(plant.head_rig(), baseline_run="run")
    more = [a_round(week, one, left=2 + week % 3 / 4, items=[{"id": "x", "where": "Pipe", "ask": "Sound", "answer": "not ok"}] if week == 20 else [])
            for week, one in enumerate(DRIFT)]
    return {units: over_time(document, units, round=more, test_run=[a_run(-1)], refill=[{"made_at": day(week), "refill_l": 1.0} for week in (0, 12, 24)],
                             defect=[{"made_at": day(36), "what": "Pump gives less.", "severity": "failing"}],
                             adjustment=[{"made_at": day(33), "setting": "Pause", "to": "2 h"}]) for units in ("metric", "us")}


def drawn(out, width=328, days=None, units="metric"):
    return ask({"do": "history_picture", "history": out["history"], "width": width, "days": days, "units": units})


def test_every_figure_shows_its_working(full):
    for path, entry in figures_in(full["metric"]):
        inputs = {name: one["value"] for name, one in entry["inputs"].items()}
        assert float(evaluate(entry["formula"], inputs)) == pytest.approx(entry["value"], rel=1e-6, abs=1e-9), path


@pytest.mark.parametrize("width", [328, 960])
@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("days", [None, 366, 92])
def test_the_picture_is_well_formed_and_no_label_is_cut_off(full, width, units, days):
    picture = drawn(full[units], width, days, units)
    root = ElementTree.fromstring(picture["svg"])
    assert not any(element.get("style") for element in root.iter()) and picture["says"].endswith(".")
    assert [text for left, right, _, text in texts(picture) if left < -1 or right > width + 4] == []
    assert ("psi" in picture["svg"]) == (units == "us")


def test_the_sentence_counts_what_the_picture_shows(full):
    says = drawn(full["metric"])["says"]
    for said in ("Timed cycles: 38", "Faults: 1", "Defects: 1, still open: 1", "Settings changed: 1", "Refills: 3", "Test runs: 1"):
        assert said in says
    last = drawn(full["metric"], days=30)
    assert "Timed cycles: 5" in last["says"] and "Refills: 0" in last["says"] and len(last["rows"]) == 2


def test_marks_stand_for_what_happened(full):
    svg = drawn(full["metric"])["svg"]
    outside = len([one for one in full["metric"]["history"]["points"] if one["outside"]])
    assert svg.count('class="outside"') == outside + 1  # and the round that was not ok
    assert svg.count('class="band"') == 1 and "expected at that day" in svg
    for word in ("Faults", "Defects", "Settings", "Refills", "Test runs", "Left after venting, bar", "Filled in over doses given"):
        assert word in svg


def test_rows_without_anything_are_left_out_and_a_single_day_is_drawn():
    picture = drawn(over_time(refill=[{"made_at": day(0), "refill_l": 1.0}]))
    assert "Timed cycle" not in re.findall(">([^<]+)</text>", picture["svg"]) and "Refills: 1" in picture["says"]
    assert drawn(over_time(round=rounds([80.0])))["svg"].count('class="reading"') == 1


def test_a_time_only_system_has_its_pressure_left_and_is_not_told_of_readings_left_out():
    from demo_site import plant_kinds
    out = over_time(plant_kinds.resaw(), round=[a_round(week, None, left=1.5) for week in range(12)])
    assert len(out["history"]["residual"]) == 12 and "trend.skipped" not in [one["id"] for one in out["trend"]["findings"]]
    assert "Left after venting" in drawn(out)["svg"]
