"""What becomes of an incoming revision: decided on plain values, without a database."""
import pytest

from webapp.sync_decide import ACCEPTED, CLASH, MERGED, REFUSED, REMOVED, Held, apply, changes, decide, joined_id, path_text

BASE = {"name": "Line", "pump": {"relief_bar": 240}, "measured": {"at_c": 7},
        "devices": [{"id": "D1", "fires_bar": 60}, {"id": "D2", "fires_bar": 60}], "build_s": [80.0]}


def revision(identity, body, parent=None, **changed):
    return dict({"id": identity, "document": "doc", "kind": "system", "parent": parent, "also": None, "made_at": "t",
                 "phone": None, "body": body, "deleted": False, "reason": None, "state": ACCEPTED, "fields": [],
                 "number": 1}, **changed)


def changed(**values):
    return dict(BASE, **values)


def meeting(theirs, ours, clash=(), **envelope):
    """Decision on a change from BASE to `ours`, where somebody has changed it to `theirs` meanwhile."""
    base = revision("base", BASE)
    held = Held(None, revision("theirs", theirs, "base"), base, list(clash))
    return decide(held, revision("ours", ours, "base", **envelope))


def test_a_new_document_is_accepted():
    assert decide(Held(None, None, None, []), revision("a", BASE)).state == ACCEPTED


def test_a_change_of_the_newest_is_accepted():
    newest = revision("a", BASE)
    assert decide(Held(None, newest, newest, []), revision("b", changed(name="New"), "a")).state == ACCEPTED


def test_the_same_again_gets_the_same_answer():
    stored = revision("a", BASE, state=CLASH, fields=["name"])
    decision = decide(Held(stored, stored, None, []), revision("a", BASE))
    assert (decision.state, decision.fields) == (CLASH, ["name"])


@pytest.mark.parametrize("field, value", [("body", changed(name="x")), ("made_at", "later"), ("reason", "why"), ("deleted", True)])
def test_the_same_id_with_another_content_is_refused(field, value):
    stored = revision("a", BASE)
    assert decide(Held(stored, stored, None, []), revision("a", BASE) | {field: value}).state == REFUSED


def test_a_document_that_exists_is_not_begun_again():
    assert decide(Held(None, revision("a", BASE), None, []), revision("b", BASE)).state == REFUSED


def test_what_was_never_there_is_not_deleted():
    assert decide(Held(None, None, None, []), revision("a", BASE, deleted=True)).state == REFUSED


def test_an_unknown_parent_is_refused_with_a_word_to_pull():
    decision = decide(Held(None, revision("a", BASE), None, []), revision("b", BASE, "unknown"))
    assert decision.state == REFUSED and "pull first" in decision.says


def test_a_parent_of_another_document_is_refused():
    other = revision("o", BASE, document="other")
    assert decide(Held(None, revision("a", BASE), other, []), revision("b", BASE, "o")).state == REFUSED


def test_a_document_keeps_its_kind():
    newest = revision("a", BASE)
    assert decide(Held(None, newest, newest, []), revision("b", BASE, "a", kind="round")).state == REFUSED


@pytest.mark.parametrize("reason, state", [(None, REFUSED), ("", REFUSED), ("typing error", ACCEPTED)])
def test_what_is_signed_off_is_corrected_only_with_a_reason(reason, state):
    newest = revision("a", changed(signed={"by": "technician", "at": "t"}))
    assert decide(Held(None, newest, newest, []), revision("b", BASE, "a", reason=reason)).state == state


@pytest.mark.parametrize("theirs, ours, joined", [
    (dict(name="New"), dict(pump={"relief_bar": 250}), dict(name="New", pump={"relief_bar": 250})),
    (dict(name="New"), dict(name="New"), dict(name="New")),
    (dict(devices=[{"id": "D1", "fires_bar": 70}, {"id": "D2", "fires_bar": 60}]),
     dict(devices=[{"id": "D1", "fires_bar": 60}, {"id": "D2", "fires_bar": 80}]),
     dict(devices=[{"id": "D1", "fires_bar": 70}, {"id": "D2", "fires_bar": 80}])),
    (dict(devices=[{"id": "D2", "fires_bar": 60}]), dict(devices=BASE["devices"] + [{"id": "D3", "fires_bar": 50}]),
     dict(devices=[{"id": "D2", "fires_bar": 60}, {"id": "D3", "fires_bar": 50}])),
    (dict(devices=BASE["devices"][::-1]), dict(name="New"), dict(name="New", devices=BASE["devices"][::-1])),
    (dict(points=[{"id": "P1"}]), dict(points=[{"id": "P2"}]), dict(points=[{"id": "P1"}, {"id": "P2"}])),
])
def test_changes_to_different_fields_are_joined(theirs, ours, joined):
    decision = meeting(changed(**theirs), changed(**ours))
    assert (decision.state, decision.joined) == (MERGED, changed(**joined))


@pytest.mark.parametrize("theirs, ours, field", [
    (dict(name="Theirs"), dict(name="Ours"), "name"),
    (dict(build_s=[80.0, 81.0]), dict(build_s=[80.0, 82.0]), "build_s"),
    (dict(devices=[{"id": "D1", "fires_bar": 70}, BASE["devices"][1]]),
     dict(devices=[{"id": "D1", "fires_bar": 80}, BASE["devices"][1]]), "devices[D1].fires_bar"),
    (dict(devices=BASE["devices"][:1]), dict(devices=[BASE["devices"][0], {"id": "D2", "fires_bar": 80}]), "devices[D2].fires_bar"),
    (dict(devices=[{"id": "D1", "fires_bar": 80}, BASE["devices"][1]]), dict(devices=BASE["devices"][1:]), "devices[D1]"),
    (dict(measured=None), dict(measured={"at_c": 9}), "measured.at_c"),
    (dict(devices=None), dict(devices=[{"id": "D1", "fires_bar": 80}, BASE["devices"][1]]), "devices[D1].fires_bar"),
    (dict(devices=None), dict(devices=BASE["devices"][::-1]), "devices.order"),
    (dict(points=[{"id": "P1", "dose": 1}]), dict(points=[{"id": "P1", "dose": 2}]), "points[P1]"),
    (dict(points=None), dict(points=[{"id": "P1"}]), "points[P1]"),
])
def test_changes_to_the_same_field_clash_and_the_newest_shows_ours(theirs, ours, field):
    decision = meeting(changed(**theirs), changed(**ours))
    assert (decision.state, decision.fields) == (CLASH, [field])
    assert decision.joined == changed(**ours)
    assert decision.clash == [{"ours": "ours", "theirs": "theirs", "fields": [field]}]


def test_a_clash_keeps_their_changes_to_other_fields():
    decision = meeting(changed(name="Theirs", build_s=[1.0]), changed(name="Ours"))
    assert decision.joined == changed(name="Ours", build_s=[1.0])


def test_a_second_clash_is_added_to_the_first():
    decision = meeting(changed(name="Theirs"), changed(name="Ours"), clash=[{"ours": "x", "theirs": "y", "fields": ["pump"]}])
    assert [mark["ours"] for mark in decision.clash] == ["x", "ours"]


def test_deleting_what_somebody_changed_is_a_clash():
    assert meeting(changed(name="Theirs"), BASE, deleted=True).fields == ["deleted"]


def test_a_clash_is_settled_by_a_change_of_the_newest_that_names_the_other():
    newest = revision("b", BASE)
    marks = [{"ours": "b", "theirs": "a", "fields": ["name"]}, {"ours": "d", "theirs": "c", "fields": ["pump"]}]
    settled = decide(Held(None, newest, newest, marks), revision("e", BASE, "b", also="a"))
    assert (settled.state, settled.clash) == (ACCEPTED, marks[1:])


def test_an_ordinary_change_leaves_a_clash_open():
    newest = revision("b", BASE)
    assert decide(Held(None, newest, newest, [{"ours": "b", "theirs": "a"}]), revision("e", BASE, "b")).clash is None


def test_the_same_two_are_always_joined_under_the_same_id():
    assert joined_id("a", "b") == joined_id("a", "b") != joined_id("b", "a")


def test_a_change_of_true_to_one_is_a_change():
    assert changes({"a": {"b": True}}, {"a": {"b": 1}}) == {("a", "b"): 1}


def test_what_was_taken_out_is_named():
    assert changes(BASE, {key: value for key, value in BASE.items() if key != "name"}) == {("name",): REMOVED}


def test_applying_all_changes_gives_the_changed_body_and_leaves_the_first_alone():
    mine = {"name": "New", "devices": [{"id": "D2", "fires_bar": 1}, {"id": "D1"}, {"id": "D3"}], "build_s": []}
    before = repr(BASE)
    assert apply(BASE, changes(BASE, mine)) == mine
    assert repr(BASE) == before


def test_a_path_reads_like_the_field():
    assert path_text(("devices", ("D1",), "fires_bar")) == "devices[D1].fires_bar"
