"""What the rounds say over the weeks, on the phone: the drift of the demo's planer, and a reading that was just made."""
import re

from .bench import PLANER, eventually, walk_round


def readings(phone):
    """Rows of the chart's readings since the baseline, the newest first."""
    rows = phone.page.locator("[aria-label='Timed cycle since the baseline'] tbody tr")
    rows.first.wait_for(state="attached")
    return rows


def test_a_drift_is_called_set_aside_with_a_reason_and_comes_back_with_a_worse_reading(server, phone):
    server.stop()
    phone.open("/app/systems/" + PLANER)
    phone.page.get_by_text(re.compile("The timed cycle takes 1[23] % longer")).wait_for()
    phone.page.get_by_role("link", name="Over time").click()
    phone.page.get_by_text("meets the time limit").wait_for()
    assert "Never feel for a leak by hand" in phone.page.inner_text("main")
    assert phone.page.get_by_role("link", name="Find the fault").first.get_attribute("href").partition("?")[2].startswith("says=The%20timed%20cycle%20takes%201")
    rows = readings(phone)
    assert rows.count() == 26 and "2 °C" in rows.first.text_content() and "outside" in rows.first.text_content()
    happened = phone.page.get_by_text("Everything that happened")
    everything = happened.inner_text()
    phone.tap("3 months")
    phone.page.locator("button[aria-pressed=true]", has_text="3 months").wait_for()
    assert happened.inner_text() != everything
    for call in ("% longer than it did", "meets the time limit"):
        phone.page.get_by_role("button", name="Set it aside…").first.click()
        phone.page.fill("#why", "Spare elements are ordered, fitted next week.")
        if "longer" in call:
            eventually(lambda: phone.has_kept("Spare elements", "set-aside:" + PLANER))
            phone.restart()
            phone.open("/app/systems/%s/over-time" % PLANER)
            phone.page.locator("#why").wait_for()
            assert phone.page.input_value("#why").startswith("Spare elements")
        phone.tap("Set it aside")
        phone.page.locator("summary", has_text=call).wait_for()
    phone.page.get_by_text("Nothing is called that was not set aside.").wait_for()
    phone.open("/app/systems/%s/round" % PLANER)
    walk_round(phone, {"Temperature at the line": "3 °C", "One timed cycle": "51"})
    phone.tap("Sign off the round")
    phone.wait_title("Planer feed rolls")
    phone.open("/app/systems/%s/over-time" % PLANER)
    phone.page.get_by_text(re.compile("The timed cycle takes (19|20) % longer")).wait_for()
    rows = readings(phone)
    assert rows.count() == 27 and "51 s" in rows.first.text_content()


def test_a_test_run_with_a_cup_and_a_held_pressure_tells_delivery_and_leak(server, phone):
    server.stop()
    phone.open("/app/systems/%s/test-run" % PLANER)
    phone.tap("I have read this")
    phone.tap("Pump starts now")
    phone.tap("Switch tripped")
    phone.tap("Back at rest")
    for name, text in (("temperature", "14"), ("delivery", "60"), ("held", "7 lots")):
        phone.page.fill("#" + name, text)
    phone.page.locator(".field-error").wait_for()
    phone.page.fill("#held", "100")
    phone.tap("Sign off 1 run as the baseline")
    phone.wait_title("Planer feed rolls")
    phone.open("/app/systems/%s/figures" % PLANER)
    phone.tap("Work out air, yield, delivery and leak")
    phone.page.get_by_text("No air, yield, delivery or leak makes the line give these readings").wait_for(timeout=60000)


def test_what_the_baseline_says_names_what_it_cannot_tell_apart(server, phone):
    server.stop()
    phone.open("/app/systems/%s/figures" % PLANER)
    phone.tap("Work out air, yield, delivery and leak")
    phone.page.get_by_text("These readings cannot tell it from").first.wait_for(timeout=60000)
    assert "catch what the pump gives in one minute" in phone.page.inner_text("main").lower()


def test_a_page_that_was_left_draws_nothing_over_the_next(phone):
    phone.open("/app/systems/%s/test-run" % PLANER)
    for name in ("I have read this", "Pump starts now", "Switch tripped", "Back at rest"):
        phone.tap(name)
    phone.page.fill("#temperature", "14")  # the verdict on it takes a simulation
    phone.page.get_by_role("link", name="Systems", exact=True).click()
    phone.wait_title("Systems")
    phone.page.wait_for_timeout(4000)
    assert phone.title() == "Systems"
