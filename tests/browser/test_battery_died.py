"""The browser is killed with SIGKILL in the middle of things: after the restart nothing that was entered is missing."""
import re

from .bench import HEAD_RIG, eventually


def test_in_the_middle_of_editing(phone):
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    phone.enter("pump.delivery_cm3_min", "3 in³/min")
    phone.enter("pump.relief_bar", "not yet kn")
    phone.tap("More pipe")
    phone.enter("sections[6].length_m", "12,5")
    eventually(lambda: phone.has_kept('"length_m": 12.5', "edit:" + HEAD_RIG))
    phone.restart()
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    assert phone.page.input_value("#f-pump-delivery_cm3_min") == "3 in³/min"
    assert phone.page.input_value("#f-pump-relief_bar") == "not yet kn"
    phone.tap("Change 12,5 m steel, 16 mm")
    assert phone.page.input_value("#f-sections-6--length_m") == "12,5"


def test_every_key_that_reached_the_disk_is_there_after_the_restart(phone):
    phone.open("/app/systems/%s/edit/machine" % HEAD_RIG)
    phone.page.fill("#f-name", "")
    phone.page.type("#f-name", "Head rig, typed slowly", delay=40)
    eventually(lambda: phone.has_kept("Head rig, typed slowly", "edit:" + HEAD_RIG))
    phone.restart()
    phone.open("/app/systems/%s/edit/machine" % HEAD_RIG)
    assert phone.page.input_value("#f-name") == "Head rig, typed slowly"


def test_in_the_middle_of_a_test_run_the_stopwatch_goes_on(phone):
    phone.open("/app/systems/%s/test-run" % HEAD_RIG)
    phone.tap("I have read this")
    phone.page.fill("#temperature", "7")
    phone.tap("Pump starts now")
    phone.tap("Switch tripped")
    phone.tap("Back at rest")
    phone.page.get_by_role("row", name=re.compile("^1 ")).wait_for()
    phone.tap("Pump starts now")
    phone.wait_title("Run 2: pressure is building")
    started = phone.kept("drafts", "test-run:" + HEAD_RIG)["running"]["started"]
    phone.restart()
    phone.open("/app/systems/%s/test-run" % HEAD_RIG)
    phone.wait_title("Run 2: pressure is building")
    shown, now = phone.page.evaluate("() => [Number(document.querySelector('.seconds span').textContent), Date.now()]")
    assert abs(shown - (now - started) / 1000) < 0.5
    phone.tap("Switch tripped")
    phone.wait_title("Run 2: venting")
    phone.restart()
    phone.open("/app/systems/%s/test-run" % HEAD_RIG)
    phone.tap("Back at rest")
    phone.page.get_by_role("row", name=re.compile("^2 ")).wait_for()
    assert phone.page.input_value("#temperature") == "7"
    runs = phone.kept("drafts", "test-run:" + HEAD_RIG)["runs"]
    assert [len(runs), runs[0].get("resumed"), runs[1]["resumed"]] == [2, False, True]


def test_in_the_middle_of_a_round(phone):
    phone.open("/app/systems/%s/round" % HEAD_RIG)
    phone.wait_title(re.compile("^0 of "))
    phone.page.locator(".now input").fill("3,2")
    phone.tap("Keep the reading")
    phone.wait_title(re.compile("^1 of "))
    phone.tap("OK")
    phone.wait_title(re.compile("^2 of "))
    phone.tap("Not OK")
    phone.page.fill("#why", "Grease is grey")
    eventually(lambda: phone.has_kept("Grease is grey", "round:" + HEAD_RIG))
    phone.restart()
    phone.open("/app/systems/%s/round" % HEAD_RIG)
    phone.wait_title(re.compile("^2 of "))
    assert phone.page.input_value("#why") == "Grease is grey"
    phone.tap("Keep it")
    phone.wait_title(re.compile("^3 of "))


def test_while_setting_up_the_controller(phone):
    phone.open("/app/systems/%s/setting-up" % HEAD_RIG)
    phone.wait_title(re.compile("^0 of"))
    phone.page.get_by_label("Its menu calls it").first.fill("Rest time")
    phone.page.get_by_label("Entered", exact=True).first.check()
    phone.wait_title(re.compile("^1 of"))
    eventually(lambda: phone.has_kept("Rest time", "setting-up:" + HEAD_RIG) and phone.has_kept('"entered": {"', "setting-up:" + HEAD_RIG))
    phone.restart()
    phone.open("/app/systems/%s/setting-up" % HEAD_RIG)
    phone.wait_title(re.compile("^1 of"))
    assert phone.page.get_by_label("Its menu calls it").first.input_value() == "Rest time"
