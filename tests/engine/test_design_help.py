"""What would make a line work, each proposal held against the engine; bores, outputs and cost of a planned one."""
import pytest

from demo_site import plant
from webapp.engine.year import build_ups, design_changes
from webapp.engine.bridge import ask
from webapp.engine.systems.line_findings import NEAR
from webapp.engine.year.outlook import Outlook
from webapp.engine.events.simulate import simulate
from webapp.engine.systems.worked import doses_from, work

from .systems import plain_system, random_system
from .test_season import long_line, slow_in_the_cold

SEEDS = (2, 3, 4, 8, 13, 20)


def helped(document, **more):
    return ask(dict({"do": "design_help", "document": document}, **more))


def change(document, name):
    """The row of one change."""
    row, = helped(document, change=name)["changes"]
    return row


def works(document, base):
    """True where the whole cycle completes at the coldest with the doses of `base` and everything resets with a fifth to spare."""
    doses = {name: dose for name, dose in doses_from(base, work(base)).items() if name in {one["id"] for one in document["devices"]}}
    trace = simulate(document, doses, document["ambient"]["coldest_c"])
    return trace["completed"] and build_ups.share(document, document["ambient"]["coldest_c"])[0] < NEAR


def built(document, row):
    return design_changes.with_bores(document, [one["bore"]["value"] for one in row["sections"]])


def test_a_line_that_works_is_told_so_and_gets_a_plan_alone():
    answer = helped(plain_system())
    assert answer["as_is"]["works"] and [row["change"] for row in answer["changes"]] == ["plan"]


@pytest.mark.parametrize("document", [plant.sorter_chain(), *(random_system(seed, 10) for seed in SEEDS)], ids=lambda one: one["name"])
def test_what_is_said_to_work_works(document):
    answer = helped(document)
    told = {row["change"]: row for row in answer["changes"]}
    assert not answer["as_is"]["works"]
    for name in ("bores", "plan"):
        if name in told:
            assert works(built(document, told[name]), document) == told[name]["works"], name
    assert [row["works"] for row in answer["changes"]] == sorted([row["works"] for row in answer["changes"]], reverse=True)


@pytest.mark.parametrize("document", [plant.sorter_chain(), random_system(2, 16), random_system(8, 16)], ids=lambda one: one["name"])
def test_no_pipe_is_wider_than_it_must_be(document):
    row = change(document, "bores")
    bores, at_c = [one["bore"]["value"] for one in row["sections"]], document["ambient"]["coldest_c"]
    narrower = 0
    for number, section in enumerate(document["sections"]):
        below = [bore for bore in [section["bore_mm"], *design_changes.SERIES] if section["bore_mm"] <= bore < bores[number]]
        if below:
            tried = bores[:number] + [max(below)] + bores[number + 1:]
            assert build_ups.share(design_changes.with_bores(document, tried), at_c)[0] >= NEAR
            narrower += 1
    assert narrower


def test_a_softer_grease_is_scaled_from_what_was_stated_and_works_as_said():
    document = plant.sorter_chain()
    row = change(document, "grade")
    softened = next(one for one in (design_changes.softer(document, steps) for steps in (1, 2, 3)) if works(one, document))
    assert row["works"] and softened["lubricant"]["nlgi"] in row["about"]["says"]
    assert softened["lubricant"]["yield_pa"] < document["lubricant"]["yield_pa"]


def test_a_stronger_pump_helps_where_time_runs_out():
    document = slow_in_the_cold()
    document["controller"]["time_limit"] = {"min_s": 10, "max_s": 150, "step_s": 10}
    row = change(document, "delivery")
    assert row["works"] and row["build"]["value"] <= 150 and "64 cm³/min" in row["about"]["says"]


def test_the_switch_elsewhere_is_tried_and_helps_where_a_device_is_not_reached():
    document = long_line(yield_pa=40)
    document["switches"][0].update(at="pump", trips_bar=75)
    assert helped(document)["as_is"]["limit"] == "idle"
    row = change(document, "switch")
    assert row["works"] and "at D0" in row["about"]["says"]
    assert works(design_changes.with_switch_at(document, "N0"), document)


def test_two_lines_share_the_points_and_each_works():
    document = plant.sorter_chain()
    row = change(document, "split")
    node, near, far = design_changes.split(document, document["ambient"]["coldest_c"])
    assert len(near["points"]) + len(far["points"]) == len(document["points"]) and "at D2," in row["about"]["says"]
    assert row["works"] == (works(near, document) and works(far, document))
    assert {one["id"] for one in near["sections"] + far["sections"]} <= {one["id"] for one in document["sections"]}


def test_no_planned_pipe_is_narrower_than_one_that_it_feeds():
    for document in (plant.sorter_chain(), random_system(7, 16), random_system(9, 16)):
        row = change(document, "plan")
        bores = {one["id"]: one["bore"]["value"] for one in row["sections"]}
        by_end = {section["to"]: section["id"] for section in document["sections"]}
        for section in document["sections"]:
            if section["from"] != "pump":
                assert bores[by_end[section["from"]]] >= bores[section["id"]]


def test_outputs_feed_each_point_in_the_longest_event():
    document = plain_system()
    answer = helped(document)
    row, = answer["outputs"]
    assert row["output"]["value"] == pytest.approx(0.1 * 8) and row["fits"]
    document["devices"][0].update(output_max_cm3=0.5)
    assert not helped(document)["outputs"][0]["fits"]


def test_prices_choose_the_pipe_and_give_its_cost():
    document = plain_system(choices={"pipe_prices": [{"bore_mm": 10, "price_per_m": 6.5}, {"bore_mm": 6, "price_per_m": 4}]})
    answer = helped(document)
    assert answer["as_is"]["cost"]["value"] == pytest.approx(12 * 6.5)
    plan = answer["changes"][0]
    assert plan["sections"][0]["bore"]["value"] in (6, 10) and plan["cost"]["value"] in (12 * 4, 12 * 6.5)
    del document["choices"]
    assert helped(document)["as_is"]["cost"] is None


def test_as_it_is_agrees_with_the_season_sheet_s_outlook():
    document = plant.head_rig()
    outlook = Outlook(document, work(document)).at(document["ambient"]["coldest_c"])
    assert helped(document)["as_is"]["build"]["value"] == outlook["build"]
