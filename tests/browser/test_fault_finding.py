"""Fault finding on the phone, without signal: one question at a time, left and resumed, then one check after the other."""
from .bench import HEAD_RIG

PATH = "/app/systems/%s/fault-finding" % HEAD_RIG


def press(phone, name):
    phone.page.get_by_role("button", name=name, exact=True).click()


def test_questions_then_checks_left_and_resumed_without_signal(server, phone):
    phone.sign_in()
    phone.open("/app/systems/" + HEAD_RIG)
    phone.page.locator("svg.drawing").nth(1).wait_for(timeout=120_000)
    server.stop()
    phone.open(PATH)
    press(phone, "I have read this")
    press(phone, "Yes")  # the limit passed
    press(phone, "No")  # nothing tripped at once
    phone.open("/app/systems")
    phone.open(PATH)
    phone.page.get_by_role("heading", name="Is the reservoir at its low level?").wait_for()
    press(phone, "No")
    phone.page.get_by_label("Highest pressure at the pump").fill("much")
    press(phone, "Keep the reading")
    assert phone.page.get_by_role("alert").inner_text()
    phone.page.get_by_label("Highest pressure at the pump").fill("35 bar")
    press(phone, "Keep the reading")
    press(phone, "Not read")  # after the vent
    press(phone, "None is dry")
    press(phone, "Not read")  # temperature
    found = phone.page.get_by_role("button", name="Found it", exact=True)
    found.wait_for(timeout=120_000)
    phone.page.wait_for_function("() => !document.querySelector('main [role=status]')", timeout=240_000)
    first = phone.page.locator("main h2").first.inner_text()
    press(phone, "Not found")
    phone.page.wait_for_function("(first) => { const title = document.querySelector('main h2'); return title && title.innerText !== first && title.innerText; }",
                                 arg=first, timeout=120_000)
    press(phone, "Found it")
    phone.page.get_by_text("The cause is found.").wait_for()
    phone.open(PATH)
    phone.page.get_by_text("The cause is found.").wait_for()
