"""What a worked system says about itself: each finding where it belongs, and none where all is well."""
import pytest

from webapp.engine.bridge import ask

from .systems import plain_system


def worked(document, simulate=True):
    return ask({"do": "work", "document": document, "simulate": simulate})


def found(document, identifier, simulate=True):
    """The findings of this id."""
    return [entry for entry in worked(document, simulate)["findings"] if entry["id"] == identifier]


def stiff(yield_pa, **changes):
    """The plain system with a grease of this yield that does not change with the temperature."""
    document = plain_system(**changes)
    document["lubricant"].update(yield_pa=yield_pa, stiffening_per_k=0)
    return document


def test_a_sound_system_has_no_stop_and_no_warning():
    document = plain_system()
    document["points"][0]["need"]["cm3_per_h"] = 0.11
    assert [entry["id"] for entry in worked(document)["findings"] if entry["severity"] != "note"] == []


def test_relief_reached_before_the_switch_trips_is_a_stop():
    entries = found(stiff(4000), "build.never_trips")
    assert [(entry["severity"], entry["where"]) for entry in entries] == [("stop", "pump.relief_bar")] * 2
    assert "250 bar" in entries[0]["says"] and "relief" in entries[0]["says"]
    result = worked(stiff(4000))
    assert result["build"]["time_usual"]["value"] is None and "time_limit" not in result["build"]


def test_a_line_that_does_not_vent_at_the_coldest_is_a_stop_and_says_down_to_what_it_works():
    document = plain_system(ambient={"coldest_c": -25, "usual_c": 20, "hottest_c": 35})
    document["lubricant"].update(yield_pa=300)
    entry, = found(document, "line.locked", simulate=False)
    assert (entry["severity"], entry["where"]) == ("stop", "devices.D0")
    assert worked(document, False)["line"]["resets_at_coldest"]["value"] is False
    works_to = entry["with"]["works_to"]["value"]
    assert -25 < works_to < 20
    document["ambient"]["coldest_c"] = works_to + 0.5
    assert found(document, "line.locked", simulate=False) == []


def test_the_bore_that_is_named_would_do():
    document = stiff(800)
    entry, = found(document, "line.locked_always", simulate=False)
    document["sections"][0]["bore_mm"] = entry["with"]["bore"]["value"] * 1.001
    assert found(document, "line.locked_always", simulate=False) == []


@pytest.mark.parametrize("ambient", [None, {"coldest_c": 0, "usual_c": 10, "hottest_c": 20}])
def test_where_no_temperature_helps_none_is_named_and_looking_for_one_ends(ambient):
    document = stiff(800)
    document["lubricant"]["stiffening_per_k"] = 1e-11
    if ambient:
        document["sections"][0]["ambient"] = ambient
    assert found(document, "line.locked_always", simulate=False) and not found(document, "line.locked", simulate=False)


def test_a_line_that_vents_with_little_to_spare_is_warned_of():
    entry, = found(stiff(560), "line.nearly_locked", simulate=False)
    assert entry["severity"] == "warn"


def test_a_locked_line_does_not_complete_in_the_simulation_either():
    assert found(stiff(1200), "build.incomplete")[0]["severity"] == "stop"


def test_over_feeding_is_warned_of_and_names_the_worst_point():
    document = plain_system()
    document["points"].append({"id": "P1", "name": "Slow shaft", "device": "D0", "need": {"method": "stated", "cm3_per_h": 0.01}})
    entry, = found(document, "feed.over")
    assert (entry["severity"], entry["where"], entry["with"]["worst"]) == ("warn", "points.P1", "Slow shaft")
    assert entry["says"].startswith("1 of 2 points") and "Slow shaft" in entry["says"]
    assert found(dict(document, choices={"over_feed_limit": 50}), "feed.over") == []


def test_a_need_above_the_range_is_a_stop_with_the_output_that_it_would_take():
    document = plain_system()
    document["points"][0]["need"]["cm3_per_h"] = 500
    entry, = found(document, "feed.short")
    assert (entry["severity"], entry["where"]) == ("stop", "points.P0")
    needed = entry["with"]["needed"]["value"]
    assert "Point 0" in entry["says"] and needed > 1
    document["devices"][0]["output_max_cm3"] = needed * 1.2
    assert found(document, "feed.short") == []


def test_a_limit_from_a_mild_day_is_warned_of_before_winter():
    document = plain_system(ambient={"coldest_c": -10, "usual_c": 20, "hottest_c": 35}, measured={"build_s": [5], "at_c": 20})
    entry, = found(document, "limit.winter")
    assert (entry["severity"], entry["where"]) == ("warn", "measured.build_s")


def test_a_limit_beyond_the_controller_is_a_stop_where_the_build_up_itself_does_not_fit():
    document = plain_system()
    document["controller"]["time_limit"] = {"min_s": 1, "max_s": 5, "step_s": 1}
    document["measured"] = {"build_s": [40]}
    assert found(document, "limit.out_of_range")[0]["severity"] == "stop"
    document["measured"] = {"build_s": [4]}
    assert found(document, "limit.out_of_range")[0]["severity"] == "warn"


def test_a_load_beyond_the_contacts_asks_for_a_relay():
    document = plain_system()
    document["pump"]["current_a"] = 7
    assert found(document, "wiring.relay")[0]["severity"] == "note"
    assert found(plain_system(), "wiring.relay") == []


def test_a_long_thin_cable_is_warned_of_and_the_size_that_would_do_keeps_it_within():
    document = plain_system(wiring={"cable_m": 40, "conductor_mm2": 0.75})
    entry, = found(document, "wiring.drop_size", simulate=False)
    document["wiring"]["conductor_mm2"] = entry["with"]["size"]["value"]
    assert found(document, "wiring.drop_size", simulate=False) == []


def test_a_small_fuse_is_warned_of():
    entry, = found(plain_system(wiring={"cable_m": 5, "conductor_mm2": 2.5, "fuse_a": 4}), "wiring.fuse", simulate=False)
    assert (entry["severity"], entry["where"]) == ("warn", "wiring.fuse_a")


def test_a_reservoir_that_lasts_less_than_a_week_is_warned_of():
    document = plain_system()
    document["pump"].update(reservoir_l=0.06, low_level_l=0.05)
    document["points"][0]["need"]["cm3_per_h"] = 1
    assert found(document, "reservoir.short", simulate=False)[0]["severity"] == "warn"


def test_a_lubricant_outside_its_temperatures_is_warned_of():
    document = plain_system()
    document["lubricant"].update(coldest_c=10, hottest_c=30)
    assert [entry["id"] for entry in worked(document, False)["findings"] if entry["id"].startswith("lubricant.")] == [
        "lubricant.coldest_c", "lubricant.hottest_c"]


def test_a_code_of_another_grade_is_warned_of():
    document = plain_system()
    document["lubricant"]["code"] = "KP2K-30"
    entry, = found(document, "lubricant.code", simulate=False)
    assert entry["says"] == "The code KP2K-30 says NLGI 2, NLGI 1 was entered."


def test_estimated_flow_is_said():
    assert found(plain_system(lubricant={"nlgi": "1"}), "lubricant.estimated", simulate=False)[0]["severity"] == "note"


def test_stops_come_first_then_warnings_then_notes():
    document = stiff(1200)
    document["lubricant"].update(coldest_c=10)
    document["pump"]["current_a"] = 9
    severities = [entry["severity"] for entry in worked(document)["findings"]]
    assert severities == sorted(severities, key=["stop", "warn", "note"].index) and len(set(severities)) == 3
