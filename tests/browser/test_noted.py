"""Refills and notes: typed without signal, kept as records, sent, seen at the desk; refills say how much was used."""
from .bench import PLANER


def test_a_refill_and_a_note_without_signal_reach_the_desk(server, new_phone):
    phone = new_phone("supervisor")
    phone.open("/app/systems/" + PLANER)
    server.stop()
    phone.page.get_by_role("link", name="Add a refill").click()
    phone.wait_title("Refill")
    assert not phone.button("Keep it").is_enabled()
    phone.enter("refill_l", "nine buckets")
    phone.page.locator(".field-error").wait_for()
    phone.enter("refill_l", "0.5 gal")
    phone.enter("lubricant", "Lithium, NLGI 1")
    phone.page.locator("button.main:enabled").wait_for()
    phone.restart()
    phone.open("/app/systems/%s/add/refill" % PLANER)
    assert phone.page.input_value("#f-refill_l") == "0.5 gal"
    phone.tap("Keep it")
    phone.page.get_by_text("1.893 l filled in, Lithium, NLGI 1").wait_for()
    phone.page.get_by_role("link", name="Write a note").click()
    phone.enter("text", "Gate 3 is locked at weekends.")
    phone.tap("Keep it")
    phone.page.get_by_text("Gate 3 is locked at weekends.").wait_for()
    phone.open("/app/to-send")
    phone.wait_title("2 to send")
    server.start()
    phone.open("/app/to-send")
    phone.wait_title("Nothing to send")
    phone.open("/plant/" + PLANER)
    noted = phone.page.get_by_role("region", name="Refills and notes")
    assert "1.89 l filled in, Lithium, NLGI 1" in noted.inner_text() and "Gate 3 is locked" in noted.inner_text()


def test_refills_say_what_was_used(phone):
    phone.open("/app/systems/%s/over-time" % PLANER)
    phone.page.get_by_role("heading", name="Consumption since the first refill").wait_for()
    value = phone.page.get_by_role("button", name="Filled in over given").locator(".value").inner_text()
    assert 0.95 < float(value.split()[0]) < 1.05, value
