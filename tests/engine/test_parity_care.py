"""What is due, points not confirmed fed and refills, worked on both machines: every number and every text alike."""
import pytest

from webapp.engine.care.fed import Lacks, over
from webapp.phone_engine import PhoneEngine

from .cared import a_defect, known
from .test_fed import a_history
from .test_parity import both, differences
from .test_refills import a_refill


@pytest.fixture(scope="module")
def phone():
    with PhoneEngine() as engine:
        yield engine


@pytest.mark.parametrize("seed", range(12))
def test_care_is_alike(phone, seed):
    document, rounds, defects = a_history(seed)
    refills = [a_refill("2026-0%d-03T10:20:30.125+02:00" % month, 0.3 + seed / 7, level_after_l=3.1) for month in (2, 3, 4)]
    about = known(document, rounds[-1]["made_at"], rounds=rounds, defects=defects + [a_defect()], refills=refills, run_at=None)
    request = {"do": "care", "document": document, "now": "2026-06-%02dT03:04:05.678-05:00" % (seed + 1), "known": about,
               "day": "2026-07-01", "units": "us" if seed % 2 else "metric"}
    here, there = both(phone, request)
    assert here["due"] and here["fed"]["told"]["says"] and here["refill"]["low_on"] and differences(here, there) == []
    here, there = both(phone, {"do": "carry", "rows": [{"name": "A", "refill": here["refill"]}] * 2, "units": "us"})
    assert differences(here, there) == []


def test_periods_are_alike(phone):
    document, rounds, defects = a_history(5)
    known, end = {"rounds": rounds, "defects": defects}, "2026-05-01T11:59:59+01:00"
    assert over(Lacks(document, end, known), "2026-02-01", end)["hours"]["value"] > 0
    here, there = both(phone, {"do": "care", "document": document, "now": end, "period": ["2026-02-01", end], "known": known})
    assert here["lacked"]["hours"]["shown"].endswith(" h") and differences(here, there) == []
