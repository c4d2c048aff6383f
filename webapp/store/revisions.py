"""Revisions and the documents they make up. Numbers come from one counter inside the same transaction: no gaps."""
import json

from sqlalchemy import func, insert, select, update

from . import schema
from .errors import NotFound
from .followed import follow
from .times import now, utc

_COLUMNS = ("id", "number", "document", "kind", "site", "parent", "also", "made_at", "made_by", "phone", "received_at",
            "deleted", "reason", "state")


def _revision(row):
    out = {name: getattr(row, name) for name in _COLUMNS}
    out["body"], out["fields"] = json.loads(row.body), json.loads(row.fields)
    return out


def _document(row):
    return {"document": row.id, "kind": row.kind, "site": row.site, "system": row.system, "head": row.head,
            "deleted": row.deleted, "clash": json.loads(row.clash)}


def find(connection, identity):
    """One revision by id, or None."""
    row = connection.execute(select(schema.revision).where(schema.revision.c.id == identity)).first()
    return _revision(row) if row else None


def document(connection, identity):
    """A document's row (kind, site, system, head, deleted, clash), or None."""
    row = connection.execute(select(schema.document).where(schema.document.c.id == identity)).first()
    return _document(row) if row else None


def newest(connection, identity):
    """The newest revision of a document. Raises NotFound."""
    row = connection.execute(select(schema.revision).join(
        schema.document, schema.document.c.head == schema.revision.c.id).where(schema.document.c.id == identity)).first()
    if row is None:
        raise NotFound("There is no such document.")
    return _revision(row)


def newest_of_kind(connection, kind, sites=None, system=None, deleted=False, **narrowed):
    """Newest revisions of all documents of a kind, the oldest first, with the document's clash; sites None: all of them.

    Narrowed by `since`, `until` (of made_at in the body, as UTC, `until` not included), `open_only`, `most` (the last so many).
    """
    query = _heads(kind, sites, deleted, **narrowed)
    if system is not None:
        query = query.where(schema.document.c.system == system)
    rows = connection.execute(query).all()
    return [dict(_revision(row), clash=json.loads(row.clash)) for row in reversed(rows)]


def _heads(kind, sites, deleted, since=None, until=None, open_only=False, most=None):
    held = schema.document.c
    query = select(schema.revision, held.clash).join(schema.document, held.head == schema.revision.c.id).where(
        held.kind == kind, held.deleted == deleted)
    if sites is not None:
        query = query.where(held.site.in_(sites))
    if since is not None:
        query = query.where(held.made_at >= since)
    if until is not None:
        query = query.where(held.made_at < until)
    if open_only:
        query = query.where(held.open)
    return query.order_by(held.made_at.desc(), schema.revision.c.number.desc()).limit(most)


def last_of_each(connection, kind, sites=None):
    """{system: newest revision of its last signed or closed document of a kind}."""
    held = schema.document.c
    last = select(held.system, func.max(held.made_at).label("at")).where(
        held.kind == kind, ~held.deleted, ~held.open).group_by(held.system).subquery()
    query = select(schema.revision).join(schema.document, held.head == schema.revision.c.id).join(
        last, (held.system == last.c.system) & (held.made_at == last.c.at)).where(held.kind == kind, ~held.deleted, ~held.open)
    if sites is not None:
        query = query.where(held.site.in_(sites))
    return {row.body_system: _revision(row) for row in connection.execute(query.add_columns(held.system.label("body_system")))}


def newest_number(connection, system):
    """Number of the newest revision of a system's records; 0 where it has none."""
    held = schema.document.c
    return connection.execute(select(func.max(schema.revision.c.number)).join(
        schema.document, schema.revision.c.document == held.id).where(held.system == system)).scalar() or 0


def last_few_of_each(connection, kind, sites=None, most=1):
    """{system: newest revisions of its last `most` documents of a kind, the oldest first}, signed or not."""
    held = schema.document.c
    place = func.row_number().over(partition_by=held.system, order_by=(held.made_at.desc(), held.id)).label("place")
    ranked = select(held.head, held.system, place).where(held.kind == kind, ~held.deleted)
    if sites is not None:
        ranked = ranked.where(held.site.in_(sites))
    ranked = ranked.subquery()
    query = select(schema.revision, ranked.c.system.label("of_system")).join(ranked, schema.revision.c.id == ranked.c.head).where(
        ranked.c.place <= most).order_by(ranked.c.place.desc())
    out = {}
    for row in connection.execute(query):
        out.setdefault(row.of_system, []).append(_revision(row))
    return out


def history(connection, identity):
    """All revisions of a document, the newest first."""
    rows = connection.execute(select(schema.revision).where(schema.revision.c.document == identity)
                              .order_by(schema.revision.c.number.desc()))
    return [_revision(row) for row in rows]


def latest(connection, most, sites=None):
    """The revisions received last, newest first; sites None: all of them."""
    query = select(schema.revision).order_by(schema.revision.c.number.desc()).limit(most)
    if sites is not None:
        query = query.where(schema.revision.c.site.in_(sites))
    return [_revision(row) for row in connection.execute(query)]


def sites(connection):
    """Names of all sites that documents belong to."""
    return sorted(connection.execute(select(schema.document.c.site).distinct()).scalars())


def feed(connection, after, limit, sites=None):
    """(revisions numbered above `after` in order, cursor, more); sites None: all.

    The counter is read first, so that nothing which commits meanwhile is skipped by the cursor.
    """
    top = connection.execute(select(schema.counter.c.number)).scalar()
    query = select(schema.revision).where(schema.revision.c.number > after, schema.revision.c.number <= top)
    if sites is not None:
        query = query.where(schema.revision.c.site.in_(sites))
    rows = list(connection.execute(query.order_by(schema.revision.c.number).limit(limit + 1)))
    more = len(rows) > limit
    found = [_revision(row) for row in rows[:limit]]
    return found, found[-1]["number"] if more else max(top, after), more


def add(connection, revision, state, fields=(), clash=None):
    """Store a revision as its document's newest; returns its number. `clash` replaces the document's list of clashes."""
    connection.execute(update(schema.counter).values(number=schema.counter.c.number + 1))
    number = connection.execute(select(schema.counter.c.number)).scalar()
    values = {name: revision.get(name) for name in _COLUMNS}
    values.update(number=number, received_at=now(), state=state, fields=json.dumps(list(fields)),
                  deleted=bool(revision.get("deleted")), body=json.dumps(revision["body"], ensure_ascii=False))
    connection.execute(insert(schema.revision).values(**values))
    _move_head(connection, revision, clash)
    follow(connection, revision)
    return number


def _move_head(connection, revision, clash):
    held, body = document(connection, revision["document"]), revision["body"]
    values = {"head": revision["id"], "site": revision["site"], "deleted": bool(revision.get("deleted")),
              "made_at": utc(body.get("made_at") or revision["made_at"]), "open": not (body.get("signed") or body.get("closed"))}
    if clash is not None:
        values["clash"] = json.dumps(clash)
    if held:
        connection.execute(update(schema.document).where(schema.document.c.id == revision["document"]).values(**values))
    else:
        values.setdefault("clash", "[]")
        connection.execute(insert(schema.document).values(
            id=revision["document"], kind=revision["kind"], system=body.get("system"), **values))


def count(connection):
    """How many revisions there are."""
    return connection.execute(select(func.count()).select_from(schema.revision)).scalar()
