"""Revisions and the documents they make up. Numbers come from one counter inside the same transaction: no gaps."""
import json
import uuid
from operator import attrgetter

from sqlalchemy import exists, func, insert, literal, select, true, union_all, update

from . import schema
from .errors import NotFound
from .followed import follow
from .times import now, utc

_COLUMNS = ("id", "number", "document", "kind", "site", "parent", "also", "made_at", "made_by", "phone", "received_at",
            "deleted", "reason", "state")
_values = attrgetter(*_COLUMNS)
# a system may have moved since: its records went along
_held_site = schema.document.c.site.label("held_site")


def _revision(row):
    out = dict(zip(_COLUMNS, _values(row)))
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
    """The newest revision of a document, with the site that it is on now. Raises NotFound."""
    row = connection.execute(select(schema.revision, _held_site).join(
        schema.document, schema.document.c.head == schema.revision.c.id).where(schema.document.c.id == identity)).first()
    if row is None:
        raise NotFound("There is no such document as %s: look its id up on its page." % identity[:60])
    return dict(_revision(row), site=row.held_site)


def newest_of_kind(connection, kind, sites=None, systems=None, deleted=False, **narrowed):
    """Newest revisions of all documents of a kind, the oldest first, with the document's site and clash.

    sites, systems  None: all of them. Narrowed by `since`, `until` (of made_at in the body, as UTC, `until` not included), `open_only`,
    `touched` (those that are open, or were changed since that day), `most` (the last so many, those after `start` of them).
    """
    query = _heads(kind, sites, deleted, **narrowed)
    if systems is not None:
        query = query.where(schema.document.c.system.in_(systems))
    rows = connection.execute(query).all()
    return [dict(_revision(row), site=row.held_site, clash=json.loads(row.clash)) for row in reversed(rows)]


def _heads(kind, sites, deleted, since=None, until=None, open_only=False, touched=None, most=None, start=0):
    held = schema.document.c
    query = select(schema.revision, _held_site, held.clash).join(schema.document, held.head == schema.revision.c.id).where(
        held.kind == kind, held.deleted == deleted)
    if sites is not None:
        query = query.where(held.site.in_(sites))
    if since is not None:
        query = query.where(held.made_at >= since)
    if until is not None:
        query = query.where(held.made_at < until)
    if open_only:
        query = query.where(held.open)
    if touched is not None:
        query = query.where(held.open | (schema.revision.c.made_at >= touched))
    return query.order_by(held.made_at.desc(), schema.revision.c.number.desc()).limit(most).offset(start or None)


def last_of_each(connection, kind, sites=None, systems=None):
    """{system: newest revision of its last signed or closed document of a kind}; narrowed to these sites or systems."""
    return {row.of: _revision(row) for row in _lasts(connection, kind, sites, systems, 1, ~schema.document.c.open)}


def last_few_of_each(connection, kind, sites=None, systems=None, most=1, until=None):
    """{system: newest revisions of its last `most` documents of a kind, the oldest first}, signed or not; narrowed as last_of_each.

    until  only those made before (made_at in the body, as UTC)
    """
    out, earlier = {}, [] if until is None else [schema.document.c.made_at < until]
    for row in _lasts(connection, kind, sites, systems, most, *earlier):
        out.setdefault(row.of, []).append(_revision(row))
    return {system: found[::-1] for system, found in out.items()}


def _lasts(connection, kind, sites, systems, most, *narrowed):
    """Revisions, each with the system that it is `of`, of the last `most` documents of a kind of each system, the newest first.

    So many steps into the index for each system, however many such documents it has.
    """
    plant, held, nth = schema.document.alias("plant").c, schema.document.c, []
    for place in range(most):
        head = select(held.head).where(held.kind == kind, held.system == plant.id, ~held.deleted, *narrowed).order_by(
            held.made_at.desc(), held.id.desc()).limit(1).offset(place).scalar_subquery()
        query = select(plant.id.label("of"), literal(place).label("place"), head.label("head")).where(plant.kind == "system")
        if sites is not None:
            query = query.where(plant.site.in_(sites))
        nth.append(query if systems is None else query.where(plant.id.in_(systems)))
    heads = union_all(*nth).subquery()
    query = select(schema.revision, heads.c.of, heads.c.place).join(heads, heads.c.head == schema.revision.c.id)
    return sorted(connection.execute(query), key=lambda row: row.place)


def newest_number(connection, system):
    """Number of the newest revision of a system's records; 0 where it has none."""
    held = schema.document.c
    return connection.execute(select(func.max(schema.revision.c.number)).join(
        schema.document, schema.revision.c.document == held.id).where(held.system == system)).scalar() or 0


def history(connection, identity, most=None, start=0):
    """Revisions of a document, the newest first: all, or `most` of them after the first `start`."""
    rows = connection.execute(select(schema.revision).where(schema.revision.c.document == identity).order_by(
        schema.revision.c.number.desc()).limit(most).offset(start or None))
    return [_revision(row) for row in rows]


def begun(connection, documents):
    """{document: made_at of its first revision that is held}."""
    held = schema.revision.c
    firsts = select(func.min(held.number)).where(held.document.in_(documents)).group_by(held.document)
    rows = connection.execute(select(held.document, held.made_at).where(held.number.in_(firsts)))
    return {row.document: row.made_at for row in rows}


def latest(connection, most, sites=None):
    """The revisions received last, newest first; sites None: all of them, else of what is on these sites now."""
    query = select(schema.revision).order_by(schema.revision.c.number.desc()).limit(most)
    if sites is not None:
        query = query.where(_is_on(sites))
    return [_revision(row) for row in connection.execute(query)]


def sites(connection):
    """Names of all sites that systems belong to."""
    return sorted(connection.execute(select(schema.document.c.site).where(schema.document.c.kind == "system").distinct()).scalars())


def top(connection):
    """The number given last; 0 where none was."""
    return connection.execute(select(schema.counter.c.number)).scalar()


def _is_on(sites):
    """True for a revision whose document is on one of these sites now: older ones of a system that moved there come along."""
    held = schema.document.c
    return exists().where(held.id == schema.revision.c.document, held.site.in_(sites))


def _left(sites):
    """True for the revision by which a system left these sites."""
    before, made = schema.revision.alias("before").c, schema.revision.c
    return (made.kind == "system") & made.site.not_in(sites) & exists().where(before.id == made.parent, before.site.in_(sites))


def _gone(row):
    """A revision as those get it whose sites the system left by it: a deletion, and nothing of what it is elsewhere."""
    return dict(_revision(row), site="", body={}, fields=[], state="accepted", deleted=True, reason="It moved to a site where you do not work.")


def feed(connection, after, limit, sites=None, rounds=None):
    """(revisions numbered above `after` in order, cursor, more); sites None: all, else of what is on these sites now, and what left them
    as deleted.

    rounds  without revisions of signed rounds beyond the newest so many of their system, unless one holds the last answer to an item
    The counter is read first, so that nothing which commits meanwhile is skipped by the cursor.
    """
    last = top(connection)
    here = true() if sites is None else _is_on(sites)
    query = select(schema.revision, here.label("here")).where(schema.revision.c.number > after, schema.revision.c.number <= last)
    if sites is not None:
        query = query.where(here | _left(sites))
    if rounds is not None:
        query = query.where(~_old_round(rounds))
    rows = list(connection.execute(query.order_by(schema.revision.c.number).limit(limit + 1)))
    more = len(rows) > limit
    found = [_revision(row) if row.here else _gone(row) for row in rows[:limit]]
    return found, found[-1]["number"] if more else max(last, after), more


def _old_round(rounds):
    """True for a revision of a signed round with at least so many newer ones of its system, none of whose answers is the last."""
    held, newer, last = schema.document.c, schema.document.alias("newer").c, schema.answered.c
    cut = select(newer.made_at).where(newer.kind == "round", newer.system == held.system, ~newer.deleted).order_by(
        newer.made_at.desc()).limit(1).offset(rounds - 1).scalar_subquery()
    asked = exists().where(last.system == held.system, last.document == held.id)
    return exists().where(held.id == schema.revision.c.document, held.kind == "round", ~held.open, held.made_at < cut, ~asked)


def add(connection, revision, state, fields=(), clash=None):
    """Store a revision as its document's newest; returns its number. `clash` replaces the document's list of clashes."""
    connection.execute(update(schema.counter).values(number=schema.counter.c.number + 1))
    number = top(connection)
    _put(connection, dict(revision, number=number, received_at=now(), state=state, fields=list(fields)), clash)
    follow(connection, revision)
    return number


def change(connection, found, body, by, at, reason):
    """Store what somebody at the desk, whose id is `by`, made of the newest revision of a document; returns its number."""
    return add(connection, {
        "id": str(uuid.uuid4()), "document": found["document"], "kind": found["kind"], "site": found["site"], "parent": found["id"],
        "also": None, "made_at": at, "made_by": by, "phone": None, "deleted": False, "reason": reason, "body": body}, "accepted")


def restore(connection, revision, answers):
    """Store a revision with number, state and time of receipt as the feed gave them, the older before the newer.

    answers  keeps the answers of signed rounds, as in followed.follow; whoever restores sets the counter in the end
    """
    _put(connection, revision)
    follow(connection, revision, answers)


def _put(connection, revision, clash=None):
    values = {name: revision.get(name) for name in _COLUMNS}
    values.update(deleted=bool(revision.get("deleted")), body=json.dumps(revision["body"], ensure_ascii=False),
                  fields=json.dumps(revision["fields"], ensure_ascii=False))
    connection.execute(insert(schema.revision), values)
    _move_head(connection, revision, clash)


def _move_head(connection, revision, clash):
    held, body = document(connection, revision["document"]), revision["body"]
    values = {"head": revision["id"], "site": revision["site"], "deleted": bool(revision.get("deleted")),
              "made_at": utc(body.get("made_at") or revision["made_at"]), "open": not (body.get("signed") or body.get("closed"))}
    if clash is not None:
        values["clash"] = json.dumps(clash)
    if held:
        change = update(schema.document)
        connection.execute(change.where(schema.document.c.id == revision["document"]).values(**values))
        if held["site"] != revision["site"]:  # a system moved, or its site was spelt anew: its records go along
            connection.execute(change.where(schema.document.c.system == revision["document"]).values(site=revision["site"]))
    else:
        values.setdefault("clash", "[]")
        connection.execute(insert(schema.document), dict(values, id=revision["document"], kind=revision["kind"], system=body.get("system")))


def every(connection):
    """All revisions in order of number, a few at a time in memory."""
    rows = connection.execution_options(yield_per=200).execute(select(schema.revision).order_by(schema.revision.c.number))
    return (_revision(row) for row in rows)


def every_newest(connection, kind):
    """Newest revisions of all documents of a kind that are not deleted, in order of number, a few at a time in memory."""
    held = schema.document.c
    query = select(schema.revision, _held_site).join(schema.document, held.head == schema.revision.c.id).where(
        held.kind == kind, ~held.deleted)
    rows = connection.execution_options(yield_per=200).execute(query.order_by(schema.revision.c.number))
    return (dict(_revision(row), site=row.held_site) for row in rows)


def count(connection):
    """How many revisions there are."""
    return connection.execute(select(func.count()).select_from(schema.revision)).scalar()
