"""A defect closed at the desk: what there is to show that it is well, what is still missing, and what is kept."""
from .engine.document.record_fields import EVIDENCE
from .receive import from_desk, refusal
from .store import is_text, revisions
from .store.times import utc

# evidence -> its field in `closed`, and what a person is told where none is given
_GIVEN = {"photo": ("photos", "which photo shows it"), "reading": ("reading", "what was read"),
          "test run": ("test_run", "which test run shows it")}


class NotClosed(Exception):
    """It stays open, and nothing is kept; the text says what is missing, or why."""


def evidence(connection, body):
    """{"runs": test runs of the defect's system signed off since it was raised, the newest first, "photos": those added to it since}."""
    raised = utc(body.get("made_at") or "")
    runs = revisions.newest_of_kind(connection, "test-run", systems=[body["system"]], since=raised)
    return {"runs": [run for run in reversed(runs) if run["body"].get("signed") and utc(run["body"].get("made_at")) > raised],
            "photos": [photo for change in body.get("changes") or [] for photo in change.get("photos") or []]}


def close(connection, found, said, person, at):
    """Close a defect (its newest revision), and with it the open fault cases that it came from, by the same cause. Raises NotClosed.

    said  {"how", "cause", "evidence", "reading", "test_run": its document, "photos": hashes} as a person said it
    """
    body = dict(found["body"], closed=_closed(found, evidence(connection, found["body"]), said, person, at))
    _keep(connection, found, caused(body, said["cause"]), person, at)
    done = {name: body["closed"][name] for name in ("by", "at", "role", "how")}
    for case in revisions.newest_of_kind(connection, "fault-case", systems=[body["system"]]):
        if case["body"].get("defect") == found["document"] and not case["body"].get("closed"):
            body = dict(caused(case["body"], said["cause"]), closed=done)
            _keep(connection, case, body, person, at, "Its fault case stands against it: ")


def _closed(found, there, said, person, at):
    """What is kept of the closing, from what evidence() found `there`. Raises NotClosed, which says what is missing."""
    if found["deleted"]:
        raise NotClosed("The defect was deleted.")
    if found["body"].get("closed"):
        raise NotClosed("%s has closed it already." % found["body"]["closed"]["by"])
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
        raise NotClosed("Still to say: %s." % ", ".join(missing))
    if not all(is_text(said[name]) for name in ("how", "cause", "reading")):
        raise NotClosed("Something in it is no text: write it again.")
    return {"by": person["name"], "at": at, "role": person["role"], "how": said["how"], "evidence": kind, _GIVEN[kind][0]: given[kind]}


def _keep(connection, found, body, person, at, whose=""):
    wrong = refusal(from_desk(connection, person, body, at, found))
    if wrong:
        raise NotClosed(whose + wrong)


def caused(body, cause):
    """The body with the cause that it was in the end; what was thought before goes where none is known."""
    out = {name: value for name, value in body.items() if name != "cause"}
    return dict(out, cause=cause) if cause else out
