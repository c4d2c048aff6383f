"""What the rounds say over the weeks, on the phone: the drift of the demo's planer, and a reading that was just made."""
from .bench import HEAD_RIG, PLANER, walk_round


def test_a_drift_is_called_without_the_server_and_every_reading_is_listed(server, phone):
    phone.sign_in()
    server.stop()
    phone.open("/app/systems/" + PLANER)
    phone.page.get_by_role("heading", name="Over time").wait_for()
    text = phone.page.inner_text("main")
    for said in ("The timed cycle takes 12 % longer", "meets the time limit", "Never feel for a leak by hand"):
        assert said in text
    phone.page.get_by_text("Every reading").click()
    rows = phone.page.locator("table tbody tr").filter(has=phone.page.locator("th", has_text="2026-"))
    assert rows.count() == 26 and "2 °C" in rows.first.inner_text() and "outside" in rows.first.inner_text()


def test_a_round_s_timed_cycle_joins_the_chart(phone):
    phone.sign_in()
    phone.open("/app/systems/%s/round" % HEAD_RIG)
    walk_round(phone, {"Temperature at the line": "5 °C", "One timed cycle": "80.7"})
    phone.tap("Sign off the round")
    phone.wait_title("Head rig and edger")
    phone.page.get_by_text("3 readings so far").wait_for()
    phone.page.get_by_text("Every reading").click()
    assert "80.7 s" in phone.page.locator("details table").inner_text()


def test_a_test_run_with_a_cup_and_a_held_pressure_tells_delivery_and_leak(server, phone):
    phone.sign_in()
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
    phone.sign_in()
    server.stop()
    phone.open("/app/systems/%s/figures" % PLANER)
    phone.tap("Work out air, yield, delivery and leak")
    phone.page.get_by_text("These readings cannot tell it from").first.wait_for(timeout=60000)
    assert "catch what the pump gives in one minute" in phone.page.inner_text("main").lower()


def test_a_page_that_was_left_draws_nothing_over_the_next(phone):
    phone.sign_in()
    phone.open("/app/systems/%s/test-run" % PLANER)
    for name in ("I have read this", "Pump starts now", "Switch tripped", "Back at rest"):
        phone.tap(name)
    phone.page.fill("#temperature", "14")  # the verdict on it takes a simulation
    phone.page.get_by_role("link", name="Systems", exact=True).click()
    phone.wait_title("Systems")
    phone.page.wait_for_timeout(4000)
    assert phone.title() == "Systems"
