"""Ranges of predictions that rest on estimates, held against draws of the whole simulation; what moves the answer most."""
from itertools import combinations
from random import Random

import pytest

from tests.benchmarks.draws import FEWEST, MOST, bare, drawn, held, shares
from webapp.engine.bridge import ask
from webapp.engine.basics.kinds import fitting
from webapp.engine.events.simulate import moments, simulate
from webapp.engine.year import build_ups
from webapp.engine.year.uncertainty import TEN_TO_NINETY, moved_by, uncertain
from webapp.engine.year.venting_time import VentingTime
from webapp.engine.systems.worked import doses_from, work

from .formula import evaluate
from .sound import figures_in
from .systems import any_system, plain_progressive, plain_system, random_system

DRAWS = 300


def answer(document, **more):
    return ask(dict({"do": "sensitivity", "document": document}, **more))


def graded(nlgi="1", **lubricant):
    """The plain system with a grease of which nothing but the grade is known."""
    return plain_system(lubricant=dict(lubricant, nlgi=nlgi))


def near_relief():
    """The same on a longer line whose pump reaches its relief pressure first in about one of ten cases, in the cold in four."""
    document = graded()
    document["sections"][0]["length_m"] = 30
    document["pump"]["relief_bar"] = 170
    document["devices"][0]["resets_bar"], document["switches"][0]["resets_bar"] = 59, 90
    return document


@pytest.mark.parametrize("document", [graded(), near_relief()])
def test_the_stated_range_holds_80_percent_of_the_draws(document):
    found = shares(document, DRAWS, 1)
    assert sorted(found) == ["build.time_coldest", "build.time_usual", "vent.reset_coldest", "vent.reset_usual"]
    for share, low, _, _ in found.values():
        assert low is not None and FEWEST <= share <= MOST


@pytest.mark.parametrize("kind, paths", [
    ("progressive", ["build.time_"]), ("dual-line", ["build.time_a", "build.time_b", "vent.reset_"]), ("time-only", ["build.time_"])])
def test_so_does_the_range_of_every_other_kind(kind, paths):
    found = shares(random_system(0, 8, kind) | {"lubricant": {"nlgi": "0"}}, DRAWS, 1)
    assert len(found) == 2 * len(paths)
    for path, (share, low, _, _) in found.items():
        assert low is not None and FEWEST <= share <= MOST, path


def test_where_one_simulation_alone_trips_the_range_still_goes_by_the_friction():
    """In the cold the relief pressure is reached first, so that only the usual temperature tells what friction adds."""
    document = bare(107, kind="dual-line")
    row = next(row for row in answer(document)["ranges"] if row["of"] == "build.time_usual_a")
    times = drawn(document, document["ambient"]["usual_c"], 60, 3)["build.time__a"]
    assert FEWEST <= held(times, row["low"]["value"], row["high"]["value"]) <= MOST


@pytest.mark.parametrize("seed, when", [(102, "usual"), (124, "coldest"), (139, "usual")])
def test_cases_vent_in_the_order_in_which_the_closed_form_ranks_them(seed, when):
    """Lines whose last thing to reset is not the one with most pressure locked in, or hangs beyond narrow pipes or a small valve."""
    document, rng = fitting(bare(seed)), Random(7)
    at_c, doses, inputs = document["ambient"][when + "_c"], doses_from(document, work(document)), uncertain(document)
    venting, found = VentingTime(document, at_c), []
    for _ in range(16):
        moved = moved_by(document, inputs, [rng.gauss(0, 1) for _ in inputs])
        moment = moments(simulate(moved, doses, at_c))
        if moment["ready"] is not None:
            found.append((moment["ready"] - moment["open"], venting.seconds(moved, at_c)))
    apart = [(one, other) for one, other in combinations(sorted(found), 2) if other[0] > 1.05 * one[0]]
    assert len(apart) >= 40 and sum(one[1] < other[1] for one, other in apart) >= 0.9 * len(apart)


def test_a_range_spans_what_is_expected():
    rows = answer(graded("0"))["ranges"]
    assert [row["of"] for row in rows] == [name + when for when in ("usual", "coldest")
                                           for name in ("build.time_", "line.drop_", "line.residual_", "vent.reset_")]
    for row in rows:
        assert row["low"]["value"] < row["expected"]["value"] < row["high"]["value"]


def test_where_nothing_is_estimated_there_is_no_range():
    assert answer(plain_system())["ranges"] == [] and answer(graded())["ranges"] != []


def test_an_estimate_that_does_not_touch_the_build_up_gives_it_no_range():
    document = plain_system()
    del document["lubricant"]["density_kg_m3"]
    assert answer(document)["ranges"] == []


def test_more_known_gives_a_narrower_range():
    wide, narrow = (next(row for row in answer(document)["ranges"] if row["of"] == "line.residual_coldest")
                    for document in (graded(), graded(yield_pa=190)))
    assert narrow["high"]["value"] / narrow["low"]["value"] < wide["high"]["value"] / wide["low"]["value"]


def test_a_switch_that_may_never_trip_leaves_the_range_open_and_is_warned_of():
    found = answer(near_relief())
    coldest = next(row for row in found["ranges"] if row["of"] == "build.time_coldest")
    assert coldest["high"] is None and "range.never" in [entry["id"] for entry in found["findings"]]


def test_one_temperature_alone_takes_two_simulations_for_the_build_up_and_two_for_the_reset(monkeypatch):
    from webapp.engine.year import prediction_range
    document, made = graded("0"), []
    worked = work(document, True, True)
    monkeypatch.setattr(prediction_range, "simulate", lambda *what: made.append(what) or simulate(*what))
    rows = answer(document, worked=worked, when="coldest")["ranges"]
    assert len(made) == 4 and {row["of"].rpartition("_")[2] for row in rows} == {"coldest"}


@pytest.mark.parametrize("seed", range(32))
def test_every_figure_shows_its_working(seed):
    found = answer(any_system(seed, 10))
    compared = 0
    for path, entry in figures_in(found):
        assert entry["shown"].strip(), path
        if entry["method"] in ("iterated", "simulated"):
            assert 0 <= entry["residual"]["value"] <= entry["residual"]["limit"], path
        elif entry["value"] is not None:
            inputs = {name: one["value"] for name, one in entry["inputs"].items() if one["value"] is not None}
            assert float(evaluate(entry["formula"], inputs)) == pytest.approx(entry["value"], rel=1e-6, abs=1e-9), path
            compared += 1
    assert compared >= 10


def test_every_input_has_its_own_uncertainty_and_the_estimated_ones_the_wider():
    stated, guessed = ({one.field: one for one in uncertain(document, True)} for document in (plain_system(), graded()))
    assert set(stated) == set(guessed) and len(stated) == 13
    for field, one in guessed.items():
        assert one.by >= stated[field].by and one.estimate == (field in plain_system()["lubricant"]), field


def simulated_change(document, one):
    """How far the simulated build-up at the coldest goes, as a share, when one input goes to either end of its uncertainty."""
    doses = doses_from(document, work(document))
    taken = simulate(document, doses, document["ambient"]["coldest_c"])["trip_s"][0]
    ends = [simulate(moved, doses, moved["ambient"]["coldest_c"])["trip_s"][0] for moved in
            (one.moved(document, z) for z in (-TEN_TO_NINETY, TEN_TO_NINETY))]
    return max(abs(end / taken - 1) for end in ends)


@pytest.mark.parametrize("seed", [0, 4, 6, 10, 15, 21])
def test_the_input_that_is_named_moves_the_simulated_build_up_most(seed):
    document = random_system(seed, 10)
    rows = answer(document)["moves"]
    named = max((row for row in rows if row["build"]["value"] is not None), key=lambda row: abs(row["build"]["value"]))
    changes = {one.path: simulated_change(document, one) for one in uncertain(document, True)}
    assert changes[named["path"]] >= 0.95 * max(changes.values())
    assert abs(named["build"]["value"]) / 100 == pytest.approx(changes[named["path"]], rel=0.25)


def test_the_input_that_is_named_moves_the_residual_most():
    found = answer(graded())
    note = next(entry for entry in found["findings"] if entry["id"] == "sensitivity.residual")
    assert note["where"] == "lubricant.yield_pa" and "100 %" in note["says"]


@pytest.mark.parametrize("known, guessed", [({"v40_mm2_s": 150, "v100_mm2_s": 14}, []), ({"v100_mm2_s": 14}, ["viscosity_index"]),
                                            ({"v40_mm2_s": 150}, ["viscosity_index"]), ({"v40_mm2_s": 15, "v100_mm2_s": 14.9}, [])])
def test_an_oil_of_which_one_viscosity_is_known_has_an_uncertain_index(known, guessed):
    document = plain_system(lubricant=dict(known, nlgi="oil", density_kg_m3=900, bulk_modulus_mpa=1400, air_fraction=0.01))
    assert [one.field for one in uncertain(document)] == guessed
    found = answer(document)
    assert [row["path"] for row in found["moves"] if row["path"].startswith("lubricant.v")] and bool(found["ranges"]) == bool(guessed)


def test_a_reset_that_may_never_come_leaves_the_range_open_and_is_warned_of():
    document = graded()
    document["sections"][0]["length_m"], document["pump"]["relief_bar"] = 30, 400
    found = answer(document)
    coldest = next(row for row in found["ranges"] if row["of"] == "vent.reset_coldest")
    assert coldest["low"] is not None and coldest["high"] is None
    assert "range.never_reset" in [entry["id"] for entry in found["findings"]]


def test_a_line_that_does_not_vent_has_no_range_of_what_stays_and_its_blocks_pressure_counts():
    document = plain_progressive(lubricant={"nlgi": "1"})
    found = answer(document)
    assert {row["of"].rpartition("_")[0] for row in found["ranges"]} == {"build.time", "line.drop"}
    assert {"devices[].fires_bar", "pump.delivery_cm3_min"} <= {row["path"] for row in found["moves"]}
    assert all("drop" in row and "residual" not in row for row in found["moves"])
    assert any(entry["id"] == "sensitivity.drop" for entry in found["findings"])


@pytest.mark.parametrize("kind", ["progressive", "dual-line", "time-only"])
def test_the_input_that_is_named_moves_the_build_up_of_another_kind_most(kind):
    document = random_system(4, 8, kind)
    worked = work(document, True, True)
    taken = slowest(worked["traces"]["coldest"], document)
    rows = answer(document)["moves"]
    named = max((row for row in rows if row["build"]["value"] is not None), key=lambda row: abs(row["build"]["value"]))
    doses, changes = doses_from(document, worked), {}
    for one in uncertain(document, True):
        ends = [simulate(build_ups.waiting(moved), doses, moved["ambient"]["coldest_c"])
                for moved in (one.moved(document, z) for z in (-TEN_TO_NINETY, TEN_TO_NINETY))]
        changes[one.path] = max(abs(slowest(end, document) / taken - 1) for end in ends)
    assert changes[named["path"]] >= 0.95 * max(changes.values())


def slowest(trace, document):
    return build_ups.slowest(document, trace)[0]


def test_a_pipe_with_temperatures_of_its_own_counts_in_the_range():
    document = plain_system(lubricant={"nlgi": "1"})
    before = {row["of"]: row for row in answer(document)["ranges"]}
    document["sections"][0]["ambient"] = {"coldest_c": -20, "usual_c": 0, "hottest_c": 20}
    after = {row["of"]: row for row in answer(document)["ranges"]}
    assert after["line.drop_coldest"]["low"]["value"] > before["line.drop_coldest"]["low"]["value"]
    assert after["vent.reset_usual"]["low"]["value"] > before["vent.reset_usual"]["low"]["value"]
