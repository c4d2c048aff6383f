"""What a revision must be to be kept: ids, times, values that every database gives back, a document that passes the check."""
import json
import uuid
from datetime import datetime

from .documents import DEEPEST, depth
from .engine.basics.findings import ordered
from .engine.document.check import check
from .engine.document.documents import KINDS
from .engine.words.present import present
from .store import is_text

FORMATS = {kind: kind + "/1" for kind in KINDS}
LONGEST_TIME = 40


def is_uuid(text):
    """True for the text of a UUID."""
    try:
        return isinstance(text, str) and str(uuid.UUID(text)) == text.lower()
    except ValueError:
        return False


def _has_offset(text):
    try:
        return isinstance(text, str) and len(text) <= LONGEST_TIME and datetime.fromisoformat(text.replace("Z", "+00:00")).tzinfo is not None
    except ValueError:
        return False


def _can_be_kept(revision):
    """False for what no database gives back as it came: half letters, numbers without end, nesting without end."""
    if depth(revision) > DEEPEST or not is_text(revision.get("reason") or "") or "\0" in str(revision["body"].get("site")):
        return False
    try:
        return bool(json.dumps(revision, ensure_ascii=False, allow_nan=False).encode())
    except ValueError:
        return False


def envelope_fault(revision):
    """What is wrong with a revision's envelope, in a sentence; None where nothing is."""
    if not isinstance(revision, dict):
        return "A revision must be an object."
    for name in ("id", "document"):
        if not is_uuid(revision.get(name)):
            return "%s must be a UUID made on the phone." % name
    for name in ("parent", "also", "phone"):
        if revision.get(name) is not None and not is_uuid(revision[name]):
            return "%s must be a UUID or null." % name
    if not isinstance(revision.get("kind"), str) or revision["kind"] not in FORMATS:
        return "Documents of the kind %s are not kept here." % str(revision.get("kind"))[:40]
    if not _has_offset(revision.get("made_at")):
        return "made_at must be a time with its offset (RFC 3339)."
    if not isinstance(revision.get("body"), dict):
        return "body must be the whole document."
    if not isinstance(revision.get("deleted", False), bool) or not isinstance(revision.get("reason") or "", str):
        return "deleted must be true or false, reason a text."
    if not _can_be_kept(revision):
        return "It holds a value or a letter that cannot be kept: enter it again."
    if not revision.get("deleted") and revision["body"].get("format") != FORMATS[revision["kind"]]:
        return "A %s has the format %s." % (revision["kind"], FORMATS[revision["kind"]])
    return None


def stops(body):
    """The findings of the check that keep a document from being stored, with their sentences."""
    return [entry for entry in present(ordered(check(body))) if entry["severity"] == "stop"]
