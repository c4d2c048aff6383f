"""What pages ask of a store that has grown: the last record of each system, pages of lists, names, verdicts; on each database."""
import pytest

from tests.store.conftest import a_revision, new_id
from webapp.store import revisions, verdicts

ACCEPTED, ENGINE = "accepted", "engine one"


@pytest.fixture
def connection(store):
    with store.writing() as connection:
        yield connection


def add(connection, **changes):
    made = a_revision(**changes)
    revisions.add(connection, made, ACCEPTED)
    return made


def a_system(connection, name, **changes):
    return add(connection, body={"format": "system/1", "name": name, "area": "Yard", "points": [{}, {}]}, **changes)


def a_round(connection, system, day, signed=True, **changes):
    body = {"format": "round/1", "system": system["document"], "made_at": "2026-11-%02dT09:00:00+01:00" % day, "items": []}
    return add(connection, kind="round", body=dict(body, signed={"by": "x"}) if signed else body, **changes)


def test_the_last_signed_record_of_each_system(connection):
    first, second, third = (a_system(connection, name) for name in ("A", "B", "C"))
    newest = a_round(connection, first, 20)
    for day, options in ((19, {}), (21, {"signed": False}), (22, {"deleted": True})):
        a_round(connection, first, day, **options)
    other = a_round(connection, second, 3, site="North works")
    found = {system: one["id"] for system, one in revisions.last_of_each(connection, "round").items()}
    assert found == {first["document"]: newest["id"], second["document"]: other["id"]}
    assert set(revisions.last_of_each(connection, "round", systems=[second["document"], third["document"]])) == {second["document"]}
    assert revisions.last_of_each(connection, "round", ["Elsewhere"]) == {}


def test_pages_of_records_and_of_revisions_join_without_a_gap(connection):
    system = a_system(connection, "A")
    made = [a_round(connection, system, day)["id"] for day in range(1, 8)]
    pages = [revisions.newest_of_kind(connection, "round", systems=[system["document"]], most=3, start=start) for start in (0, 3, 6, 9)]
    assert [[one["id"] for one in page] for page in pages] == [made[4:7], made[1:4], made[:1], []]
    for _ in range(4):
        add(connection, document=system["document"])
    assert [one["number"] for one in revisions.history(connection, system["document"], 3, 1)] == [11, 10, 9]


def test_a_verdict_holds_for_the_revision_and_the_engine_that_it_was_worked_with(connection):
    system = a_system(connection, "A")
    (waiting, revision, body), = verdicts.pending(connection, ENGINE, 10)
    assert (waiting, revision, body["name"]) == (system["document"], system["id"], "A")
    stop = [{"severity": "stop", "where": "", "id": "x", "with": {}}]
    verdicts.keep(connection, system["document"], new_id(), ENGINE, stop, {})  # of a revision that has been replaced meanwhile
    assert verdicts.pending(connection, ENGINE, 10)
    verdicts.keep(connection, system["document"], system["id"], ENGINE, stop, {})
    assert verdicts.pending(connection, ENGINE, 10) == [] and verdicts.pending(connection, "engine two", 10)
    row, = verdicts.listed(connection, ENGINE, None)
    assert (row["state"], row["findings"], row["points"], row["area"]) == ("stop", stop, 2, "Yard")
    row, = verdicts.listed(connection, "engine two", None)
    assert (row["state"], row["findings"]) == ("working", [])
    a_system(connection, "A again", document=system["document"])
    assert verdicts.listed(connection, ENGINE, None)[0]["state"] == "working"


def test_lists_of_systems_by_state_area_and_site(connection):
    made = {name: a_system(connection, name, site=site) for name, site in (("A", "North"), ("B", "North"), ("C", "South"))}
    gone = a_system(connection, "Gone")
    a_system(connection, "Gone", document=gone["document"], deleted=True)
    for name, severity in (("A", None), ("B", "warn")):
        verdicts.keep(connection, made[name]["document"], made[name]["id"], ENGINE,
                      [{"severity": severity, "where": "", "id": "x", "with": {}}] if severity else [], {"worked": name})

    def names(*arguments, **narrowed):
        return [row["name"] for row in verdicts.listed(connection, ENGINE, *arguments, **narrowed)]

    assert names(None) == ["B", "C", "A"] and names(["North"]) == ["B", "A"] and names([]) == []
    assert names(None, 1, 1) == ["C"] and names(None, state="holds") == ["A"] and names(None, area="Hall") == []
    assert verdicts.counts(connection, ENGINE, None) == {"stop": 0, "warn": 1, "working": 1, "holds": 1}
    assert verdicts.areas(connection, None) == (["North", "South"], ["Yard"])
    assert verdicts.worked(connection, ENGINE, ["North"]) == {made[name]["document"]: {"worked": name} for name in "AB"}
    assert verdicts.worked(connection, "engine two") == {}
    assert verdicts.names(connection, [made["A"]["document"], new_id(), None]) == {made["A"]["document"]: "A"}


def test_a_name_that_not_every_database_can_hold_is_listed_without_its_zero(connection):
    a_system(connection, "a\0b")
    assert verdicts.listed(connection, ENGINE, None)[0]["name"] == "ab"


def test_the_feed_of_a_phone_leaves_out_signed_rounds_beyond_the_newest_of_each_system(connection):
    first, second = (a_system(connection, name) for name in ("A", "B"))
    made = {day: a_round(connection, first, day)["id"] for day in (1, 2, 3, 4)}
    unsigned, other = a_round(connection, first, 1, signed=False)["id"], a_round(connection, second, 1)["id"]

    def ids(*arguments):
        return {one["id"] for one in revisions.feed(connection, *arguments)[0]}

    kept = {first["id"], second["id"], unsigned, other}
    assert ids(0, 100, None, 2) == kept | {made[3], made[4]}
    assert ids(0, 100, None, 4) == ids(0, 100) == kept | set(made.values())
    assert ids(0, 100, ["Elsewhere"], 2) == set()
    found, cursor, more = revisions.feed(connection, 2, 1, None, 2)
    assert ([one["id"] for one in found], cursor, more) == ([made[3]], 5, True)
    assert revisions.feed(connection, 6, 1, None, 1)[1:] == (7, True)


def test_a_round_that_holds_the_last_answer_to_an_item_stays_in_the_feed(connection):
    system = a_system(connection, "A")
    yearly = [{"id": "relief", "answer": "ok"}, {"id": "level", "answer": "ok"}]
    made = []
    for day, items in ((1, yearly), (2, yearly[1:]), (3, yearly[1:]), (4, yearly[1:])):
        body = {"format": "round/1", "system": system["document"], "made_at": "2026-11-%02dT09:00:00+01:00" % day, "items": items,
                "signed": {"by": "x"}}
        made.append(add(connection, kind="round", body=body, made_at=body["made_at"])["id"])
    assert [one["id"] for one in revisions.feed(connection, 1, 100, None, 1)[0]] == [made[0], made[3]]


def test_a_corrected_and_a_deleted_round_come_as_they_must(connection):
    system = a_system(connection, "A")
    made = [a_round(connection, system, day) for day in (1, 2, 3)]
    corrected = add(connection, kind="round", document=made[2]["document"], body=dict(made[2]["body"], note="Corrected"))
    gone = add(connection, kind="round", document=made[0]["document"], body={}, deleted=True)
    found = [one["id"] for one in revisions.feed(connection, 1, 100, None, 1)[0]]
    assert corrected["id"] in found and gone["id"] in found and made[1]["id"] not in found
