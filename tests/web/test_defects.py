"""Defects at the desk: which come first, their history, what the server refuses; adjustments that differ are settled."""
from datetime import date, timedelta

import pytest

from tests.web.conftest import MADE_AT, OTHER_SITE, a_revision, a_system, new_id
from webapp.clock import Clock
from webapp.engine.basics.dates import day_text, days_of


def day(days):
    return (date.fromisoformat(Clock().today()) + timedelta(days)).isoformat()


def a_defect(system, due=0, **changes):
    return dict({"format": "defect/1", "id": new_id(), "system": system["id"], "made_at": MADE_AT, "made_by": "technician", "where": "Pump",
                 "place": "pump", "points": ["P1"], "what": "It leaks", "severity": "failing", "due": day(due), "owner": "technician",
                 "changes": []}, **changes)


def an_adjustment(system, **changes):
    return dict({"format": "adjustment/1", "id": new_id(), "system": system["id"], "made_at": MADE_AT, "made_by": "technician",
                 "setting": "Pause", "name": "pause", "to": "99 min", "value": 5940, "unit": "s", "why": "Wet season"}, **changes)


CLOSED = {"by": "technician", "at": MADE_AT, "how": "New seal", "evidence": "reading", "reading": "Pressure 84 bar"}


@pytest.fixture
def system(hand):
    made = a_system(name="Head rig 1", area="Hall")
    hand("technician").send(a_revision(made))
    return made


def text_of(hand, path, name="supervisor"):
    reply = hand(name).get(path)
    assert reply.status_code == 200, path
    return reply.get_data(as_text=True)


# ---- what is sent

def test_a_defect_closed_without_evidence_is_refused(hand, system):
    sender = hand("technician")
    raised = a_revision(a_defect(system))
    assert sender.send(raised)[0]["state"] == "accepted"
    closed = dict(raised["body"], closed=dict(CLOSED, reading="it is fine"))
    result = sender.send(a_revision(closed, raised))[0]
    assert result["state"] == "refused" and "no reading" not in result["says"] and "but there is none" in result["says"]
    assert sender.send(a_revision(dict(closed, closed=CLOSED), raised))[0]["state"] == "accepted"


@pytest.mark.parametrize("made_at, of_system, state", [
    ("2026-11-23T10:00:00+01:00", True, "accepted"), ("2026-11-23T08:00:00+01:00", True, "refused"),
    ("2026-11-23T08:30:00Z", True, "accepted"), ("2026-11-23T10:00:00+01:00", False, "refused")])
def test_a_test_run_is_evidence_where_it_is_of_the_system_and_came_after(hand, system, made_at, of_system, state):
    sender, other = hand("technician"), a_system()
    run = {"format": "test-run/1", "id": new_id(), "system": (system if of_system else other)["id"], "made_at": made_at,
           "runs": [{"id": "1", "build_s": 80.0, "counts": True}]}
    closed = {"by": "technician", "at": MADE_AT, "how": "New seal", "evidence": "test run", "test_run": run["id"]}
    defect = a_revision(a_defect(system, closed=closed))
    refused = sender.send(a_revision(other), dict(defect, id=new_id()))[1]
    assert refused["state"] == "refused" and "send the run first" in refused["says"]
    results = sender.send(a_revision(run), defect)
    assert [result["state"] for result in results] == ["accepted", state], results


def test_a_closed_defect_is_opened_again_with_a_reason_only(hand, system):
    sender = hand("technician")
    closed = a_revision(a_defect(system, closed=CLOSED))
    sender.send(closed)
    opened = {name: part for name, part in closed["body"].items() if name != "closed"}
    assert sender.send(a_revision(opened, closed))[0]["state"] == "refused"
    assert sender.send(a_revision(opened, closed, reason="It leaks again"))[0]["state"] == "accepted"
    assert "It leaks again" in text_of(hand, "/plant/defects/" + closed["document"])


def test_two_people_who_change_owner_and_day_are_joined(hand, system):
    sender, first = hand("technician"), a_revision(a_defect(system))
    sender.send(first)
    one, two = [dict(first["body"], changes=[{"id": new_id(), "at": MADE_AT, "by": "technician", "what": what}], **change)
                for what, change in (("owner", {"owner": "somebody"}), ("due", {"due": day(9)}))]
    assert [sender.send(a_revision(body, first))[0]["state"] for body in (one, two)] == ["accepted", "merged"]
    joined = text_of(hand, "/plant/defects/" + first["document"])
    assert "somebody" in joined and day_text(days_of(day(9))) in joined


def an_addition(first, word, sha256):
    """A photo with a word, added to a defect as a phone adds it."""
    what, photo = "photos added: " + word, {"sha256": sha256 * 32, "width": 320, "height": 240}
    change = {"id": new_id(), "at": MADE_AT, "by": "technician", "what": what, "photos": [photo]}
    return a_revision(dict(first["body"], changes=first["body"].get("changes", []) + [change]), first, reason=what)


@pytest.mark.parametrize("before", [{}, {"changes": None}, {"changes": [{"id": "c", "at": MADE_AT, "by": "Mara", "what": "owner"}]}])
def test_photos_added_by_two_phones_at_the_same_time_are_both_kept(hand, system, before):
    sender, defect = hand("technician"), dict(a_defect(system), **before)
    if defect["changes"] is None:
        del defect["changes"]  # as another program of a plant may write it
    first = a_revision(defect)
    sender.send(first)
    states = [sender.send(an_addition(first, word, sha256))[0]["state"] for word, sha256 in (("drips", "ab"), ("worse", "cd"))]
    assert states == ["accepted", "merged"]
    joined = sender.feed()["revisions"][-1]["body"]
    assert [change["what"] for change in joined["changes"][-2:]] == ["photos added: drips", "photos added: worse"]
    assert [change["photos"][0]["sha256"] for change in joined["changes"][-2:]] == ["ab" * 32, "cd" * 32]
    for sha256 in ("ab", "cd"):  # each may be sent now: a record names it
        assert sender.http.put("/sync/photos/" + sha256 * 32, data=b"", headers={"X-CSRFToken": sender.token()}).status_code == 400


@pytest.mark.parametrize("closed_first", [True, False])
def test_photos_added_while_another_closes_it_are_kept_and_it_stays_closed(hand, system, closed_first):
    sender, first = hand("technician"), a_revision(a_defect(system))
    sender.send(first)
    both = [a_revision(dict(first["body"], closed=CLOSED), first), an_addition(first, "before the work", "ab")]
    assert [sender.send(one)[0]["state"] for one in (both if closed_first else both[::-1])] == ["accepted", "merged"]
    joined = sender.feed()["revisions"][-1]["body"]
    assert joined["closed"] == CLOSED and joined["changes"][0]["what"] == "photos added: before the work"


# ---- the list

def test_overdue_ones_come_first_whatever_their_consequence(hand, system):
    hand("technician").send(*[a_revision(a_defect(system, due, what=what, severity=severity)) for what, severity, due in (
        ("starving one", "starving", 0), ("late one", "untidy", -3), ("failing one", "failing", 4), ("dangerous one", "danger", 0))])
    text = text_of(hand, "/plant/defects")
    places = [text.index(what) for what in ("dangerous one", "late one", "starving one", "failing one")]
    assert places == sorted(places) and "Overdue by 3 days." in text and "Due in 4 days." in text


def test_filters_are_in_the_address(hand, system):
    theirs = a_defect(system, -1, what="late and theirs", owner="Mara", severity="untidy")
    hand("technician").send(*[a_revision(one) for one in (a_defect(system, what="mine"), theirs, a_defect(system, what="done", closed=CLOSED))])
    seen = {query: [what for what in ("mine", "late and theirs", "done") if ": %s</a>" % what in text_of(hand, "/plant/defects" + query)]
            for query in ("", "?state=overdue", "?state=closed", "?owner=Mara", "?severity=untidy", "?area=Hall&owner=technician",
                          "?area=Yard")}
    assert seen == {"": ["mine", "late and theirs"], "?state=overdue": ["late and theirs"], "?state=closed": ["done"],
                    "?owner=Mara": ["late and theirs"], "?severity=untidy": ["late and theirs"], "?area=Hall&owner=technician": ["mine"], "?area=Yard": []}
    assert [hand("supervisor").get("/plant/defects" + query).status_code for query in ("?state=other", "?severity=awful")] == [400, 400]


def test_another_site_s_defects_are_not_seen(hand, system):
    far = a_system(site=OTHER_SITE)
    defect = a_defect(far, what="southern leak")
    hand("administrator").send(a_revision(far), a_revision(defect))
    assert "southern leak" not in text_of(hand, "/plant/defects") and "southern leak" in text_of(hand, "/plant/defects", "outsider")
    assert hand("supervisor").get("/plant/defects/" + defect["id"]).status_code == 404


def test_the_plant_page_counts_them(hand, system):
    hand("technician").send(a_revision(a_defect(system)), a_revision(a_defect(system, -1)), a_revision(a_defect(system, closed=CLOSED)))
    text = text_of(hand, "/plant")
    assert "<strong>1</strong> defects overdue" in text and "2 open" in text
    row = text.partition("Head rig 1</a>")[2].partition("</tr>")[0]
    assert "2 open defects" in row and "1 overdue" in row


def test_an_empty_list_says_where_they_come_from(hand):
    assert "raised on the phone" in text_of(hand, "/plant/defects")


# ---- one

def test_a_defect_has_its_history(hand, system):
    sender, first = hand("technician"), a_revision(a_defect(system, cause="leak=pump"))
    sender.send(first)
    sender.send(a_revision(dict(first["body"], owner="Mara", closed=CLOSED), first))
    text = text_of(hand, "/plant/defects/" + first["document"])
    assert "New seal" in text and "Pressure 84 bar" in text and "closed, owner" in text and "Vent valve does not close" in text
    assert system["points"][0]["name"] in text


def test_times_that_are_none_do_no_harm(hand, system):
    defect = a_defect(system, made_at="yesterday", closed=dict(CLOSED, at="later"))
    case = {"format": "fault-case/1", "id": new_id(), "system": system["id"], "made_at": "once", "made_by": "technician",
            "cause": "nobody knows"}
    hand("technician").send(a_revision(defect), a_revision(case), a_revision(an_adjustment(system, made_at="then")))
    for path in ("/plant/defects?state=closed", "/plant/defects/" + defect["id"], "/plant/" + system["id"]):
        assert "technician" in text_of(hand, path)


# ---- the system's page

def test_a_system_s_page_lists_defects_and_cases(hand, system):
    case = {"format": "fault-case/1", "id": new_id(), "system": system["id"], "made_at": MADE_AT, "made_by": "technician",
            "symptom": "Limit passed", "readings": {"ran_into_limit": True, "pressure_bar": {"pump": 35.0}},
            "tried": [{"cause": "leak=N2", "answer": "not found", "name": "Line broken", "at": MADE_AT}], "cause": "device=D1", "closed": {"by": "technician", "at": MADE_AT, "how": "Device cleaned"}}
    results = hand("technician").send(a_revision(a_defect(system, -1)), a_revision(case))
    assert [result["state"] for result in results] == ["accepted"] * 2, results
    text = text_of(hand, "/plant/" + system["id"])
    assert "Pump: It leaks" in text and "overdue" in text and "Device cleaned" in text and "Metering device stuck" in text


def settle(browser, document, **form):
    return browser.http.post("/plant/adjustments/%s/settled" % document, data=dict(form, csrf_token=browser.token()))


def test_an_adjustment_that_differs_is_shown_until_a_supervisor_settles_it(hand, system, store):
    from webapp.store import revisions
    made = a_revision(an_adjustment(system))
    hand("technician").send(made)
    page = "/plant/" + system["id"]
    assert "Pause is 1 h 39 min at the controller" in text_of(hand, page)
    desk = hand("supervisor")
    assert settle(desk, made["document"], how="stays as an exception").status_code == 303
    assert "Why it stays as an exception" in desk.get(page).get_data(as_text=True)  # it needs a reason
    assert settle(desk, made["document"], how="stays as an exception", statement="Until the new pump").status_code == 303
    text = desk.get(page).get_data(as_text=True)
    assert "Until the new pump" in text and "/settled" not in text
    with store.reading() as connection:
        newest = revisions.newest(connection, made["document"])
    assert (newest["parent"], newest["reason"]) == (made["id"], "settled: stays as an exception")
    assert newest["body"]["settled"]["role"] == "supervisor"
    assert desk.feed()["revisions"][-1]["body"]["settled"]["how"] == "stays as an exception"


def test_as_on_the_sheet_needs_no_settling(hand, system):
    from webapp.engine.bridge import ask
    pause = next(one for one in ask({"do": "work", "document": system})["settings"] if one["name"] == "pause")
    hand("technician").send(a_revision(an_adjustment(system, to=pause["shown"], value=pause["value"])))
    text = text_of(hand, "/plant/" + system["id"])
    assert "as on the sheet" in text and "/settled" not in text


@pytest.mark.parametrize("name, how, status", [("technician", "set back", 403), ("outsider", "set back", 404),
                                               ("supervisor", "forget it", 400)])
def test_only_a_supervisor_of_the_site_settles(hand, system, name, how, status):
    made = a_revision(an_adjustment(system))
    hand("technician").send(made)
    assert settle(hand(name), made["document"], how=how).status_code == status


@pytest.mark.parametrize("name, state", [("technician", "refused"), ("supervisor", "accepted")])
def test_a_technician_does_not_settle_by_the_wire_either(hand, system, name, state):
    made = a_revision(an_adjustment(system))
    sender = hand(name)
    sender.send(made)
    settled = {"by": name, "at": MADE_AT, "how": "set back"}
    result, = sender.send(a_revision(dict(made["body"], settled=settled), parent=made, reason="settled"))
    assert result["state"] == state and ("supervisors" in (result["says"] or "")) == (state == "refused")


def test_a_deleted_adjustment_is_not_brought_back_by_settling_it(hand, system, store):
    from webapp.store import revisions
    made = a_revision(an_adjustment(system))
    hand("technician").send(made, a_revision(made["body"], parent=made, deleted=True))
    assert settle(hand("supervisor"), made["document"], how="set back").status_code == 404
    with store.reading() as connection:
        assert revisions.newest(connection, made["document"])["deleted"]
