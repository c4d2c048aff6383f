"""What would be seen under faults: every choice can be simulated, alarms and dry points follow from the trace."""
import copy
import json
import random

import pytest

from demo_site import plant
from tests.engine.systems import any_system
from tests.engine.test_parity import both, differences
from webapp.engine.basics.kinds import fitting
from webapp.engine.bridge import ask
from webapp.engine.document.check import check
from webapp.engine.events.faults import FORMS, read
from webapp.phone_engine import PhoneEngine


def offered(document, units="metric"):
    """Every (name, NAME=VALUE) that the page can put together."""
    for row in ask({"do": "faults_to_try", "document": document, "units": units}):
        for place, _ in row["places"] or [["", ""]]:
            for size, _ in row["sizes"] or [["", ""]]:
                yield row["name"], row["name"] + "=" + ":".join(part for part in (place, size) if part)


def seen(document, *typed, when="usual"):
    out = ask({"do": "what_if", "document": document, "faults": list(typed), "when": when})
    return out, {entry["id"]: entry for entry in out["findings"]}


def test_all_faults_of_the_contract_are_offered():
    assert sorted({name for name, _ in offered(plant.head_rig())}) == sorted(name for name, _ in FORMS)


@pytest.mark.parametrize("units", ["metric", "us"])
def test_every_choice_can_be_simulated_on_every_kind(units):
    kinds = set()
    for seed in range(22000, 22040):
        document = any_system(seed, 8)
        if any(entry["severity"] == "stop" for entry in check(document)):
            continue
        kinds.add(document["kind"])
        for _, typed in offered(document, units):
            assert read(fitting(document), [typed])[1] == [], (seed, typed)
    assert len(kinds) == 4


def test_a_kind_is_not_offered_what_it_does_not_have():
    names = {document["kind"]: {name for name, _ in offered(document)} for document in plant.systems()}
    assert not names["progressive"] & {"vent"} and not names["time-only"] & {"switch", "contact"}
    assert all(typed.endswith(":stuck") for document in plant.systems() if document["kind"] == "progressive"
               for name, typed in offered(document) if name == "switch")
    assert any(typed.endswith("/B") for document in plant.systems() if document["kind"] == "dual-line"
               for name, typed in offered(document) if name == "blocked")


@pytest.mark.parametrize("typed, alarm", [
    ("pump=0", "seen.limit.single-line"), ("relief=55", "seen.limit.single-line"), ("switch=PS1:stuck", "seen.limit.single-line"),
    ("contact=PS1", "seen.contact"), ("device=D3", "seen.silent"), ("pump=0.75", "seen.no_alarm"), ("vent=stuck", "seen.still_tripped")])
def test_the_alarm_that_comes_on_a_single_line(typed, alarm):
    out, found = seen(plant.head_rig(), typed)
    assert out["findings"][0]["id"] == alarm and found[alarm]["says"].endswith(".")


def test_the_alarms_of_the_other_kinds():
    by_kind = {document["kind"]: document for document in plant.systems()}
    assert seen(by_kind["progressive"], "pump=0")[0]["findings"][0]["id"] == "seen.limit.progressive"
    assert seen(by_kind["time-only"], "pump=0")[0]["findings"][0]["id"] == "seen.unconfirmed"
    out, found = seen(by_kind["dual-line"], "leak=%s/B:50" % by_kind["dual-line"]["sections"][0]["to"])
    assert out["findings"][0]["id"] == "seen.limit.dual-line" and "on line B" in found["seen.limit.dual-line"]["says"]


def test_the_second_switch_has_an_alarm_of_its_own():
    document = next(system for system in plant.systems() if len(system["switches"]) == 2)
    assert seen(document, "switch=%s:stuck" % document["switches"][1]["id"])[0]["findings"][0]["id"] == "seen.second"
    assert seen(document, "contact=%s" % document["switches"][1]["id"])[0]["findings"][0]["id"] == "seen.contact_second"


def test_behind_a_blocked_pipe_nothing_moves_and_the_points_are_named():
    document = plant.head_rig()
    pipe = document["sections"][3]
    _, found = seen(document, "blocked=" + pipe["id"])
    beyond = {section["to"] for section in document["sections"][3:]}
    dry = [point["name"] for point in document["points"]
           if next(device["at"] for device in document["devices"] if device["id"] == point["device"]) in beyond]
    assert sorted(found["seen.still"]["do"][len("Dry stay: "):-1].split("; ")) == sorted(dry)


def test_low_level_is_told_by_what_is_fitted():
    document = plant.head_rig()
    for low, wanted in (({"fitted": False}, "seen.low_not_fitted"), ({"fitted": True, "on_low": "stop pump"}, "seen.low_stops"),
                        ({"fitted": True, "on_low": "warn only"}, "seen.low_warns")):
        assert wanted in seen(dict(document, low_level=low), "empty=0")[1]


def test_the_times_are_those_of_the_two_traces():
    document = plant.head_rig()
    out, _ = seen(document, "pump=0.75")
    (healthy, faulted), row = out["traces"], out["build"][0]
    assert [row["healthy"]["value"], row["faulted"]["value"]] == [healthy["trip_s"][0], faulted["trip_s"][0]]
    assert row["faulted"]["value"] > row["healthy"]["value"] * 1.2
    alone = ask({"do": "simulate", "document": document, "faults": ["pump=0.75"]})
    assert alone["trip_s"] == faulted["trip_s"]


@pytest.mark.parametrize("typed, comes", [("device=D3", True), ("vent=stuck", False), ("pump=0", False), ("vent=0.1", True)])
def test_what_has_moved_resets_or_never_does(typed, comes):
    out, _ = seen(plant.head_rig(), typed)
    reset = out["build"][-1]
    assert reset["healthy"]["value"] is not None and (reset["faulted"]["value"] is not None) == comes


def test_coldest_is_another_line_than_usual():
    document = plant.head_rig()
    assert [seen(document, "air=0.05", when=when)[0]["traces"][0]["at_c"] for when in ("usual", "coldest")] == [
        document["ambient"]["usual_c"], document["ambient"]["coldest_c"]]


def test_where_the_healthy_cycle_fails_it_says_so():
    document = next(system for system in plant.systems() if system["kind"] == "time-only")
    assert "seen.healthy_too" in seen(document, "air=0.05")[1]


def test_what_cannot_be_tried_is_a_finding():
    out, _ = seen(plant.head_rig(), "device=nobody", "air=9")
    assert [entry["id"] for entry in out["findings"]] == ["fault.value", "fault.value"] and "traces" not in out


def test_the_system_is_not_changed():
    document = plant.head_rig()
    before = copy.deepcopy(document)
    seen(document, "pump=0.5", "air=0.1", "device=D1", "blocked=S2")
    assert document == before


def test_several_faults_on_any_system_are_alike_on_both_machines():
    with PhoneEngine() as phone:
        for seed in range(22100, 22112):
            document, rng = any_system(seed, 8), random.Random(seed)
            request = {"do": "faults_to_try", "document": document, "units": "us"}
            here, there = both(phone, request)
            assert differences(here, there) == []
            typed = rng.sample([text for _, text in offered(document)], 3)
            here, there = (json.loads(json.dumps(one)) for one in both(phone, {
                "do": "what_if", "document": document, "faults": typed, "when": "coldest", "units": "us"}))
            for one in (here, there):
                for row in one.get("build", []):
                    for figure in (row["healthy"], row["faulted"]):
                        assert figure["residual"].pop("value") < 0.005
                for trace in one.get("traces", []):
                    trace.pop("balance_error")
            assert differences(here, there) == [], (seed, typed)
