"""The whole way of a technician with the server stopped after one visit: enter, set up, prove, walk, and send later."""
import re

from .bench import HEAD_RIG, SORTER, eventually, walk_round

LINE = {"pump.delivery_cm3_min": "40", "pump.relief_bar": "3600 psi", "pump.reservoir_l": "6", "pump.low_level_l": "0,6",
        "pump.supply_v": "24", "pump.current_a": "3.5", "vent_valve.current_a": "0.8"}
LUBRICANT = {"ambient.coldest_c": "5", "ambient.usual_c": "20", "ambient.hottest_c": "35"}
DEVICE = {"output_min_cm3": "0,1", "output_max_cm3": "1", "output_step_cm3": "0.05", "fires_bar": "60", "resets_bar": "25"}
WIRING = {"wiring.cable_m": "8", "wiring.conductor_mm2": "1.5"}


def walk_two_devices(phone):
    """Pipe, a device with one point, pipe like the last, a device like the last, and a switch at the end."""
    phone.tap("More pipe")
    phone.enter("sections[0].length_m", "4")
    phone.enter("sections[0].bore_mm", "1/2 in")
    phone.tap("Device")
    for name, text in DEVICE.items():
        phone.enter("devices[0]." + name, text)
    phone.enter("points[0].name", "Drive end")
    phone.enter("points[0].need.cm3_per_h", "0.05")
    phone.tap("More pipe")
    phone.tap("Device")
    phone.enter("points[1].name", "Free end")
    phone.tap("Switch")
    phone.enter("switches[0].trips_bar", "1400 psi")
    phone.enter("switches[0].resets_bar", "40")


def enter_system(phone):
    phone.open("/app/systems/new")
    phone.wait_title("Machine and points")
    phone.enter("name", "Trimmer table")
    phone.enter("area", "Saw hall")
    phone.page.get_by_role("link", name="Grease and temperatures").click()
    for place, text in LUBRICANT.items():
        phone.enter(place, text)
    phone.choose("lubricant.nlgi", "1")
    phone.page.get_by_role("link", name="Pump and pipe").click()
    for place, text in LINE.items():
        phone.enter(place, text)
    walk_two_devices(phone)
    phone.page.get_by_role("link", name="Wiring").click()
    for place, text in WIRING.items():
        phone.enter(place, text)
    phone.tap("Save")
    phone.wait_title("Trimmer table")


def time_runs(phone, count):
    phone.tap("I have read this")
    for number in range(1, count + 1):
        phone.tap("Pump starts now")
        phone.page.get_by_role("heading", name="Run %d: pressure is building" % number).wait_for()
        phone.tap("Switch tripped")
        phone.tap("Back at rest")
        phone.page.get_by_role("row", name="%d " % number).first.wait_for()


def test_everything_is_done_without_the_server_and_sent_when_it_is_back(server, new_phone):
    phone = new_phone()
    phone.sign_in()
    server.stop()
    enter_system(phone)
    phone.page.get_by_text("Saved on this phone. 1 thing waits to be sent, since").wait_for()
    system = phone.page.url.rsplit("/", 1)[1]
    phone.wait_worked()
    phone.page.get_by_role("link", name="Enter them into the controller").click()
    phone.wait_title(re.compile("^0 of [0-9]+ entered$"))
    for tick in phone.page.get_by_label("Entered", exact=True).all():
        tick.check()
    phone.tap("All entered: sign off")
    phone.wait_title("Trimmer table")
    phone.open("/app/systems/%s/test-run" % system)
    time_runs(phone, 3)
    phone.page.fill("#temperature", "68 °F")
    phone.tap("Sign off 3 runs as the baseline")
    phone.wait_title("Trimmer table")
    phone.open("/app/systems/%s/round" % system)
    walk_round(phone)
    phone.tap("Sign off the round")
    phone.wait_title("Trimmer table")
    phone.page.get_by_text("6 things wait to be sent").wait_for()

    server.start()
    phone.open("/app/to-send")
    phone.wait_title("Nothing to send")
    stored = server.newest("system")[system]["body"]
    assert [stored["sections"][0]["bore_mm"], stored["devices"][1]["output_min_cm3"]] == [12.7, 0.1]
    assert abs(stored["switches"][0]["trips_bar"] - 96.5266) < 1e-4
    assert len(stored["measured"]["build_s"]) == 3 and abs(stored["measured"]["at_c"] - 20) < 1e-9
    kinds = {kind: [one for one in server.newest(kind).values() if one["body"]["system"] == system]
             for kind in ("test-run", "round", "settings-entry")}
    assert {kind: len(found) for kind, found in kinds.items()} == {"test-run": 1, "round": 1, "settings-entry": 1}
    assert all(one["body"]["signed"]["by"] == "technician" for found in kinds.values() for one in found)


def test_every_page_opens_without_the_server(server, phone):
    server.stop()
    for path, title in (("/app/", "Today"), ("/app/systems", "Systems"), ("/app/systems/" + SORTER, "Sorter chain"),
                        ("/app/systems/%s/edit/line" % SORTER, "Pump and pipe"), ("/app/systems/%s/test-run" % SORTER, "Test run"),
                        ("/app/systems/%s/rounds" % HEAD_RIG, "Rounds walked"), ("/app/systems/%s/checklist" % HEAD_RIG, "Checklist"),
                        ("/app/to-send", "Nothing to send"),
                        ("/app/this-phone", "technician"), ("/app/no-such-page", "There is nothing here")):
        phone.open(path)
        eventually(lambda: phone.title() == title)


def test_the_result_page_says_first_what_is_wrong_and_what_to_do(server, phone):
    server.stop()
    phone.open("/app/systems/" + SORTER)
    phone.wait_worked()
    first = phone.page.locator("main > .verdict").first
    assert "will not vent" in first.inner_text() and "Widen" in first.inner_text()
    settings, diagram = phone.page.locator(".settings").first, phone.page.locator("svg.drawing").first
    assert first.bounding_box()["y"] < settings.bounding_box()["y"] < diagram.bounding_box()["y"]


def test_one_tap_on_a_figure_shows_formula_inputs_source_and_estimate(server, phone):
    server.stop()
    phone.open("/app/systems/%s/figures" % HEAD_RIG)
    phone.page.get_by_role("slider").wait_for()
    phone.page.get_by_role("button", name="Volume to press in").click()
    working = phone.page.locator(".working").inner_text()
    assert "sum(doses)" in working and "Source" in working and "bulk modulus" in working
