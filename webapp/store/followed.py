"""What follows from a revision as it is stored: last answers of a system's rounds, which documents name which photo, a system's place
in lists."""
import json
import re

from sqlalchemy import delete, insert, select

from . import schema, verdicts
from .times import utc

_HASH = re.compile("[0-9a-f]{64}")  # anything else can never come


def photos_in(thing):
    """{hash: entry} of all photos that a body names, in its order; of one that is named twice, the first entry."""
    found, stack = {}, [thing]
    while stack:
        part = stack.pop()
        if isinstance(part, dict):
            photos = part.get("photos") if isinstance(part.get("photos"), list) else []
            for one in photos:
                if isinstance(one, dict) and _is_hash(one.get("sha256")):
                    found.setdefault(one["sha256"], one)
            stack += [inner for key, inner in reversed(list(part.items())) if key != "photos"]
        elif isinstance(part, list):
            stack += reversed(part)
    return found


def _is_hash(text):
    return isinstance(text, str) and bool(_HASH.fullmatch(text))


def _photos(connection, revision):
    named, table = photos_in(revision["body"]), schema.photo_of
    if not named:
        return
    held = set(connection.execute(select(table.c.sha256).where(table.c.document == revision["document"])).scalars())
    new = [{"sha256": sha256, "document": revision["document"]} for sha256 in named if sha256 not in held]
    if new:
        connection.execute(insert(table), new)


def _well(item):
    """True for what was found well: ok, or a reading that is not above its limit."""
    limit, value = item.get("high"), item.get("value")
    return item["answer"] == "ok" or item["answer"] == "reading" and value is not None and (limit is None or value <= limit)


def _row(system, item, written, document):
    at = utc(written)
    kept = dict(item, at=written, since=at, ok_at=at if _well(item) else None)
    return {"system": system, "item": item["id"], "at": at, "document": document, "answer": kept}


def _later(one, other):
    """The later of two answers to an item, with since when it is the same, when it last was well, and the lowest reading before it."""
    older, newer = (one, other) if other["at"] >= one["at"] else (other, one)
    before, kept = dict(older["answer"]), dict(newer["answer"])
    again = older["document"] == newer["document"]  # a correction of the same round counts alone
    if again and before.get("ok_at") == older["at"]:
        before["ok_at"] = None
    if before["answer"] == kept["answer"]:
        kept["since"] = before.get("since") or older["at"]
    kept["ok_at"] = max(before.get("ok_at") or "", kept.get("ok_at") or "") or None
    read = [one for one in (before.get("lowest"), kept.get("lowest"), None if again else _reading(before)) if one]
    if read:
        kept["lowest"] = min(read, key=lambda one: (one["value"], utc(one["at"])))
    return dict(newer, answer=kept)


def _reading(item):
    """What was read, and when; None where it is no reading."""
    value = item.get("value")
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    return {"value": value, "at": item.get("at")} if item["answer"] == "reading" and number else None


def _answers(connection, revision):
    table, system = schema.answered, revision["body"]["system"]
    rows = connection.execute(select(table).where(table.c.system == system)).mappings()
    new = newer_answers({row["item"]: dict(row, answer=json.loads(row["answer"])) for row in rows}, revision)
    if new:
        connection.execute(delete(table).where(table.c.system == system, table.c.item.in_(list(new))))
        write_answers(connection, new.values())


def newer_answers(last, revision):
    """{item: row} of what a signed round answered, each with what was answered before; last: {item: row} of the same system.

    A row is one of the table `answered`, its `answer` not a text yet.
    """
    new, system = {}, revision["body"]["system"]
    for item in revision["body"].get("items") or []:
        if item.get("answer", "not done") != "not done":
            row = _row(system, item, item.get("at") or revision["body"].get("made_at") or revision["made_at"], revision["document"])
            new[item["id"]] = _later(last[item["id"]], row) if item["id"] in last else row
    return new


def write_answers(connection, rows):
    """Insert rows of newer_answers."""
    connection.execute(insert(schema.answered), [dict(row, answer=json.dumps(row["answer"], ensure_ascii=False)) for row in rows])


def follow(connection, revision, answers=_answers):
    """Bring up to date what others read instead of searching through bodies.

    answers  called with the connection and a signed round: how its answers are kept
    """
    if revision.get("deleted"):
        return
    _photos(connection, revision)
    if revision["kind"] == "system":
        verdicts.follow(connection, revision)
    if revision["kind"] == "round" and revision["body"].get("signed"):
        answers(connection, revision)


def last_answers(connection, systems=None):
    """{system: {item's key: {"at" (UTC), "document", "answer": the item as it was answered, with `since`, `ok_at` and `lowest`}}}.

    systems  narrowed to these; None: all
    """
    query, out = select(schema.answered), {}
    for row in connection.execute(query if systems is None else query.where(schema.answered.c.system.in_(systems))):
        out.setdefault(row.system, {})[row.item] = {"at": row.at, "document": row.document, "answer": json.loads(row.answer)}
    return out


def documents_with(connection, sha256):
    """Ids of the documents that name a photo."""
    return list(connection.execute(select(schema.photo_of.c.document).where(schema.photo_of.c.sha256 == sha256)).scalars())
