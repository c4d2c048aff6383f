"""The wire on each database: what one refuses in silence, the other refuses aloud."""
import pytest

from tests.web.conftest import SECRET, Hand, a_revision, a_round, a_system
from webapp import receive
from webapp.app import create_app
from webapp.store import people, revisions


@pytest.fixture
def administrator(store):
    with store.writing() as connection:
        people.add(connection, "administrator", "invented password", people.ADMINISTRATOR, all_sites=True)
    app = create_app(store.url, SECRET)
    hand = Hand(app)
    hand.sign_in("administrator")
    yield hand
    app.extensions["store"].close()


@pytest.mark.parametrize("fault", [
    {"reason": "a\0b"}, {"reason": "\ud800"}, {"body": a_system("a\0b")}, {"body": a_system("x" * 301)},
    {"body": a_system("x" * 301), "deleted": True}, {"body": dict(a_round(a_system()), system={"a": 1}), "kind": "round"},
    {"made_at": "2026-11-23T09:05:00.123456+01:00:00.123456"}], ids=range(7))
def test_what_the_database_cannot_keep_stops_no_other(administrator, fault):
    sound = a_revision(a_system())
    results = administrator.send(a_revision(a_system()) | fault, sound)
    assert [result["state"] for result in results] == ["refused", "accepted"]


def test_what_the_database_refuses_in_the_midst_of_a_batch_is_undone_alone(administrator, monkeypatch):
    """A bug after half of a revision was stored: a number that is taken ends a whole transaction, unless it stands apart."""
    def twice(connection, revision, *given, right=revisions.add):
        number = right(connection, revision, *given)
        return right(connection, revision, *given) if revision["body"]["name"] == "Unlucky" else number

    monkeypatch.setattr(receive.revisions, "add", twice)
    results = administrator.send(*[a_revision(a_system(name=name)) for name in ("A", "Unlucky", "B")])
    assert [(result["state"], result["number"]) for result in results] == [("accepted", 1), ("refused", None), ("accepted", 2)]
    assert [held["body"]["name"] for held in administrator.feed()["revisions"]] == ["A", "B"]


def test_a_merge_a_clash_and_a_deletion_come_with_the_feed(administrator):
    first = a_revision(a_system(name="Line", area="Hall"))
    theirs, ours = a_revision(dict(first["body"], area="Yard"), first), a_revision(dict(first["body"], name="New"), first)
    late = a_revision(dict(first["body"], name="Other"), first)
    results = administrator.send(first, theirs, ours, late)
    assert [result["state"] for result in results] == ["accepted", "accepted", "merged", "clash"]
    feed = administrator.feed()
    newest = feed["revisions"][-1]
    assert [held["number"] for held in feed["revisions"]] == [1, 2, 3, 4, 5, 6]
    assert (newest["body"]["name"], newest["body"]["area"]) == ("Other", "Yard")
    gone = a_revision(newest["body"], newest, deleted=True)
    assert administrator.send(gone)[0]["number"] == 7
    assert administrator.feed(6)["revisions"][0]["deleted"] is True


def test_a_cursor_as_large_as_it_may_be_finds_nothing(administrator):
    assert administrator.feed(2 ** 31 - 1)["revisions"] == []


@pytest.mark.parametrize("name", ["a\0b", "\ud800", "x" * 5000])
def test_a_name_nobody_can_have_is_only_a_wrong_name(administrator, name):
    assert administrator.sign_in(name).status_code == 401
