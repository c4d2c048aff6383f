"""Migrations, transactions, and errors of the database that become ours."""
import sqlite3

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import inspect

from tests.store.conftest import a_revision
from webapp.store import NotFound, Store, StoreError, Taken, is_text, people, revisions
from webapp.store.schema import metadata


def test_migrations_up_from_nothing_match_the_tables_of_the_code(store):
    with store.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True, "compare_server_default": True})
        assert compare_metadata(context, metadata) == []


def test_migrating_twice_changes_nothing(store):
    with store.writing() as connection:
        revisions.add(connection, a_revision(), "accepted")
    store.migrate()
    with store.reading() as connection:
        assert revisions.count(connection) == 1


def test_a_store_opened_again_holds_what_it_held(store, url):
    made = a_revision()
    with store.writing() as connection:
        revisions.add(connection, made, "accepted")
    store.close()
    again = Store(url)
    with again.reading() as connection:
        assert revisions.find(connection, made["id"])["body"] == made["body"]
    again.close()


def test_it_answers_when_it_is_migrated_and_says_so_when_it_is_not(url):
    store = Store(url)
    with pytest.raises(StoreError, match="counter"):
        store.answers()
    store.migrate()
    assert store.answers() is True
    store.close()


def test_the_same_id_twice_is_an_error_of_the_store(store):
    made = a_revision()
    with pytest.raises(StoreError, match="database"), store.writing() as connection:
        revisions.add(connection, made, "accepted")
        revisions.add(connection, made, "accepted")


def test_a_table_that_is_gone_is_an_error_of_the_store(store):
    with store.writing() as connection:
        connection.exec_driver_sql("DROP TABLE audit")
    with pytest.raises(StoreError, match="audit"), store.reading() as connection:
        people.audit(connection)


def test_a_bug_is_not_taken_for_an_error_of_the_database(store):
    with pytest.raises(KeyError), store.reading() as connection:
        connection.info["nothing of this name"]


def test_errors_of_the_store_have_one_root():
    assert issubclass(NotFound, StoreError) and issubclass(Taken, StoreError)


def test_a_newer_databases_migrations_are_not_known(store):
    with store.writing() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '9999'")
    with pytest.raises(StoreError, match="newer"):
        store.migrate()


@pytest.mark.parametrize("url", ["nonsense", "mysterious://x/y", "", "sqlite:////no/such/folder/plant.sqlite",
                                 "postgresql://plant@127.0.0.1:1/plant?connect_timeout=2"])
def test_an_address_that_leads_nowhere_is_an_error_of_the_store(url):
    with pytest.raises(StoreError):
        Store(url).migrate()


def test_a_file_that_is_no_database_is_an_error_of_the_store(tmp_path):
    (tmp_path / "plant.sqlite").write_text("This is a letter, not a database. " * 100)
    with pytest.raises(StoreError, match="not a database"):
        Store("sqlite:///%s" % (tmp_path / "plant.sqlite")).migrate()


def test_a_locked_file_is_an_error_of_the_store_in_the_end(tmp_path, monkeypatch):
    monkeypatch.setattr("webapp.store.database._BUSY_S", 0.1)
    store = Store("sqlite:///%s" % (tmp_path / "plant.sqlite"))
    store.migrate()
    other = sqlite3.connect(tmp_path / "plant.sqlite", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(StoreError, match="locked"), store.writing():
        pass
    other.close()
    store.close()


def test_sqlite_is_set_so_that_a_commit_is_on_disk(tmp_path):
    store = Store("sqlite:///%s" % (tmp_path / "plant.sqlite"))
    with store.engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA synchronous").scalar() == 2
        assert connection.exec_driver_sql("PRAGMA journal_mode").scalar() == "wal"
    store.close()


def test_the_tables_are_those_of_the_code(store):
    assert set(inspect(store.engine).get_table_names()) == set(metadata.tables) | {"alembic_version"}


@pytest.mark.parametrize("value, kept", [("", True), ("ü 日本 \U0001F6E2", True), ("a\0b", False), ("\ud800", False), (None, False)])
def test_texts_that_every_database_keeps(value, kept):
    assert is_text(value) is kept
