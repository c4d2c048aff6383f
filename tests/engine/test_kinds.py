"""The other kinds of system worked: what a make-up is refused for, doses handed on from block to block, two lines, run time."""
import copy

import pytest

from webapp.engine.bridge import ask
from webapp.engine.document.check import check

from .systems import any_system, plain_progressive, plain_system, random_system

SEEDS = range(3000, 3040)


def worked(document, simulate=False):
    return ask({"do": "work", "document": document, "simulate": simulate})


def said(document):
    return [(entry["severity"], entry["where"], entry["id"]) for entry in check(document)]


def dual(**changes):
    document = plain_system(kind="dual-line", **changes)
    document["points"] = [dict(document["points"][0], id=name, side=side) for name, side in (("P0", "A"), ("P1", "B"), ("P2", "B"))]
    return document


def timed(**changes):
    return plain_system(kind="time-only", switches=[], **changes)


# ---- make-up

def test_sound_systems_have_nothing_to_complain_about():
    assert said(plain_progressive()) == said(dual()) == said(timed()) == []


@pytest.mark.parametrize("seed", range(40))
def test_no_invented_system_of_any_kind_is_stopped(seed):
    assert [entry for entry in said(any_system(seed)) if entry[0] == "stop"] == []


def test_fields_of_other_kinds_are_neither_asked_nor_judged():
    document = plain_progressive(vent_valve="none")
    document["devices"][0].update(resets_bar=0, output_min_cm3="not a number")
    assert said(document) == []
    assert "settings" in worked(document)
    garbage = timed()
    garbage["switches"] = 5
    assert "settings" in worked(garbage)


@pytest.mark.parametrize("change, where, identifier", [
    (lambda d: d["devices"][0]["outlets"][3].update(joined_to="O9"), "devices[0].outlets[3].joined_to", "check.unknown_join"),
    (lambda d: d["devices"][0]["outlets"][0].update(joined_to="O4"), "devices[0].outlets[0].joined_to", "check.join_loop"),
    (lambda d: d["devices"][0]["outlets"][1].update(id="O1"), "devices[0].outlets[1].id", "check.duplicate"),
    (lambda d: d["devices"][1].pop("hangs_from"), "devices[1].hangs_from", "check.second_first"),
    (lambda d: d["devices"][1]["hangs_from"].update(block="B9"), "devices[1].hangs_from.block", "check.unknown_block"),
    (lambda d: d["devices"][1]["hangs_from"].update(outlet="O9"), "devices[1].hangs_from.outlet", "check.unknown_outlet"),
    (lambda d: d["devices"][1]["hangs_from"].update(outlet="O4"), "devices[1].hangs_from.outlet", "check.closed_outlet"),
    (lambda d: d["devices"][1]["hangs_from"].update(outlet="O2"), "points[1].outlet", "check.taken_outlet"),
    (lambda d: d["devices"][0].update(hangs_from={"block": "B1", "outlet": "O1"}), "devices[0].hangs_from.block", "check.block_loop"),
    (lambda d: d["points"][0].pop("outlet"), "points[0].outlet", "check.missing"),
    (lambda d: d["points"][0].update(outlet="O9"), "points[0].outlet", "check.unknown_outlet"),
    (lambda d: d["points"][0].update(outlet="O4"), "points[0].outlet", "check.closed_outlet"),
    (lambda d: d["points"][0].update(outlet="O2"), "points[1].outlet", "check.taken_outlet"),
    (lambda d: d["switches"][0].pop("counts"), "switches[0].counts", "check.missing"),
    (lambda d: d["switches"][0].update(counts="B9"), "switches[0].counts", "check.counts_nothing"),
    (lambda d: d["switches"].append(dict(d["switches"][0], id="C2")), "switches[1]", "check.one_switch"),
    (lambda d: d["devices"][0].update(outlets=[]), "devices[0].outlets", "check.too_few"),
    (lambda d: d["devices"][0].update(fires_bar=260), "devices[0].fires_bar", "check.fires_above_relief")])
def test_a_wrong_make_up_of_blocks_is_stopped_at_its_place(change, where, identifier):
    document = plain_progressive()
    change(document)
    assert ("stop", where, identifier) in said(document)


def test_an_outlet_that_feeds_nothing_is_warned_of():
    document = plain_progressive()
    del document["points"][3]
    assert said(document) == [("warn", "devices[1].outlets[1]", "check.idle_outlet")]


def test_a_point_of_two_lines_needs_its_side():
    document = dual()
    del document["points"][1]["side"]
    assert said(document) == [("stop", "points[1].side", "check.missing")]


def test_a_system_that_is_confirmed_needs_its_switch():
    for document in (plain_system(switches=[]), dual(switches=[]), plain_progressive(switches=[])):
        assert said(document) == [("stop", "switches", "check.too_few")]


def test_a_device_that_fires_above_the_relief_pressure_is_stopped_where_no_switch_ends_the_run():
    document = timed()
    document["devices"][0]["fires_bar"] = 250
    assert said(document) == [("stop", "devices[0].fires_bar", "check.fires_above_relief")]


# ---- progressive

def figures(document):
    out = worked(document)
    return out, {point["id"]: point["dose"]["value"] for point in out["points"]}


def test_doses_are_handed_on_from_block_to_block():
    out, dose = figures(plain_progressive())
    assert dose == pytest.approx({"P0": 0.4, "P1": 0.3, "P2": 0.05, "P3": 0.15}, rel=1e-12)
    assert [(block["id"], block["volume"]["value"], block["turns"]["value"]) for block in out["blocks"]] == [
        ("B0", pytest.approx(0.9), 1.0), ("B1", pytest.approx(0.4), pytest.approx(0.5))]
    assert out["build"]["cycle_time"]["value"] == pytest.approx(0.9)


@pytest.mark.parametrize("seed", SEEDS)
def test_all_that_the_first_block_takes_arrives_at_points(seed):
    document = random_system(seed, 24, "progressive")
    out, dose = figures(document)
    assert sum(dose.values()) == pytest.approx(out["blocks"][0]["volume"]["value"], rel=1e-9)
    per_day = out["reservoir"]["per_day"]["value"]
    interval = out["interval"]
    assert per_day == pytest.approx(out["blocks"][0]["volume"]["value"] * interval["cycles_per_event"]["value"]
                                    * interval["events_per_day"]["value"], rel=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_progressive_event_is_its_cycles_and_the_pause(seed):
    out = worked(random_system(seed, 24, "progressive"))
    interval = {name: entry["value"] for name, entry in out["interval"].items()}
    assert interval["event"] == pytest.approx(interval["cycles_per_event"] * out["build"]["cycle_time"]["value"] + interval["pause"])


def test_it_is_said_that_one_blocked_outlet_stops_all():
    found = [entry for entry in worked(plain_progressive())["findings"] if entry["where"] == "devices"]
    assert [(entry["severity"], entry["says"]) for entry in found] == [
        ("note", "One blocked outlet stops all 4 points: the blocks move in turn, and each waits for the one before.")]


def test_a_switch_on_a_further_block_is_warned_of():
    document = plain_progressive()
    document["switches"][0]["counts"] = "B1"
    entry = worked(document)["findings"][0]
    assert (entry["id"], entry["with"]["turns"]["value"]) == ("progressive.other_block", pytest.approx(0.5))


# ---- dual-line and time-only

@pytest.mark.parametrize("seed", SEEDS)
def test_both_lines_press_in_their_own_doses_and_compress_alike(seed):
    document = random_system(seed, 24, "dual-line")
    out = worked(document)
    doses = {side: sum(figures["dose"]["value"] for point, figures in zip(document["points"], out["points"], strict=True)
                       if point["side"] == side) for side in "AB"}
    volume = {side: out["build"]["volume_" + side.lower()]["value"] for side in "AB"}
    assert volume["A"] - doses["A"] == pytest.approx(volume["B"] - doses["B"], rel=1e-9)


def test_a_line_is_pressed_up_like_a_single_one_with_its_points():
    document = dual()
    document["devices"][0]["output_min_cm3"] = document["devices"][0]["output_max_cm3"]
    single = plain_system(devices=document["devices"], points=[dict(document["points"][1]), dict(document["points"][2])])
    both = [worked(document)["build"]["volume_b"]["value"], worked(single)["build"]["volume"]["value"]]
    assert both[0] == pytest.approx(both[1], rel=1e-9)


def test_a_line_without_points_is_warned_of():
    document = dual()
    document["points"] = document["points"][1:]
    warned = [entry for entry in worked(document)["findings"] if entry["severity"] == "warn"]
    assert [(entry["id"], entry["with"]["side"]) for entry in warned] == [("dual.empty_side", "A")]


def test_time_only_says_that_nothing_is_confirmed():
    out = worked(timed())
    assert [entry["id"] for entry in out["findings"] if entry["severity"] == "warn"] == ["timed.unconfirmed"]
    assert {entry["name"]: entry["shown"] for entry in out["settings"]}["confirmation"] == "none"


@pytest.mark.parametrize("kind, missing", [("progressive", "vent"), ("time-only", "time_limit"), ("dual-line", "second_switch")])
def test_settings_that_a_kind_does_not_have_are_not_asked_for(kind, missing):
    names = [entry["name"] for entry in worked(random_system(3001, 12, kind))["settings"]]
    assert missing not in names and {"pause", "cycles", "alarm_output"} <= set(names)


@pytest.mark.parametrize("kind", ["progressive", "dual-line", "time-only"])
def test_the_round_asks_for_every_part_and_times_what_the_kind_can_time(kind):
    document = random_system(3002, 12, kind)
    items = ask({"do": "checklist", "document": document, "worked": worked(document)})["items"]
    looked_at = {item["place"] for item in items}
    for group in ("sections", "devices", "points"):
        assert {thing["id"] for thing in document[group]} <= looked_at, group
    timed_items = [item["id"] for item in items if item["id"].startswith("care.timed")]
    assert timed_items == {"progressive": ["care.timed_turn"], "time-only": ["care.timed_pump"],
                           "dual-line": ["care.timed_line_a", "care.timed_line_b"]}[kind]
    assert any(item["id"] == "care.vent_falls" for item in items) == (kind != "progressive")


@pytest.mark.parametrize("kind", ["progressive", "dual-line", "time-only"])
def test_a_worked_document_is_left_as_it_was(kind):
    document = random_system(3003, 12, kind)
    before = copy.deepcopy(document)
    worked(document)
    assert document == before


@pytest.mark.parametrize("kind", ["single-line", "dual-line", "time-only"])
def test_a_vent_that_can_only_be_nothing_is_left_to_the_pause(kind):
    document = random_system(1, 6, kind)
    document["controller"].update(vent={"min_s": 0, "max_s": 600, "step_s": 1000}, cycles_max=1)
    document["choices"] = {"cycles_per_event": 1}
    document["switches"] = document.get("switches", [])[:1]
    assert worked(document, True)["vent"]["time"]["value"] == 0
