"""Rounds at the desk: shown as walked, counter-signed once and not by who walked alone; shared rounds merge by item."""
import pytest

from tests.web.conftest import MADE_AT, OTHER_SITE, a_revision, a_round, a_system, new_id

SIGNED = {"by": "technician", "at": MADE_AT, "role": "technician", "statement": "I looked at each item.", "drawn": ["M10 20l0 0L40 60"]}
ITEMS = [{"id": "pump", "where": "Pump", "ask": "Pump dry?", "answer": "ok", "by": "technician", "at": MADE_AT},
         {"id": "level", "where": "Reservoir", "ask": "Level", "answer": "reading", "unit": "l", "value": 0.3, "low": 0.6, "high": 4, "by": "technician"},
         {"id": "film", "where": "Saw 4", "ask": "Fresh film?", "answer": "not ok", "note": "Dry.", "photo": True, "by": "technician"},
         {"id": "gate", "where": "Gate", "ask": "Gate locked?", "answer": "not done", "note": "No key."}]


@pytest.fixture
def walked(hand):
    """walked(...) sends a round by the technician and returns its revision; keywords change its body."""
    def send(by="technician", **changes):
        system = a_system()
        revision = a_revision(dict(a_round(system), **dict({"items": ITEMS, "made_at": MADE_AT, "signed": SIGNED}, **changes)))
        results = hand(by).send(a_revision(system), revision)
        assert [one["state"] for one in results] == ["accepted", "accepted"]
        return revision
    return send


def countersign(browser, revision, statement="Read, and the dry point is in hand."):
    return browser.http.post("/plant/rounds/%s/countersigned" % revision["document"], data={"csrf_token": browser.token(), "statement": statement})


def newest(hand, document):
    return [one for one in hand("supervisor").feed()["revisions"] if one["document"] == document][-1]


def page(hand, revision, name="supervisor"):
    return hand(name).get("/plant/rounds/" + revision["document"]).get_data(as_text=True)


def test_a_round_is_shown_with_its_own_list(hand, walked):
    text = page(hand, walked())
    for said in ("2 of 4 not ok", "0.3 l", "0.6 l to 4 l", "NOT OK", "A photo is asked for", "not done", "No key.", 'd="M10 20l0 0L40 60"', "Fresh film?"):
        assert said in text, said


def test_the_history_of_the_system_links_its_rounds(hand, walked):
    revision = walked()
    assert "/plant/rounds/" + revision["document"] in hand("supervisor").get("/plant/" + revision["body"]["system"]).get_data(as_text=True)


def test_a_supervisor_counter_signs_once(hand, walked):
    revision = walked()
    desk = hand("supervisor")
    assert countersign(desk, revision).status_code == 302
    last = newest(hand, revision["document"])
    assert (last["reason"], last["parent"]) == ("counter-signed", revision["id"])
    assert {name: last["body"]["countersigned"][name] for name in ("by", "role", "statement")} == {
        "by": "supervisor", "role": "supervisor", "statement": "Read, and the dry point is in hand."}
    again = countersign(hand("administrator"), revision)
    assert again.status_code == 422 and "supervisor has counter-signed it already" in again.get_data(as_text=True)
    assert newest(hand, revision["document"])["id"] == last["id"]


@pytest.mark.parametrize("changes, words", [({"signed": None}, "not signed off yet"), ({"signed": dict(SIGNED, by="supervisor"), "items": [
    dict(item, by="supervisor") for item in ITEMS]}, "walked it alone")])
def test_what_cannot_be_counter_signed_says_why(hand, walked, changes, words):
    revision = walked(**changes)
    reply = countersign(hand("supervisor"), revision)
    assert reply.status_code == 422 and words in reply.get_data(as_text=True)
    assert newest(hand, revision["document"])["id"] == revision["id"]


def test_who_walked_with_others_may_counter_sign(hand, walked):
    revision = walked(signed=dict(SIGNED, by="supervisor"))
    assert countersign(hand("supervisor"), revision).status_code == 302


@pytest.mark.parametrize("statement", ["", "   ", "x" * 301])
def test_a_counter_signature_needs_a_statement(hand, walked, statement):
    reply = countersign(hand("supervisor"), walked(), statement)
    assert reply.status_code == 422 and "1 to 300" in reply.get_data(as_text=True)


def test_a_correction_needs_a_reason_and_drops_the_counter_signature(hand, walked):
    revision = walked()
    countersign(hand("supervisor"), revision)
    head = newest(hand, revision["document"])
    sender = hand("technician")
    items = [dict(item, answer="ok") if item["id"] == "film" else item for item in head["body"]["items"]]
    kept = dict(head["body"], items=items)
    without = {name: part for name, part in kept.items() if name != "countersigned"}
    send = [a_revision(kept, parent=head, reason="It was fresh"), a_revision(without, parent=head),
            a_revision(without, parent=head, reason="Looked again")]
    results = sender.send(*send)
    assert [one["state"] for one in results] == ["refused", "refused", "accepted"]
    assert "without the counter-signature" in results[0]["says"] and "needs a reason" in results[1]["says"]
    assert "countersigned" not in newest(hand, revision["document"])["body"]
    assert countersign(hand("supervisor"), revision).status_code == 302
    assert "Looked again" in page(hand, revision)


def test_a_counter_signature_does_not_come_from_a_phone(hand, walked):
    revision = walked()
    forged = dict(revision["body"], countersigned={"by": "supervisor", "at": MADE_AT})
    result = hand("technician").send(a_revision(forged, parent=revision, reason="signed"))[0]
    assert result["state"] == "refused" and "at the desk" in result["says"]


def test_a_correction_made_beside_a_counter_signature_takes_it_away(hand, walked):
    revision = walked()
    countersign(hand("supervisor"), revision)
    changed = dict(revision["body"], items=[dict(item, note="Oiled.") if item["id"] == "film" else item for item in revision["body"]["items"]])
    result = hand("technician").send(a_revision(changed, parent=revision, reason="Looked again"))[0]
    head = newest(hand, revision["document"])
    assert result["state"] == "merged" and "countersigned" not in head["body"] and head["body"]["items"][2]["note"] == "Oiled."


def shared(hand, walked):
    """A round under way, and what two people make of it: {who: revision}."""
    first = walked(signed=None, items=[{"id": item["id"], "ask": item["ask"]} for item in ITEMS])

    def by(name, **answers):
        return a_revision(dict(first["body"], items=[dict(item, **({"answer": answers[item["id"]], "by": name} if item["id"] in answers else {}))
                                                     for item in first["body"]["items"]]), parent=first)
    return first, by


def test_two_people_who_answer_other_items_are_merged_and_each_item_keeps_who(hand, walked):
    first, by = shared(hand, walked)
    states = [hand(name).send(by(name, **answers))[0]["state"] for name, answers in (
        ("technician", {"pump": "ok"}), ("supervisor", {"film": "ok", "gate": "not done"}))]
    assert states == ["accepted", "merged"]
    assert {item["id"]: item.get("by") for item in newest(hand, first["document"])["body"]["items"]} == {
        "pump": "technician", "level": None, "film": "supervisor", "gate": "supervisor"}


def test_two_answers_to_one_item_clash_and_wait_for_a_person(hand, walked):
    first, by = shared(hand, walked)
    hand("technician").send(by("technician", pump="ok"))
    result = hand("supervisor").send(by("supervisor", pump="not ok"))[0]
    assert result["state"] == "clash" and "items[pump].answer" in result["fields"]
    assert "Two people answered the same item" in page(hand, first)


def test_what_was_not_done_leaves_the_last_answer(hand, walked, store):
    from webapp.store.followed import last_answers
    revision = walked()
    later = "2026-11-24T09:00:00+01:00"
    second = dict(revision["body"], id=new_id(), items=[dict(item, answer="not done", note="Rain.", at=later) for item in ITEMS])
    hand("technician").send(a_revision(second, made_at=later))
    with store.reading() as connection:
        last = last_answers(connection)[revision["body"]["system"]]
    assert {key: one["answer"]["answer"] for key, one in last.items()} == {"pump": "ok", "level": "reading", "film": "not ok"}


def test_a_deleted_round_is_shown_as_it_was_whatever_came_with_its_deletion(hand, walked):
    revision = walked()
    results = hand("technician").send(a_revision({}, parent=revision, kind="round", deleted=True, reason="Walked twice"))
    assert [one["state"] for one in results] == ["accepted"]
    assert "Pump dry?" in page(hand, revision)
    assert hand("supervisor").get("/papers/round/%s.pdf" % revision["document"]).data.startswith(b"%PDF")
    reply = countersign(hand("supervisor"), revision)
    assert reply.status_code == 422 and "The round was deleted" in reply.get_data(as_text=True)


def test_a_system_that_moves_takes_its_rounds_to_the_people_of_its_new_site(hand, walked):
    revision = walked()
    system = newest(hand, revision["body"]["system"])
    moved = a_revision(dict(system["body"], site=OTHER_SITE), parent=system)
    assert hand("administrator").send(moved)[0]["state"] == "accepted"
    assert "Pump dry?" in page(hand, revision, "outsider")
    assert hand("supervisor").get("/plant/rounds/" + revision["document"]).status_code == 404
    assert countersign(hand("outsider"), revision).status_code == 302
    assert hand("outsider").feed()["revisions"][-1]["body"]["countersigned"]["by"] == "outsider"
