"""What a supervisor asks first: which systems are in trouble, what was done on them last, which phone sent what."""
from .engine.document.record_fields import RECORDS
from .store import people, revisions
from .worked import worked

STOP, WARN, HOLDS = "stop", "warn", "holds"
STATES = (STOP, WARN, HOLDS)
_LATELY = 20


def _judged(revision, units):
    """A system as the plant page lists it: its worst state first, the findings that make it so."""
    found = [entry for entry in worked(revision["body"], units)["findings"] if entry["severity"] in (STOP, WARN)]
    body = revision["body"]
    return {"document": revision["document"], "name": body.get("name") or "No name yet", "area": body.get("area") or "",
            "site": revision["site"], "number": revision["number"], "clashes": len(revision["clash"]), "findings": found,
            "state": found[0]["severity"] if found else HOLDS, "points": len(body.get("points") or [])}


def _last_by_system(connection, kind, sites):
    """{system: its newest signed record of a kind}."""
    last = {}
    for revision in revisions.newest_of_kind(connection, kind, sites):
        if revision["body"].get("signed"):
            last[revision["body"]["system"]] = revision
    return last


def systems(connection, sites, units="metric"):
    """Systems of these sites (None: all), worst first, each with its last signed test run and round, or None."""
    rows = [_judged(revision, units) for revision in revisions.newest_of_kind(connection, "system", sites)]
    runs, rounds = (_last_by_system(connection, kind, sites) for kind in ("test-run", "round"))
    for row in rows:
        row.update(test_run=runs.get(row["document"]), round=rounds.get(row["document"]))
    return sorted(rows, key=lambda row: (STATES.index(row["state"]), row["name"], row["document"]))


def phones(connection, sites):
    """Phones of the people who work on one of these sites (None: all), the one that sent last first."""
    rows = people.phones(connection)
    if sites is None:
        return rows
    near = {person["id"] for person in people.everybody(connection) if set(person["sites"]) & set(sites)}
    return [row for row in rows if row["person"] in near]


def sent_lately(connection, sites):
    """The newest revisions with the names of who made them and of the system they are about."""
    names = {person["id"]: person["name"] for person in people.everybody(connection)}
    rows = []
    for revision in revisions.latest(connection, _LATELY, sites):
        about = revision["document"] if revision["kind"] == "system" else revision["body"].get("system")
        rows.append(dict(revision, who=names.get(revision["made_by"], "unknown"), system=about,
                         name=_name(connection, about)))
    return rows


def _name(connection, system):
    row = revisions.document(connection, system)
    return (revisions.newest(connection, system)["body"].get("name") if row else None) or "a system not sent yet"


def history(connection, revision):
    """(All revisions of a system, {kind: the newest of its records}), the latest first."""
    names = {person["id"]: person["name"] for person in people.everybody(connection)}

    def named(rows):
        return [dict(row, who=names.get(row["made_by"], "unknown")) for row in rows]

    records = {kind: named(reversed(revisions.newest_of_kind(connection, kind, system=revision["document"]))) for kind in RECORDS}
    return named(revisions.history(connection, revision["document"])), records
