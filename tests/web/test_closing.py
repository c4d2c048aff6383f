"""A defect closed at the desk by a reading, a test run or photos since; what is missing is said; its fault case goes with it."""
import pytest

from tests.web.conftest import MADE_AT, SITE, a_revision, a_system, new_id
from webapp.store import revisions

SINCE = "2026-11-24T10:00:00+01:00"
PHOTO = {"sha256": "ab" * 32, "width": 320, "height": 240, "at": SINCE, "by": "Mara"}


@pytest.fixture
def case(hand):
    """A defect with a photo added since, raised out of a fault case, and test runs before and after: {name: revision}."""
    system, defect = a_system(), new_id()
    head = {"system": system["id"], "made_by": "technician"}

    def run(made_at, **more):
        return dict(head, format="test-run/1", id=new_id(), made_at=made_at, runs=[{"id": "1", "build_s": 80.0, "counts": True}], **more)

    signed = {"by": "Mara", "at": SINCE}
    made = {"system": system, "before": run("2026-11-22T10:00:00+01:00", signed=signed), "after": run(SINCE, signed=signed),
            "unsigned": run(SINCE),
            "defect": dict(head, format="defect/1", id=defect, made_at=MADE_AT, where="Pump", what="It leaks", severity="failing",
                           cause="device=D1", changes=[dict(signed, id="c1", what="photos added: dry", photos=[PHOTO])]),
            "case": dict(head, format="fault-case/1", id=new_id(), made_at=MADE_AT, symptom="Dry", cause="device=D1", defect=defect)}
    revisions = {name: a_revision(body) for name, body in made.items()}
    assert {one["state"] for one in hand("technician").send(*revisions.values())} == {"accepted"}
    return revisions


def close(browser, case, **form):
    return browser.http.post("/plant/defects/%s/closed" % case["defect"]["document"], data=dict(form, csrf_token=browser.token()))


def newest(hand, revision):
    return [one for one in hand("administrator").feed()["revisions"] if one["document"] == revision["document"]][-1]


@pytest.mark.parametrize("form, kept", [
    ({"evidence": "reading", "reading": "Pressure 84 bar", "test_run": "", "photos": PHOTO["sha256"]},
     {"evidence": "reading", "reading": "Pressure 84 bar"}),
    ({"evidence": "test run", "reading": "not read"}, {"evidence": "test run"}),
    ({"evidence": "photo", "photos": PHOTO["sha256"]}, {"evidence": "photo", "photos": [PHOTO]})])
def test_it_is_closed_by_what_shows_it_and_its_case_with_it(hand, case, form, kept):
    if form["evidence"] == "test run":
        form = dict(form, test_run=case["after"]["document"])
        kept = dict(kept, test_run=form["test_run"])
    assert close(hand("supervisor"), case, how=" New seal ", cause="feed_line", **form).status_code == 303
    defect, fault = newest(hand, case["defect"]), newest(hand, case["case"])
    by = {"by": "supervisor", "role": "supervisor", "how": "New seal"}
    assert {name: part for name, part in defect["body"]["closed"].items() if name != "at"} == dict(by, **kept)
    assert defect["body"]["cause"] == fault["body"]["cause"] == "feed_line" and defect["parent"] == case["defect"]["id"]
    assert fault["body"]["closed"] == dict(by, at=defect["body"]["closed"]["at"])
    assert "Closed by supervisor" in hand("supervisor").get("/plant/defects/" + defect["document"]).get_data(as_text=True)


def test_a_cause_that_is_not_known_is_not_kept(hand, case):
    close(hand("supervisor"), case, how="New seal", cause="", evidence="reading", reading="84 bar")
    assert "cause" not in newest(hand, case["defect"])["body"]


@pytest.mark.parametrize("form, words", [
    ({}, "Still to say: what was done, what shows that it is well."),
    ({"how": "New seal", "evidence": "luck"}, "Still to say: what shows that it is well."),
    ({"how": "New seal", "evidence": "reading"}, "Still to say: what was read."),
    ({"how": "New seal", "evidence": "reading", "reading": "all well"}, "there is none"),
    ({"how": "New seal", "evidence": "photo", "photos": "cd" * 32}, "Still to say: which photo shows it."),
    ({"how": "New seal\x00", "evidence": "reading", "reading": "84 bar"}, "is no text"),
    ({"how": "x" * 5000, "evidence": "reading", "reading": "84 bar"}, "What was done")])
def test_what_is_missing_is_said_and_what_was_written_stays(hand, case, form, words):
    reply = close(hand("supervisor"), case, **form)
    text = reply.get_data(as_text=True)
    assert reply.status_code == 422 and words in text[text.index('role="alert"'):][:400]
    assert form.get("reading", "") in text and newest(hand, case["defect"])["id"] == case["defect"]["id"]


@pytest.mark.parametrize("name", ["before", "unsigned"])
def test_a_test_run_counts_once_it_is_signed_and_came_after(hand, case, name):
    text = close(hand("supervisor"), case, how="New seal", evidence="test run", test_run=case[name]["document"]).get_data(as_text=True)
    assert "Still to say: which test run shows it." in text and case["after"]["document"] in text and case[name]["document"] not in text


def test_without_run_and_photo_the_page_says_where_to_get_them(hand, case):
    other = a_revision(dict(case["defect"]["body"], id=new_id(), changes=[], made_at="2026-11-25T08:00:00+01:00"))
    hand("technician").send(other)
    text = hand("supervisor").get("/plant/defects/" + other["document"]).get_data(as_text=True)
    assert "No test run was signed off since" in text and "No photo was added since" in text


def test_a_deleted_one_is_not_brought_back(hand, case):
    gone = a_revision(case["defect"]["body"], case["defect"], deleted=True)
    hand("technician").send(gone)
    reply = close(hand("supervisor"), case, how="New seal", evidence="reading", reading="84 bar")
    assert reply.status_code == 422 and newest(hand, case["defect"])["id"] == gone["id"]
    assert "The defect was deleted." in reply.get_data(as_text=True)


def test_it_goes_the_way_of_every_revision_and_is_kept_with_its_case_or_not_at_all(hand, case, store):
    """A case as no check lets it in today: what the wire would refuse, the desk does not store either."""
    body = dict(case["case"]["body"], symptom="x" * 5000)
    with store.writing() as connection:
        revisions.add(connection, dict(a_revision(body, case["case"]), kind="fault-case", site=SITE, made_by="x"), "accepted")
    reply = close(hand("supervisor"), case, how="New seal", evidence="reading", reading="84 bar")
    assert reply.status_code == 422 and "Its fault case stands against it: What was seen first is too long." in reply.get_data(as_text=True).split('role="alert"')[1][:200]
    assert newest(hand, case["defect"])["id"] == case["defect"]["id"]


def test_who_comes_second_is_told(hand, case):
    form = {"how": "New seal", "evidence": "reading", "reading": "84 bar"}
    assert [close(hand(name), case, **form).status_code for name in ("supervisor", "administrator")] == [303, 422]
