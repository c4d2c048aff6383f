"""Every figure shows its working: the printed formula over the printed inputs gives the printed value."""
import pytest

from webapp.engine.words.present import present
from webapp.engine.systems.test_run import verdict
from webapp.engine.systems.worked import work

from .formula import evaluate
from .mutated import mutated
from .sound import figures_in
from .systems import any_system, random_system
from .whole_systems import whole_system

SEEDS = range(1000, 1080)


def worked_figures(seed):
    """Every figure of a system and, for one with runs, of its test run's verdict."""
    document = any_system(seed, 24)
    yield from figures_in(work(document))
    runs = [{"build_s": seconds} for seconds in document.get("measured", {}).get("build_s", [])]
    yield from figures_in(verdict(document, {"runs": runs}), "verdict")


def follow(entries):
    """Asserts that each formula over its inputs gives the value, and that what has none closes; how many formulas there were."""
    formulas = 0
    for path, entry in entries:
        if entry["method"] in ("iterated", "simulated"):
            residual = entry["residual"]
            assert residual["says"] and 0 <= residual["value"] <= residual["limit"] <= 0.005, path
            continue
        inputs = {name: one["value"] for name, one in entry["inputs"].items()}
        value = evaluate(entry["formula"], inputs)
        if entry["unit"] == "bool":
            assert bool(value) is entry["value"], path
        else:
            assert float(value) == pytest.approx(entry["value"], rel=1e-6, abs=1e-12), (path, entry["formula"], inputs)
        formulas += 1
    return formulas


@pytest.mark.parametrize("seed", SEEDS)
def test_the_formula_gives_the_value_and_what_has_none_says_how_well_it_closes(seed):
    entries = list(worked_figures(seed))
    formulas = follow(entries)
    assert formulas > 10 and len(entries) - formulas >= 4


@pytest.mark.parametrize("make, start", [(whole_system, 50000), (whole_system, 50200), (mutated, 50000), (mutated, 50200)])
def test_the_formula_gives_the_value_with_every_field_and_with_slips_of_the_finger(make, start):
    followed = 0
    for seed in range(start, start + 200):
        worked = work(make(seed), False)
        followed += "settings" in worked and follow(figures_in(worked)) > 10
    assert followed > 60


def test_the_iterated_drop_is_the_sum_of_its_drops():
    for _, entry in worked_figures(SEEDS[0]):
        if entry["method"] == "iterated":
            inputs = {name: one["value"] for name, one in entry["inputs"].items()}
            assert float(evaluate(entry["formula"], inputs)) == pytest.approx(entry["value"], rel=1e-6)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("seed", SEEDS[::3])
def test_every_text_is_there_in_both_systems_of_units(seed, units):
    worked = present(work(any_system(seed, 24)), units)
    for path, entry in figures_in(worked):
        assert entry["shown"].strip() and entry["source"].strip(), path
        assert (entry["shown"] == "not known") == (entry["value"] is None), path
        for name, one in entry["inputs"].items():
            assert one["shown"].strip() and one["means"].strip(), (path, name)
            assert units == "metric" or one["metric"].strip(), (path, name)
    for entry in worked["settings"]:
        assert entry["label"].strip() and entry["shown"].strip() and entry["reason"].strip(), entry["name"]
    for entry in worked["findings"]:
        assert entry["says"].strip() and "{" not in entry["says"] + entry["do"], entry["id"]


def test_units_change_texts_and_never_values():
    metric, american = (present(work(random_system(SEEDS[0])), units) for units in ("metric", "us"))
    for (path, one), (_, other) in zip(figures_in(metric), figures_in(american), strict=True):
        assert one["value"] == other["value"], path
    assert metric["line"]["volume"]["shown"].endswith(" cm³")
    assert american["line"]["volume"]["shown"].endswith(" in³")


def test_a_missing_flow_property_marks_what_uses_it_as_an_estimate():
    document = random_system(SEEDS[0])
    document["lubricant"] = {"nlgi": "1"}
    assert work(document, False)["line"]["residual_coldest"]["estimate"]
    document["lubricant"].update(yield_pa=150, consistency_pa_sn=20, flow_index=0.5, reference_c=25, stiffening_per_k=0.02)
    assert not work(document, False)["line"]["residual_coldest"]["estimate"]
