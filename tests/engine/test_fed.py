"""Points not confirmed fed: by cycle, device, defect, finding and, where nothing reports, by what a round saw."""
import random
from datetime import datetime, timedelta

import pytest

from demo_site import plant, plant_kinds
from webapp.engine.basics.dates import days_of
from webapp.engine.bridge import ask
from webapp.engine.care.fed import Lacks, fed, over

from .cared import KINDS, a_defect, a_round, answered, care, known

RIG = plant.head_rig()


def points(out, confirmed=False):
    return [row["point"] for row in out["fed"]["points"] if row["confirmed"] is confirmed]


@pytest.mark.parametrize("kind", KINDS)
def test_a_round_that_found_all_well_confirms_every_point(kind):
    out = care(KINDS[kind]())
    assert (points(out), out["fed"]["unconfirmed"], out["fed"]["told"]["id"]) == ([], 0, "fed.all")


@pytest.mark.parametrize("kind", KINDS)
def test_without_a_round_no_point_was_ever_confirmed(kind):
    out = care(KINDS[kind](), answers={})["fed"]
    assert out["unconfirmed"] == out["of"] == len(out["points"]) and out["since"] is None
    assert all(row["since"] is None and row["because"]["says"] for row in out["points"])


def test_what_was_seen_holds_for_a_month_and_then_no_longer():
    seen = "2026-10-20T12:00:00+01:00"
    assert points(care(RIG, "2026-11-20T11:59:00+01:00", at=seen)) == []
    out = care(RIG, "2026-11-21T12:00:00+01:00", at=seen)["fed"]
    assert out["unconfirmed"] == 6 and out["since"] == "2026-11-20T11:00:00Z" and out["for_d"] == pytest.approx(1)
    assert "20 Oct 2026" in out["points"][0]["because"]["says"]


def test_a_time_only_system_is_confirmed_only_by_a_round_that_looked_and_only_until_the_next_is_due():
    resaw = plant_kinds.resaw()
    assert points(care(resaw, "2026-11-28T07:59:00+01:00")) == []
    late = care(resaw, "2026-11-28T08:00:00+01:00")["fed"]
    assert late["unconfirmed"] == late["of"] and late["points"][0]["because"]["id"] == "fed.film"
    # a completed cycle says nothing there
    unseen = answered(resaw, "2026-11-20T08:00:00+01:00")
    del unseen["point_film:P1"]
    assert points(care(resaw, answers=unseen)) == ["P1"]
    run = {"made_at": "2026-11-21T08:00:00+01:00", "runs": [{"build_s": 20.0, "counts": True}]}
    assert points(care(resaw, answers=unseen, runs=[run])) == ["P1"]


def test_a_longer_way_between_rounds_holds_a_time_only_system_for_longer():
    resaw = plant_kinds.resaw()
    assert points(care(resaw, "2026-12-02T08:00:00+01:00", checklist={"round_every_d": 14, "items": []})) == []


@pytest.mark.parametrize("item, hit", [("device_moves__D2", ["P2"]), ("point_line__P3", ["P3"]), ("point_film__P4", ["P4"]),
                                       ("pump_runs__pump", ["P1", "P2", "P3", "P4", "P5", "P6"]),
                                       ("timed_cycle__whole", ["P1", "P2", "P3", "P4", "P5", "P6"]), ("pipe_sound__S1", [])])
def test_an_item_that_is_not_ok_stops_what_it_says_something_of(item, hit):
    answers = answered(RIG, "2026-11-20T08:00:00+01:00", **{item: {"answer": "not ok", "ok_at": "2026-11-06T07:00:00Z"}})
    out = care(RIG, answers=answers)
    assert points(out) == hit
    assert all(row["since"] == "2026-11-20T07:00:00Z" for row in out["fed"]["points"] if not row["confirmed"])


def test_the_same_answer_counts_since_it_was_first_given():
    spoiled = {"answer": "not ok", "since": "2026-11-06T08:00:00+01:00", "ok_at": "2026-10-30T08:00:00+01:00"}
    out = care(RIG, answers=answered(RIG, "2026-11-20T08:00:00+01:00", device_moves__D2=spoiled))["fed"]
    assert (out["unconfirmed"], out["since"]) == (1, "2026-11-06T07:00:00Z")
    assert care(RIG, answers=answered(RIG, "2026-11-20T08:00:00+01:00", device_moves__D2=dict(spoiled, ok_at=None)))["fed"]["since"] is None


def test_where_an_indicator_cannot_be_seen_fresh_lubricant_at_the_point_stands_in():
    answers = answered(RIG, "2026-11-20T08:00:00+01:00", device_moves__D2="not applicable")
    assert points(care(RIG, answers=answers)) == []
    del answers["point_film:P2"]
    assert points(care(RIG, answers=answers)) == ["P2"]


def test_a_cycle_that_took_longer_than_the_controller_waits_was_not_completed():
    worked = dict(known(RIG)["worked"], build={"time_limit": {"value": 15.0, "unit": "s"}})
    out = care(RIG, worked=worked)["fed"]
    assert out["unconfirmed"] == 6 and "20 s" in out["points"][0]["because"]["says"] and "15 s" in out["points"][0]["because"]["says"]


@pytest.mark.parametrize("severity, count", [("danger", 6), ("starving", 6), ("failing", 0), ("untidy", 0)])
def test_only_a_defect_that_keeps_lubricant_away_says_otherwise(severity, count):
    assert care(RIG, defects=[a_defect(severity)])["fed"]["unconfirmed"] == count


@pytest.mark.parametrize("place, hit", [("D2", ["P2"]), ("S3", ["P3", "P4", "P5", "P6"]), ("P5", ["P5"]), ("PS1", 6), (None, 6),
                                        ("gone", 6)])
def test_a_defect_concerns_what_is_fed_through_its_place(place, hit):
    found = points(care(RIG, defects=[a_defect(place=place)]))
    assert found == hit or len(found) == hit
    assert points(care(RIG, defects=[a_defect(place=place, points=["P1"])])) == ["P1"]


def test_a_block_that_stands_holds_up_every_point_of_a_progressive_system():
    trimmer = plant_kinds.trimmer()
    assert len(points(care(trimmer, defects=[a_defect(place=trimmer["devices"][-1]["id"])]))) == len(trimmer["points"])


def test_a_finding_that_stops_the_system_says_otherwise_since_it_was_entered():
    chain = plant.sorter_chain()
    out = care(chain, worked=None, system_at="2026-11-01T08:00:00+01:00")["fed"]
    assert out["unconfirmed"] == 0
    worked = ask({"do": "work", "document": chain, "simulate": False})
    out = care(chain, worked=worked, system_at="2026-11-01T08:00:00+01:00")["fed"]
    assert out["unconfirmed"] == 7 and out["since"] == "2026-11-01T07:00:00Z" and "will not vent" in out["points"][0]["because"]["says"]


def test_points_seen_in_a_test_run_are_confirmed_by_it():
    seen = [{"point": "P%d" % number, "fed": number != 3} for number in range(1, 7)]
    run = {"made_at": "2026-11-21T08:00:00+01:00", "runs": [{"build_s": 20.0, "counts": True}], "seen": seen}
    assert points(care(RIG, answers={}, runs=[run])) == ["P3"]


def test_a_line_of_a_dual_system_confirms_its_own_side():
    stacker = plant_kinds.stacker()
    answers = answered(stacker, "2026-11-20T08:00:00+01:00", timed_line_b__whole="not ok")
    assert points(care(stacker, answers=answers)) == [point["id"] for point in stacker["points"] if point["side"] == "B"]


def test_points_lack_since_the_first_answer_of_a_row_that_said_so():
    days = {"06": "not ok", "13": "ok", "20": "not ok", "21": "not ok", "22": "not ok"}
    rounds = [a_round(RIG, "2026-11-%sT08:00:00+01:00" % day, pump_runs__pump=answer) for day, answer in days.items()]
    last = answered(RIG, "2026-11-22T08:00:00+01:00", pump_runs__pump={
        "answer": "not ok", "since": "2026-11-20T07:00:00+00:00", "ok_at": "2026-11-13T07:00:00+00:00"})
    for out in (care(RIG, answers={}, rounds=rounds), care(RIG, answers=last)):
        assert out["fed"]["since"] == "2026-11-20T07:00:00Z" and "22 Nov" in out["fed"]["points"][0]["because"]["says"]


def a_history(seed):
    """Rounds over half a year, some late, some with items not ok, and defects opened and closed."""
    rng = random.Random(seed)
    kind = sorted(KINDS)[seed % 4]
    document, rounds, day = KINDS[kind](), [], 0
    while day < 180:
        day += rng.choice([6, 7, 8, 30, 45])
        at = (datetime(2026, 1, 1) + timedelta(days=day, hours=rng.randint(6, 20))).isoformat() + "+01:00"
        keys = [item["id"] for item in a_round(document, at)["items"]]
        spoiled = {key.replace(":", "__"): rng.choice(["not ok", "not applicable"]) for key in rng.sample(keys, rng.choice([0, 0, 2]))}
        rounds.append(a_round(document, at, **spoiled))
    defects = [a_defect(rng.choice(["danger", "starving", "failing"]), made_at=row["made_at"], closed={"at": other["made_at"]},
                        points=[rng.choice(document["points"])["id"]]) for row, other in zip(rounds[::2], rounds[1::2], strict=False)]
    return document, rounds, defects


@pytest.mark.parametrize("seed", range(40))
def test_a_period_is_made_of_moments(seed):
    """Hours of the period agree with asking moment after moment, and last answers say the same as all rounds."""
    document, rounds, defects = a_history(seed)
    begin, end = "2026-02-01T00:00:00Z", "2026-06-01T00:00:00Z"
    known = {"rounds": rounds, "defects": defects}
    whole = over(Lacks(document, end, known), begin, end)
    halves = [over(Lacks(document, other, known), one, other)["hours"]["value"]
              for one, other in ((begin, "2026-03-17T05:00:00Z"), ("2026-03-17T05:00:00Z", end))]
    assert whole["hours"]["value"] == pytest.approx(sum(halves))
    moment = "2026-04-%02dT10:00:00Z" % random.Random(seed).randint(1, 30)
    now = fed(Lacks(document, moment, known))
    for row, spans in zip(now["points"], whole["points"], strict=True):
        here = [span for span in spans["spans"] if span["from"] <= moment < span["until"]]
        assert row["confirmed"] is not bool(here), row
        assert not here or row["since"] is None or row["since"] >= here[0]["from"]
    last = {}
    for record in rounds:
        for item in record["items"]:
            if days_of(record["made_at"]) <= days_of(moment):  # texts of other offsets are not in order
                before = last.get(item["id"], {})
                ok = item["answer"] in ("ok", "reading")
                last[item["id"]] = dict(item, since=before["since"] if before.get("answer") == item["answer"] else item["at"],
                                        ok_at=item["at"] if ok else before.get("ok_at"))
    kept = fed(Lacks(document, moment, {"answers": last, "defects": defects}))
    assert [row["confirmed"] for row in kept["points"]] == [row["confirmed"] for row in now["points"]]


@pytest.mark.parametrize("seed", range(40))
def test_more_trouble_never_confirms_more(seed):
    document, rounds, defects = a_history(seed)
    moment, rng = "2026-05-10T10:00:00Z", random.Random(seed)
    before = fed(Lacks(document, moment, {"rounds": rounds, "defects": defects}))
    worse = a_defect(rng.choice(["danger", "starving", "failing", "untidy"]), made_at="2026-05-%02dT00:00:00Z" % rng.randint(1, 20),
                     place=rng.choice(document["devices"])["id"])
    fewer_rounds = [row for row in rounds if rng.random() > 0.2]
    more = fed(Lacks(document, moment, {"rounds": rounds, "defects": defects + [worse]}))
    assert more["unconfirmed"] >= before["unconfirmed"]
    nothing_bad = [dict(row, items=[item for item in row["items"] if item["answer"] in ("ok", "reading")]) for row in rounds]
    some = [row for row in nothing_bad if row["made_at"] in [one["made_at"] for one in fewer_rounds]]
    few, all_of_them = (fed(Lacks(document, moment, {"rounds": which})) for which in (some, nothing_bad))
    assert few["unconfirmed"] >= all_of_them["unconfirmed"]
    for row in more["points"]:
        assert (row["because"] is None) is row["confirmed"] and (row["for_d"] is None or row["for_d"] >= 0)
