"""Defects, fault cases and adjustments as the desk shows them: from the store, ordered and said by the engine."""
from .engine.bridge import ask
from .engine.causes.prior import name_of
from .store import people, revisions
from .store.times import utc
from .sync_decide import changes, path_text

OPEN, OVERDUE, CLOSED = "open", "overdue", "closed"
STATES = (OPEN, OVERDUE, CLOSED)
# closed ones go back for years: the newest are listed
MOST_CLOSED = 500


def standing(found, clock):
    """{"open": rows, "overdue", "danger"} of defect revisions, each row with its `revision`, the most pressing first."""
    by_id = {row["document"]: row for row in found}
    answer = ask({"do": "defects", "today": clock.today(), "defects": [
        dict(row["body"], document=row["document"], made_at=clock.here(row["body"].get("made_at"))) for row in found]})
    for row in answer["open"]:
        row["revision"] = by_id[row["document"]]
    return answer


def counts(connection, sites, clock):
    """{"open", "overdue", "of": {system: [how many of it are open, overdue]}} at these sites (None: all)."""
    answer, of = standing(revisions.newest_of_kind(connection, "defect", sites, open_only=True), clock), {}
    for row in answer["open"]:
        here = of.setdefault(row["revision"]["body"]["system"], [0, 0])
        here[0] += 1
        here[1] += row["overdue"]
    return {"open": len(answer["open"]), "overdue": answer["overdue"], "of": of}


def listed(connection, sites, clock, state=OPEN):
    """Defects of these sites in a state, each with its system's name and area, in the order in which to see to them; the closed by when."""
    if state == CLOSED:
        found = [row for row in revisions.newest_of_kind(connection, "defect", sites, most=MOST_CLOSED) if row["body"].get("closed")]
        rows = [{"document": row["document"], "severity": row["body"]["severity"], "revision": row, "overdue": False}
                for row in sorted(found, key=lambda row: row["body"]["closed"]["at"], reverse=True)]
    else:
        rows = standing(revisions.newest_of_kind(connection, "defect", sites, open_only=True), clock)["open"]
        rows = [row for row in rows if row["overdue"] or state == OPEN]
    systems = {row["document"]: row["body"] for row in revisions.newest_of_kind(connection, "system", sites)}
    for row in rows:
        system = systems.get(row["revision"]["body"]["system"], {})
        row.update(body=row["revision"]["body"], site=row["revision"]["site"], owner=row["revision"]["body"].get("owner") or "",
                   name=system.get("name") or "No name yet", area=system.get("area") or "")
    return rows


def evidence_holds(connection, body):
    """False where a defect is closed by a test run that the store does not hold for its system, or that is older than the defect."""
    closed = body.get("closed") or {}
    if closed.get("evidence") != "test run":
        return True
    held = revisions.document(connection, closed["test_run"])
    if not held or held["kind"] != "test-run" or held["system"] != body["system"]:
        return False
    return utc(revisions.newest(connection, closed["test_run"])["body"].get("made_at")) > utc(body.get("made_at") or "")


def history(connection, document):
    """Revisions of a document, the newest first, each with who made it and the places that it changed."""
    names = {person["id"]: person["name"] for person in people.everybody(connection)}
    made = revisions.history(connection, document)
    bodies = {row["id"]: row["body"] for row in made}
    return [dict(row, who=names.get(row["made_by"], "unknown"),
                 changed=sorted(path_text(path) for path in changes(bodies[row["parent"]], row["body"])) if row["parent"] in bodies else [])
            for row in made]


def happened(revision):
    """What happened to a defect up to a revision of it, the newest first: [{"at", "by", "what", "photos"}]."""
    body = revision["body"]
    raised = {"at": body.get("made_at") or revision["made_at"], "by": body.get("made_by"), "what": "raised", "photos": body.get("photos")}
    closed = [dict(one, what="closed: " + one["how"]) for one in [body.get("closed")] if one]
    return sorted([raised, *(body.get("changes") or []), *closed], key=lambda row: utc(row["at"]), reverse=True)


def causes(system):
    """[(cause, its name)] of all that can be the cause of a system's defects."""
    return [(one["cause"], one["name"]) for one in ask({"do": "causes", "document": system})["causes"]]


def cause_words(system, found):
    """Causes of a system's defects or cases as a reader knows them; nothing where there is none."""
    names = dict(causes(system)) if any(found) else {}
    return [names.get(name_of(cause), cause) if cause else "" for cause in found]


def adjustments(found, entered, settings, units):
    """Adjustment revisions, the newest first, each with how it stands against the settings sheet. entered: its entries as a whole."""
    by_id = {row["document"]: row for row in found}
    answer = ask({"do": "adjusted", "settings": settings, "units": units,
                  "entered": [row["body"] for row in entered if row["body"].get("signed")],
                  "adjustments": [dict(row["body"], document=row["document"]) for row in found]})
    return [dict(by_id[row["document"]], held=row) for row in answer["adjustments"]]
