"""What was filled in against the doses given."""
import random

import pytest

from demo_site import plant
from webapp.engine.bridge import ask
from webapp.engine.trends.consumption import DOSES, HOURS, MARK, POURED

DAYS = ("2025-01-06", "2025-03-03", "2025-05-05", "2025-07-07", "2025-09-01")


def consumption(refills, **changes):
    return ask({"do": "trend", "document": dict(plant.head_rig(), **changes), "readings": [], "refills": refills})


def expected():
    """Litres to be given from one refill to the next."""
    out = consumption([{"at": day, "refill_l": 1} for day in DAYS])["consumption"]
    return [interval["expected"] for interval in out["intervals"]]


def refills(*shares):
    return [{"at": DAYS[0], "refill_l": 1}] + [{"at": day, "refill_l": litres * share}
                                               for day, litres, share in zip(DAYS[1:], expected(), shares, strict=True)]


def ids(out):
    return [finding["id"] for finding in out["findings"]]


def test_what_is_given_follows_from_use_days_and_duty():
    per_day = ask({"do": "work", "document": plant.head_rig(), "simulate": False})["reservoir"]["per_day"]["value"]
    assert expected()[0] == pytest.approx(56 * 5 / 7 * per_day / 1000)


def test_as_much_as_was_given_is_no_finding():
    assert ids(consumption(refills(1, 1, 1, 1))) == []


@pytest.mark.parametrize("share, identifier", [(0.6, "consumption.less"), (1.6, "consumption.more")])
def test_too_little_or_too_much_is_told_with_what_to_look_for(share, identifier):
    out = consumption(refills(share, share, share, share))
    assert ids(out) == [identifier] and out["findings"][0]["where"] == "consumption.whole" and out["findings"][0]["do"]


def test_a_leak_since_the_last_refill_but_one_is_told():
    out = consumption(refills(1, 1, 1, 2.6))
    assert ids(out) == ["consumption.more"]


def test_counted_cycles_take_the_running_hours_out_of_the_uncertainty():
    rows = refills(0.85, 0.85, 0.85, 0.85)
    plain = consumption(rows)["consumption"]["whole"]
    cycles = 1000 * expected()[0] / ask({"do": "work", "document": plant.head_rig(), "simulate": False})[
        "reservoir"]["per_day"]["inputs"]["event"]["value"]
    counted = consumption([dict(row, cycles=cycles) for row in rows])["consumption"]["whole"]
    assert counted["high"]["value"] - counted["low"]["value"] < plain["high"]["value"] - plain["low"]["value"]


def test_the_stated_uncertainty_is_that_of_its_parts():
    """Drawn two thousand times by its parts, the share lies within low and high as often as 2.5 deviations say."""
    rng, parts = random.Random(4), expected()
    reservoir = plant.head_rig()["pump"]["reservoir_l"]
    out = consumption(refills(1, 1, 1, 1))["consumption"]["whole"]
    within = 0
    for _ in range(2000):
        given = sum(parts) * rng.gauss(1, HOURS) * rng.gauss(1, DOSES)
        marks = rng.gauss(0, MARK * reservoir) - rng.gauss(0, MARK * reservoir)
        used = sum(part * rng.gauss(1, POURED) for part in parts) + marks
        within += out["low"]["value"] <= used / given <= out["high"]["value"]
    assert 0.97 < within / 2000 < 0.998


def test_refills_of_one_morning_are_one():
    rows = refills(1, 1, 1, 1)
    rows[2:2] = [{"at": rows[1]["at"] + "T04:00:00Z", "refill_l": 0.1}]
    out = consumption(rows)["consumption"]
    assert len(out["intervals"]) == 4
    assert out["whole"]["used"]["value"] == pytest.approx(sum(expected()) + 0.1)


@pytest.mark.parametrize("rows", [[{"at": DAYS[0], "refill_l": 2}],
                                  [{"at": "soon", "refill_l": 2}, {"at": DAYS[1], "refill_l": 0}]])
def test_a_single_refill_only_begins_the_count(rows):
    out = consumption(rows)
    assert ids(out) == ["consumption.few"] and out["consumption"] == {}
