"""Photos at the desk: with their marks as papers draw them, beside what they show and large; said where they are not here yet."""
import re

import pytest

from tests.web.conftest import MADE_AT, a_revision, a_round, a_system, new_id
from tests.web.test_photos import a_photo, name_of, put
from webapp.clock import Clock
from webapp.reports.photos import photo

MARKS = [{"shape": "arrow", "x1": 0.1, "y1": 0.1, "x2": 0.4, "y2": 0.4}, {"shape": "circle", "x1": 0.5, "y1": 0.2, "x2": 0.8, "y2": 0.6}]
FIRST, SECOND, ABSENT = a_photo(size=(320, 240)), a_photo(size=(240, 320)), a_photo(size=(64, 64))


def entry(content, width, height, **more):
    return dict({"sha256": name_of(content), "width": width, "height": height, "at": MADE_AT, "by": "technician"}, **more)


MARKED, ADDED, AWAY = entry(FIRST, 320, 240, marks=MARKS), entry(SECOND, 240, 320), entry(ABSENT, 64, 64)


@pytest.fixture
def records(hand):
    """{"defects", "rounds"}: documents of a defect and a round with photos of which one is not sent yet."""
    system = a_system()
    change = {"id": "c1", "at": "2026-11-23T11:00:00+01:00", "by": "Mara", "what": "photos added: wet again", "photos": [ADDED, AWAY]}
    defect = {"format": "defect/1", "id": new_id(), "system": system["id"], "made_at": MADE_AT, "made_by": "technician", "where": "Pump",
              "what": "It <leaks>", "severity": "failing", "photos": [MARKED], "changes": [change]}
    item = {"id": "pump", "where": "Pump", "ask": "Pump dry?", "answer": "not ok", "note": "Wet", "photos": [MARKED, AWAY]}
    round_ = a_round(system, items=[item])
    technician = hand("technician")
    assert [one["state"] for one in technician.send(*map(a_revision, (system, defect, round_)))] == ["accepted"] * 3
    for content in (FIRST, SECOND):
        assert put(technician, name_of(content), content).get_json()["complete"] is True
    return {"defects": defect["id"], "rounds": round_["id"]}


def text_of(hand, path, name="supervisor"):
    reply = hand(name).get(path)
    assert reply.status_code == 200, path
    return reply.get_data(as_text=True)


def paths(text):
    return re.findall(r'<path class="(?:rim|mark)" d="([^"]+)"', text)


@pytest.mark.parametrize("room", ["defects", "rounds"])
def test_marks_are_drawn_as_on_papers_without_inline_styles(hand, records, room):
    on_paper = paths(str(photo(MARKED, "", True, Clock())["svg"]))
    assert len(on_paper) == 4
    where = "/plant/%s/%s" % (room, records[room])
    for path in (where, "%s/photos/%s" % (where, MARKED["sha256"])):
        text = text_of(hand, path)
        assert paths(text) == on_paper and "style=" not in text and "<style" not in text
        assert '<image href="/sync/photos/%s"' % MARKED["sha256"] in text


def test_each_photo_stands_with_the_change_that_it_belongs_to(hand, records):
    text = text_of(hand, "/plant/defects/" + records["defects"])
    happened = text[text.index("<h2>What happened"):]
    wet, raised = happened.index("wet again"), happened.index("raised")
    assert wet < happened.index(ADDED["sha256"]) < happened.index("Not on the server yet.") < raised < happened.index(MARKED["sha256"])
    assert "Mara" in happened[:wet] and "Photo: Pump: It &lt;leaks&gt;, 23 Nov 2026, 08:05, technician, marked with arrow, circle" in happened


def test_a_photo_that_is_not_here_is_said(hand, records):
    for room in ("defects", "rounds"):
        where = "/plant/%s/%s" % (room, records[room])
        for path in (where, "%s/photos/%s" % (where, AWAY["sha256"])):
            assert "Not on the server yet" in text_of(hand, path)


@pytest.mark.parametrize("room, sha256, name, status", [
    ("defects", ADDED["sha256"], "outsider", 404), ("rounds", ADDED["sha256"], "supervisor", 404), ("defects", "x", "supervisor", 404),
    ("defects", ADDED["sha256"], "technician", 403)])
def test_only_photos_of_the_record_are_shown_and_to_who_may_see_it(hand, records, room, sha256, name, status):
    assert hand(name).get("/plant/%s/%s/photos/%s" % (room, records[room], sha256)).status_code == status
    assert hand("supervisor").get("/plant/defects/%s/photos/%s" % (records["rounds"], MARKED["sha256"])).status_code == 404
