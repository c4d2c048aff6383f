"""Defects and adjustments without signal: out of a round's item to closed by a test run; what differs from the sheet until it is settled."""
from .bench import HEAD_RIG, PLANER, STATIC
from .test_every_page import problems

SYSTEM = "/app/systems/" + HEAD_RIG
ROUND = "b5ac0000-0000-4000-8000-0000000000aa"


def a_round_with_something_wrong(phone):
    """A signed round on this phone, the seal at the pump not ok."""
    phone.open("/app/to-send")
    phone.by_modules("""async ([system, id]) => {
        const { save, timeHere } = await import('/static/app/documents.js');
        const [by, at] = ['supervisor', timeHere()];
        const item = { id: 'pump_runs:pump', component: 'pump', place: 'pump', where: 'Pump', ask: 'Pump runs evenly', answer: 'not ok', note: 'Oil at the shaft seal', at };
        await save('round', id, { format: 'round/1', id, system, made_at: at, made_by: by, items: [item], signed: { by, at } });
    }""", [HEAD_RIG, ROUND])


def a_photo(phone, name="icon-192.png"):
    phone.page.locator("input[type=file]").first.set_input_files(STATIC / "icons" / name)
    phone.page.get_by_role("button", name="Photo 1 of 1").wait_for()


def photos_added(phone):
    """A photo with a word, added to an open defect: its history shows it with who added it."""
    phone.tap("Add photos")
    phone.wait_title("Add photos")
    a_photo(phone, "icon-512.png")
    phone.page.get_by_text("Still to say: what they show.").wait_for()
    phone.page.fill("#word", "Worse since noon")
    phone.tap("Keep the photos")
    phone.wait_title("Open defect")
    added = phone.page.locator("li", has_text="photos added: Worse since noon")
    assert "supervisor" in added.inner_text()
    added.get_by_role("button", name="Photo 1 of 1, look at it").click()
    added.get_by_role("img", name="Photo 1 of 1").wait_for()
    assert added.get_by_role("button", name="Arrow").count() == 0  # it is only looked at
    added.get_by_role("button", name="Back to the photos").click()


def one_run(phone):
    phone.tap("I have read this")
    phone.tap("Pump starts now")
    phone.tap("Switch tripped")
    phone.tap("Back at rest")
    phone.tap("Sign off 1 run as the baseline")


def raised_from_the_round(phone):
    """A defect raised out of the round's item; the battery dies in between. Returns what is wrong with its pages."""
    phone.open("%s/defects/new?round=%s&item=pump_runs%%3Apump" % (SYSTEM, ROUND))
    assert phone.page.input_value("#what") == "Pump runs evenly: Oil at the shaft seal" and phone.page.input_value("#part") == "pump:pump"
    assert not phone.button("Keep the defect").is_enabled()
    phone.page.fill("#what", "Oil at the shaft seal, drips")
    phone.button("starving", False).click()
    phone.page.fill("#owner", "Mara")
    a_photo(phone)
    phone.restart()
    phone.open("/app/")
    phone.page.get_by_role("link", name="Defect: Head rig").click()
    phone.page.locator("#owner").wait_for()
    assert [phone.page.input_value(one) for one in ("#what", "#owner")] == ["Oil at the shaft seal, drips", "Mara"]
    looked = [problems(phone.page, True)]
    phone.page.get_by_role("button", name="Photo 1 of 1").wait_for()
    phone.tap("Keep the defect")
    phone.wait_title("Open defect")
    looked.append(problems(phone.page, True))
    assert "starving: Due today." in phone.page.inner_text("main")
    return looked


def closed_by_a_test_run(phone):
    """Closing needs evidence: a test run timed since. Returns what is wrong with its page."""
    phone.tap("Close it…")
    phone.page.fill("#how", "New seal fitted")
    phone.tap("A reading")
    phone.page.fill("#reading", "much")
    phone.tap("Close the defect")
    phone.page.get_by_role("alert").wait_for()
    phone.tap("A test run")
    phone.page.get_by_text("No test run was signed off since").wait_for()
    phone.page.get_by_role("link", name="Time one").click()
    one_run(phone)
    phone.page.get_by_role("link", name="Oil at the shaft seal").click()
    phone.page.locator(".choices button").first.click()
    looked = [problems(phone.page, True)]
    phone.tap("Close the defect")
    phone.wait_title("Closed defect")
    assert "Evidence: test run of" in phone.page.inner_text("main")
    return looked


def test_from_a_round_to_a_defect_closed_by_a_test_run_and_an_adjustment_settled(server, new_phone):
    phone = new_phone("supervisor")
    a_round_with_something_wrong(phone)
    server.stop()
    looked = raised_from_the_round(phone)
    photos_added(phone)
    looked += closed_by_a_test_run(phone)
    # three taps from the system's page: an adjustment that differs from the sheet
    phone.open(SYSTEM)
    phone.page.get_by_role("link", name="Note an adjustment").click()
    phone.button("Pause", False).click()
    phone.page.fill("#to", "99 min")
    phone.page.fill("#why", "Wet season")
    differs = phone.page.get_by_text("Pause is 1 h 39 min at the controller")
    differs.wait_for()
    looked.append(problems(phone.page, True))
    phone.tap("Keep it")
    differs.wait_for(timeout=240_000)  # the system's baseline is new: its sheet is worked first
    server.start()
    phone.open("/app/to-send")
    phone.wait_title("Nothing to send")
    # the desk knows both; a supervisor settles
    phone.open("/plant/defects?state=closed")
    phone.page.get_by_role("link", name="Oil at the shaft seal, drips").click()
    happened = phone.page.get_by_role("region", name="What happened")
    for what in ("raised", "photos added: Worse since noon"):
        happened.locator("tr", has_text=what).get_by_role("img").wait_for()
    looked.append(problems(phone.page, False))
    phone.open("/plant/" + HEAD_RIG)
    looked.append(problems(phone.page, False))
    phone.page.get_by_label("Reason or remark").fill("Until the rain ends")
    phone.tap("It stays, an exception")
    phone.page.get_by_text("Because: Until the rain ends").wait_for()
    phone.open("/app/to-send")
    phone.tap("Send and fetch now")
    phone.open(SYSTEM)
    phone.page.get_by_text("Pause stays 1 h 39 min as an exception").wait_for()
    assert looked == [{}] * 6


CASE = "b5ac0000-0000-4000-8000-0000000000ab"


def a_cause_found(phone):
    """A fault case on this phone whose cause, a device that stands still, is found and not put right."""
    phone.open("/app/to-send")
    phone.by_modules("""async ([system, id]) => {
        const { save, timeHere } = await import('/static/app/documents.js');
        const tried = [{ cause: 'device=D1', answer: 'found', at: timeHere() }];
        await save('fault-case', id, { format: 'fault-case/1', id, system, made_at: timeHere(), made_by: 'technician', symptom: 'Points stay dry', cause: 'device=D1', readings: {}, tried });
    }""", [HEAD_RIG, CASE])


def raised_from_a_finding(phone):
    """What a system's page finds is the word of a defect that is raised of it, and what fault finding starts from."""
    phone.open("/app/systems/" + PLANER)
    phone.page.locator(".verdict", has_text="The timed cycle takes 1").get_by_role("link", name="Raise a defect of it").click()
    phone.page.locator("#part").wait_for()
    assert phone.page.input_value("#what").startswith("The timed cycle takes 1")
    assert "Still to say: where, what follows from it." in phone.page.locator(".foot").inner_text()
    phone.page.select_option("#part", "pump:pump")
    phone.button("failing", False).click()
    phone.tap("Keep the defect")
    phone.wait_title("Open defect")
    assert "The timed cycle takes 1" in phone.page.inner_text("main")
    phone.open("/app/systems/%s/over-time" % PLANER)
    phone.page.get_by_role("link", name="Find the fault").first.click()
    phone.tap("I have read this")
    phone.page.get_by_text("Seen first: The timed cycle takes 1").wait_for()


def case_of(phone):
    return phone.kept("documents", CASE)["body"]


def test_a_cause_found_becomes_a_defect_that_comes_first_and_closes_its_case(server, phone):
    a_cause_found(phone)
    server.stop()
    phone.open(SYSTEM + "/defects")
    phone.page.get_by_role("link", name="Points stay dry").click()
    phone.page.locator("#part").wait_for()
    assert "Metering device stuck" in phone.page.input_value("#what") and phone.page.input_value("#part") == "device:D1"
    phone.button("danger", False).click()
    phone.page.locator(".caution").wait_for()
    phone.tap("Keep the defect")
    phone.wait_title("Open defect")
    defect = phone.page.url.rsplit("/", 1)[1]
    assert case_of(phone)["defect"] == defect
    phone.open("/app/systems")
    assert "1 defect" in phone.page.locator(".rows a", has_text="Head rig").inner_text()
    assert phone.page.locator(".rows a", has_text="Head rig").locator(".sign.stop").count()
    phone.open("/app/")
    first = phone.page.locator("main h2").first
    first.get_by_text("Defects that cannot wait").wait_for()
    # another hand sees to it
    phone.page.get_by_role("link", name="Metering device stuck").click()
    phone.tap("Owner, day, consequence")
    phone.button("failing", False).click()
    phone.page.fill("#owner", "Mara")
    phone.tap("Keep the change")
    phone.page.get_by_text("consequence: danger to failing, owner: technician to Mara").wait_for()
    # closed by a reading, with the cause it was in the end; opened again it takes its case along
    phone.tap("Close it…")
    phone.page.fill("#how", "Feed line cleared")
    phone.page.select_option("#cause", "feed_line")
    phone.tap("A reading")
    phone.page.fill("#reading", "182 bar")
    phone.tap("Close the defect")
    phone.wait_title("Closed defect")
    assert "Pressure 182 bar" in phone.page.inner_text("main")
    assert (case_of(phone)["cause"], case_of(phone)["closed"]["how"]) == ("feed_line", "Feed line cleared")
    phone.tap("Open it again")
    phone.page.fill("#reason", "Dry again this morning")
    phone.tap("Open it again")
    phone.page.get_by_text("opened again: Dry again this morning").wait_for()
    assert "closed" not in case_of(phone)
    phone.tap("Close it…")
    phone.page.fill("#how", "Feed line renewed")
    phone.tap("A photo")
    assert not phone.button("Close the defect").is_enabled()
    a_photo(phone)
    phone.tap("Close the defect")
    phone.wait_title("Closed defect")
    raised_from_a_finding(phone)
    server.start()
    phone.open("/app/to-send")
    phone.wait_title("Nothing to send")
    sent = [server.newest("defect")[defect], server.newest("fault-case")[CASE]]
    assert [one["body"]["closed"]["how"] for one in sent] == ["Feed line renewed"] * 2 and sent[0]["body"]["closed"]["photos"]
