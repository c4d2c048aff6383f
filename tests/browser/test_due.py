"""Without signal, Today shows what is due as a route: a round, and a refill as soon as somebody noted how little is left."""
from .bench import PLANER


def test_today_shows_a_due_round_and_a_refill_without_signal(server, phone):
    # long after any record of the plant, whenever the suite runs
    phone.page.clock.set_fixed_time("2031-01-15T08:00:00Z")
    phone.open("/app/systems/" + PLANER)
    phone.page.get_by_text("Round overdue since").wait_for()
    server.stop()
    phone.open("/app/systems/%s/add/refill" % PLANER)
    phone.enter("refill_l", "0.2")
    phone.enter("level_after_l", "0.5")
    phone.page.locator("button.main:enabled").wait_for()
    phone.tap("Keep it")
    phone.page.get_by_text("Reservoir at low level on 15 Jan 2031.").wait_for()
    phone.open("/app/")
    stop = phone.page.get_by_role("listitem").filter(has_text="Refill: 3.5 l of Winter grease")
    stop.wait_for()
    assert "Planer feed rolls" in stop.inner_text() and "due today" in stop.inner_text()
    assert "Round" in stop.inner_text() and "overdue since" in stop.inner_text()
    carried = phone.page.locator("h3", has_text="Take along").locator("xpath=following-sibling::ul[1]")
    assert "Winter grease" in carried.inner_text() and "Planer feed rolls" in carried.inner_text()
    phone.page.get_by_role("link", name="Reservoirs and refills").click()
    phone.wait_title("Refills")
    phone.page.get_by_role("listitem").filter(has_text="Planer feed rolls").get_by_text("3.5 l of Winter grease").wait_for()
