"""The year and the drawing board of the kinds that are not single-line, on the phone without the server."""
import pytest

from .bench import RESAW, STACKER, TRIM_SAW


@pytest.fixture
def offline(phone, server):
    phone.open("/app/to-send")
    phone.keep_modules()
    server.stop()
    return phone


def read(phone, path, there):
    """All text of a page, once what is looked for is there."""
    phone.open("/app/systems/" + path)
    phone.page.locator(there).first.wait_for(timeout=60000)
    return phone.page.inner_text("main")


@pytest.mark.parametrize("system, said, unsaid", [
    (TRIM_SAW, ["Monitoring time", "Until the cycle switch signals", "Greatest pressure at the pump", "Stays in the line at rest",
                "the line does not vent"], ["Left after venting", "Time limit"]),
    (STACKER, ["Build-up, slower line", "Time limit", "Left after venting", "does not vent far enough"], ["Monitoring time", "Run time"]),
    (RESAW, ["Until the last device is fed", "takes longer than can be set", "It works at no temperature entered"], ["Monitoring time"])])
def test_over_the_year_a_kind_says_what_limits_it(offline, system, said, unsaid):
    text = read(offline, system + "/season", "svg.drawing")
    assert [one for one in said if one not in text] == [] and [one for one in unsaid if one in text] == []
    offline.page.locator("button.figure-button", has_text="Works down to").first.click()
    offline.page.get_by_text("kept in the line model").wait_for()


@pytest.mark.parametrize("system, said, unsaid", [
    (TRIM_SAW, ["What each outlet should give", "B2 O5", "Drop", "New pipe throughout"], ["Switch elsewhere", "Cut in two", "Left after venting"]),
    (STACKER, ["Wider pipe", "Softer grease", "Cut in two", "Switch elsewhere", "What each device should give"], ["Until the cycle switch"]),
    (RESAW, ["Another pump", "Cut in two", "Until the last device is fed"], ["Switch elsewhere"])])
def test_on_the_drawing_board_a_kind_is_offered_what_it_has_a_place_for(offline, system, said, unsaid):
    text = read(offline, system + "/design", "text=What moves the answer most")
    assert [one for one in said if one not in text] == [] and [one for one in unsaid if one in text] == []


def test_the_ranges_of_a_dual_line_system_name_both_lines(offline):
    offline.open("/app/systems/" + STACKER)
    offline.by_modules("""async (id) => {
        const { get, save } = await import('/static/app/documents.js');
        const { body } = await get(id);
        await save('system', id, { ...body, lubricant: { nlgi: '00' } });
    }""", STACKER)
    text = read(offline, STACKER + "/design", "text=Drop, usual")
    for row in ("Build-up, line A, coldest", "Build-up, line B, usual", "Until all has reset, coldest", "Drop, usual"):
        assert row in text
