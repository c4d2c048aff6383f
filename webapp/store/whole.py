"""The whole store, part by part, as plain rows that go out and come in again. What follows from others (heads, last answers,
verdicts) is made anew as it comes in; papers in the making (`job`) stay where they are."""
import json
import secrets as chance
from collections import OrderedDict

from sqlalchemy import Boolean, Integer, String, insert, select, update

from . import followed, revisions, schema
from .database import is_text
from .errors import StoreError

_SECRET = ("password", "session_key", "calendar_key")
_REVISIONS, _CLASHES, _PEOPLE, _SECRETS, _PHONES, _PHOTOS, _AUDIT = (
    "revisions", "clashes", "people", "secrets", "phones", "photos", "audit")
# part -> its columns; those that hold JSON are lists or objects in a row
_COLUMNS = OrderedDict((
    (_PEOPLE, [one for one in schema.person.c if one.name not in _SECRET]),
    (_SECRETS, [one for one in schema.person.c if one.name in ("id",) + _SECRET]),
    (_PHONES, list(schema.phone.c)),
    (_REVISIONS, list(schema.revision.c)),
    (_CLASHES, [schema.document.c.id, schema.document.c.clash]),
    (_PHOTOS, list(schema.photo.c)),
    (_AUDIT, [one for one in schema.audit.c if one.name != "id"])))
PARTS = tuple(_COLUMNS)
_JSON = {"sites": list, "fields": list, "clash": list, "body": dict}
# each table is a part or is made anew from one; a test asks for it
MADE_ANEW = ("counter", "document", "answered", "photo_of", "verdict", "job")


class BadRow(StoreError):
    """A row cannot come in; the text says why."""


def rows(connection, part):
    """The rows of a part: revisions and audit as they came, all else by its id; of photos those that are here whole."""
    if part == _REVISIONS:
        return revisions.every(connection)
    columns = _COLUMNS[part]
    query = select(*columns)
    if part == _AUDIT:
        found = connection.execution_options(yield_per=500).execute(query.order_by(schema.audit.c.id))
        return (dict(row._mapping) for row in found)
    if part == _CLASHES:
        query = query.where(schema.document.c.clash != "[]")
    if part == _PHOTOS:  # of others the phones still have all: they send them anew
        query = query.where(schema.photo.c.complete)
    # sorted here: databases order texts by their own rules
    return sorted((_plain(row._mapping) for row in connection.execute(query)), key=lambda row: row[columns[0].name])


def _plain(row):
    return {name: json.loads(value) if name in _JSON else value for name, value in row.items()}


def is_empty(connection):
    """True where nothing has come in yet."""
    return not any(connection.execute(select(table).limit(1)).first() for table in (
        schema.revision, schema.document, schema.person, schema.phone, schema.photo, schema.audit))


def _fault(column, value):
    """What is wrong with a value for a column, in words; None where nothing is."""
    if value is None:
        return None if column.nullable else "is missing"
    if column.name in _JSON:
        return None if isinstance(value, _JSON[column.name]) else "is not of its kind"
    if isinstance(column.type, Boolean):
        return None if isinstance(value, bool) else "is neither true nor false"
    if isinstance(column.type, Integer):
        return None if isinstance(value, int) and not isinstance(value, bool) and 0 <= value < 2 ** 31 else "is no number that fits"
    if not is_text(value):
        return "is no text that can be kept"
    long = isinstance(column.type, String) and column.type.length and len(value) > column.type.length
    return "is longer than %d letters" % column.type.length if long else None


class Restoring:
    """Puts rows into an empty store, inside one transaction: `put` them part by part in the order of PARTS, then `end`."""

    def __init__(self, connection):
        self._connection, self._answers, self._number = connection, {}, 0
        self.without_password = {}  # id -> name of people who cannot sign in until they get a new one

    def put(self, part, row):
        """Put one row. Raises BadRow."""
        if not isinstance(row, dict):
            raise BadRow("it is no object")
        for column in _COLUMNS[part]:
            fault = _fault(column, row.get(column.name))
            if fault:
                raise BadRow("%s %s" % (column.name, fault))
        row = {column.name: row.get(column.name) for column in _COLUMNS[part]}
        of_part = {_REVISIONS: self._revision, _PEOPLE: self._person, _SECRETS: self._secret, _CLASHES: self._clash}
        of_part.get(part, self._plain_row)(part, row)

    def _plain_row(self, part, row):
        self._connection.execute(insert(_COLUMNS[part][0].table), row)

    def _revision(self, _, row):
        if row["number"] != self._number + 1:
            raise BadRow("its number is %d, and the one before it %d" % (row["number"], self._number))
        self._number = row["number"]
        try:
            revisions.restore(self._connection, row, self._keep_answers)
        except (AttributeError, KeyError, TypeError, ValueError) as error:
            raise BadRow("its body is no document") from error

    def _keep_answers(self, _, revision):
        """Answers are kept here and written in the end: a system's items, not its history."""
        held = self._answers.setdefault(revision["body"]["system"], {})
        held.update(followed.newer_answers(held, revision))

    def _person(self, part, row):
        self.without_password[row["id"]] = row["name"]
        self._plain_row(part, dict(row, sites=json.dumps(row["sites"]), password="", session_key=chance.token_hex(16)))

    def _secret(self, _, row):
        if self.without_password.pop(row["id"], None) is None:
            raise BadRow("there is no such person")
        self._connection.execute(update(schema.person).where(schema.person.c.id == row["id"]).values(
            {name: row[name] for name in _SECRET}))

    def _clash(self, _, row):
        change = update(schema.document).where(schema.document.c.id == row["id"]).values(clash=json.dumps(row["clash"]))
        if not self._connection.execute(change).rowcount:
            raise BadRow("there is no such document")

    def end(self):
        """Write what follows from all rows; nothing may be put afterwards."""
        self._connection.execute(update(schema.counter).values(number=self._number))
        answers = [row for held in self._answers.values() for row in held.values()]
        if answers:
            followed.write_answers(self._connection, answers)
