"""Every figure shows its working: the printed formula over the printed inputs gives the printed value."""
import pytest

from webapp.engine.words.present import present
from webapp.engine.systems.test_run import verdict
from webapp.engine.systems.worked import work

from .formula import evaluate
from .sound import figures_in
from .systems import any_system, random_system

SEEDS = range(1000, 1080)


def worked_figures(seed):
    """Every figure of a system and, for one with runs, of its test run's verdict."""
    document = any_system(seed, 24)
    yield from figures_in(work(document))
    runs = [{"build_s": seconds} for seconds in document.get("measured", {}).get("build_s", [])]
    yield from figures_in(verdict(document, {"runs": runs}), "verdict")


@pytest.mark.parametrize("seed", SEEDS)
def test_the_formula_gives_the_value(seed):
    compared = 0
    for path, entry in worked_figures(seed):
        if entry["method"] not in ("iterated", "simulated"):
            inputs = {name: one["value"] for name, one in entry["inputs"].items()}
            value = evaluate(entry["formula"], inputs)
            if entry["unit"] == "bool":
                assert bool(value) is entry["value"], path
            else:
                assert float(value) == pytest.approx(entry["value"], rel=1e-6, abs=1e-12), (path, entry["formula"], inputs)
            compared += 1
    assert compared > 10


@pytest.mark.parametrize("seed", SEEDS)
def test_what_has_no_closed_form_states_how_well_it_closes(seed):
    entries = [(path, entry) for path, entry in worked_figures(seed) if entry["method"] in ("iterated", "simulated")]
    assert len(entries) >= 4
    for path, entry in entries:
        residual = entry["residual"]
        assert residual["says"], path
        assert 0 <= residual["value"] <= residual["limit"] <= 0.005, path


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
