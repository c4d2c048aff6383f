"""What follows from a revision as it is stored: the last answers of a system's rounds, and which documents name which photo."""
import json
import re

from sqlalchemy import delete, insert, select

from . import schema
from .times import utc

_HASH = re.compile("[0-9a-f]{64}")  # anything else can never come


def follow(connection, revision):
    """Bring up to date what others read instead of searching through bodies."""
    if revision.get("deleted"):
        return
    _photos(connection, revision)
    if revision["kind"] == "round" and revision["body"].get("signed"):
        _answers(connection, revision)


def photos_in(thing):
    """Hashes of all photos that a body names, in its order."""
    found, stack = [], [thing]
    while stack:
        part = stack.pop()
        if isinstance(part, dict):
            photos = part.get("photos") if isinstance(part.get("photos"), list) else []
            found += [one["sha256"] for one in photos if isinstance(one, dict) and _is_hash(one.get("sha256"))]
            stack += [inner for key, inner in reversed(list(part.items())) if key != "photos"]
        elif isinstance(part, list):
            stack += reversed(part)
    return list(dict.fromkeys(found))


def _is_hash(text):
    return isinstance(text, str) and bool(_HASH.fullmatch(text))


def _photos(connection, revision):
    table = schema.photo_of
    held = set(connection.execute(select(table.c.sha256).where(table.c.document == revision["document"])).scalars())
    new = [{"sha256": sha256, "document": revision["document"]} for sha256 in photos_in(revision["body"]) if sha256 not in held]
    if new:
        connection.execute(insert(table), new)


def _well(item):
    """True for what was found well: ok, or a reading that is not above its limit."""
    limit, value = item.get("high"), item.get("value")
    return item["answer"] == "ok" or item["answer"] == "reading" and value is not None and (limit is None or value <= limit)


def _row(system, item, at, document):
    kept = dict(item, since=at, ok_at=at if _well(item) else None)
    return {"system": system, "item": item["id"], "at": at, "document": document, "answer": kept}


def _later(one, other):
    """The later of two answers to an item, with since when it has been the same and when it last was well."""
    older, newer = (one, other) if other["at"] >= one["at"] else (other, one)
    before, kept = older["answer"], dict(newer["answer"])
    if before["answer"] == kept["answer"]:
        kept["since"] = before.get("since") or older["at"]
    kept["ok_at"] = max(before.get("ok_at") or "", kept.get("ok_at") or "") or None
    return dict(newer, answer=kept)


def _answers(connection, revision):
    table, system = schema.answered, revision["body"]["system"]
    rows = connection.execute(select(table).where(table.c.system == system)).mappings()
    last = {row["item"]: dict(row, answer=json.loads(row["answer"])) for row in rows}
    new = {}
    for item in revision["body"].get("items") or []:
        if item.get("answer"):
            row = _row(system, item, utc(item.get("at") or revision["made_at"]), revision["document"])
            new[item["id"]] = _later(last[item["id"]], row) if item["id"] in last else row
    if new:
        connection.execute(delete(table).where(table.c.system == system, table.c.item.in_(list(new))))
        connection.execute(insert(table), [dict(row, answer=json.dumps(row["answer"], ensure_ascii=False)) for row in new.values()])


def last_answers(connection, system):
    """{item's key: {"at" (UTC), "document", "answer": the item as it was answered, with `since` and `ok_at`}} of one system."""
    rows = connection.execute(select(schema.answered).where(schema.answered.c.system == system))
    return {row.item: {"at": row.at, "document": row.document, "answer": json.loads(row.answer)} for row in rows}


def all_last_answers(connection):
    """{system: the same}, for all of them in one go."""
    out = {}
    for row in connection.execute(select(schema.answered)):
        out.setdefault(row.system, {})[row.item] = {"at": row.at, "document": row.document, "answer": json.loads(row.answer)}
    return out


def documents_with(connection, sha256):
    """Ids of the documents that name a photo."""
    return list(connection.execute(select(schema.photo_of.c.document).where(schema.photo_of.c.sha256 == sha256)).scalars())
