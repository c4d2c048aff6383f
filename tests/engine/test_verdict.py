"""A test run judged: what counts, how far it lies from the prediction, the time limit that follows."""
import copy

import pytest

from demo_site import plant
from webapp.engine.bridge import ask

PREDICTED = ask({"do": "simulate", "document": plant.head_rig()})["trip_s"][0]


def judged(*times, at_c=None, **more):
    runs = [{"build_s": seconds, "vent_s": 6.0, **more} for seconds in times]
    return ask({"do": "verdict", "document": plant.head_rig(), "record": {"runs": runs, "at_c": at_c}})


@pytest.mark.parametrize("times, verdict", [
    ((), "verdict.no_runs"), ((1.0, 1.0), "verdict.few_runs"), ((0.8, 1.0, 1.1), "verdict.spread"), ((1.0, 1.01, 0.99), "verdict.agrees"),
    ((1.5, 1.52, 1.51), "verdict.slow"), ((0.5, 0.51, 0.5), "verdict.quick")])
def test_the_verdict(times, verdict):
    assert judged(*[PREDICTED * share for share in times])["verdict"] == verdict


def test_the_limit_is_the_longest_run_and_half_up_to_the_controllers_step():
    limit = judged(80.2, 81.1, 79.9)["time_limit"]
    assert limit["value"] == 125 and limit["estimate"] is False  # 1.5 * 81.1 = 121.65, the controller counts in 5 s


def test_before_the_first_run_it_says_what_to_expect():
    out = judged()
    assert [out[name]["value"] for name in ("predicted_low", "predicted_high")] == pytest.approx([0.7 * PREDICTED, 1.3 * PREDICTED])


def test_a_run_that_does_not_count_changes_nothing():
    record = {"runs": [{"build_s": 80.0}, {"build_s": 80.5}, {"build_s": 80.2}, {"build_s": 300.0, "counts": False}]}
    assert ask({"do": "verdict", "document": plant.head_rig(), "record": record})["spread"]["shown"] == "0.6 %"


def test_a_colder_line_is_predicted_slower():
    warm, cold = (judged(80, 80, 80, at_c=at_c)["predicted_low"]["value"] for at_c in (25, -20))
    assert cold > warm


def test_measured_runs_set_the_limit_of_the_worked_system():
    system = copy.deepcopy(plant.head_rig())
    system["measured"] = {"build_s": [80.2, 81.1, 79.9], "vent_s": [6, 6, 6], "at_c": 7}
    assert ask({"do": "work", "document": system})["build"]["time_limit"]["value"] == 125
