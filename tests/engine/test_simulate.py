"""The simulated cycle: against a stiff ODE solver on the same equations, and how it behaves."""
from collections import Counter

import pytest

from webapp.engine.events.movers import DOSING, Device
from webapp.engine.line.grid import PARTS_PA
from webapp.engine.events.simulate import moments, simulate

from .faulted import stated_system
from .reference_line import Run
from .systems import plain_system, random_system

# of the seeds 3060 to 3099 those whose line vents far enough, so that there is a reset time to compare
COMPLETING = (3060, 3061, 3062, 3063, 3065, 3066, 3067, 3069, 3071, 3072, 3073, 3074, 3075, 3076, 3077, 3078, 3079, 3080, 3081,
              3082, 3085, 3086, 3088, 3090, 3091, 3092, 3094, 3095, 3098, 3099)


def events_of(trace, what):
    return [(entry["where"], entry["at_s"]) for entry in trace["events"] if entry["what"] == what]


@pytest.mark.parametrize("when", ["usual_c", "coldest_c"])
@pytest.mark.parametrize("seed", range(3000, 3036))
def test_the_trip_time_is_within_2_percent_of_a_stiff_solver_s(seed, when):
    document, doses = stated_system(seed)
    trace = simulate(document, doses, document["ambient"][when])
    wanted = Run(document, doses, document["ambient"][when]).trip_time()
    assert trace["trip_s"] == ([None] if wanted is None else [pytest.approx(wanted, rel=0.02)])
    assert trace["balance_error"] < 0.005


@pytest.mark.parametrize("seed", range(3040, 3052))
def test_finer_pieces_change_the_trip_time_little(seed):
    document, doses = stated_system(seed, 5)
    at_c = document["ambient"]["usual_c"]
    trace = simulate(document, doses, at_c)
    assert trace["trip_s"][0] == pytest.approx(Run(document, doses, at_c, pieces_on_longest=30).trip_time(), rel=0.02)


@pytest.mark.parametrize("seed", COMPLETING)
def test_the_reset_time_is_within_2_percent_of_a_stiff_solver_s(seed):
    document, doses = stated_system(seed, 5)
    document["switches"] = document["switches"][:1]
    trace = simulate(document, doses, document["ambient"]["usual_c"])
    assert trace["completed"]
    run = Run(document, doses, document["ambient"]["usual_c"], rtol=1e-8)
    run.trip_time()
    moment = moments(trace)
    assert moment["ready"] - moment["open"] == pytest.approx(run.vent_time(), rel=0.02, abs=0.05)


@pytest.mark.parametrize("seed", range(3200, 3260))
def test_what_the_pump_gave_is_in_the_line_or_dosed(seed):
    document = random_system(seed)
    feeds = Counter(point["device"] for point in document["points"])
    doses = {device["id"]: 3 * device["output_max_cm3"] * feeds[device["id"]] for device in document["devices"]}
    trace = simulate(document, doses, document["ambient"]["coldest_c"])
    assert trace["balance_error"] < 0.005
    assert min(min(bars) for bars in trace["pressure_bar"].values()) > 1.2 * PARTS_PA / 1e5


def test_what_newton_leaves_over_is_not_lost_but_goes_into_the_next_step():
    for seed in range(3200, 3210):
        document = random_system(seed)
        doses = {device["id"]: device["output_min_cm3"] for device in document["devices"]}
        assert simulate(document, doses, document["ambient"]["usual_c"])["balance_error"] < 1e-5


def test_where_pressure_only_rises_steps_are_longer_than_before_the_first_dose():
    """More than the pressures of a step is not needed there, and each costs a phone a millisecond."""
    trace = simulate(plain_system(), {"D0": 0.5}, 20)
    trip, pump = trace["trip_s"][0], trace["pressure_bar"]["pump"]
    moved = [b - a for a, b, at in zip(pump, pump[1:], trace["time_s"][1:]) if at <= trip]
    assert 2 < max(moved) < 12


def test_a_dose_that_is_seen_late_is_taken_evenly_until_its_stroke_ends():
    class Told:
        now, careful = 10.0, False
    device = Device({"id": "D0", "fires_bar": 60, "resets_bar": 25, "stroke_s": 2}, 0, 0.6)
    device.move(Told(), [50e5], [70e5], 1.0)
    assert device.state == DOSING and device.start == pytest.approx(10.5)
    assert device.share(11.0, 0.75) == pytest.approx(0.3e-6) and device.share(11.0, 5.0) == pytest.approx(0.6e-6)


def test_the_events_come_in_their_order():
    document = plain_system()
    trace = simulate(document, {"D0": 0.5}, 20)
    whats = [entry["what"] for entry in trace["events"]]
    assert whats[:5] == ["pump on", "device dosed", "switch tripped", "pump off", "vent open"]
    assert sorted(whats[5:7]) == ["device reset", "switch returned"] and whats[7:] == ["pause"]
    times = [entry["at_s"] for entry in trace["events"]]
    assert times == sorted(times)
    assert trace["completed"] and trace["delivered_cm3"] == {"D0": pytest.approx(0.5)}


def test_a_device_resets_only_after_its_stroke_is_complete():
    document = plain_system()
    document["devices"][0].update(fires_bar=98, stroke_s=20)
    trace = simulate(document, {"D0": 0.5}, 20)
    assert events_of(trace, "device reset")[0][1] >= events_of(trace, "device dosed")[0][1]
    assert trace["delivered_cm3"]["D0"] == pytest.approx(0.5)


def test_a_colder_line_trips_later():
    times = [simulate(plain_system(), {"D0": 0.5}, at_c)["trip_s"][0] for at_c in (30, 10, -10)]
    assert times == sorted(times) and times[0] < times[2]


def test_more_air_trips_later():
    document = plain_system()
    document["lubricant"]["air_fraction"] = 0.05
    assert simulate(document, {"D0": 0.5}, 20)["trip_s"][0] > 2 * simulate(plain_system(), {"D0": 0.5}, 20)["trip_s"][0]


def test_relief_reached_first_is_told_and_nothing_trips():
    document = plain_system()
    document["lubricant"]["yield_pa"] = 4000
    document["lubricant"]["stiffening_per_k"] = 0
    trace = simulate(document, {"D0": 0.5}, 20)
    assert trace["trip_s"] == [None] and not trace["completed"] and "relief" in trace["why"]


def test_a_time_limit_ends_the_build_up():
    trace = simulate(plain_system(), {"D0": 0.5}, 20, limit_s=2)
    assert trace["trip_s"] == [None] and events_of(trace, "pump off") == [("pump", pytest.approx(2))]


def test_the_recommended_limit_is_marked_where_it_goes_by():
    trace = simulate(plain_system(), {"D0": 0.5}, 20, settings={"time_limit": 3})
    assert events_of(trace, "fault") == [("controller", 3)] and trace["trip_s"][0] > 3


def test_the_next_cycle_starts_from_what_is_left_and_is_quicker():
    trace = simulate(plain_system(), {"D0": 0.5}, 20, cycles=3)
    assert len(trace["trip_s"]) == 3 and trace["trip_s"][1] < trace["trip_s"][0]
    assert trace["trip_s"][2] == pytest.approx(trace["trip_s"][1], rel=0.01)
    assert trace["delivered_cm3"]["D0"] == pytest.approx(1.5)


def test_a_vent_too_short_between_cycles_is_told():
    document = plain_system()
    document["lubricant"].update(yield_pa=300)
    trace = simulate(document, {"D0": 0.5}, 0, cycles=2, settings={"vent": 0.05})
    assert trace["why"] == "the next cycle starts before everything has reset"


def test_pressure_locked_in_keeps_a_device_from_resetting():
    document = plain_system()
    document["lubricant"].update(yield_pa=1000, stiffening_per_k=0)
    document["pump"]["relief_bar"] = 500
    trace = simulate(document, {"D0": 0.5}, 20)
    assert trace["trip_s"][0] and not trace["completed"] and "locked" in trace["why"]
    assert 25 < trace["pressure_bar"]["N0"][-1] <= 4 * 1000 * 12 / 0.010 / 1e5 * 1.001


def test_doses_that_empty_the_line_over_and_over_are_told():
    document = plain_system(switches=[{"id": "W1", "at": "pump", "trips_bar": 100, "resets_bar": 30, "contact": "normally open"}])
    document["lubricant"].update(yield_pa=20, air_fraction=0)
    trace = simulate(document, {"D0": 40}, 20)
    assert trace["trip_s"] == [None] and "over and over" in trace["why"]


def test_an_unlimited_draw_opens_a_cavity_and_no_endless_vacuum():
    document = plain_system()
    document["devices"][0]["stroke_s"] = 0.05
    document["lubricant"]["air_fraction"] = 0
    trace = simulate(document, {"D0": 30}, 20)
    assert -1.0 < min(trace["pressure_bar"]["N0"]) < -0.5
    assert trace["balance_error"] < 0.005
