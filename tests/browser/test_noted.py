"""Refills and notes: typed without signal, kept as records, sent, seen at the desk; refills say how much was used. Codes on labels and papers open
the phone's pages without signal as well."""
from tests.reports.codes import codes_on, pages

from .bench import PLANER


def code_on(pdf):
    """What the first code on a PDF's first page says."""
    return codes_on(pages(pdf)[0])[0][0]


def scanned(server):
    """The address on the label of the planer's first point, the point's name, and the address on the paper of its newest test run."""
    desk = server.session("supervisor")
    label = desk.post(server.address + "/plant/labels", data={"labels": "points", "system": PLANER, "sheet": "roll-100x50", "start": "1"})
    point = server.newest("system")[PLANER]["body"]["points"][0]
    run = [one["document"] for one in server.newest("test-run").values() if one["body"]["system"] == PLANER][-1]
    return code_on(label.content), point["name"], code_on(desk.get("%s/papers/commissioning/%s.pdf" % (server.address, run)).content)


def open_what_was_scanned(phone, label, name, record):
    """A label's code shows its point first, a paper's its record; both as a camera opens them."""
    phone.page.goto(label)
    point = phone.page.get_by_role("region", name=name)
    point.get_by_text("of pipe from the pump").wait_for()
    point.get_by_role("rowheader", name="Confirmed fed").wait_for()
    point.get_by_role("rowheader", name="Gets").wait_for()
    assert phone.page.evaluate("() => document.activeElement.id") == "point"
    phone.page.goto(record)
    phone.page.get_by_role("heading", name="Runs").wait_for()
    phone.page.get_by_text("Build-up: ").first.wait_for()


def test_a_refill_and_a_note_without_signal_reach_the_desk(server, new_phone):
    phone = new_phone("supervisor")
    phone.open("/app/systems/" + PLANER)
    codes = scanned(server)
    server.stop()
    open_what_was_scanned(phone, *codes)
    phone.open("/app/systems/" + PLANER)
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
    phone.page.get_by_role("link", name="1.893 l filled in, Lithium, NLGI 1").click()
    phone.page.get_by_role("row", name="Lubricant, as its label says Lithium, NLGI 1").wait_for()
    phone.page.get_by_role("link", name="The system").click()
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
