"""Photos as rows, on each database: what came of them, and on which sites they may be seen."""
from webapp.store import photos, revisions

from .conftest import a_revision

FIRST, SECOND = "a" * 64, "b" * 64


def round_with(site, *hashes):
    items = [{"id": "pump", "photos": [{"sha256": sha256} for sha256 in hashes]}]
    return a_revision(kind="round", site=site, body={"format": "round/1", "system": "s", "items": items})


def test_pieces_count_up_complete_and_are_forgotten(store):
    with store.writing() as connection:
        assert photos.get(connection, FIRST) == {"received": 0, "complete": False, "kept_sha256": None}
        for sha256, count in ((FIRST, 100), (FIRST, 250), (SECOND, 7)):
            photos.received(connection, sha256, count)
        photos.completed(connection, FIRST, SECOND)
    with store.writing() as connection:
        assert photos.get(connection, FIRST) == {"received": 250, "complete": True, "kept_sha256": SECOND}
        for sha256 in (FIRST, SECOND):
            photos.forget(connection, sha256)
        assert photos.all_complete(connection) == {FIRST: SECOND}
        assert photos.get(connection, SECOND)["received"] == 0


def test_the_sites_of_a_photo_are_those_of_the_documents_that_name_it(store):
    with store.writing() as connection:
        revisions.add(connection, round_with("North works", FIRST, SECOND), "accepted")
        revisions.add(connection, round_with("South works", SECOND, "no hash", "c" * 300), "accepted")
        assert photos.sites_of(connection, FIRST) == {"North works"}
        assert photos.sites_of(connection, SECOND) == {"North works", "South works"}
        assert photos.sites_of(connection, "c" * 300) == photos.sites_of(connection, "no hash") == set()
