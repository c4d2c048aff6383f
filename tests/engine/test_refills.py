"""Until when a reservoir lasts, and what to carry."""
import random

import pytest

from demo_site import plant
from webapp.engine.bridge import ask

from .cared import KINDS, NOW, answered, care
from .test_formulas import follow
from .sound import figures_in

RIG = plant.head_rig()
PER_DAY = ask({"do": "work", "document": RIG, "simulate": False})["reservoir"]["per_day"]["value"]


def a_refill(at, litres, **more):
    return dict({"made_at": at, "refill_l": litres}, **more)


def out(document=RIG, day=None, now=NOW, level=None, **more):
    answers = answered(document, "2026-11-20T12:00:00+01:00")
    if level is not None:
        answers["reservoir_level:pump"]["value"] = level
    return care(document, now, day, answers=dict(answers, **more.pop("other", {})), **more)["refill"]


def test_days_follow_from_the_last_level_the_doses_and_the_duty():
    found = out(level=1.6)
    a_day = PER_DAY * 5 / 7
    assert found["days_to_low"]["value"] == pytest.approx(1000 * (1.6 - 0.6) / a_day - 3)
    assert found["days_to_empty"]["value"] == pytest.approx(1000 * 1.6 / a_day - 3)
    assert found["level"]["value"] == pytest.approx(1.6 - 3 * a_day / 1000) and found["level_on"] == "2026-11-20"


def test_the_date_of_low_level_is_that_many_days_on():
    found = out(level=0.62)
    assert (found["low_on"], found["needed"]) == ("2026-11-25", True) and 1 < found["days_to_low"]["value"] < 2


def test_what_cannot_be_drawn_is_empty():
    document = dict(RIG, pump=dict(RIG["pump"], not_drawn_l=0.3))
    assert out(document, level=1.6)["days_to_empty"]["value"] == pytest.approx(1300 / (PER_DAY * 5 / 7) - 3)


@pytest.mark.parametrize("refill, level", [
    (a_refill("2026-11-21T12:00:00+01:00", 1, level_after_l=3.5), 3.5), (a_refill("2026-11-21T12:00:00+01:00", 1, level_before_l=0.7), 1.7),
    (a_refill("2026-11-21T12:00:00+01:00", 1), 3), (a_refill("2026-11-19T12:00:00+01:00", 1, level_after_l=3.5), 2),
    (a_refill("2026-11-21T12:00:00+01:00", 9), 4), (a_refill("2027-11-21T12:00:00+01:00", 1), 2),
    (a_refill("2026-11-19T12:00:00+01:00", 1), 2)])
def test_the_later_of_round_and_refill_says_the_level(refill, level):
    assert out(level=2, refills=[refill])["level"]["inputs"]["read"]["value"] == level


def test_a_level_in_percent_is_of_the_reservoir():
    other = {"reservoir_level:pump": {"answer": "reading", "value": 50, "unit": "%", "at": "2026-11-20T12:00:00+01:00"}}
    assert out(other=other)["level"]["inputs"]["read"]["value"] == 2


def test_measured_use_stands_beside_the_doses_and_the_larger_decides():
    rows = [a_refill("2026-09-01T12:00:00Z", 1, level_after_l=4), a_refill("2026-10-01T12:00:00Z", 0.6),
            a_refill("2026-11-01T12:00:00Z", 0.5, level_after_l=3.5)]
    found = out(level=3, refills=rows)
    assert found["measured"]["value"] == pytest.approx((0.6 + 0.5 + 0.5) * 1000 / 61)
    assert found["days_to_low"]["inputs"]["use"]["value"] == found["measured"]["value"] > found["use"]["value"]
    slow = [dict(row, refill_l=0.01, level_after_l=None) for row in rows]
    assert out(level=3, refills=slow)["days_to_low"]["inputs"]["use"]["value"] == found["use"]["value"]


@pytest.mark.parametrize("days", [(), (1,), (1, 5)])
def test_few_refills_measure_nothing(days):
    assert "measured" not in out(refills=[a_refill("2026-11-0%dT12:00:00Z" % day, 1) for day in days])


def test_without_any_level_it_says_what_to_do():
    other = {"reservoir_level:pump": {"answer": "not applicable", "at": "2026-11-20T12:00:00+01:00"}}
    found = out(other=other, refills=[a_refill("2026-11-21T12:00:00+01:00", 1)])
    assert (found["low_on"], found["needed"], found["findings"][0]["says"]) == (None, False, "No level is known.") and found["use"]["shown"]


def test_a_later_day_needs_more_and_more_often():
    soon, later = out(level=0.9), out(level=0.9, day="2027-02-01")
    assert (soon["needed"], later["needed"]) == (False, True) and later["fill"]["value"] > soon["fill"]["value"]
    assert out(level=0.9, day="2040-01-01")["fill"]["value"] == 4


def test_what_to_carry_is_summed_by_lubricant():
    soon = [("A", "Soft"), ("B", "Firm"), ("C", "Soft")]
    rows = [{"name": name, "refill": dict(out(level=0.62), lubricant=lubricant)} for name, lubricant in soon]
    rows.append({"name": "D", "refill": out(level=3)})
    found = ask({"do": "carry", "rows": rows, "units": "metric"})["carry"]
    assert [(row["lubricant"], row["systems"]) for row in found] == [("Firm", ["B"]), ("Soft", ["A", "C"])]
    litres = found[1]["litres"]
    assert litres["value"] == pytest.approx(2 * rows[0]["refill"]["fill"]["value"]) and litres["shown"].endswith(" l")


def drawn(seed):
    """(document, what is known) at random."""
    rng = random.Random(seed)
    document = KINDS[sorted(KINDS)[seed % 4]]()
    rows = [a_refill("2026-%02d-%02dT12:00:00Z" % (rng.randint(8, 11), rng.randint(1, 22)), round(rng.uniform(0.01, 3), 2),
                     level_after_l=rng.choice([None, round(rng.uniform(1, 4), 1)])) for _ in range(rng.randint(0, 4))]
    worked = ask({"do": "work", "document": document, "simulate": False})["reservoir"]
    return document, {"level": round(rng.uniform(0, 4), 2), "refills": rows, "worked": {"reservoir": worked}}, rng


@pytest.mark.parametrize("seed", range(40))
def test_more_use_never_means_a_later_low_level_and_every_figure_can_be_followed(seed):
    document, known, rng = drawn(seed)
    before = out(document, **known)
    per_day = known["worked"]["reservoir"]["per_day"]
    more = dict(per_day, value=per_day["value"] * rng.uniform(1, 30))
    after = out(document, **dict(known, worked={"reservoir": {"per_day": more}}))
    for name in ("days_to_low", "days_to_empty"):
        assert after[name]["value"] <= before[name]["value"] * (1 + 1e-12) + 1e-9
    assert after["fill"]["value"] >= before["fill"]["value"] and before["days_to_low"]["value"] <= before["days_to_empty"]["value"]
    assert (after["low_on"] or "9999") <= (before["low_on"] or "9999") and 0 <= before["fill"]["value"] <= document["pump"]["reservoir_l"]
    assert after["needed"] or not before["needed"]
    assert follow(list(figures_in(before))) >= 5
