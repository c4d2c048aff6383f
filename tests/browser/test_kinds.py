"""The other kinds of system without the server: only what the kind needs is asked; entered, worked and proved on the phone."""
import pytest

from .bench import RESAW, TRIM_SAW
from .test_whole_length_offline import LINE, LUBRICANT, WIRING

DEVICE = {"output_min_cm3": "0.1", "output_max_cm3": "1", "fires_bar": "60", "resets_bar": "25"}


@pytest.fixture
def offline(phone, server):
    server.kill()
    phone.context.set_offline(True)
    return phone


def part(phone, name):
    phone.page.get_by_role("link", name=name).click()
    phone.wait_title(name)


def begin(phone, kind, name):
    """Everything but the line."""
    phone.open("/app/systems/new")
    phone.wait_title("Machine and points")
    phone.enter("name", name)
    phone.choose("kind", kind)
    part(phone, "Grease and temperatures")
    for place, text in LUBRICANT.items():
        phone.enter(place, text)
    phone.choose("lubricant.nlgi", "1")
    part(phone, "Wiring")
    for place, text in WIRING.items():
        phone.enter(place, text)
    part(phone, "Pump and pipe")
    for place, text in LINE.items():
        if not place.startswith("vent_valve"):
            phone.enter(place, text)
    phone.tap("More pipe")
    phone.enter("sections[0].length_m", "4")
    phone.enter("sections[0].bore_mm", "10")


def shown_settings(phone):
    """{label: value} of the result page, once the simulation is there."""
    phone.wait_worked()
    rows = phone.page.locator(".settings summary").all_inner_texts()
    return dict(row.split("\n", 1) for row in rows)


def test_a_progressive_system_is_entered_block_by_block(offline):
    begin(offline, "progressive", "Conveyor drive")
    assert not offline.page.locator("#f-vent_valve-current_a").count()
    offline.tap("Block")
    offline.enter("devices[0].fires_bar", "40")
    for number in range(4):
        offline.enter("devices[0].outlets[%d].output_cm3" % number, "0.2")
        offline.enter("points[%d].need.cm3_per_h" % number, "0.1")
    offline.choose("devices[0].outlets[3]", "O1")
    offline.tap("Block")
    assert not offline.page.locator("#f-devices-1--resets_bar").count()
    offline.choose("devices[1].hangs_from", "B1 O3")
    for number in range(2, 6):
        offline.enter("points[%d].need.cm3_per_h" % number, "0.02")
    offline.tap("Switch")
    offline.choose("switches[0].counts", "B1")
    offline.page.get_by_text("Cycle, pause").wait_for()
    offline.tap("Save")
    offline.wait_title("Conveyor drive")
    found = shown_settings(offline)
    assert found["Cycle switch at rest"] == "normally open" and found["Monitoring time"].endswith(" s")
    assert "Vent" not in found
    offline.page.get_by_text("Good to know").click()
    offline.page.get_by_text("One blocked outlet stops all 6 points").wait_for()


@pytest.mark.parametrize("kind", ["dual-line", "time-only"])
def test_lines_in_turn_and_lines_without_a_switch_are_entered(offline, kind):
    begin(offline, kind, "Press bed")
    offline.tap("Device")
    for name, text in DEVICE.items():
        offline.enter("devices[0]." + name, text)
    offline.enter("points[0].need.cm3_per_h", "0.05")
    if kind == "dual-line":
        assert [offline.page.input_value("#f-points-%d--side" % number) for number in (0, 1)] == ["A", "B"]
        offline.enter("points[1].need.cm3_per_h", "0.05")
        offline.tap("Switch")
        offline.enter("switches[0].trips_bar", "100")
        offline.enter("switches[0].resets_bar", "40")
    else:
        assert not offline.button("Switch").count() and not offline.page.locator("#f-points-0--side").count()
    offline.page.get_by_text("Build-up, pause").wait_for()
    offline.tap("Save")
    offline.wait_title("Press bed")
    found = shown_settings(offline)
    said = "Changeover switch at rest" in found, found.get("Confirmation")
    assert said == ((True, None) if kind == "dual-line" else (False, "none"))


def test_a_cycle_is_timed_from_signal_to_signal(offline):
    offline.open("/app/systems/%s/test-run" % TRIM_SAW)
    offline.tap("I have read this")
    offline.tap("Pump starts now")
    offline.tap("Cycle switch signals")
    offline.tap("It signals again")
    offline.page.get_by_role("columnheader", name="Signal to signal").wait_for()
    offline.tap("Sign off 1 run as the baseline")
    offline.wait_title("Trim saw table")
    measured = offline.kept("documents", TRIM_SAW)["body"]["measured"]
    assert len(measured["build_s"]) == 1 and measured["vent_s"] == []


def test_where_nothing_confirms_each_point_is_looked_at(offline):
    offline.open("/app/systems/%s/test-run" % RESAW)
    offline.tap("I have read this")
    offline.tap("Pump starts now")
    offline.tap("Last device has moved")
    offline.tap("Strain slide, left: dry")
    offline.page.get_by_text("No fresh lubricant was seen at: Strain slide, left.").wait_for()
    offline.page.get_by_text("Points not looked at: 3").wait_for()
