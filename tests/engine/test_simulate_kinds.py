"""Events of dual-line, time-only and progressive systems: against the stiff solver on generated systems, and how they behave."""
import random

import pytest

from webapp.engine.events.faults import read
from webapp.engine.events.simulate import moments, simulate

from .faulted import stated_system
from .reference_line import Run
from .systems import plain_system

TIGHT = 1e-8


def dual(seed):
    """A generated dual-line system, each device's dose split between the two lines, and those doses."""
    document, doses = stated_system(seed, 6)
    rng = random.Random(seed)
    document.update(kind="dual-line", switches=document["switches"][:1])
    share = {name: rng.choice((0, 0.4, 1)) for name in doses}
    return document, {"A": {name: doses[name] * share[name] for name in doses},
                      "B": {name: doses[name] * (1 - share[name]) for name in doses}}


def plain_dual(**changes):
    return plain_system(kind="dual-line", **changes), {"A": {"D0": 0.5}, "B": {"D0": 0.3}}


def block(name, *outputs, **more):
    return dict({"id": name, "at": "N0", "fires_bar": 40, "outlets": [
        {"id": "O%d" % number, "output_cm3": cm3} for number, cm3 in enumerate(outputs)]}, **more)


def progressive(**changes):
    """A first block of 1.2 cm³ and one of 0.9 cm³ on its outlet of 0.3 cm³: that turns a third as often."""
    return plain_system(**dict({
        "kind": "progressive",
        "devices": [block("B0", 0.5, 0.4, 0.3), block("B1", 0.4, 0.5, hangs_from={"block": "B0", "outlet": "O2"})],
        "switches": [{"id": "CS", "at": "N0", "counts": "B0", "contact": "normally open"}]}, **changes))


def told(trace, what):
    return [(entry["where"], entry["at_s"]) for entry in trace["events"] if entry["what"] == what]


@pytest.mark.parametrize("seed", range(6000, 6010))
def test_both_halves_of_a_dual_line_trip_within_2_percent_of_the_solver(seed):
    document, doses = dual(seed)
    at_c = document["ambient"]["usual_c"]
    trace = simulate(document, doses, at_c)
    for line, ours in zip("AB", trace["trip_s"]):
        theirs = Run(document, doses[line], at_c, rtol=TIGHT).trip_time()
        assert ours == (None if theirs is None else pytest.approx(theirs, rel=0.02)), line
    assert trace["balance_error"] < 0.005


@pytest.mark.parametrize("seed", range(6100, 6110))
def test_the_time_until_all_are_fed_is_within_2_percent_of_the_solver_s(seed):
    document, doses = stated_system(seed, 6)
    document.update(kind="time-only", switches=[])
    at_c = document["ambient"]["coldest_c"]
    trace = simulate(document, doses, at_c)
    theirs = Run(document, doses, at_c, rtol=TIGHT).fed_time()
    assert trace["trip_s"] == [None] and trace["balance_error"] < 0.005
    assert trace["fed_s"] == [None if theirs is None else pytest.approx(theirs, rel=0.02)]


@pytest.mark.parametrize("yields, thickness", [(0.3, 0.5), (0.9, 0.7), (1.2, 0.6)])
def test_a_large_dose_is_given_once_where_the_solver_gives_it_once_however_the_grease_flows(yields, thickness):
    """3.9 cm³ drawn from a line of 25 cm³/min: drawn at once instead of within its second it would be given again."""
    document = plain_system(sections=[
        {"id": "S0", "from": "pump", "to": "N0", "length_m": 11.6, "bore_mm": 8},
        {"id": "S1", "from": "N0", "to": "N1", "length_m": 9.7, "bore_mm": 16},
        {"id": "S2", "from": "pump", "to": "N2", "length_m": 10.3, "bore_mm": 12}])
    document["pump"].update(delivery_cm3_min=25, relief_bar=210)
    document["lubricant"].update(yield_pa=15 * yields, consistency_pa_sn=3 * thickness, flow_index=0.8, air_fraction=0.0121)
    document["devices"] = [{"id": "D0", "at": "N0", "fires_bar": 45, "resets_bar": 25, "stroke_s": 1},
                           {"id": "D1", "at": "N2", "fires_bar": 70, "resets_bar": 50}]
    document.update(kind="time-only", switches=[])
    trace = simulate(document, {"D0": 3.878, "D1": 0.368}, -10)
    assert trace["fed_s"] == [pytest.approx(Run(document, {"D0": 3.878, "D1": 0.368}, -10, rtol=1e-7).fed_time(), rel=0.005)]
    assert [name for name, _ in told(trace, "device dosed")] == ["D0", "D1"] and trace["balance_error"] < 0.005


@pytest.mark.parametrize("seed", range(6200, 6210))
def test_a_block_begins_and_is_counted_within_2_percent_of_the_solver(seed):
    document, _ = stated_system(seed, 4)
    rng = random.Random(seed)
    node = rng.choice(document["sections"])["to"]
    outputs = [rng.choice((0.1, 0.3, 0.5)) for _ in range(rng.randint(2, 6))]
    first = block("B0", *outputs, at=node, fires_bar=rng.choice((20, 40, 60)))
    document.update(kind="progressive", devices=[first], switches=[
        {"id": "CS", "at": node, "counts": "B0", "contact": "normally open"}])
    trace = simulate(document, {}, document["ambient"]["usual_c"], cycles=2)
    volume = sum(outlet["output_cm3"] for outlet in first["outlets"])
    run = Run(dict(document, devices=[], switches=[]), {}, document["ambient"]["usual_c"], rtol=TIGHT)
    began, counted = run.count_times(node, first["fires_bar"], volume)
    assert trace["working_s"] == (began and pytest.approx(began, rel=0.02))
    assert trace["trip_s"][0] == (counted and pytest.approx(counted, rel=0.02))
    assert trace["balance_error"] < 0.005


def test_a_dual_line_event_tells_its_halves_in_order():
    document, doses = plain_dual()
    trace = simulate(document, doses, 20)
    assert [(entry["what"], entry.get("line")) for entry in trace["events"]
            if entry["what"] not in ("device reset", "switch returned")] == [
        ("pump on", None), ("device dosed", "A"), ("switch tripped", "A"), ("vent open", "A"), ("device dosed", "B"),
        ("switch tripped", "B"), ("pump off", None), ("vent open", "B"), ("pause", None)]
    assert trace["completed"] and trace["delivered_cm3"]["D0"] == pytest.approx(0.8)
    assert trace["delivered_by_line"] == {"A": {"D0": pytest.approx(0.5)}, "B": {"D0": pytest.approx(0.3)}}
    moment = moments(trace)
    assert len(moment["trips"]) == 2 and moment["open"] == pytest.approx(sum(trace["trip_s"])) and moment["ready"] > moment["open"]


def test_the_second_line_stays_at_rest_while_the_first_is_built_up_and_vents_after_it():
    document, doses = plain_dual()
    trace = simulate(document, doses, 20)
    changed = told(trace, "vent open")[0][1]
    first = [bar for at, bar in zip(trace["time_s"], trace["pressure_b_bar"]["N0"]) if at <= changed]
    assert max(first) == 0 and max(trace["pressure_bar"]["N0"]) >= 99
    assert trace["pressure_bar"]["N0"][-1] < 30 and max(trace["pressure_b_bar"]["N0"]) >= 99


def test_a_side_does_not_move_until_the_other_side_has_reset():
    document, doses = plain_dual()
    document["lubricant"].update(yield_pa=1000, stiffening_per_k=0)
    document["pump"]["relief_bar"] = 500
    trace = simulate(document, doses, 20)
    assert trace["delivered_by_line"]["B"]["D0"] == 0 and not trace["completed"]


def test_a_line_that_leaks_slows_its_own_half_only():
    document, doses = plain_dual()
    healthy = simulate(document, doses, 20)["trip_s"]
    for typed, slower, same in (("leak=N0:0.2", 0, 1), ("leak=N0/B:0.2", 1, 0)):
        faults, _ = read(document, [typed])
        trips = simulate(document, doses, 20, faults=faults)["trip_s"]
        assert trips[slower] > 1.05 * healthy[slower] and trips[same] == pytest.approx(healthy[same], rel=1e-3)


def test_a_changeover_that_does_not_relieve_the_other_line_is_told():
    document, doses = plain_dual()
    trace = simulate(document, doses, 20, faults=read(document, ["vent=stuck"])[0])
    assert trace["delivered_by_line"]["B"]["D0"] == 0 and "other side has not reset" in trace["why"]


def test_the_next_dual_line_cycle_starts_from_what_is_left():
    document, doses = plain_dual()
    trips = simulate(document, doses, 20, cycles=2)["trip_s"]
    assert len(trips) == 4 and trips[2] < trips[0] and trips[3] < trips[1]


def test_a_run_time_stops_the_pump_and_the_relief_valve_holds_the_pressure():
    document = plain_system(kind="time-only", switches=[])
    fed = simulate(document, {"D0": 0.5}, 20)["fed_s"][0]
    trace = simulate(document, {"D0": 0.5}, 20, limit_s=600)
    assert trace["fed_s"] == [pytest.approx(fed, rel=1e-3)] and told(trace, "pump off") == [("pump", pytest.approx(600))]
    assert max(trace["pressure_bar"]["pump"]) == pytest.approx(250.1, abs=0.2) and trace["completed"]
    assert trace["balance_error"] < 0.005


def test_a_run_time_too_short_feeds_nobody_and_says_so():
    trace = simulate(plain_system(kind="time-only", switches=[]), {"D0": 0.5}, 20, limit_s=5)
    assert trace["fed_s"] == [None] and trace["delivered_cm3"]["D0"] == 0 and "firing pressure" in trace["why"]


def test_a_block_is_counted_every_time_its_volume_has_passed():
    trace = simulate(progressive(), {}, 20, cycles=6)
    assert trace["trip_s"][1:] == [pytest.approx(1.2, rel=1e-3)] * 5
    assert trace["trip_s"][0] == pytest.approx(trace["working_s"] + 1.2, rel=0.02)
    assert trace["delivered_cm3"] == {"B0": pytest.approx(7.2), "B1": pytest.approx(1.8)}
    assert [where for where, _ in told(trace, "device dosed")].count("B1") == 2 and trace["completed"]
    assert moments(trace)["ready"] is None


def test_a_switch_on_a_further_block_counts_its_own_cycles():
    document = progressive()
    document["switches"][0]["counts"] = "B1"
    trace = simulate(document, {}, 20, cycles=2)
    assert trace["trip_s"][1] == pytest.approx(3 * 1.2, rel=1e-3) and trace["delivered_cm3"]["B1"] == pytest.approx(1.8)


def test_without_a_switch_the_first_block_is_counted():
    assert simulate(progressive(switches=[]), {}, 20)["trip_s"] == simulate(progressive(), {}, 20)["trip_s"]


@pytest.mark.parametrize("typed, why", [("device=B1", "relief"), ("blocked=S0", "relief"), ("switch=CS:stuck", "time limit"),
                                        ("relief=30", "relief"), ("contact=CS", "entered wrongly")])
def test_what_keeps_a_progressive_system_from_counting(typed, why):
    document = progressive()
    trace = simulate(document, {}, 20, faults=read(document, [typed])[0])
    assert not trace["completed"] and why in trace["why"] and trace["balance_error"] < 0.005
    assert trace["trip_s"] == [0.0 if typed.startswith("contact") else None]


def test_a_cycle_switch_has_no_pressure_to_be_set_wrong():
    assert read(progressive(), ["switch=CS:30"])[1] != []
