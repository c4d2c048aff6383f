"""The page of labels: a sheet chosen or entered, the PDF it gives, and what it says of entries that cannot be."""
import pytest

from tests.reports.codes import codes_on, pages
from tests.web.conftest import OTHER_SITE, a_revision, a_system

OWN = {"sheet": "own", "paper": "A4", "columns": "2", "rows": "5", "width": "90", "height": "5 cm", "left": "10", "top": "15", "gap_x": "5", "gap_y": ""}


@pytest.fixture
def systems(hand):
    made = [a_system(name="Long chain", area="Hall 1"), a_system(name="Short chain", area="Hall 2"), a_system(OTHER_SITE, name="Elsewhere")]
    hand("administrator").send(*map(a_revision, made))
    return made


def printed(browser, **changes):
    form = dict({"labels": "both", "sheet": "a4-3x8", "start": "1", "csrf_token": browser.token()}, **changes)
    return browser.http.post("/plant/labels", data=form)


def test_the_page_says_which_address_the_codes_will_open(hand, systems):
    text = hand("supervisor").get("/plant/labels").get_data(as_text=True)
    assert "http://localhost/" in text and "Long chain" in text and "Elsewhere" not in text


@pytest.mark.parametrize("changes, names", [({}, [0, 1]), ({"area": "Hall 2"}, [1])])
def test_labels_of_the_systems_chosen_open_their_pages(hand, systems, changes, names):
    reply = printed(hand("supervisor"), labels="systems", **changes)
    assert reply.content_type == "application/pdf"
    assert [text for text, _ in codes_on(pages(reply.data)[0])] == ["http://localhost/app/systems/%s" % systems[number]["id"] for number in names]


def test_a_point_s_label_opens_the_point(hand, systems):
    reply = printed(hand("supervisor"), labels="points", system=systems[0]["id"])
    assert codes_on(pages(reply.data)[0])[0][0] == "http://localhost/app/systems/%s?point=%s" % (systems[0]["id"], systems[0]["points"][0]["id"])


def test_sizes_of_one_s_own_are_read_with_their_units(hand, systems):
    reply = printed(hand("supervisor"), labels="systems", **OWN)
    (_, (x, y)), _ = codes_on(pages(reply.data)[0])
    assert 10 < x / 150 * 25.4 < 55 and 15 < y / 150 * 25.4 < 40


@pytest.mark.parametrize("changes, words", [
    ({"sheet": "none"}, "Choose a label sheet."), ({"start": "25"}, "begin with one of 1 to 24"), ({"start": "x"}, "First label: enter a whole number."),
    ({"labels": "none"}, "Choose what the labels are for."), ({"area": "nowhere"}, "There is no system"),
    (OWN | {"width": "wide"}, "Width of a label: "), (OWN | {"columns": ""}, "Columns: enter a whole number."), (OWN | {"columns": "3"}, "A4 is 210 mm wide")])
def test_what_cannot_be_is_said_and_the_entries_stay(hand, systems, changes, words):
    reply = printed(hand("supervisor"), **changes)
    assert reply.status_code == 422
    text = reply.get_data(as_text=True)
    assert words in text and ('value="5 cm"' in text) == (changes.get("sheet") == "own")
