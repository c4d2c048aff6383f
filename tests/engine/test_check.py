"""The check of a document: what it refuses, where it says so, and what it lets pass."""
import pytest

from webapp.engine.bridge import ask
from webapp.engine.document.catalogue import SYSTEM
from webapp.engine.document.documents import CATALOGUES
from webapp.engine.document.check import check

from .systems import plain_system, random_system

NAN, INFINITE = float("nan"), float("inf")


def changed(way, value):
    """The plain system with one value put in; the way is written as findings write it, pump.relief_bar or points[0].name."""
    document = plain_system()
    *parents, last = [int(key) if key.isdigit() else key for key in way.replace("[", ".").replace("]", "").split(".")]
    holder = document
    for key in parents:
        holder = holder[key] if isinstance(key, int) else holder.setdefault(key, {})
    holder[last] = value
    return document


def said(document):
    """[(severity, where, id)] of the findings."""
    return [(entry["severity"], entry["where"], entry["id"]) for entry in check(document)]


def test_the_plain_system_has_nothing_to_complain_about():
    assert said(plain_system()) == []


@pytest.mark.parametrize("seed", range(40))
def test_no_invented_system_is_stopped(seed):
    assert [entry for entry in said(random_system(seed)) if entry[0] == "stop"] == []


@pytest.mark.parametrize("way, value, identifier", [
    ("pump.delivery_cm3_min", None, "check.missing"), ("pump.delivery_cm3_min", "sixty", "check.type"),
    ("pump.delivery_cm3_min", True, "check.type"), ("pump.delivery_cm3_min", NAN, "check.not_a_number"),
    ("points[0].need.cm3_per_h", 5e-324, "check.not_a_number"), ("devices[0].output_step_cm3", 1e-13, "check.not_a_number"),
    ("pump.delivery_cm3_min", INFINITE, "check.not_a_number"), ("pump.delivery_cm3_min", 0, "check.low"),
    ("pump.delivery_cm3_min", 1e9, "check.high"), ("pump", None, "check.missing"), ("pump", [], "check.type"),
    ("name", " ", "check.missing"), ("name", 5, "check.type"), ("name", "x" * 301, "check.long_text"),
    ("kind", "ring", "check.choice"), ("lubricant.nlgi", 2, "check.choice"), ("sections", [], "check.too_few"),
    ("sections", {}, "check.type"), ("sections[0]", 5, "check.type"), ("sections[0].length_m", -2, "check.low"),
    ("devices[0].fires_bar", None, "check.missing"), ("switches[0].contact", "open", "check.choice"),
    ("points[0].need.method", "guess", "check.choice"), ("points[0].need.cm3_per_h", None, "check.missing"),
    ("controller.cycles_max", 1.5, "check.type"), ("controller.pause", 5, "check.type"), ("controller.wording", [], "check.type"),
    ("controller.pause.step_s", 0, "check.low"), ("duty.only_while_machine_runs", "yes", "check.type"),
    ("measured.build_s", 30, "check.type"), ("measured.build_s", [30] * 201, "check.too_many")])
def test_a_wrong_value_is_stopped_at_its_place(way, value, identifier):
    assert said(changed(way, value)) == [("stop", way, identifier)]


@pytest.mark.parametrize("way, value, where, identifier", [
    ("measured.build_s", [30, -1], "measured.build_s[1]", "check.low"),
    ("controller.pause", {"min_s": 60, "max_s": 10, "step_s": 1}, "controller.pause", "check.range_order"),
    ("controller.vent", [{"min_s": 0, "max_s": 60, "step_s": 1}, {"min_s": 90, "max_s": 60, "step_s": 1}], "controller.vent[1]",
     "check.range_order"),
    ("sections[0].to", "pump", "sections[0].to", "check.into_pump"),
    ("sections[0].from", "nowhere", "sections[0].from", "check.not_reached"),
    ("devices[0].at", "nowhere", "devices[0].at", "check.unknown_node"),
    ("switches[0].at", "nowhere", "switches[0].at", "check.unknown_node"),
    ("points[0].device", "D9", "points[0].device", "check.unknown_device"),
    ("devices[0].resets_bar", 60, "devices[0].resets_bar", "check.resets_above"),
    ("switches[0].resets_bar", 100, "switches[0].resets_bar", "check.resets_above"),
    ("switches[0].trips_bar", 250, "switches[0].trips_bar", "check.above_relief"),
    ("devices[0].output_min_cm3", 2, "devices[0].output_max_cm3", "check.output_order"),
    ("ambient.coldest_c", 50, "ambient", "check.temperatures"),
    ("lubricant.nlgi", "oil", "lubricant.v40_mm2_s", "check.oil_viscosity"),
    ("pump.low_level_l", 4, "pump.low_level_l", "check.low_level"),
    ("wiring.conductor_mm2", None, "wiring.conductor_mm2", "check.no_conductor"),
    ("points[0].need", {"method": "film", "film_mm": 0.05, "every_h": 4}, "points[0].need.area_cm2", "check.film_size"),
    ("points[0].need", {"method": "rolling", "bore_mm": 60, "outer_mm": 50, "width_mm": 20, "speed_rpm": 100},
     "points[0].need.outer_mm", "check.bearing"),
    ("points[0].need", {"method": "rolling", "bore_mm": 100, "outer_mm": 180, "width_mm": 34, "speed_rpm": 3500},
     "points[0].need.speed_rpm", "check.speed")])
def test_what_does_not_hang_together_is_stopped_at_its_place(way, value, where, identifier):
    assert ("stop", where, identifier) in said(changed(way, value))


def test_a_device_that_fires_above_the_switch_is_warned_of():
    assert said(changed("devices[0].fires_bar", 120)) == [("warn", "devices[0].fires_bar", "check.fires_above")]


@pytest.mark.parametrize("group", ["sections", "devices", "points", "switches"])
def test_a_name_given_twice_is_stopped_at_the_second(group):
    document = plain_system()
    document[group].append(dict(document[group][0]))
    if group == "sections":
        document[group][1]["to"] = "N1"
    assert ("stop", group + "[1].id", "check.duplicate") in said(document)


def test_two_pipes_that_end_at_one_node_are_stopped():
    document = plain_system()
    document["sections"].append(dict(document["sections"][0], id="S1"))
    assert said(document) == [("stop", "sections[1].to", "check.two_ways")]


def test_a_loop_beside_the_line_is_stopped():
    document = plain_system()
    document["sections"] += [dict(document["sections"][0], id="S1", **{"from": "A", "to": "B"}),
                             dict(document["sections"][0], id="S2", **{"from": "B", "to": "A"})]
    assert said(document) == [("stop", "sections[1].from", "check.not_reached"), ("stop", "sections[2].from", "check.not_reached")]


@pytest.mark.parametrize("thing", [None, 5, "text", [], True])
def test_what_is_no_document_is_said(thing):
    assert said(thing) == [("stop", "", "check.not_a_document")]


@pytest.mark.parametrize("form", [None, 5, "system/2", []])
def test_an_unknown_format_is_said(form):
    assert said({"format": form}) == [("stop", "format", "check.format")]


def test_the_sentence_says_what_is_wrong_and_what_to_do():
    finding = ask({"do": "check", "document": changed("pump.relief_bar", 2000)})["findings"][0]
    assert finding["says"] == "Relief pressure is 2000 bar; the most that makes sense is 1000 bar."
    assert finding["do"] == "Check the value and its unit."


def test_every_wrong_field_is_told_not_only_the_first():
    document = changed("pump.delivery_cm3_min", -1)
    document["sections"][0]["bore_mm"] = None
    assert {entry[1] for entry in said(document)} == {"pump.delivery_cm3_min", "sections[0].bore_mm"}


def test_a_document_full_of_faults_is_cut_at_a_hundred_findings():
    document = plain_system(points=[{"need": {}} for _ in range(300)])
    assert len(said(document)) == 100


@pytest.mark.parametrize("form", sorted(CATALOGUES))
def test_no_field_stands_in_a_catalogue_twice_and_parents_come_first(form):
    paths = [entry["path"] for entry in CATALOGUES[form]]
    assert len(paths) == len(set(paths))
    for number, path in enumerate(paths):
        parent = path.rpartition(".")[0].removesuffix("[]")
        assert not parent or parent in paths[:number], path


def test_every_bounded_field_refuses_what_is_out_of_bounds():
    bounded = [entry for entry in SYSTEM if entry["low"] is not None and "[]" not in entry["path"] and not entry["when"]]
    assert len(bounded) > 40
    for entry in bounded:
        for value in (entry["low"] - 1, entry["high"] + 1):
            assert [found[1] for found in said(changed(entry["path"], value))] == [entry["path"]]
