"""Faults: how they are typed and what each does to a cycle."""
import pytest

from webapp.engine.events.faults import FORMS, read
from webapp.engine.line.grid import ATMOSPHERE_PA, Grid
from webapp.engine.words.present import present
from webapp.engine.events.simulate import simulate

from .systems import plain_system

DOSES = {"D0": 0.5, "D1": 0.4}


def branched():
    """The plain line with a branch at its middle that has a device of its own."""
    document = plain_system()
    document["sections"] = [{"id": "S0", "from": "pump", "to": "N1", "length_m": 6, "bore_mm": 10},
                            {"id": "S1", "from": "N1", "to": "N0", "length_m": 6, "bore_mm": 10},
                            {"id": "S2", "from": "N1", "to": "N2", "length_m": 5, "bore_mm": 8}]
    document["devices"].append(dict(document["devices"][0], id="D1", at="N2"))
    document["points"].append(dict(document["points"][0], id="P1", name="Point 1", device="D1"))
    return document


def tried(*typed, document=None, **more):
    """The trace of the branched line under typed faults."""
    document = document or branched()
    faults, findings = read(document, typed)
    assert findings == []
    trace = simulate(document, DOSES, 20, faults=faults, **more)
    assert trace["balance_error"] < 0.005
    return trace


def whats(trace):
    return [entry["what"] for entry in trace["events"]]


@pytest.mark.parametrize("typed, allowed", [
    ("leak=N9:1", "NODE:CM3_MIN_PER_BAR"), ("leak=N0", "There: pump, N1, N0, N2."), ("leak=N0:-1", "leak"), ("air=0.9", "0 to 0.5"),
    ("air=nan", "0 to 0.5"), ("pump=1.2", "from 0 to 1"), ("blocked=N0", "There: S0, S1, S2."), ("vent=wide", "stuck"),
    ("device=W1", "There: D0, D1."), ("switch=W1", "SWITCH:BAR"), ("switch=W9:80", "There: W1."), ("contact=D0", "There: W1."),
    ("relief=0", "1 to 1000"), ("empty=", "litres"), ("cold=3", "leak, air, pump"), ("leak", "NAME=VALUE"), (7, "NAME=VALUE"),
    ("", "NAME=VALUE")])
def test_a_fault_that_is_none_is_told_with_what_is_allowed(typed, allowed):
    _, findings = read(branched(), [typed])
    said = present({"findings": findings})["findings"][0]
    assert str(typed) in said["says"] and allowed in said["do"]


@pytest.mark.parametrize("typed", [["air=0.1", "air=0.2"], ["switch=W1:80", "switch=W1:stuck"], ["vent=stuck", "vent=0.4"]])
def test_what_can_be_so_only_once_is_taken_once(typed):
    assert len(read(branched(), typed)[1]) == 1


def test_several_faults_become_plain_numbers():
    faults, findings = read(branched(), ["leak=N0:0,2", "leak=pump:1", "pump=0.5", "blocked=S2", "switch=W1:stuck", "empty=2"])
    assert not findings
    assert faults == {"leaks": [("N0", 0, 0.2), ("pump", 0, 1)], "pump": 0.5, "blocked": [("S2", 0)],
                      "switches": {"W1": float("inf")}, "empty_m3": 0.002}


def test_every_fault_of_the_list_can_be_read():
    typed = {"leak": "N0:1", "air": "0.1", "pump": "0", "blocked": "S2", "vent": "stuck", "device": "D1", "switch": "W1:80",
             "contact": "W1", "relief": "90", "empty": "0"}
    assert sorted(typed) == sorted(name for name, _ in FORMS)
    assert read(branched(), ["%s=%s" % one for one in sorted(typed.items())])[1] == []


def test_a_fault_of_no_size_changes_little():
    healthy = tried()["trip_s"][0]
    for typed in ("leak=N0:0", "pump=1", "air=0.01", "switch=W1:100", "relief=250", "empty=100", "vent=1"):
        assert tried(typed)["trip_s"][0] == pytest.approx(healthy, rel=1e-6), typed


@pytest.mark.parametrize("typed", ["leak=N1:0.1", "leak=pump:0.1", "air=0.03", "pump=0.8", "empty=0.004", "switch=W1:120"])
def test_it_makes_the_build_up_longer(typed):
    assert tried(typed)["trip_s"][0] > 1.02 * tried()["trip_s"][0]


def test_half_the_delivery_takes_twice_the_time_of_a_line_without_friction():
    document = branched()
    document["lubricant"].update(yield_pa=1e-3, consistency_pa_sn=0.01, flow_index=1)
    full, half = (tried(*typed, document=document)["trip_s"][0] for typed in ((), ("pump=0.5",)))
    assert half == pytest.approx(2 * full, rel=0.002)


def test_a_leak_takes_from_the_line_what_the_pump_gives_and_the_switch_never_trips():
    trace = tried("leak=N0:1", limit_s=600)
    assert trace["trip_s"] == [None] and "time limit" in trace["why"]
    assert trace["pressure_bar"]["N0"][-1] == pytest.approx(60, rel=1e-3)


def test_a_pump_that_gives_nothing_never_trips():
    trace = tried("pump=0", limit_s=60)
    assert trace["trip_s"] == [None] and max(trace["pressure_bar"]["pump"]) == 0


def test_beyond_a_blocked_pipe_nothing_is_fed_and_the_switch_trips_sooner():
    trace = tried("blocked=S2")
    assert trace["trip_s"][0] < 0.85 * tried()["trip_s"][0]
    assert trace["delivered_cm3"] == {"D0": pytest.approx(0.5), "D1": 0} and max(trace["pressure_bar"]["N2"]) == 0
    assert not trace["completed"] and "D1" in trace["why"] and whats(trace)[-1] == "pause"


def test_a_pump_behind_a_blocked_pipe_is_at_its_relief_pressure_at_once():
    trace = tried("blocked=S0")
    assert trace["trip_s"] == [None] and "relief" in trace["why"] and trace["time_s"][-1] < 1


def test_a_vent_that_stays_shut_keeps_the_pressure_and_nothing_resets():
    trace = tried("vent=stuck")
    assert trace["trip_s"] == tried()["trip_s"] and "does not reset" in trace["why"]
    assert trace["pressure_bar"]["N0"][-1] > 90 and "device reset" not in whats(trace)


def test_a_vent_that_opens_a_little_takes_longer():
    ends = [tried(*typed)["time_s"][-1] for typed in ((), ("vent=0.3",), ("vent=0.03",))]
    assert ends[0] < ends[1] < ends[2]
    document = dict(branched(), vent_valve={"flow_cm3_min_per_bar": 40})
    assert tried("vent=0.5", document=document)["time_s"] == tried(document=dict(
        document, vent_valve={"flow_cm3_min_per_bar": 20}))["time_s"]


def test_a_stuck_device_gives_nothing_and_the_controller_does_not_see_it():
    trace = tried("device=D1")
    assert trace["delivered_cm3"] == {"D0": pytest.approx(0.5), "D1": 0} and trace["why"] == "device D1 never doses"
    assert trace["trip_s"][0] < tried()["trip_s"][0] and whats(trace)[-1] == "pause"


def test_a_switch_that_never_trips_lets_the_pump_run_into_its_relief_pressure():
    trace = tried("switch=W1:stuck")
    assert trace["trip_s"] == [None] and "relief" in trace["why"] and trace["pressure_bar"]["pump"][-1] >= 250


def test_a_switch_set_low_stops_the_pump_before_the_devices_dose():
    trace = tried("switch=W1:25")
    assert trace["trip_s"][0] < tried()["trip_s"][0] and not any(trace["delivered_cm3"].values())
    assert ("switch returned" in whats(trace)) and "firing pressure" in trace["why"]


def test_a_wrong_contact_reads_as_tripped_at_once():
    trace = tried("contact=W1")
    assert trace["trip_s"] == [0] and not any(trace["delivered_cm3"].values()) and "entered wrongly" in trace["why"]
    assert whats(trace)[:3] == ["pump on", "switch tripped", "fault"]


def test_a_wrong_contact_of_the_second_switch_reads_as_returned_when_it_trips():
    document = branched()
    document["switches"].append(dict(document["switches"][0], id="W2", at="N2", trips_bar=90))
    trace = tried("contact=W2", document=document)
    assert trace["trip_s"] == tried(document=document)["trip_s"] and "W2" in trace["why"] and not trace["completed"]
    seen = [entry["what"] for entry in trace["events"] if entry["where"] == "W2"]
    assert seen == ["switch tripped", "switch returned"] and whats(trace)[-1] == "fault"


def test_a_low_relief_pressure_is_reached_first():
    trace = tried("relief=80")
    assert trace["trip_s"] == [None] and "relief" in trace["why"] and 79 < max(trace["pressure_bar"]["pump"]) < 90


def test_a_pump_that_gives_air_from_the_start_trips_when_the_air_is_pressed_small_enough():
    """By hand: q t of free air leaves q t p0 / (p + p0) of room to press in, and that is what the line and its air take at p."""
    document = branched()
    document["lubricant"].update(yield_pa=1e-3, consistency_pa_sn=0.01, flow_index=1)
    faults, _ = read(document, ["empty=0"])
    p, grid = 100e5, Grid(document, 20)
    pressed = grid.stored([p] * len(grid.parent))
    wanted = pressed * (p + ATMOSPHERE_PA) / ATMOSPHERE_PA / 1e-6
    trace = simulate(document, {}, 20, limit_s=7200, faults=faults)
    assert trace["trip_s"][0] == pytest.approx(wanted, rel=0.005) and trace["balance_error"] < 0.005


def test_the_reservoir_lasts_through_the_first_cycle_and_runs_dry_in_the_second():
    first, second = tried("empty=0.03", cycles=2, limit_s=3600)["trip_s"]
    healthy = tried(cycles=2)["trip_s"]
    assert first == healthy[0] and second > 1.5 * healthy[1]


def test_faults_together_are_worse_than_each():
    together = tried("leak=N1:0.1", "air=0.03", "pump=0.8")["trip_s"][0]
    assert together > max(tried(one)["trip_s"][0] for one in ("leak=N1:0.1", "air=0.03", "pump=0.8"))


def test_no_fault_is_the_good_day():
    assert simulate(branched(), DOSES, 20, faults={}) == simulate(branched(), DOSES, 20)
