"""What becomes of a revision that somebody sends or takes in: well-formed, allowed, checked, decided, stored; by wire and desk alike."""
import logging
import uuid

from . import defects, sync_decide
from .envelope import envelope_fault, is_uuid, stops
from .rights import may_see, no_right
from .store import alone, revisions
from .store.times import now
from .sync_decide import ACCEPTED, CLASH, MERGED, REFUSED, Held

NO_SITE = ""
_FAILED = ("The server failed at it. That is the server's fault, not that of what was entered: tell your administrator, and send it again "
           "once it is mended.")


def receive_each(connection, person, incoming):
    """Results of many revisions, in order. One at which the server fails is refused by itself: the failure is logged, the others go on."""
    results = []
    for revision in incoming:
        result, failure = alone(connection, receive, person, revision)
        if failure:
            identity, kind = (revision.get("id"), revision.get("kind")) if isinstance(revision, dict) else (None, None)
            logging.error("failed at revision %.60s of a %.60s", identity, kind, exc_info=failure)
            result = _result(identity, REFUSED, says=_FAILED)
        results.append(result)
    return results


def receive(connection, person, revision):
    """Take one revision of a person's. Returns its result: {"id", "state", "number", "says", "findings", "fields"}."""
    identity = revision.get("id") if isinstance(revision, dict) else None
    says = envelope_fault(revision)
    if says:
        return _result(identity, REFUSED, says=says)
    held_document = revisions.document(connection, revision["document"])
    site = _site_of(connection, revision, held_document)
    if site is None:
        return _result(identity, REFUSED, says="The system it belongs to is not known here: pull first, or send the system first.")
    if not may_see(person, site) or (held_document and not may_see(person, held_document["site"])):
        return _result(identity, REFUSED, says="You do not work on this site: ask your administrator.")
    if _moves(revision, held_document):
        return _result(identity, REFUSED, says="A record stays with the system that it was made on: make a new one at the other system.")
    held = _held(connection, revision, held_document)
    decision = sync_decide.decide(held, revision)
    if held.known or decision.state == REFUSED:
        return _result(identity, decision.state, held.known["number"] if held.known and decision.state != REFUSED else None,
                       decision.says, fields=decision.fields)
    says = no_right(person, revision, held.head and held.head["body"])
    if says:
        return _result(identity, REFUSED, says=says)
    findings = [] if revision.get("deleted") else stops(revision["body"])
    if findings:
        return _result(identity, REFUSED, says="The check of the document found something: " + findings[0]["says"],
                       findings=findings)
    if revision["kind"] == "defect" and not revision.get("deleted") and not defects.evidence_holds(connection, revision["body"]):
        return _result(identity, REFUSED, says="The test run that it is closed by is not known here, or is older than the defect: "
                       "send the run first, or close it by other evidence.")
    return _store(connection, dict(revision, site=site, made_by=person["id"]), held, decision)


def from_desk(connection, person, body, at, found=None, reason=None):
    """Take what somebody made at the desk or on the command line at a time (RFC 3339). Returns its result, as `receive`.

    found  the revision that it was made from; None for a new document
    """
    return receive(connection, person, {
        "id": str(uuid.uuid4()), "document": found["document"] if found else body["id"], "kind": body["format"].partition("/")[0],
        "parent": found["id"] if found else None, "also": None, "made_at": at, "phone": None, "body": body, "deleted": False,
        "reason": reason})


def refusal(result):
    """What somebody at the desk is told of a result: why it was not taken and what to do, or None."""
    if result["state"] != REFUSED:
        return None
    first = result["findings"][0] if result["findings"] else {"says": result["says"], "do": ""}
    return ("%(says)s %(do)s" % first).strip()


def _result(identity, state, number=None, says=None, findings=(), fields=()):
    return {"id": identity, "state": state, "number": number, "says": says, "findings": list(findings), "fields": list(fields)}


def _held(connection, revision, held_document):
    parent = revision.get("parent")
    return Held(revisions.find(connection, revision["id"]),
                revisions.newest(connection, revision["document"]) if held_document else None,
                revisions.find(connection, parent) if parent else None,
                held_document["clash"] if held_document else [])


def _store(connection, revision, held, decision):
    if decision.joined is not None and stops(decision.joined):
        decision = _not_joined(held, revision, decision)
    number = revisions.add(connection, revision, decision.state, decision.fields, decision.clash)
    if decision.joined is not None:
        joined = dict(revision, id=sync_decide.joined_id(revision["id"], held.head["id"]), parent=held.head["id"], also=revision["id"],
                      body=decision.joined, phone=None, made_at=now(), reason="joined by the server")
        joined["site"] = _site_of(connection, joined, None)  # the other may have moved the system meanwhile
        revisions.add(connection, joined, ACCEPTED if decision.state == MERGED else CLASH, decision.fields)
    return _result(revision["id"], decision.state, number, fields=decision.fields)


def _not_joined(held, revision, decision):
    """What the two would make together does not pass the check: both are kept for a person to settle."""
    fields = decision.fields or sorted(
        sync_decide.path_text(path) for path in sync_decide.changes(held.parent["body"], revision["body"]))
    mark = {"ours": revision["id"], "theirs": held.head["id"], "fields": fields}
    return decision._replace(state=CLASH, fields=fields, joined=None, clash=held.clash + [mark])


def _site_of(connection, revision, held_document):
    """The site of a system, or of the system that a record belongs to; None where that system is not held.

    What is deleted stays where it was, whatever its last body says.
    """
    if revision.get("deleted") and held_document:
        return held_document["site"]
    if revision["kind"] == "system":
        site = revision["body"].get("site")
        return site if isinstance(site, str) else NO_SITE
    system = revision["body"].get("system")
    held = revisions.document(connection, system) if is_uuid(system) else None
    return held["site"] if held else None


def _moves(revision, held_document):
    """True where a record would go over to another system."""
    return bool(held_document and held_document["kind"] != "system" and not revision.get("deleted")
                and revision["body"].get("system") != held_document["system"])
