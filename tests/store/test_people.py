"""People, phones and the audit, on each database."""
import pytest

from tests.store.conftest import new_id
from webapp.store import NotFound, Taken, people

PASSWORD = "invented password"


@pytest.fixture
def connection(store):
    with store.writing() as connection:
        yield connection


@pytest.fixture
def somebody(connection):
    """Id of a technician."""
    return people.add(connection, "somebody", PASSWORD, people.TECHNICIAN, ["South", "North"])


def test_a_person_is_found_by_id_and_by_name(connection, somebody):
    found = people.get(connection, somebody)
    assert found == people.by_name(connection, "somebody")
    assert (found["role"], found["sites"], found["all_sites"], found["active"]) == ("technician", ["North", "South"], False, True)
    assert "password" not in found


def test_everybody_is_listed_by_name(connection, somebody):
    people.add(connection, "anybody", PASSWORD, people.ADMINISTRATOR, all_sites=True)
    assert [person["name"] for person in people.everybody(connection)] == ["anybody", "somebody"]


@pytest.mark.parametrize("find", [people.get, people.by_name])
def test_nobody_is_not_found(connection, find):
    with pytest.raises(NotFound):
        find(connection, "nobody")


def test_a_name_is_taken_once(connection, somebody):
    with pytest.raises(Taken, match="somebody is in use"):
        people.add(connection, "somebody", PASSWORD, people.TECHNICIAN)


def test_a_role_that_does_not_exist_is_named(connection):
    with pytest.raises(ValueError, match="no role owner"):
        people.add(connection, "somebody", PASSWORD, "owner")


def test_the_right_password_verifies(connection, somebody):
    assert people.verify(connection, "somebody", PASSWORD)["id"] == somebody


@pytest.mark.parametrize("name, password", [("somebody", "wrong"), ("somebody", ""), ("nobody", PASSWORD), ("Somebody", PASSWORD),
                                            ("a\0b", PASSWORD), ("somebody", "\ud800"), ("' OR 1=1 --", PASSWORD)])
def test_anything_else_does_not(connection, somebody, name, password):
    assert people.verify(connection, name, password) is None


def test_passwords_are_kept_only_as_slow_hashes(connection, somebody):
    kept = connection.exec_driver_sql("SELECT password FROM person").scalar()
    assert kept.startswith("$argon2id$") and PASSWORD not in kept


def test_a_new_password_replaces_the_old_and_ends_sessions(connection, somebody):
    before = people.get(connection, somebody)["session_key"]
    people.set_password(connection, somebody, "another password")
    assert people.verify(connection, "somebody", PASSWORD) is None
    assert people.verify(connection, "somebody", "another password")["session_key"] != before


def test_somebody_kept_out_does_not_verify_until_let_in(connection, somebody):
    people.set_active(connection, somebody, False)
    assert people.verify(connection, "somebody", PASSWORD) is None
    people.set_active(connection, somebody, True)
    assert people.verify(connection, "somebody", PASSWORD)


def test_a_phone_is_known_from_its_first_sight(connection, somebody):
    phone = new_id()
    assert people.seen_phone(connection, phone, somebody) is True
    people.sent_by(connection, phone, 3, "round")
    people.sent_by(connection, phone, 2, "system")
    row, = people.phones(connection)
    assert (row["id"], row["name"], row["sent"], row["last_kind"]) == (phone, "somebody", 5, "system")


def test_a_revoked_phone_is_told_until_it_is_let_in_again(connection, somebody):
    phone = new_id()
    people.seen_phone(connection, phone, somebody)
    people.set_revoked(connection, phone, True)
    assert people.is_revoked(connection, phone) and people.seen_phone(connection, phone, somebody) is False
    people.set_revoked(connection, phone, False)
    assert not people.is_revoked(connection, phone)


def test_an_unknown_phone_is_not_revoked(connection):
    assert people.is_revoked(connection, new_id()) is False


def test_the_audit_has_the_newest_first(connection):
    for what in ("first", "second", "third"):
        people.note(connection, "somebody", what, "")
    assert [line["what"] for line in people.audit(connection, 2)] == ["third", "second"]
