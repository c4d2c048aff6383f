"""Systems as lists show them, and the kept verdict on the newest revision of each. A revision never changes, so it is worked once
for each version of the engine (webapp/verdicts.py does it, in the background)."""
import json

from sqlalchemy import case, delete, func, insert, select, update

from . import schema

STOP, WARN, WORKING, HOLDS = "stop", "warn", "working", "holds"
# the worst first; what is not worked yet may turn out worse than it looks
STATES = (STOP, WARN, WORKING, HOLDS)

_held, _kept = schema.document.c, schema.verdict.c


def _plain(text):
    return str(text or "").replace("\0", "")


def follow(connection, revision):
    """A new revision of a system: its name in lists, and no verdict yet."""
    body, system = revision["body"], revision["document"]
    connection.execute(delete(schema.verdict).where(_kept.system == system))
    connection.execute(insert(schema.verdict).values(
        system=system, revision=revision["id"], name=_plain(body.get("name")), area=_plain(body.get("area")),
        points=len(body.get("points") or []), engine="", state="", findings="[]", worked="{}"))


def pending(connection, engine, most):
    """[(system, revision's id, body)] of systems without a verdict of this engine; at most so many."""
    query = select(_kept.system, schema.revision.c.id, schema.revision.c.body).join(
        schema.document, _held.id == _kept.system).join(schema.revision, schema.revision.c.id == _kept.revision).where(
        _kept.engine != engine, ~_held.deleted).order_by(_kept.system).limit(most)
    return [(system, revision, json.loads(body)) for system, revision, body in connection.execute(query)]


def keep(connection, system, revision, engine, findings, worked):
    """Keep the findings of a worked revision and what else pages need of it, unless the system has a newer one by now."""
    connection.execute(update(schema.verdict).where(_kept.system == system, _kept.revision == revision).values(
        engine=engine, state=findings[0]["severity"] if findings else HOLDS, findings=json.dumps(findings, ensure_ascii=False),
        worked=json.dumps(worked, ensure_ascii=False)))


def worked(connection, engine, sites=None, systems=None):
    """{system: what was kept of it}, without texts, of those that this engine has worked; narrowed to sites or systems."""
    query = _narrowed(select(_kept.system, _kept.worked).select_from(schema.verdict), engine, sites).where(_kept.engine == engine)
    if systems is not None:
        query = query.where(_kept.system.in_(systems))
    return {row.system: json.loads(row.worked) for row in connection.execute(query)}


def _state(engine):
    return case((_kept.engine == engine, _kept.state), else_=WORKING)


def _narrowed(query, engine, sites, state="", area="", system=""):
    query = query.join(schema.document, _held.id == _kept.system).where(_held.kind == "system", ~_held.deleted)
    if sites is not None:
        query = query.where(_held.site.in_(sites))
    if system:
        query = query.where(_kept.system == system)
    if state:
        query = query.where(_state(engine) == state)
    return query.where(_kept.area == area) if area else query


def counts(connection, engine, sites, **narrowed):
    """{state: how many systems}, narrowed by `state` and `area`; sites None: all."""
    one = _state(engine).label("state")
    query = _narrowed(select(one, func.count()).select_from(schema.verdict), engine, sites, **narrowed).group_by(one)
    return dict.fromkeys(STATES, 0) | {state: count for state, count in connection.execute(query)}


def areas(connection, sites):
    """(Names of sites, names of areas) of the systems of these sites; sites None: all."""
    rows = connection.execute(_narrowed(select(_held.site, _kept.area).select_from(schema.verdict), "", sites).distinct()).all()
    return sorted({site for site, _ in rows} - {""}), sorted({area for _, area in rows} - {""})


def clashes(connection, sites):
    """How many clashes of systems wait to be settled."""
    query = _narrowed(select(_held.clash).select_from(schema.verdict), "", sites).where(_held.clash != "[]")
    return sum(len(json.loads(clash)) for clash in connection.execute(query).scalars())


def listed(connection, engine, sites, start=0, most=None, **narrowed):
    """Systems, the worst first: {"document", "site", "name", "area", "points", "state", "clashes", "findings" without texts}."""
    rank = case({one: place for place, one in enumerate(STATES)}, value=_state(engine))
    query = _narrowed(select(schema.verdict, _state(engine).label("shown_state"), _held.site, _held.clash), engine, sites, **narrowed)
    rows = connection.execute(query.order_by(rank, _kept.name, _kept.system).offset(start).limit(most))
    return [{"document": row.system, "site": row.site, "name": row.name, "area": row.area, "points": row.points,
             "state": row.shown_state, "clashes": len(json.loads(row.clash)),
             "findings": json.loads(row.findings) if row.engine == engine else []} for row in rows]


def names(connection, systems=None):
    """{system: its name} of these, or of all."""
    query = select(_kept.system, _kept.name)
    if systems is not None:
        query = query.where(_kept.system.in_(systems))
    return dict(connection.execute(query).all())
