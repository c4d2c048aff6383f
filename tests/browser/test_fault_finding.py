"""Fault finding on the phone, without signal: one question at a time, left and resumed, then one check after the other."""
from .bench import HEAD_RIG

PATH = "/app/systems/%s/fault-finding" % HEAD_RIG


def press(phone, name):
    phone.page.get_by_role("button", name=name, exact=True).click()


def asked(phone, question):
    phone.page.get_by_text(question).first.wait_for()


def test_questions_then_checks_left_and_resumed_without_signal(server, phone):
    phone.sign_in()
    phone.open("/app/systems/" + HEAD_RIG)
    phone.wait_worked()
    server.stop()
    phone.open(PATH)
    press(phone, "I have read this")
    press(phone, "Yes")  # the limit passed
    asked(phone, "Does a switch read as tripped")
    press(phone, "No")
    asked(phone, "Is the reservoir at its low level?")
    phone.open("/app/systems")
    phone.open(PATH)
    asked(phone, "Is the reservoir at its low level?")
    press(phone, "No")
    asked(phone, "Highest pressure at the pump")
    phone.page.get_by_label("Highest pressure at the pump").fill("much")
    press(phone, "Keep the reading")
    assert phone.page.get_by_role("alert").inner_text()
    phone.page.get_by_label("Highest pressure at the pump").fill("35 bar")
    press(phone, "Keep the reading")
    asked(phone, "Pressure at the pump when the pause begins")
    press(phone, "Not read")
    asked(phone, "Which points stay dry?")
    press(phone, "None is dry")
    asked(phone, "Temperature at the line")
    press(phone, "Not read")
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
