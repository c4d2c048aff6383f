"""Low level, machine contact and alarm output: what they lead to, worked."""
import pytest

from webapp.engine.bridge import ask

from .systems import plain_system


def worked(document):
    return ask({"do": "work", "document": document, "simulate": False})


def said(document, room):
    """[(severity, where, id)] of the findings of one room."""
    return [(entry["severity"], entry["where"], entry["id"]) for entry in worked(document)["findings"]
            if entry["id"].startswith(room + ".")]


def reason(document, name):
    return next(entry["reason"] for entry in worked(document)["settings"] if entry["name"] == name)


# ---- low level

def low(on_low="warn only", need=0.1, **pump):
    document = plain_system(low_level={"fitted": True, "contact": "normally open", "on_low": on_low})
    document["pump"].update(pump)
    document["points"][0]["need"]["cm3_per_h"] = need
    return document


def cycles_until_air(document, left_cm3):
    """Whole cycles until a build-up asks for more than is left, one by one."""
    result = worked(document)
    dose, drawn = result["points"][0]["dose"]["value"], result["build"]["volume"]["value"]
    cycles = 0
    while left_cm3 >= drawn:
        left_cm3 -= dose
        cycles += 1
    return cycles


@pytest.mark.parametrize("low_l, rest_l", [(0.5, 0), (0.5, 0.2), (0.05, 0.03), (0.012, 0.011), (0.9, 0.899)])
def test_cycles_after_low_level_are_those_of_counting_them_off(low_l, rest_l):
    document = low(low_level_l=low_l, not_drawn_l=rest_l)
    assert worked(document)["reservoir"]["cycles_after_low"]["value"] == cycles_until_air(document, (low_l - rest_l) * 1000)


def test_they_last_for_the_days_of_the_duty():
    result = worked(low())
    per_week = result["interval"]["events_per_day"]["value"] * 5
    assert result["reservoir"]["time_after_low"]["value"] == pytest.approx(
        result["reservoir"]["cycles_after_low"]["value"] / per_week * 7)


def test_nothing_is_counted_without_a_switch():
    document = low()
    document["low_level"]["fitted"] = False
    assert "cycles_after_low" not in worked(document)["reservoir"] and said(document, "low") == []
    assert "look at the level on every round" in reason(document, "low_level") and "days" in reason(document, "low_level")


def test_a_switch_whose_level_is_unknown_is_noted():
    document = low()
    del document["pump"]["low_level_l"]
    assert said(document, "low") == [("note", "pump.low_level_l", "low.unknown")]


def test_a_switch_below_what_can_be_drawn_is_warned_of():
    document = low(low_level_l=0.5, not_drawn_l=0.5)
    assert said(document, "low") == [("warn", "pump.low_level_l", "low.too_late")]
    assert worked(document)["reservoir"]["cycles_after_low"]["value"] == 0


@pytest.mark.parametrize("low_l, severity", [(1, "note"), (0.02, "warn")])
def test_a_warning_only_says_when_air_comes_and_warns_where_that_is_within_a_weekend(low_l, severity):
    document = low(low_level_l=low_l, need=1)
    assert said(document, "low") == [(severity, "low_level.on_low", "low.warn_only")]
    cycles = worked(document)["reservoir"]["cycles_after_low"]["shown"]
    assert "air is drawn in %s cycles" % cycles in reason(document, "on_low_level")


def test_a_stop_says_what_is_left_unused_and_when_points_go_without():
    document = low("stop pump")
    assert said(document, "low") == []
    result = worked(document)
    says = reason(document, "on_low_level")
    assert "%s cycles" % result["reservoir"]["cycles_after_low"]["shown"] in says
    assert "at the latest %s later" % result["interval"]["event"]["shown"] in says


# ---- machine contact

def machine(duty=None, needs=(0.1,), **contact):
    document = plain_system(machine_contact=contact)
    document["duty"].update(duty or {})
    document["points"] = [{"id": "P%d" % number, "name": "Point %d" % number, "device": "D0", "need": {
        "method": "stated", "cm3_per_h": need}} for number, need in enumerate(needs)]
    return document


def test_the_longest_standstill_is_a_weekend_of_the_duty_unless_entered():
    signals = worked(machine(used=True))["signals"]
    assert signals["standing"]["value"] == 2 * 24 + 8 and signals["standing"]["estimate"]
    assert worked(machine(used=True, longest_stand_h=300))["signals"]["standing"]["value"] == 300


def test_a_pause_that_goes_on_feeds_a_pause_and_the_standstill_later_and_nobody_is_short():
    for restart in ("goes on", "feeds at once"):
        document = machine(used=True, on_restart=restart, longest_stand_h=20)
        result = worked(document)
        assert result["signals"]["without_feed"]["value"] == pytest.approx(20 + result["interval"]["pause"]["value"] / 3600)
        assert result["signals"]["shortfall"]["value"] == pytest.approx(0, abs=1e-9) and said(document, "machine") == []
        assert "nothing is missed" in reason(document, "machine_contact")


def test_a_pause_that_begins_anew_leaves_the_worst_point_short_by_what_it_needs_in_it():
    document = machine(used=True, on_restart="begins anew", needs=(0.1, 0.09))
    result = worked(document)
    event, pause = (result["interval"][name]["value"] for name in ("event", "pause"))
    missing = result["signals"]["shortfall"]["value"]
    assert missing == pytest.approx(0.1 * (event + pause) / 3600 - result["points"][0]["dose"]["value"])
    assert said(document, "machine") == [("warn", "machine_contact.on_restart", "machine.short")]
    assert "Point 0 has missed" in reason(document, "machine_contact")


def test_the_worst_point_is_the_one_that_misses_the_largest_share_of_its_need():
    document = machine(used=True, on_restart="begins anew")
    document["devices"].append(dict(document["devices"][0], id="D1", output_min_cm3=6, output_max_cm3=6))
    document["points"].append({"id": "P1", "name": "Thirsty", "device": "D1", "need": {"method": "stated", "cm3_per_h": 0.5}})
    result = worked(document)
    pause, hours = result["interval"]["pause"]["value"], result["interval"]["event"]["value"] / 3600
    lean, thirsty = (need * (hours + pause / 3600) - point["dose"]["value"]
                     for need, point in zip((0.1, 0.5), result["points"], strict=True))
    assert thirsty > lean > 0 and result["signals"]["shortfall"]["value"] == pytest.approx(lean)


def test_of_points_that_miss_the_same_share_the_one_that_misses_most_is_told_whatever_their_order():
    document = machine(used=True, on_restart="begins anew")
    document["devices"] = [dict(document["devices"][0], id="D%d" % number, output_min_cm3=0.01) for number in range(7)]
    document["points"] = [{"id": "P%d" % number, "name": "Point %d" % number, "device": "D%d" % number, "need": {
        "method": "stated", "cm3_per_h": need}} for number, need in enumerate((0.03, 0.07, 0.011, 0.09, 0.013, 0.05, 0.017))]
    for points in (document["points"], document["points"][::-1]):
        signals = worked(dict(document, points=points))["signals"]
        assert signals["shortfall_of"] == "Point 3" and signals["shortfall"]["value"] > 0.1


def test_where_nobody_knows_the_safe_side_is_taken_and_marked():
    unknown, anew = (worked(machine(used=True, on_restart=restart))["signals"] for restart in (None, "begins anew"))
    assert unknown["shortfall"]["value"] == anew["shortfall"]["value"]
    assert unknown["shortfall"]["inputs"]["pauses"]["estimate"] and not anew["shortfall"]["inputs"]["pauses"]["estimate"]
    assert said(machine(used=True), "machine") == []


@pytest.mark.parametrize("restart, severity", [("begins anew", "stop"), (None, "note")])
def test_a_pause_longer_than_a_shift_that_begins_anew_never_runs_out(restart, severity):
    document = machine({"hours_per_day": 2}, used=True, on_restart=restart)
    assert (severity, "machine_contact.on_restart", "machine.never") in said(document, "machine")
    for other in (machine({"hours_per_day": 2}, used=True, on_restart="goes on"), machine({"hours_per_day": 16}, used=True)):
        assert "machine.never" not in [identifier for _, _, identifier in said(other, "machine")]


def test_needs_round_the_clock_are_missed_over_the_standstill():
    document = machine({"only_while_machine_runs": False}, used=True, on_restart="goes on", longest_stand_h=30)
    result = worked(document)
    assert result["signals"]["shortfall"]["value"] == pytest.approx(
        0.1 * (30 + result["interval"]["event"]["value"] / 3600) - result["points"][0]["dose"]["value"])
    assert said(document, "machine") == [("warn", "machine_contact.used", "machine.unfed")]
    assert "round the clock" in reason(document, "machine_contact")


def test_points_that_need_nothing_miss_nothing():
    document = machine(used=True, on_restart="begins anew", needs=(0,))
    assert "shortfall" not in worked(document)["signals"] and said(document, "machine") == []


def test_without_the_contact_standing_bearings_are_fed_and_by_how_much():
    document = machine(used=False, needs=(0.1, 0.05))
    result = worked(document)
    rate = sum(point["rate"]["value"] for point in result["points"])
    assert result["signals"]["standing_feed"]["value"] == pytest.approx(rate)
    entry, = [one for one in result["findings"] if one["id"] == "machine.feeds_standing"]
    assert (entry["severity"], entry["with"]["week"]["value"]) == ("warn", pytest.approx(rate * (168 - 80)))
    assert entry["with"]["days"]["value"] == pytest.approx(3500 / rate / 24)
    assert "standing bearings" in reason(document, "machine_contact")


def test_a_contact_that_nobody_spoke_of_is_a_note_only():
    assert said(plain_system(), "machine") == [("note", "machine_contact.used", "machine.feeds_standing")]


def test_a_machine_that_never_stands_wastes_nothing():
    assert said(machine({"hours_per_day": 24, "days_per_week": 7}, used=False), "machine") == []
    assert said(machine({"only_while_machine_runs": False}, used=False), "machine") == []


# ---- alarm

def alarm(output="steady", **controller):
    document = plain_system(alarm_output=output)
    document["controller"].update(controller)
    return document


@pytest.mark.parametrize("kind, most", [("LED lamp", 2), ("filament lamp", 0.2), ("relay or horn", 1), (None, 2)])
def test_each_kind_of_load_asks_for_its_own_part_of_the_contact(kind, most):
    assert said(alarm(alarm_a=2, alarm_load=kind, alarm_load_a=most), "alarm") == []
    assert said(alarm(alarm_a=2, alarm_load=kind, alarm_load_a=most * 1.01), "alarm") == [
        ("warn", "controller.alarm_load_a", "alarm.load")]


def test_the_sheet_says_what_the_output_drives_where_its_contact_is_known():
    assert "up to 48 W, a filament lamp up to 4.8 W, a relay coil up to 1 A" in reason(alarm(alarm_a=2), "alarm_output")
    assert "LED" not in reason(alarm(), "alarm_output") and worked(alarm())["signals"].get("alarm_lamp") is None


def test_flashing_with_a_coil_is_warned_of_with_the_life_of_its_contact():
    document = alarm("flashing", alarm_load="relay or horn")
    assert said(document, "alarm") == [("warn", "alarm_output", "alarm.flashing_coil")]
    life = worked(document)["signals"]["alarm_life"]
    assert life["estimate"] and 20 < life["value"] < 40
    for calm in (alarm("flashing", alarm_load="LED lamp"), alarm("steady", alarm_load="relay or horn")):
        assert said(calm, "alarm") == []
