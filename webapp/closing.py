"""A defect closed at the desk: what there is to show that it is well, what is still missing, and what is kept."""
from .engine.bridge import ask
from .engine.document.record_fields import EVIDENCE
from .store import is_text, revisions
from .store.times import utc

# evidence -> its field in `closed`, and what a person is told where none is given
_GIVEN = {"photo": ("photos", "which photo shows it"), "reading": ("reading", "what was read"),
          "test run": ("test_run", "which test run shows it")}


def evidence(connection, body):
    """{"runs": test runs of the defect's system signed off since it was raised, the newest first, "photos": those added to it since}."""
    raised = utc(body.get("made_at") or "")
    runs = revisions.newest_of_kind(connection, "test-run", systems=[body["system"]], since=raised)
    return {"runs": [run for run in reversed(runs) if run["body"].get("signed") and utc(run["body"].get("made_at")) > raised],
            "photos": [photo for change in body.get("changes") or [] for photo in change.get("photos") or []]}


def closed(found, there, said, person, at):
    """(the body of a revision as it is once the defect is closed, None), or (None, a sentence that says what is missing).

    there  what evidence() found
    said   {"how", "cause", "evidence", "reading", "test_run": its document, "photos": hashes} as a person said it
    """
    body = found["body"]
    if found["deleted"]:
        return None, "The defect was deleted."
    if body.get("closed"):
        return None, "%s has closed it already." % body["closed"]["by"]
    runs = {run["document"] for run in there["runs"]}
    given = {"reading": said["reading"], "test run": said["test_run"] if said["test_run"] in runs else "",
             "photo": [photo for photo in there["photos"] if photo["sha256"] in said["photos"]]}
    kind = said["evidence"]
    missing = ["what was done"] if not said["how"] else []
    if kind not in EVIDENCE:
        missing.append("what shows that it is well")
    elif not given[kind]:
        missing.append(_GIVEN[kind][1])
    if missing:
        return None, "Still to say: %s." % ", ".join(missing)
    if not all(is_text(said[name]) for name in ("how", "cause", "reading")):
        return None, "Something in it is no text: write it again."
    done = {"by": person["name"], "at": at, "role": person["role"], "how": said["how"], "evidence": kind, _GIVEN[kind][0]: given[kind]}
    out = caused(dict(body, closed=done), said["cause"])
    wrong = ask({"do": "check", "document": out})["findings"]
    return (None, "%(says)s %(do)s" % wrong[0]) if wrong else (out, None)


def caused(body, cause):
    """The body with the cause that it was in the end; what was thought before goes where none is known."""
    out = {name: value for name, value in body.items() if name != "cause"}
    return dict(out, cause=cause) if cause else out


def keep(connection, found, body, person, at):
    """Store the closed defect, and with it the open fault cases that it came from, by the same cause."""
    revisions.change(connection, found, body, person["id"], at, None)
    done = {name: body["closed"][name] for name in ("by", "at", "role", "how")}
    for case in revisions.newest_of_kind(connection, "fault-case", systems=[body["system"]]):
        if case["body"].get("defect") == found["document"] and not case["body"].get("closed"):
            revisions.change(connection, case, dict(caused(case["body"], body.get("cause")), closed=done), person["id"], at, None)
