"""The other kinds with their simulation: run time, both halves, monitoring time, vents between cycles, test runs judged."""
import pytest

from webapp.engine.bridge import ask
from webapp.engine.document.check import check

from .systems import plain_progressive, plain_system, random_system
from .test_kinds import dual, timed


def worked(document):
    return ask({"do": "work", "document": document, "keep_traces": True})


def settings(document):
    return {entry["name"]: entry for entry in worked(document)["settings"]}


def ids(out, *severities):
    return [entry["id"] for entry in out["findings"] if entry["severity"] in severities]


# ---- time-only

def test_the_run_time_is_the_coldest_build_up_to_the_last_device_with_margin_up_to_the_step():
    out = worked(timed())
    run, fed = out["interval"]["run_time"], out["build"]["time_coldest"]["value"]
    assert run["inputs"]["longest"]["value"] == pytest.approx(fed, rel=0.02)
    assert 1.5 * run["inputs"]["longest"]["value"] <= run["value"] < 1.5 * run["inputs"]["longest"]["value"] + 10
    assert fed > out["build"]["time_usual"]["value"] > out["build"]["time_frictionless"]["value"]


def test_the_last_device_is_fed_no_later_than_a_switch_beyond_its_firing_pressure_would_trip():
    document = timed()
    document["devices"][0]["output_min_cm3"] = document["devices"][0]["output_max_cm3"]
    beyond = plain_system(devices=document["devices"])
    assert worked(document)["build"]["time_usual"]["value"] <= worked(beyond)["build"]["time_usual"]["value"] + 1.0


def test_a_run_that_was_seen_to_take_longer_is_used():
    out = worked(timed(measured={"build_s": [200]}))
    assert out["interval"]["run_time"]["value"] == 300 and "timed.measured" in ids(out, "warn")


def test_a_run_time_beyond_the_controller_is_a_stop():
    document = timed()
    document["controller"]["time_limit"] = {"min_s": 5, "max_s": 10, "step_s": 5}
    assert "timed.out_of_range" in ids(worked(document), "stop")


def test_devices_that_cannot_fire_are_a_stop():
    document = timed()
    document["lubricant"].update(yield_pa=4000, stiffening_per_k=0)
    out = worked(document)
    assert "timed.never_fed" in ids(out, "stop") and "run_time" not in out["interval"]
    assert {entry["name"]: entry["shown"] for entry in out["settings"]}["run_time"] == "not known"


# ---- dual-line

@pytest.mark.parametrize("side", ["A", "B"])
def test_a_half_builds_up_as_a_single_line_with_its_points_does(side):
    document = dual()
    document["devices"][0]["output_min_cm3"] = document["devices"][0]["output_max_cm3"]
    single = plain_system(devices=document["devices"], points=[
        {name: part for name, part in point.items() if name != "side"} for point in document["points"] if point["side"] == side])
    mine, other = worked(document)["build"], worked(single)["build"]
    for when in ("usual", "coldest"):
        assert mine["time_%s_%s" % (when, side.lower())]["value"] == pytest.approx(other["time_" + when]["value"], rel=0.01), when


def test_the_limit_holds_for_the_slower_half():
    out = worked(dual())
    slower = max(out["build"]["time_coldest_a"]["value"], out["build"]["time_coldest_b"]["value"])
    assert 1.5 * slower <= out["build"]["time_limit"]["value"] < 1.5 * slower + 10
    measured = dual(measured={"build_s": [20, 21], "build_b_s": [40, 44]})
    assert worked(measured)["build"]["time_limit"]["value"] == 70
    assert "Longest measured half 44 s" in settings(measured)["time_limit"]["reason"]


def test_an_event_of_two_lines_holds_both_halves():
    out = worked(dual())
    interval, inputs = out["interval"], out["interval"]["event"]["inputs"]
    assert [name for name in inputs if name.startswith("build")] == ["build_a", "build_b"]
    assert interval["event"]["value"] == pytest.approx(interval["pause"]["value"] + sum(
        inputs[name]["value"] for name in ("build_a", "build_b", "vent")))


def test_a_line_that_does_not_reach_the_changeover_is_a_stop():
    document = dual()
    document["lubricant"].update(yield_pa=4000, stiffening_per_k=0)
    entry = [one for one in worked(document)["findings"] if one["id"] == "dual.never_trips"][0]
    assert (entry["severity"], entry["with"]["side"]) == ("stop", "A")


# ---- progressive

def test_the_monitoring_time_covers_the_coldest_start_and_a_cycle():
    out = worked(plain_progressive())
    build = out["build"]
    assert build["time_coldest"]["value"] > build["cycle_time"]["value"]
    assert 1.5 * build["time_coldest"]["value"] <= build["window"]["value"] < 1.5 * build["time_coldest"]["value"] + 10
    assert worked(plain_progressive(measured={"build_s": [12.0, 18.0]}))["build"]["window"]["value"] == 30


def test_a_switch_on_a_slower_block_waits_for_that_block():
    document = plain_progressive()
    document["switches"][0]["counts"] = "B1"
    first, further = worked(plain_progressive())["build"], worked(document)["build"]
    assert further["time_usual"]["value"] - first["time_usual"]["value"] == pytest.approx(first["cycle_time"]["value"], rel=0.05)


def test_a_pump_that_cannot_push_the_grease_to_the_block_is_a_stop():
    document = plain_progressive()
    document["lubricant"].update(yield_pa=6000, stiffening_per_k=0)
    assert "progressive.never_counts" in ids(worked(document), "stop")


# ---- several cycles

@pytest.mark.parametrize("document", [dual(), timed(), plain_system()], ids=["dual-line", "time-only", "single-line"])
def test_between_cycles_the_vent_lasts_until_the_slowest_has_reset_at_the_coldest(document):
    document["choices"] = {"cycles_per_event": 3}
    document["controller"]["cycles_max"] = 3
    out = worked(document)
    reset = out["vent"]["reset_coldest"]["value"]
    assert reset > 0 and 1.5 * reset <= out["vent"]["time"]["value"] < 1.5 * reset + 10
    assert out["interval"]["cycles_per_event"]["value"] == 3
    assert "must not start before" in {entry["name"]: entry for entry in out["settings"]}["vent"]["reason"]


@pytest.mark.parametrize("document", [dual(), timed(), plain_system(), plain_progressive()],
                         ids=["dual-line", "time-only", "single-line", "progressive"])
def test_several_cycles_come_through_the_simulation_with_the_recommended_settings(document):
    document["controller"]["cycles_max"] = 3
    document["choices"] = {"cycles_per_event": 3}
    trace = ask({"do": "simulate", "document": document, "cycles": 3, "at_c": document["ambient"]["coldest_c"]})
    assert trace["completed"], trace["why"]
    assert trace["balance_error"] < 0.005


# ---- test runs

def judged(document, runs, **more):
    record = {"format": "test-run/1", "system": "x", "runs": [dict(run, id=str(number)) for number, run in enumerate(runs)], **more}
    assert check(record) == []
    return ask({"do": "verdict", "document": document, "record": record})


def test_a_progressive_run_is_judged_from_signal_to_signal():
    cycle = worked(plain_progressive())["build"]["cycle_time"]["value"]
    out = judged(plain_progressive(), [{"build_s": 9.0, "cycle_s": cycle * share} for share in (1.0, 1.02, 0.99)])
    assert out["verdict"] == "verdict.agrees" and out["time_limit"]["value"] == 20
    slow = judged(plain_progressive(), [{"build_s": 9.0, "cycle_s": cycle * 2}] * 3)
    assert slow["verdict"] == "verdict.slow"


def test_both_halves_are_judged_each_against_its_own_prediction():
    build = worked(dual())["build"]
    a, b = build["time_usual_a"]["value"], build["time_usual_b"]["value"]
    out = judged(dual(), [{"build_s": a, "build_b_s": 2 * b, "vent_s": 5}] * 3)
    assert out["verdict"] == "verdict.slow"
    assert [entry["says"][:7] for entry in out["findings"]] == ["Line B:", "Line A:"]


def test_a_blind_run_says_who_was_not_looked_at_and_who_stayed_dry():
    document = timed()
    fed = worked(document)["build"]["time_usual"]["value"]
    out = judged(document, [{"build_s": fed}] * 3)
    assert out["verdict"] == "verdict.agrees" and "time_limit" not in out
    assert [entry["id"] for entry in out["findings"]] == ["verdict.unseen", "verdict.agrees"]
    dry = judged(document, [{"build_s": fed}] * 3, seen=[{"point": "P0", "fed": False}])
    assert "Point 0" in dry["findings"][0]["says"] and dry["findings"][0]["id"] == "verdict.dry"


@pytest.mark.parametrize("kind", ["progressive", "dual-line", "time-only"])
@pytest.mark.parametrize("seed", range(3100, 3110))
def test_generated_systems_are_worked_whole(kind, seed):
    out = worked(random_system(seed, 8, kind))
    assert out["simulated"] and out["settings"] and set(out["traces"]) == {"usual", "coldest"}
    picture = ask({"do": "trace_picture", "document": random_system(seed, 8, kind), "width": 328,
                   "traces": [out["traces"]["usual"], out["traces"]["coldest"]]})
    assert picture["says"].endswith(".")
