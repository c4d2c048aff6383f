"""What goes into the controller, with one switch and with two."""
import pytest

from webapp.engine.bridge import ask
from webapp.engine.systems.worked import work

from .systems import plain_system


def settings(document, simulate=True):
    """Name -> setting, presented."""
    return {entry["name"]: entry for entry in ask({"do": "work", "document": document, "simulate": simulate})["settings"]}


def two_switches(near, far):
    """The first switch at the pump, the second at the far end, tripping at these pressures [bar]."""
    return plain_system(switches=[
        {"id": "W1", "at": "pump", "trips_bar": near, "resets_bar": 35, "contact": "normally open"},
        {"id": "W2", "at": "N0", "trips_bar": far, "resets_bar": 30, "contact": "normally closed"}])


def test_every_setting_has_a_group_a_value_and_a_reason():
    entries = settings(plain_system())
    assert [entries[name]["group"] for name in ("pause", "switch_1_at_rest", "low_level", "alarm_output")] == [
        "Timing", "Sensing", "Protection", "Signals"]
    assert all(entry["shown"] and entry["reason"] and entry["label"] for entry in entries.values())


def test_they_come_in_the_order_of_their_groups():
    groups = [entry["group"] for entry in work(two_switches(100, 80))["settings"]]
    assert groups == sorted(groups, key=["Timing", "Sensing", "Protection", "Signals"].index)


def test_the_pause_is_one_that_the_controller_accepts():
    document = plain_system()
    document["controller"]["pause"] = [{"min_s": 1800, "max_s": 36000, "step_s": 1800}]
    assert settings(document)["pause"]["value"] % 1800 == 0


def test_one_switch_and_one_cycle_vent_short_and_the_reason_says_why():
    vent = settings(plain_system())["vent"]
    assert vent["value"] == 10 and "venting goes on through the pause" in vent["reason"]


def test_several_cycles_vent_until_everything_has_reset():
    document = plain_system(choices={"cycles_per_event": 2, "margin": 1.5})
    document["controller"]["cycles_max"] = 2
    worked = work(document)
    reset = worked["vent"]["reset_coldest"]["value"]
    vent = settings(document)["vent"]
    assert 1.5 * reset <= vent["value"] < 1.5 * reset + 10 and "must not start before" in vent["reason"]


def test_two_switches_vent_until_both_have_returned():
    worked = work(two_switches(100, 80))
    assert worked["vent"]["time"]["value"] >= 1.5 * worked["vent"]["reset_coldest"]["value"]
    assert settings(two_switches(100, 80))["second_switch"]["shown"] == "used"


def test_the_second_limit_covers_build_up_second_trip_and_return():
    worked = work(two_switches(100, 80))
    limit, second = worked["build"]["time_limit"]["value"], worked["build"]["time_limit_second"]["value"]
    whole = worked["build"]["time_coldest"]["value"] + worked["vent"]["reset_coldest"]["value"]
    assert second >= limit and second == pytest.approx(1.5 * whole, abs=15)
    assert "bounds the vent as well" in settings(two_switches(100, 80))["time_limit_second"]["reason"]


def test_the_sheet_says_where_two_switches_sit_and_in_which_order_they_trip():
    says = [(entry["severity"], entry["says"], entry["do"]) for entry in
            ask({"do": "work", "document": two_switches(100, 80)})["findings"] if entry["id"] == "switches.place"]
    assert len(says) == 1 and says[0][0] == "note"
    assert "W1 stops the pump" in says[0][1] and "W1 sits near the pump, W2 at the far end" in says[0][2]


def test_switches_that_trip_in_the_right_order_are_not_warned_of():
    document = two_switches(100, 85)
    document["ambient"]["usual_c"] = document["ambient"]["coldest_c"]
    worked = work(document, keep_traces=True)
    assert [entry["where"] for entry in worked["traces"]["coldest"]["events"] if entry["what"] == "switch tripped"] == ["W1", "W2"]
    assert [entry["id"] for entry in worked["findings"] if entry["id"].startswith("switches.")] == ["switches.place"]


def test_switches_that_trip_in_the_wrong_order_are_warned_of():
    document = two_switches(100, 50)
    found = [entry for entry in work(document)["findings"] if entry["id"] == "switches.order"]
    assert [(entry["severity"], entry["where"]) for entry in found] == [("warn", "switches")] * len(found) and found


def test_the_second_switch_is_named_unused_where_there_is_one():
    entries = settings(plain_system())
    assert entries["second_switch"]["shown"] == "not used" and "switch_2_at_rest" not in entries


def test_each_switch_rests_as_it_is_fitted():
    entries = settings(two_switches(100, 80))
    assert (entries["switch_1_at_rest"]["shown"], entries["switch_2_at_rest"]["shown"]) == ("normally open", "normally closed")


def test_a_measured_limit_says_so_and_a_predicted_one_says_so():
    assert "Longest measured build-up 40 s" in settings(plain_system(measured={"build_s": [38, 40]}))["time_limit"]["reason"]
    assert "Predicted at the coldest" in settings(plain_system())["time_limit"]["reason"]
    short = plain_system(measured={"build_s": [38, 40]})
    short["controller"]["time_limit"] = {"min_s": 5, "max_s": 50, "step_s": 5}
    limit = settings(short)["time_limit"]
    assert limit["value"] == 50 and limit["reason"] == "40 s × 1.5 is more than the controller accepts: this is its longest."


def test_a_measured_limit_is_the_longest_run_with_the_margin_up_to_the_step():
    assert settings(plain_system(measured={"build_s": [38, 41]}))["time_limit"]["value"] == 70
    assert settings(plain_system(measured={"build_s": [38, 41]}, choices={"margin": 2}))["time_limit"]["value"] == 90


def test_without_the_simulation_the_limit_waits():
    limit = settings(plain_system(), simulate=False)["time_limit"]
    assert (limit["value"], limit["shown"]) == (None, "not known") and "simulation" in limit["reason"]


def test_the_low_level_says_what_happens():
    document = plain_system(low_level={"fitted": True, "contact": "normally closed", "on_low": "stop pump"})
    entries = settings(document)
    assert [entries[name]["shown"] for name in ("low_level", "low_level_at_rest", "on_low_level")] == [
        "fitted", "normally closed", "stop pump"]
    assert "on_low_level" not in settings(plain_system())


def test_the_machine_contact_is_asked_for_only_where_it_is_used():
    used = settings(plain_system(machine_contact={"used": True, "contact": "normally open"}))
    assert used["machine_contact_at_rest"]["shown"] == "normally open"
    assert "machine_contact_at_rest" not in settings(plain_system())


def test_a_setting_carries_the_menu_s_own_wording():
    document = plain_system()
    document["controller"]["wording"] = {"pause": "Wait between"}
    entries = settings(document)
    assert (entries["pause"]["wording"], entries["vent"]["wording"]) == ("Wait between", "")
