"""Pipes that are not as warm as the system: their temperature, and what it does to drop, residual and build-up."""
import json
import random

import pytest

from webapp.engine.bridge import answer, ask
from webapp.engine.document.check import check
from webapp.engine.line.line import drop, locked_pressures, residual, vents_down_to
from webapp.engine.events.simulate import simulate
from webapp.engine.line.warmth import section_c
from webapp.phone_engine import PhoneEngine

from .faulted import stated_system
from .formula import evaluate
from .reference_line import Run
from .systems import plain_system

OUTDOORS = {"coldest_c": -20, "usual_c": 0, "hottest_c": 40}
HALL = {"coldest_c": 5, "usual_c": 20, "hottest_c": 35}


def half_outdoors():
    """The plain line in two pipes, the second outdoors."""
    document = plain_system()
    document["sections"] = [{"id": "S0", "from": "pump", "to": "N1", "length_m": 6, "bore_mm": 10},
                            {"id": "S1", "from": "N1", "to": "N0", "length_m": 6, "bore_mm": 12, "ambient": OUTDOORS}]
    return document


@pytest.mark.parametrize("at_c, own_c", [(5, -20), (12.5, -10), (20, 0), (27.5, 20), (35, 40), (0, -25), (40, 45)])
def test_a_pipe_sits_at_the_same_place_between_its_own_temperatures(at_c, own_c):
    assert section_c({"ambient": HALL}, {"ambient": OUTDOORS}, at_c) == pytest.approx(own_c)
    assert section_c({"ambient": HALL}, {}, at_c) == at_c


def test_a_system_that_is_never_colder_than_usual_still_has_a_place_for_its_pipes():
    system = {"coldest_c": 20, "usual_c": 20, "hottest_c": 35}
    assert [section_c({"ambient": system}, {"ambient": OUTDOORS}, at_c) for at_c in (19, 20, 35)] == [-21, 0, 40]


@pytest.mark.parametrize("when", sorted(HALL))
def test_a_line_all_outdoors_is_as_a_system_outdoors(when):
    inside, outside = plain_system(), plain_system(ambient=OUTDOORS)
    inside["sections"][0]["ambient"] = OUTDOORS
    for figure in (drop, residual):
        assert figure(inside, HALL[when])["value"] == pytest.approx(figure(outside, OUTDOORS[when])["value"], rel=1e-12)
    ours, theirs = (simulate(document, {"D0": 0.5}, at_c)["trip_s"][0]
                    for document, at_c in ((inside, HALL[when]), (outside, OUTDOORS[when])))
    assert ours == pytest.approx(theirs, rel=1e-9)


def test_residual_and_drop_show_their_working_pipe_by_pipe():
    document = half_outdoors()
    for entry in (residual(document, 5), drop(document, 5)):
        inputs = {name: one["value"] for name, one in entry["inputs"].items()}
        assert evaluate(entry["formula"], inputs) == pytest.approx(entry["value"], rel=1e-9)
        assert inputs["t"] == [5, -20] and inputs["tau_y"][1] > inputs["tau_y"][0]
    assert residual(document, 5)["value"] == pytest.approx(4 * sum(
        tau * length / bore for tau, length, bore in zip(inputs["tau_y"], (6, 6), (0.010, 0.012), strict=True)) / 1e5)


def test_the_lowest_temperature_at_which_it_vents_is_that_of_the_system():
    document = half_outdoors()
    at_c = vents_down_to(document, "N0", 15, 5)
    assert locked_pressures(document, at_c)["N0"] == pytest.approx(15, rel=1e-6)


@pytest.mark.parametrize("seed", range(6300, 6310))
def test_the_trip_time_is_within_2_percent_of_the_solver_s(seed):
    document, doses = stated_system(seed, output="output_min_cm3")
    rng = random.Random(seed)
    for section in document["sections"]:
        if rng.random() < 0.5:
            coldest = rng.randint(-25, 15)
            section["ambient"] = {"coldest_c": coldest, "usual_c": coldest + 10, "hottest_c": coldest + 30}
    at_c = rng.uniform(document["ambient"]["coldest_c"] - 5, document["ambient"]["hottest_c"])
    trace = simulate(document, doses, at_c)
    wanted = Run(document, doses, at_c, rtol=1e-8).trip_time()
    assert trace["trip_s"] == [None if wanted is None else pytest.approx(wanted, rel=0.02)]
    assert trace["balance_error"] < 0.005


def test_both_machines_work_it_alike():
    text = json.dumps({"do": "simulate", "document": half_outdoors(), "at_c": 1})
    with PhoneEngine() as phone:
        here, there = json.loads(answer(text)), json.loads(phone.ask(text))
    assert there["trip_s"][0] == pytest.approx(here["trip_s"][0], rel=1e-9)


@pytest.mark.parametrize("own, place", [({"coldest_c": 5, "usual_c": 0, "hottest_c": 40}, "sections[1].ambient"),
                                        (7, "sections[1].ambient"),
                                        ({"coldest_c": 5, "usual_c": 6}, "sections[1].ambient.hottest_c")])
def test_temperatures_out_of_order_or_missing_are_told_with_their_place(own, place):
    document = half_outdoors()
    document["sections"][1]["ambient"] = own
    assert [entry["where"] for entry in check(document)] == [place]


def test_a_pipe_outdoors_lengthens_the_coldest_build_up_and_raises_the_residual():
    indoors = half_outdoors()
    del indoors["sections"][1]["ambient"]
    warm, cold = (ask({"do": "work", "document": document}) for document in (indoors, half_outdoors()))
    assert cold["build"]["time_coldest"]["value"] > warm["build"]["time_coldest"]["value"]
    assert cold["line"]["residual_coldest"]["value"] > warm["line"]["residual_coldest"]["value"]
