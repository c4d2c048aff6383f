"""Revisions and the documents they make up, on each database."""
import pytest

from tests.store.conftest import a_revision, new_id
from webapp.store import NotFound, revisions

ACCEPTED = "accepted"


@pytest.fixture
def connection(store):
    with store.writing() as connection:
        yield connection


def test_a_revision_is_found_as_it_was_added(connection):
    made = a_revision(body={"name": "Linie ü 日本 \U0001F6E2", "x": [1.5, True, None, {"deep": "\0 in JSON"}], "": ""},
                      reason="why", phone=new_id(), also=new_id(), parent=new_id())
    number = revisions.add(connection, made, "clash", ["name"])
    held = revisions.find(connection, made["id"])
    assert {name: held[name] for name in made} == made
    assert (held["number"], held["state"], held["fields"]) == (number, "clash", ["name"])
    assert held["received_at"].endswith("+00:00")


def test_what_is_not_there_is_none(connection):
    assert revisions.find(connection, new_id()) is None
    assert revisions.document(connection, new_id()) is None
    assert revisions.history(connection, new_id()) == []


def test_the_newest_of_no_document_is_not_found(connection):
    with pytest.raises(NotFound, match="no such document"):
        revisions.newest(connection, new_id())


def test_numbers_count_up_from_one(connection):
    assert [revisions.add(connection, a_revision(), ACCEPTED) for _ in range(3)] == [1, 2, 3]


def test_the_newest_revision_is_the_documents_face(connection):
    first = a_revision()
    second = a_revision(first["document"], parent=first["id"], body={"name": "Other"}, site="Elsewhere")
    revisions.add(connection, first, ACCEPTED)
    revisions.add(connection, second, ACCEPTED)
    assert revisions.newest(connection, first["document"])["id"] == second["id"]
    held = revisions.document(connection, first["document"])
    assert (held["head"], held["site"], held["deleted"], held["clash"]) == (second["id"], "Elsewhere", False, [])


def test_the_history_has_the_newest_first(connection):
    first = a_revision()
    second = a_revision(first["document"], parent=first["id"])
    for revision in (first, a_revision(), second):
        revisions.add(connection, revision, ACCEPTED)
    assert [held["id"] for held in revisions.history(connection, first["document"])] == [second["id"], first["id"]]


def test_a_clash_is_kept_until_it_is_replaced(connection):
    first, mark = a_revision(), [{"ours": "a", "theirs": "b", "fields": ["name"]}]
    revisions.add(connection, first, ACCEPTED)
    revisions.add(connection, a_revision(first["document"]), "clash", ["name"], mark)
    revisions.add(connection, a_revision(first["document"]), ACCEPTED)
    assert revisions.document(connection, first["document"])["clash"] == mark
    revisions.add(connection, a_revision(first["document"]), ACCEPTED, clash=[])
    assert revisions.document(connection, first["document"])["clash"] == []


def test_lists_show_a_kind_a_site_a_system_and_nothing_deleted(connection):
    system = a_revision()
    walked = a_revision(kind="round", body={"format": "round/1", "system": system["document"]})
    elsewhere, gone = a_revision(site="Elsewhere"), a_revision(deleted=True)
    for revision in (system, walked, elsewhere, gone):
        revisions.add(connection, revision, ACCEPTED)

    def listed(*arguments, **options):
        return [held["id"] for held in revisions.newest_of_kind(connection, *arguments, **options)]

    assert listed("system") == [system["id"], elsewhere["id"]]
    assert listed("system", ["Elsewhere"]) == [elsewhere["id"]]
    assert listed("system", []) == []
    assert listed("round", systems=[system["document"]]) == [walked["id"]]
    assert listed("round", systems=[new_id()]) == []
    assert listed("system", deleted=True) == [gone["id"]]


def test_sites_are_named_once(connection):
    for site in ("South", "North", "South"):
        revisions.add(connection, a_revision(site=site), ACCEPTED)
    assert revisions.sites(connection) == ["North", "South"]


def test_the_feed_goes_on_where_it_stopped(connection):
    for number in range(5):
        revisions.add(connection, a_revision(site="North" if number % 2 else "South"), ACCEPTED)

    def numbers(*arguments):
        found, cursor, more = revisions.feed(connection, *arguments)
        return [held["number"] for held in found], cursor, more

    assert numbers(0, 2) == ([1, 2], 2, True)
    assert numbers(2, 3) == ([3, 4, 5], 5, False)
    assert numbers(5, 3) == ([], 5, False)
    assert numbers(0, 9, ["North"]) == ([2, 4], 5, False)
    assert numbers(0, 1, ["North"]) == ([2], 2, True)


def test_what_fails_in_between_is_undone_and_leaves_no_gap(store):
    with pytest.raises(ZeroDivisionError), store.writing() as connection:
        revisions.add(connection, a_revision(), ACCEPTED)
        raise ZeroDivisionError
    with store.writing() as connection:
        assert revisions.count(connection) == 0
        assert revisions.add(connection, a_revision(), ACCEPTED) == 1


def test_records_go_along_when_their_system_moves(connection):
    system, other = a_revision(site="North"), a_revision(site="North")
    kept = [a_revision(kind="note", site="North", body={"system": one["document"]}) for one in (system, other)]
    for one in (system, other, *kept, a_revision(system["document"], parent=system["id"], site="South")):
        revisions.add(connection, one, ACCEPTED)
    assert [one["document"] for one in revisions.newest_of_kind(connection, "note", ["South"])] == [kept[0]["document"]]
    for found in (revisions.newest, revisions.document):
        assert [found(connection, one["document"])["site"] for one in kept] == ["South", "North"]
    assert {one["document"]: one["site"] for one in revisions.every_newest(connection, "note")} == {
        kept[0]["document"]: "South", kept[1]["document"]: "North"}
