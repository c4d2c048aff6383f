"""Records made up from the catalogue alone: every field that must be there and every field that is typed."""
import hashlib

from tests.web.conftest import MADE_AT, new_id
from webapp.engine.document.documents import KINDS
from webapp.engine.document.record_fields import HEAD, TYPED


def a_record(kind, system, **changes):
    """A record of a kind on a system that passes the check; its texts name their field."""
    body, groups = {"format": kind + "/1", "id": new_id(), "system": system["id"], "made_at": MADE_AT}, {}
    groups[""] = body
    for field in KINDS[kind][1]:
        parent, _, name = field["path"].rpartition(".")
        if field["path"] in HEAD or parent not in groups or not (field["required"] or field["part"] == TYPED):
            continue
        value = groups[parent][name] = _value(field)
        if field["kind"] == "list":
            groups[field["path"] + "[]"] = value[0]
        if field["kind"] == "group":
            groups[field["path"]] = value
    return dict(body, **changes)


def _value(field):
    if field["kind"] in ("number", "whole"):
        return min(max(field["low"], 7), field["high"])
    return {"text": field["label"] + " as typed", "choice": (field["choices"] or [None])[0], "bool": True, "texts": [field["label"]],
            "list": [{}], "group": {}, "data": {}, "map": {}, "id": hashlib.sha256(field["path"].encode()).hexdigest()}[field["kind"]]
