"""What a page asks of the store steps into an index: SQLite's own plan of each query walks through no table of the history."""
import pytest
from sqlalchemy import event

from tests.store.conftest import a_revision
from webapp.store import Store, followed, photos, revisions, verdicts

SITES = ["North works", "South works"]
# of revisions the last few, by number, may be walked to: a limit ends it
WALKS = "SCAN revision USING INDEX"
ASKED = {
    "feed": lambda c, system: revisions.feed(c, 5, 200), "feed of a phone": lambda c, system: revisions.feed(c, 5, 200, SITES, 110),
    "latest": lambda c, system: revisions.latest(c, 20, SITES), "sites": lambda c, system: revisions.sites(c),
    "history": lambda c, system: revisions.history(c, system, 10), "last of each": lambda c, system: revisions.last_of_each(c, "round", SITES),
    "last few of each": lambda c, system: revisions.last_few_of_each(c, "refill", SITES, most=8),
    "last few of these until": lambda c, system: revisions.last_few_of_each(c, "refill", systems=[system, "x"], most=8, until="2026-11-01"),
    "standing ones": lambda c, system: revisions.newest_of_kind(c, "defect", systems=[system, "x"], touched="2026-11-01"),
    "a month": lambda c, system: revisions.newest_of_kind(c, "round", SITES, since="2026-10-01", until="2026-11-01"),
    "newest of all": lambda c, system: revisions.newest_of_kind(c, "round", most=20),
    "newest of a system": lambda c, system: revisions.newest_of_kind(c, "round", systems=[system], most=20),
    "open ones": lambda c, system: revisions.newest_of_kind(c, "defect", SITES, open_only=True),
    "begun": lambda c, system: revisions.begun(c, [system, "x"]),
    "answers": lambda c, system: followed.last_answers(c, [system, "x"]), "photo": lambda c, system: followed.documents_with(c, "x"),
    "photos here": lambda c, system: photos.complete(c, ["x", "y"]),
    "systems": lambda c, system: verdicts.listed(c, "engine", SITES, 0, 50), "counts": lambda c, system: verdicts.counts(c, "engine", None),
    "one system": lambda c, system: verdicts.listed(c, "engine", None, system=system),
    "areas": lambda c, system: verdicts.areas(c, None), "clashes": lambda c, system: verdicts.clashes(c, SITES)}


@pytest.fixture
def store(tmp_path):
    store = Store("sqlite:///%s" % (tmp_path / "plant.sqlite"))
    store.migrate()
    yield store
    store.close()


@pytest.mark.parametrize("name", ASKED)
def test_no_page_walks_through_the_history(store, name):
    asked = []
    event.listen(store.engine, "after_cursor_execute", lambda *about: asked.append(about[2:4]))
    with store.writing() as connection:
        system = a_revision()
        revisions.add(connection, system, "accepted")
        asked.clear()
        ASKED[name](connection, system["document"])
        queries = [query for query in asked if query[0].startswith("SELECT")]
        plans = [row[3] for text, values in queries for row in connection.exec_driver_sql("EXPLAIN QUERY PLAN " + text, values)]
    assert queries and any("SEARCH" in step or WALKS in step for step in plans)
    assert not [step for step in plans if step.startswith(("SCAN document", "SCAN revision", "SCAN answered")) and WALKS not in step], plans


def test_what_is_open_and_what_was_last_signed_have_an_index_each(store):
    with store.reading() as connection:
        def plan(text):
            return str([row[3] for row in connection.exec_driver_sql("EXPLAIN QUERY PLAN SELECT head FROM document WHERE " + text)])

        assert "ix_document_open" in plan("kind = 'round' AND deleted = 0 AND open = 1 ORDER BY made_at DESC")
        assert "ix_document_kind_system_made_at" in plan("kind = 'round' AND system = 'x' AND open = 0 ORDER BY made_at DESC LIMIT 1")
