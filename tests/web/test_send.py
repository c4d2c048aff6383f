"""Sending revisions: what is accepted, joined, kept as a clash or refused, and that nothing stands in another's way."""
import json

import pytest
from sqlalchemy.exc import OperationalError

from tests.web.conftest import MADE_AT, OTHER_SITE, a_revision, a_round, a_system, new_id
from webapp import sync_decide
from webapp.store import people, revisions


@pytest.fixture
def technician(hand):
    return hand("technician")


@pytest.fixture
def first(technician):
    """A system's first revision, on the server."""
    made = a_revision(a_system(name="Line 1"))
    technician.send(made)
    return made


def stored(store, identity):
    with store.reading() as connection:
        return revisions.find(connection, identity)


def newest(store, document):
    with store.reading() as connection:
        return revisions.newest(connection, document)


def clash_of(store, document):
    with store.reading() as connection:
        return revisions.document(connection, document)["clash"]


def changed(first, **fields):
    return a_revision(dict(first["body"], **fields), first)


# ---- accepted

def test_a_new_system_is_accepted_with_its_number(technician):
    made = a_revision(a_system())
    assert technician.send(made) == [
        {"id": made["id"], "state": "accepted", "number": 1, "says": None, "findings": [], "fields": []}]


def test_everything_that_was_sent_is_kept(technician, first, store):
    sent = changed(first, name="Name with ü, 日本 and \"quotes\"") | {"reason": "renamed", "phone": new_id()}
    technician.send(sent)
    held = stored(store, sent["id"])
    assert {name: held[name] for name in sent} == sent


def test_who_made_it_comes_from_the_session(technician, store):
    made = a_revision(a_system()) | {"made_by": "somebody else", "received_at": "1999-01-01T00:00:00+00:00", "number": 99}
    technician.send(made)
    held = stored(store, made["id"])
    with store.reading() as connection:
        assert held["made_by"] == people.by_name(connection, "technician")["id"]
    assert held["number"] == 1 and not held["received_at"].startswith("1999")


def test_a_round_goes_in_the_same_batch_as_its_system(technician):
    system = a_system()
    results = technician.send(a_revision(system), a_revision(a_round(system)))
    assert [result["state"] for result in results] == ["accepted", "accepted"]


@pytest.mark.parametrize("clock", ["1999-12-31T23:59:59-11:00", "2126-01-01T00:00:00.123+14:00", "2026-11-23T09:05:00Z"])
def test_a_phone_with_a_wrong_clock_is_heard(technician, clock):
    assert technician.send(a_revision(a_system()) | {"made_at": clock})[0]["state"] == "accepted"


# ---- twice

def test_the_same_id_again_gets_the_same_answer_and_changes_nothing(technician, first, store):
    sent = changed(first, name="Line 2")
    before = technician.send(sent)
    assert technician.send(sent) == before
    with store.reading() as connection:
        assert revisions.count(connection) == 2


def test_twice_in_one_batch_is_taken_once(technician, store):
    made = a_revision(a_system())
    one, other = technician.send(made, made)
    assert one == other
    with store.reading() as connection:
        assert revisions.count(connection) == 1


def test_a_joined_revision_sent_again_is_joined_once(technician, first, store):
    technician.send(changed(first, area="Theirs"))
    ours = changed(first, name="Ours")
    assert technician.send(ours) == technician.send(ours)
    with store.reading() as connection:
        assert revisions.count(connection) == 4


def test_what_a_phone_sent_is_counted_once(technician, first, store):
    phone = new_id()
    one, refused = changed(first, name="Line 2") | {"phone": phone}, a_revision(a_system(OTHER_SITE), phone=phone)
    joined = a_revision(dict(first["body"], area="Yard"), first, phone=phone)
    for batch in ([one, one, refused], [one], [one, joined], [joined]):
        technician.send(*batch)
    with store.reading() as connection:
        assert [(held["sent"], held["last_kind"]) for held in people.phones(connection) if held["id"] == phone] == [(2, "system")]


def test_the_same_id_with_another_content_is_refused_and_changes_nothing(technician, first, store):
    result, = technician.send(dict(first, body=dict(first["body"], name="Other")))
    assert (result["state"], result["number"]) == ("refused", None)
    assert stored(store, first["id"])["body"]["name"] == "Line 1"


# ---- joined and clashing

def test_changes_to_different_fields_are_joined_and_both_stay(technician, first, store):
    theirs, ours = changed(first, area="Yard"), changed(first, name="Line 2")
    technician.send(theirs)
    assert technician.send(ours)[0]["state"] == "merged"
    joined = newest(store, first["document"])
    assert (joined["body"]["name"], joined["body"]["area"]) == ("Line 2", "Yard")
    assert (joined["parent"], joined["also"]) == (theirs["id"], ours["id"])
    assert stored(store, ours["id"])["body"] == ours["body"] and stored(store, theirs["id"])["body"] == theirs["body"]


def test_changes_to_the_same_field_are_kept_both_and_marked(technician, first, store):
    theirs, ours = changed(first, name="Theirs", area="Yard"), changed(first, name="Ours")
    technician.send(theirs)
    result, = technician.send(ours)
    assert (result["state"], result["fields"]) == ("clash", ["name"])
    assert clash_of(store, first["document"]) == [{"ours": ours["id"], "theirs": theirs["id"], "fields": ["name"]}]
    shown = newest(store, first["document"])["body"]
    assert (shown["name"], shown["area"]) == ("Ours", "Yard")
    assert stored(store, theirs["id"])["body"]["name"] == "Theirs"


def test_a_clash_is_settled_by_a_person(technician, first, store):
    theirs, ours = changed(first, name="Theirs"), changed(first, name="Ours")
    technician.send(theirs, ours)
    head = newest(store, first["document"])
    technician.send(a_revision(dict(head["body"], name="Theirs"), head, also=theirs["id"]))
    assert clash_of(store, first["document"]) == []


def test_what_would_not_pass_the_check_together_is_a_clash(technician, first, store):
    """Each alone is sound: theirs takes a device out with its point, ours leads another point to that device."""
    body = first["body"]
    theirs = changed(first, devices=body["devices"][:-1], points=[p for p in body["points"] if p["device"] != "D6"])
    ours = changed(first, points=body["points"] + [dict(body["points"][-1], id="P99")])
    assert technician.send(theirs)[0]["state"] == "accepted"
    assert technician.send(ours)[0]["state"] == "clash"
    assert newest(store, first["document"])["body"] == ours["body"]
    assert clash_of(store, first["document"])[0]["theirs"] == theirs["id"]


# ---- deleted

def test_deleting_is_a_revision_and_the_document_can_be_brought_back(technician, first, store):
    gone = a_revision(first["body"], first, deleted=True, reason="scrapped")
    assert technician.send(gone)[0]["state"] == "accepted"
    with store.reading() as connection:
        assert revisions.newest_of_kind(connection, "system") == []
    assert technician.send(a_revision(first["body"], gone))[0]["state"] == "accepted"
    with store.reading() as connection:
        assert [held["document"] for held in revisions.newest_of_kind(connection, "system")] == [first["document"]]


def test_deleting_what_somebody_changed_meanwhile_is_a_clash_and_loses_nothing(technician, first, store):
    theirs = changed(first, name="Theirs")
    technician.send(theirs)
    result, = technician.send(a_revision(first["body"], first, deleted=True))
    assert (result["state"], result["fields"]) == ("clash", ["deleted"])
    assert stored(store, theirs["id"])["body"]["name"] == "Theirs"


def test_a_deletion_needs_no_sound_body(technician, first):
    assert technician.send(a_revision({}, first, kind="system", deleted=True))[0]["state"] == "accepted"


# ---- refused

def test_an_unknown_parent_is_refused_with_a_word_to_pull(technician, first):
    result, = technician.send(changed(first, name="x") | {"parent": new_id()})
    assert result["state"] == "refused" and "pull first" in result["says"]


def test_a_document_that_exists_is_not_begun_again(technician, first):
    assert technician.send(a_revision(first["body"], document=first["document"]))[0]["state"] == "refused"


def test_a_record_of_an_unknown_system_is_refused(technician):
    assert technician.send(a_revision(a_round(a_system())))[0]["state"] == "refused"


def test_a_document_that_cannot_be_worked_is_refused_with_its_findings(technician):
    body = a_system()
    body["pump"] = dict(body["pump"], delivery_cm3_min=-5)
    result, = technician.send(a_revision(body))
    assert result["state"] == "refused"
    assert [(found["where"], found["severity"]) for found in result["findings"]] == [("pump.delivery_cm3_min", "stop")]
    assert result["findings"][0]["says"] in result["says"] and result["findings"][0]["do"]


def test_what_is_signed_off_is_changed_only_with_a_reason(technician, first):
    signed = a_revision(a_round(first["body"], signed={"by": "technician", "at": MADE_AT}))
    technician.send(signed)
    later = a_revision(dict(signed["body"], note="Fitting tightened."), signed)
    assert technician.send(later)[0]["state"] == "refused"
    assert technician.send(dict(later, id=new_id(), reason="The note was forgotten."))[0]["state"] == "accepted"


def test_somebody_elses_site_is_refused(technician):
    assert technician.send(a_revision(a_system(OTHER_SITE)))[0]["state"] == "refused"


def test_a_system_is_not_taken_away_from_its_site_by_an_outsider(hand, first):
    stolen = a_revision(dict(first["body"], site=OTHER_SITE), first)
    assert hand("outsider").send(stolen)[0]["state"] == "refused"


BAD_ENVELOPES = [
    {"id": "7"}, {"id": None}, {"document": "x"}, {"parent": "x"}, {"phone": 5}, {"also": []}, {"kind": "menu"}, {"kind": []},
    {"kind": "round"}, {"made_at": "yesterday"}, {"made_at": "2026-11-23T09:05:00"}, {"made_at": 5}, {"body": None},
    {"body": []}, {"body": {"format": "system/9"}}, {"deleted": "yes"}, {"reason": 5}, {"reason": "a\0b"}, {"reason": "\ud800"},
    {"made_at": "2026-11-23T09:05:00.123456+01:00:00.123456"}]


@pytest.mark.parametrize("fault", BAD_ENVELOPES, ids=json.dumps)
def test_a_bad_envelope_is_refused_and_stops_no_other(technician, fault):
    sound = a_revision(a_system())
    results = technician.send(a_revision(a_system()) | fault, sound)
    assert [result["state"] for result in results] == ["refused", "accepted"]
    assert results[0]["says"]


def nested(levels):
    return {"a": nested(levels - 1)} if levels else 1


BAD_BODIES = [
    {"site": "a\0b"}, {"site": "\ud800"}, {"site": {"a": 1}}, {"system": {"a": 1}}, {"system": ["x"]}, {"note": "\ud800"},
    {"x": float("1e999")}, {"x": nested(300)}, {"site": "x" * 400}]


@pytest.mark.parametrize("kind", ["system", "round"])
@pytest.mark.parametrize("deleted", [False, True], ids=["kept", "deleted"])
@pytest.mark.parametrize("fault", BAD_BODIES, ids=lambda fault: json.dumps(fault)[:30])
def test_a_body_that_no_database_keeps_stops_no_other(hand, fault, deleted, kind):
    administrator, system, sound = hand("administrator"), a_system(), a_revision(a_system())
    first = a_revision(system)
    administrator.send(first)
    if kind == "round":
        first = a_revision(a_round(system))
        administrator.send(first)
    batch = json.dumps({"revisions": [a_revision(first["body"] | fault, first, deleted=deleted), sound]})
    reply = administrator.post_text("/sync/send", batch.replace("Infinity", "1e999"))
    assert reply.status_code == 200, reply.get_data(as_text=True)
    results = json.loads(reply.get_data(), parse_constant=pytest.fail)["results"]
    assert results[1]["state"] == "accepted"
    json.loads(administrator.get("/sync/feed").get_data(), parse_constant=pytest.fail)


@pytest.mark.parametrize("revision", [None, 5, "x", [], {}])
def test_what_is_no_revision_is_refused(technician, revision):
    assert technician.send(revision)[0]["state"] == "refused"


# ---- the batch

def test_the_results_come_in_order(technician, first):
    batch = [changed(first, name="A"), a_revision(a_system(OTHER_SITE)), a_revision(a_system())]
    results = technician.send(*batch)
    assert [result["id"] for result in results] == [revision["id"] for revision in batch]
    assert [result["state"] for result in results] == ["accepted", "refused", "accepted"]


def test_two_hundred_revisions_are_taken_at_once(technician, first):
    batch = [first]
    for number in range(199):
        batch.append(changed(first, note=str(number)) | {"parent": batch[-1]["id"]})
    assert {result["state"] for result in technician.send(*batch)} == {"accepted"}


@pytest.mark.parametrize("place", ["decide", "add"])
def test_a_failure_at_one_revision_holds_up_no_other_and_stores_nothing_of_it(technician, first, store, monkeypatch, caplog, place):
    """A bug, before it is decided or after half of it was stored: what came before and after is kept; it is taken once that is mended."""
    bad, room = changed(first, name="Unlucky"), {"decide": sync_decide, "add": revisions}[place]
    before, after = a_revision(a_system()), a_revision(a_round(first["body"]))

    def buggy(*given, right=getattr(room, place)):
        out = right(*given)
        if given[1].get("id") == bad["id"]:
            raise KeyError("a bug")
        return out

    with monkeypatch.context() as patched:
        patched.setattr(room, place, buggy)
        results = technician.send(before, bad, after)
    assert [result["state"] for result in results] == ["accepted", "refused", "accepted"]
    assert [result["number"] for result in results] == [2, None, 3]
    assert "The server failed" in results[1]["says"] and "tell your administrator" in results[1]["says"]
    assert stored(store, bad["id"]) is None and newest(store, first["document"])["id"] == first["id"]
    assert bad["id"] in caplog.text and "KeyError: 'a bug'" in caplog.text
    assert technician.send(bad)[0]["state"] == "accepted"


def test_a_database_that_gives_out_refuses_nobody(technician, first, store, monkeypatch):
    """It is no fault of a revision: the phone keeps all and tries again."""
    def full(*_):
        raise OperationalError("INSERT", {}, Exception("database or disk is full"))

    with monkeypatch.context() as patched:
        patched.setattr(revisions, "add", full)
        assert technician.send_raw([changed(first, name="A")]).status_code == 500
    assert technician.send(changed(first, name="A"))[0]["state"] == "accepted"


def test_more_than_two_hundred_get_413_and_nothing_is_stored(technician, store):
    assert technician.send_raw([a_revision(a_system()) for _ in range(201)]).status_code == 413
    with store.reading() as connection:
        assert revisions.count(connection) == 0


def test_more_than_five_megabytes_get_413(technician):
    assert technician.send_raw([{"x": "a" * (5 * 1024 * 1024)}]).status_code == 413


@pytest.mark.parametrize("body", [{}, {"revisions": None}, {"revisions": {}}, [], "x"])
def test_what_is_no_batch_gets_400(technician, body):
    assert technician.write("POST", "/sync/send", body).status_code == 400


@pytest.mark.parametrize("text", ['{"revisions": [', "", "[" * 100000 + "]" * 100000, '{"revisions": [{"x": NaN}]}'])
def test_what_is_no_json_gets_400(technician, text):
    assert technician.post_text("/sync/send", text).status_code == 400


def test_another_content_type_gets_415(technician):
    assert technician.post_text("/sync/send", "revisions=[]", "application/x-www-form-urlencoded").status_code == 415


def test_a_record_stays_with_its_system(technician, first, store):
    other, made = a_revision(a_system()), a_revision(a_round(first["body"]))
    technician.send(other, made)
    result, = technician.send(a_revision(dict(made["body"], system=other["document"]), parent=made))
    assert (result["state"], result["says"]) == (
        "refused", "A record stays with the system that it was made on: make a new one at the other system.")
    with store.reading() as connection:
        assert revisions.newest(connection, made["document"])["id"] == made["id"]
