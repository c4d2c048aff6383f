"""What measured runs say of the lubricant: the line model's own answers give its own inputs back."""
import pytest

from demo_site import plant
from webapp.engine.bridge import ask


def fitted(system, **measured):
    return ask({"do": "work", "document": dict(system, measured=measured)})["fit"]


def simulated(system, at_c):
    return ask({"do": "simulate", "document": system, "at_c": at_c})["trip_s"][0]


def residual(system):
    return ask({"do": "work", "document": system})["line"]["residual_usual"]


@pytest.mark.parametrize("air", [0.002, 0.01, 0.03])
def test_a_build_up_that_the_model_predicts_gives_its_free_air_back(air):
    system = plant.head_rig()
    system["lubricant"] = dict(system["lubricant"], air_fraction=air)
    usual = system["ambient"]["usual_c"]
    assert fitted(system, build_s=[simulated(system, usual)], at_c=usual)["air_fraction"]["value"] == pytest.approx(air, rel=0.02)


def test_a_longer_build_up_says_more_air():
    few, many = (fitted(plant.head_rig(), build_s=[seconds])["air_fraction"]["value"] for seconds in (80, 100))
    assert many > few


def test_a_build_up_too_quick_for_any_air_says_none():
    assert fitted(plant.head_rig(), build_s=[5])["air_fraction"]["value"] == 0


def test_what_stays_after_venting_gives_the_yield_at_the_reference_temperature_back():
    system = plant.sorter_chain()
    left = residual(system)
    found = fitted(system, residual_bar=[{"at": left["at"], "bar": left["value"]}], at_c=system["ambient"]["usual_c"])
    assert found["yield_pa"]["value"] == pytest.approx(system["lubricant"]["yield_pa"], rel=1e-9)


def test_the_spread_of_the_runs_is_carried_through():
    found = fitted(plant.head_rig(), build_s=[80, 84, 81])
    assert found["air_fraction_low"]["value"] < found["air_fraction"]["value"] < found["air_fraction_high"]["value"]


def test_a_place_that_the_line_does_not_have_says_nothing():
    assert "yield_pa" not in fitted(plant.head_rig(), residual_bar=[{"at": "nowhere", "bar": 3}])


def test_nothing_measured_nothing_fitted():
    assert ask({"do": "work", "document": plant.head_rig()})["fit"] == {}
