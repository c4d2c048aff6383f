"""What people type is read on the phone as on the server: the same cases, in the real browser."""
import json
from pathlib import Path

import pytest

from .bench import HEAD_RIG, eventually

CASES = json.loads((Path(__file__).parents[1] / "units_cases.json").read_text(encoding="utf-8"))


def read_by(phone, cases):
    """What the phone makes of each case: a number, or the sentence that refuses it."""
    phone.open("/app/sign-in")
    return phone.page.evaluate("""async (cases) => {
        const { loadUnits, read } = await import('/static/app/units.js');
        await loadUnits();
        return cases.map((one) => { try { return read(one.typed, one.unit, one.assumed ?? null); } catch (error) { return error.message; } });
    }""", cases)


def test_the_phone_reads_what_the_server_reads(phone):
    wanted = [case["value"] for case in CASES["read"]]
    assert read_by(phone, CASES["read"]) == pytest.approx(wanted, rel=1e-9)


def test_the_phone_refuses_in_the_server_s_words(phone):
    assert read_by(phone, CASES["refused"]) == [case["says"] for case in CASES["refused"]]


def test_a_typed_unit_a_decimal_comma_and_a_fraction_go_into_a_field(phone):
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    phone.page.get_by_label("Change 6 m steel, 16 mm").first.click()
    phone.enter("sections[0].bore_mm", "1/2 in")
    phone.tap("Change Head rig, left guide")
    phone.enter("devices[0].fires_bar", "850 psi")
    phone.enter("devices[0].output_min_cm3", "0,05 cm³")
    eventually(lambda: phone.has_kept('"output_min_cm3": 0.05', "edit:" + HEAD_RIG))
    body = phone.kept("drafts", "edit:" + HEAD_RIG)["body"]
    assert body["sections"][0]["bore_mm"] == 12.7 and body["devices"][0]["output_min_cm3"] == 0.05
    assert abs(body["devices"][0]["fires_bar"] - 58.605) < 0.001


def test_the_unit_beside_the_field_says_how_a_bare_number_is_read(phone):
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    phone.enter("pump.relief_bar", "3000")
    phone.page.get_by_label("Unit of Relief pressure").select_option("psi")
    eventually(lambda: abs(phone.kept("drafts", "edit:" + HEAD_RIG)["body"]["pump"]["relief_bar"] - 206.843) < 0.001)


def test_what_cannot_be_read_is_said_at_the_field_and_kept(phone):
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    phone.enter("pump.relief_bar", "about 250")
    error = phone.page.locator("#error-f-pump-relief_bar")
    error.wait_for()
    assert "about 250" in error.inner_text()
    assert phone.button("Save", exact=False).first.is_disabled()


def test_a_button_that_bounces_gives_no_time_that_a_record_refuses(phone):
    phone.open("/app/to-send")
    marks = phone.page.evaluate("""async () => {
        const { begin, mark } = await import('/static/app/stopwatch.js');
        const run = begin();
        return [mark(run, 'first'), mark(run, 'second'), mark(run, 'rest')];
    }""")
    assert marks == sorted(marks) and marks[0] >= 0.1 and marks[1] >= marks[0] + 0.09 and marks[2] >= marks[1] + 0.09


def test_temperatures_of_a_pipe_are_entered_taken_over_and_marked_in_either_units(server, phone):
    phone.open("/app/this-phone")
    phone.page.get_by_label("US: psi, in³, in, °F").check()
    server.stop()
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    phone.page.locator(".spine .quiet[aria-label^='Change 13.1']").last.click()
    phone.page.get_by_text("Temperatures of its own").click()
    index = int(phone.page.locator(".spine input").first.get_attribute("id").split("-")[2])
    for name, text in (("coldest_c", "-20 °C"), ("usual_c", "41"), ("hottest_c", "95 °F")):
        phone.enter("sections[%d].ambient.%s" % (index, name), text)
    phone.tap("Done")
    phone.page.get_by_text("-20 °C to 95 °F").wait_for()
    phone.tap("More pipe")
    count = len(eventually(lambda: phone.kept("drafts", "edit:" + HEAD_RIG))["body"]["sections"])
    assert phone.page.input_value("#f-sections-%d--ambient-usual_c" % (count - 1)) == "41"
    phone.enter("sections[%d].ambient.usual_c" % (count - 1), "5 °C")
    phone.enter("sections[%d].ambient.usual_c" % (count - 1), "")
    assert phone.page.locator("#f-sections-%d--ambient-usual_c" % (count - 1)).is_visible()
    for name in ("coldest_c", "hottest_c"):
        phone.enter("sections[%d].ambient.%s" % (count - 1, name), "")
    phone.tap("Save")
    phone.wait_title("Head rig and edger")
    sections = phone.kept("documents", HEAD_RIG)["body"]["sections"]
    assert sections[index]["ambient"] == {"coldest_c": -20, "usual_c": 5, "hottest_c": 35} and "ambient" not in sections[-1]
    drawn = phone.page.locator("svg.drawing").first
    drawn.wait_for()
    assert "−4 °F to 95 °F" in drawn.text_content() and phone.page.locator("svg.drawing .pipe[stroke-dasharray]").count() == 1


def test_what_was_typed_goes_along_when_a_pipe_moves_and_comes_back_when_it_is_put_back(phone):
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    phone.page.get_by_label("Change 6 m steel, 16 mm").first.click()
    phone.enter("sections[0].bore_mm", "5/8 in")
    phone.tap("Farther away")
    eventually(lambda: "sections[1].bore_mm" in phone.kept("drafts", "edit:" + HEAD_RIG)["typed"])
    body = phone.kept("drafts", "edit:" + HEAD_RIG)["body"]
    assert [body["sections"][1]["bore_mm"], body["sections"][0]["from"]] == [15.875, "pump"]
    phone.page.get_by_label("Change 6 m steel, 5/8 in").click()
    phone.tap("Take away")
    phone.tap("Put it back")
    phone.page.get_by_label("Change 6 m steel, 5/8 in").click()
    assert phone.page.input_value("#f-sections-1--bore_mm") == "5/8 in"
    phone.enter("pump.delivery_cm3_min", "a lot")  # what cannot be read has no figures, and can be left behind with all the rest
    phone.page.get_by_text("1 still to enter").wait_for()
    assert phone.button("Save when all is entered").is_disabled()
    phone.tap("Drop what was changed…")
    phone.tap("Drop it")
    phone.wait_title("Head rig and edger")
    assert phone.kept("drafts", "edit:" + HEAD_RIG) is None


def test_a_bare_number_keeps_its_unit_when_the_reader_s_units_change(phone):
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    phone.enter("pump.relief_bar", "240")
    eventually(lambda: phone.has_kept('"relief_bar": 240', "edit:" + HEAD_RIG))
    phone.open("/app/this-phone")
    phone.page.get_by_label("US: psi, in³, in, °F").check()
    eventually(lambda: phone.page.evaluate("async () => (await import('/static/app/engine.js')).units()") == "us")
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    phone.page.wait_for_selector("#f-pump-relief_bar")
    assert phone.page.input_value("#f-pump-relief_bar") == "240"
    assert phone.page.get_by_label("Unit of Relief pressure").input_value() == "bar"
    phone.enter("pump.reservoir_l", "1.5 US gal")
    eventually(lambda: phone.has_kept('"relief_bar": 240', "edit:" + HEAD_RIG))
