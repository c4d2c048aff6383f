"""What would make a system of another kind work, each proposal held against the engine; what a kind has no place for is not offered."""
import pytest

from demo_site import plant
from webapp.engine.basics.kinds import fitting
from webapp.engine.events import blocks as turning
from webapp.engine.events.simulate import simulate
from webapp.engine.line.tree import spot
from webapp.engine.systems.line_findings import NEAR
from webapp.engine.systems.worked import doses_from, work
from webapp.engine.year import build_ups, design_changes

from .formula import evaluate
from .systems import plain_progressive, random_system
from .test_design_help import change, helped
from .sound import figures_in
from .test_season import long_line
from .test_season_kinds import blocks, dual, oiled, timed

KINDS = ("progressive", "dual-line", "time-only")


def cold(document):
    return document["ambient"]["coldest_c"]


def works(document, base):
    """True where the whole event completes at the coldest with the doses of `base`, with a fifth to spare, in the controller's time."""
    document = fitting(document)
    doses = build_ups.of_devices(document, doses_from(base, work(base)))
    trace = simulate(build_ups.waiting(document), doses, cold(document))
    end, most = build_ups.slowest(document, trace)[0], document["controller"]["time_limit"]
    most = max(one["max_s"] for one in (most if isinstance(most, list) else [most]))
    return trace["completed"] and end <= most and build_ups.share(document, cold(document))[0] < NEAR


def built(document, row):
    return design_changes.with_bores(document, [one["bore"]["value"] for one in row["sections"]])


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("seed", [3, 8, 11])
def test_pipe_that_is_said_to_work_works(kind, seed):
    document = random_system(seed, 8, kind)
    if kind == "progressive":
        document["pump"]["relief_bar"] = 90
    document.pop("measured", None)
    told = {row["change"]: row for row in helped(document)["changes"]}
    assert told["plan"]["works"] == works(built(document, told["plan"]), document)
    if "bores" in told:
        assert told["bores"]["works"] == works(built(document, told["bores"]), document)


def test_blocks_too_near_the_relief_pressure_get_wider_pipe_softer_grease_or_a_smaller_pump():
    document = blocks(relief=95)
    answer = helped(document)
    assert not answer["as_is"]["works"] and answer["as_is"]["limit"] == "relief"
    told = {row["change"]: row for row in answer["changes"]}
    assert set(told) == {"bores", "grade", "delivery", "plan"}
    assert told["bores"]["works"] and works(built(document, told["bores"]), document)
    assert told["grade"]["works"]
    softened = next(one for one in (design_changes.softer(document, steps) for steps in (1, 2, 3)) if works(one, document))
    assert "NLGI " + softened["lubricant"]["nlgi"] in told["grade"]["about"]["says"]
    assert told["delivery"]["about"]["with"]["delivery"]["value"] < document["pump"]["delivery_cm3_min"]
    for row in answer["changes"]:
        assert "peak" in row and "rest" in row and "residual" not in row


def test_a_switch_on_a_slow_block_may_count_a_quicker_one():
    document = plain_progressive(controller={"pause": {"min_s": 60, "max_s": 86400, "step_s": 60}, "cycles_max": 1,
                                             "time_limit": {"min_s": 1, "max_s": 60, "step_s": 1}})
    document["devices"][1]["outlets"][1]["output_cm3"] = 40
    document["switches"][0]["counts"] = "B1"
    assert turning.turns(document)["B1"] < 0.01
    assert helped(document)["as_is"]["limit"] == "time_limit"
    row = change(document, "switch")
    assert row["works"] and "B0" in row["about"]["says"] and row["about"]["id"] == "design.counts"
    assert works(design_changes.with_switch_counting(document, "B0"), document)


def test_nothing_is_offered_that_a_kind_has_no_place_for():
    for document, never in ((blocks(relief=95), {"split", "switch"}), (oiled(timed(long_line()), most_s=70), {"switch"})):
        answer = helped(document)
        assert not answer["as_is"]["works"] and never & {row["change"] for row in answer["changes"]} == set()


def test_a_stronger_pump_feeds_all_in_the_longest_run():
    document = oiled(timed(long_line()), most_s=75)
    document["ambient"]["coldest_c"] = 8
    row = change(document, "delivery")
    stronger = design_changes.with_delivery(document, row["about"]["with"]["delivery"]["value"] / document["pump"]["delivery_cm3_min"])
    assert row["works"] and works(stronger, document) and not works(document, document)


def test_both_parts_of_a_dual_line_cut_in_two_keep_their_sides_and_work():
    document = next(one for one in plant.systems() if one["kind"] == "dual-line")
    row = change(document, "split")
    node, near, far = design_changes.split(document, cold(document))
    assert "at %s," % spot(document, node) in row["about"]["says"] and row["works"] == (works(near, document) and works(far, document))
    assert {point["side"] for point in near["points"]} == {point["side"] for point in far["points"]} == {"A", "B"}


def test_both_pipes_of_a_dual_line_cost():
    document = dual(long_line())
    document["choices"] = {"pipe_prices": [{"bore_mm": 12, "price_per_m": 5}, {"bore_mm": 16, "price_per_m": 7}]}
    assert helped(document)["as_is"]["cost"]["value"] == 2 * 60 * 5
    document = blocks()
    document["choices"] = {"pipe_prices": [{"bore_mm": 12, "price_per_m": 5}]}
    assert helped(document)["as_is"]["cost"]["value"] == 60 * 5


def test_an_outlet_should_give_what_its_point_needs_in_the_event():
    document = plain_progressive()
    worked, outputs = work(document), {row["device"]: row for row in helped(document)["outputs"]}
    assert set(outputs) == {"B0 O1", "B0 O2", "B1 O1", "B1 O2"}
    hours = worked["interval"]["event"]["value"] / 3600
    # the second block turns 0.2 / 0.4 times while the first turns once
    assert outputs["B1 O2"]["output"]["value"] == pytest.approx(0.3 * hours / 0.5)
    gives = turning.gives(document)
    for name, row in outputs.items():
        given, wanted = gives[tuple(name.split())], row["output"]["value"]
        assert row["fits"] == (wanted <= given * (1 + 1e-9) and given <= 2 * wanted), name


@pytest.mark.parametrize("kind", ("single-line",) + KINDS)
@pytest.mark.parametrize("seed", range(6))
def test_every_figure_shows_its_working_and_every_text_is_filled(kind, seed):
    answer = helped(random_system(seed, 8, kind))
    for path, entry in figures_in(answer):
        assert entry["shown"].strip(), path
        if entry["method"] in ("iterated", "simulated"):
            assert 0 <= entry["residual"]["value"] <= entry["residual"]["limit"], path
        else:
            inputs = {name: one["value"] for name, one in entry["inputs"].items()}
            assert float(evaluate(entry["formula"], inputs)) == pytest.approx(entry["value"], rel=1e-6, abs=1e-12), path
    for row in [answer["as_is"], *answer["changes"]]:
        assert row["about"]["says"] and "{" not in row["about"]["says"] + row["about"]["do"]
