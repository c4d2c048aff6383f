"""People, their phones, and the record of who did what."""
import hmac
import json
import secrets
import uuid

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from sqlalchemy import insert, select, update

from . import schema
from .database import is_text
from .errors import NotFound, Taken
from .times import now

TECHNICIAN, SUPERVISOR, ADMINISTRATOR = "technician", "supervisor", "administrator"
ROLES = (TECHNICIAN, SUPERVISOR, ADMINISTRATOR)
SHORTEST_PASSWORD = 10

_hasher = PasswordHasher()
# somebody unknown costs the same work as somebody known
_NOBODY = _hasher.hash(secrets.token_hex(16))


def _person(row):
    return {"id": row.id, "name": row.name, "role": row.role, "sites": json.loads(row.sites), "all_sites": row.all_sites,
            "active": row.active, "session_key": row.session_key, "calendar_key": row.calendar_key}


def add(connection, name, password, role, sites=(), all_sites=False):
    """Add a person; returns their id. Raises Taken, and ValueError for a role that does not exist."""
    if role not in ROLES:
        raise ValueError("there is no role %s" % role)
    if connection.execute(select(schema.person.c.id).where(schema.person.c.name == name)).first():
        raise Taken("The name %s is in use already." % name)
    identity = str(uuid.uuid4())
    connection.execute(insert(schema.person).values(
        id=identity, name=name, password=_hasher.hash(password), role=role, sites=json.dumps(sorted(sites)),
        all_sites=all_sites, active=True, session_key=secrets.token_hex(16)))
    return identity


def verify(connection, name, password):
    """The active person of that name and password, or None. Takes the same time for names that do not exist."""
    if not is_text(name) or not is_text(password):
        return None
    row = connection.execute(select(schema.person).where(schema.person.c.name == name)).first()
    try:
        _hasher.verify(row.password if row else _NOBODY, password)
    except (VerificationError, InvalidHashError):
        return None
    return _person(row) if row and row.active else None


def get(connection, identity):
    """One person. Raises NotFound."""
    row = connection.execute(select(schema.person).where(schema.person.c.id == identity)).first()
    if row is None:
        raise NotFound("There is no such person.")
    return _person(row)


def by_name(connection, name):
    """One person by name. Raises NotFound."""
    row = connection.execute(select(schema.person).where(schema.person.c.name == name)).first()
    if row is None:
        raise NotFound("There is nobody called %s." % name)
    return _person(row)


def everybody(connection):
    """All people by name."""
    return [_person(row) for row in connection.execute(select(schema.person).order_by(schema.person.c.name))]


def set_password(connection, identity, password):
    """Set a new password and end all sessions of the person."""
    connection.execute(update(schema.person).where(schema.person.c.id == identity).values(
        password=_hasher.hash(password), session_key=secrets.token_hex(16)))


def set_role(connection, identity, role):
    """Give a person another role; holds from their next request on."""
    connection.execute(update(schema.person).where(schema.person.c.id == identity).values(role=role))


def set_sites(connection, identity, sites, all_sites=False):
    """Let a person work on these sites alone, or on all; holds from their next request on."""
    connection.execute(update(schema.person).where(schema.person.c.id == identity).values(
        sites=json.dumps(sorted(sites)), all_sites=all_sites))


def set_active(connection, identity, active):
    """Let somebody in or keep them out; ends their sessions."""
    connection.execute(update(schema.person).where(schema.person.c.id == identity).values(
        active=active, session_key=secrets.token_hex(16)))


def set_calendar_key(connection, identity, key):
    """Give a person's calendar a new secret key; the old address ends. None: it has no address any more."""
    connection.execute(update(schema.person).where(schema.person.c.id == identity).values(calendar_key=key))


def by_calendar_key(connection, key):
    """The active person of a calendar's key, or None. All keys are compared, each in the same time, so that none can be guessed by it."""
    held = schema.person.c
    found = None
    for row in connection.execute(select(schema.person).where(held.calendar_key.is_not(None), held.active)):
        if hmac.compare_digest(row.calendar_key.encode(), key.encode()):
            found = row
    return _person(found) if found else None


def seen_phone(connection, phone, person):
    """Note that a phone was seen with a person; False if it has been revoked."""
    row = connection.execute(select(schema.phone).where(schema.phone.c.id == phone)).first()
    if row is None:
        connection.execute(insert(schema.phone).values(id=phone, person=person, first_seen=now(), last_seen=now(), sent=0,
                                                       revoked=False))
        return True
    connection.execute(update(schema.phone).where(schema.phone.c.id == phone).values(person=person, last_seen=now()))
    return not row.revoked


def sent_by(connection, phone, count, kind):
    """Note that a phone sent revisions."""
    connection.execute(update(schema.phone).where(schema.phone.c.id == phone).values(
        last_sent=now(), last_kind=kind, sent=schema.phone.c.sent + count))


def phones(connection):
    """All phones, the one that sent last first."""
    rows = connection.execute(select(schema.phone, schema.person.c.name).outerjoin(
        schema.person, schema.person.c.id == schema.phone.c.person)).mappings()
    return sorted([dict(row) for row in rows], key=lambda row: row["last_sent"] or "", reverse=True)


def is_revoked(connection, phone):
    """True for a phone that was revoked."""
    return bool(connection.execute(select(schema.phone.c.revoked).where(schema.phone.c.id == phone)).scalar())


def set_revoked(connection, phone, revoked):
    """Revoke a phone, or let it in again. Raises NotFound."""
    if not connection.execute(update(schema.phone).where(schema.phone.c.id == phone).values(revoked=revoked)).rowcount:
        raise NotFound("There is no such phone.")


def note(connection, who, what, about):
    """Write a line into the audit."""
    connection.execute(insert(schema.audit).values(at=now(), who=who, what=what, about=about))


def audit(connection, most=200):
    """The newest lines of the audit."""
    rows = connection.execute(select(schema.audit).order_by(schema.audit.c.id.desc()).limit(most)).mappings()
    return [dict(row) for row in rows]
