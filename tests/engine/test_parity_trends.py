"""Trends and fits worked on both machines: every number alike to a relative 1e-9, every text the same."""
import pytest

from demo_site import plant
from tests.demo.newest import newest
from webapp.phone_engine import PhoneEngine

from .histories import history, systems
from .measured import case
from .systems import random_system
from .test_parity import both, differences


@pytest.fixture(scope="module")
def phone():
    with PhoneEngine() as engine:
        yield engine


@pytest.mark.parametrize("seed", range(20))
def test_trends_are_alike(phone, seed):
    document = systems()[seed % len(systems())]
    readings = [dict(reading, residual_bar=2 + number % 5 / 4)
                for number, reading in enumerate(history(document, seed, 24, 16, 0.04))]
    refills = [{"at": readings[week]["at"], "refill_l": 1 + week / 10} for week in (0, 6, 13, 20)]
    here, there = both(phone, {"do": "trend", "document": document, "readings": readings, "refills": refills,
                               "units": "us" if seed % 2 else "metric"})
    assert len(here["build_up"]["points"]) == 24 and len(here["consumption"]["intervals"]) == 3
    assert differences(here, there) == []


@pytest.mark.parametrize("kind", ["progressive", "dual-line", "time-only"])
def test_the_other_kinds_are_alike(phone, kind):
    document = random_system(2, 8, kind)
    readings = [{"at": "2026-01-%02d" % day, "build_s": 60 + day % 3, "at_c": 5 + day} for day in range(1, 15)]
    for request in ({"do": "trend", "readings": readings}, {"do": "fit", "readings": [{"build_s": [60, 61], "at_c": 8}]}):
        here, there = both(phone, dict(request, document=document))
        assert differences(here, there) == [], request["do"]


@pytest.mark.parametrize("seed", range(5))
def test_fits_are_alike(phone, seed):
    document, readings, _ = case(seed)
    here, there = both(phone, {"do": "fit", "document": document, "readings": readings})
    assert here["unknowns"] and differences(here, there) == []


@pytest.mark.parametrize("units", ["metric", "us"])
def test_pictures_of_a_trend_are_alike(phone, units):
    document = systems()[1]
    chart = both(phone, {"do": "trend", "document": document, "readings": history(document, 2, 40, 30)})[0]["build_up"]
    here, there = both(phone, {"do": "trend_picture", "chart": chart, "width": 328, "units": units})
    assert "drifts since" in here["svg"] and differences(here, there) == []


@pytest.mark.parametrize("number, units", [(3, "metric"), (4, "us"), (7, "metric")])
def test_a_system_over_time_is_alike(phone, number, units):
    """The demo's two years: a call that stands and one that was set aside, a leak that was repaired, a time-only system."""
    document, records = newest(plant.systems()[number - 1], number)
    records["set-aside"].append({"finding": "trend.meets", "of": "2026-11-16T07:30:00+01:00", "why": "Ordered.", "made_at": "2026-11-16T08:00:00+01:00"})
    here, there = both(phone, {"do": "over_time", "document": document, "records": records, "units": units})
    assert differences(here, there) == [] and len(here["trend"]["set_aside"]) == (number == 3)
    for width, days in ((328, None), (960, 366)):
        picture = {"do": "history_picture", "history": here["history"], "width": width, "days": days, "units": units}
        assert differences(*both(phone, picture)) == []
