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
    phone.sign_in()
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
    phone.sign_in()
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    phone.enter("pump.relief_bar", "3000")
    phone.page.get_by_label("Unit of Relief pressure").select_option("psi")
    eventually(lambda: abs(phone.kept("drafts", "edit:" + HEAD_RIG)["body"]["pump"]["relief_bar"] - 206.843) < 0.001)


def test_what_cannot_be_read_is_said_at_the_field_and_kept(phone):
    phone.sign_in()
    phone.open("/app/systems/%s/edit/line" % HEAD_RIG)
    phone.enter("pump.relief_bar", "about 250")
    error = phone.page.locator("#error-f-pump-relief_bar")
    error.wait_for()
    assert "about 250" in error.inner_text()
    assert phone.button("Save", exact=False).first.is_disabled()


def test_a_button_that_bounces_gives_no_time_that_a_record_refuses(phone):
    phone.sign_in()
    marks = phone.page.evaluate("""async () => {
        const { begin, mark } = await import('/static/app/stopwatch.js');
        const run = begin();
        return [mark(run, 'first'), mark(run, 'second'), mark(run, 'rest')];
    }""")
    assert marks == sorted(marks) and marks[0] >= 0.1 and marks[1] >= marks[0] + 0.09 and marks[2] >= marks[1] + 0.09
