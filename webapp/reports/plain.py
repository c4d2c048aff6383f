"""What a record of any kind says, field by field by its catalogue; and the paper of a kind that has none made for it."""
import re

from ..engine.basics.text import UNITS, shown
from ..engine.document.documents import KINDS
from ..engine.document.record_fields import HEAD
from .base import moment, of_system, page_of_record, render
from .photos import photos, signature

_UNITS = ("s", *UNITS)
_SIMPLE = ("number", "whole", "text", "choice", "bool", "texts")
# what no reader can read: a UUID, a hash
_BARE = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}|[0-9a-f]{64}")


def _text(field, name, entry, units, clock):
    """What stands in a field, as a reader reads it: a number without a unit of its own has the one that stands beside it, if any."""
    value = entry[name]
    if field["kind"] in ("number", "whole"):
        unit = field["unit"] or entry.get("unit")
        return shown(value, unit if unit in _UNITS else "1", units)
    if field["kind"] == "id":
        return value.replace("_", " ")
    return moment(value, clock) if field["kind"] == "text" and value[10:11] == "T" else shown(value, "1", units)


def told(kind, body, units, clock):
    """[(label, text)] of what a record says in fields of its own, beside who made it where and when; of a list how long it is."""
    return _fields(kind, body, units, clock) + [(one["label"], str(len(body[one["path"]]))) for one in _held(kind, body) if one["kind"] == "list"]


def _held(kind, body):
    return [one for one in KINDS[kind][1] if "." not in one["path"] and one["path"] not in HEAD and body.get(one["path"]) not in (None, [])]


def _fields(kind, body, units, clock):
    return [(one["label"], _text(one, one["path"], body, units, clock)) for one in _held(kind, body) if one["kind"] in _SIMPLE]


def _tables(kind, body, units, clock):
    """[(label, labels of the columns, rows of texts)] of a record's lists, without columns in which nothing stands that can be read."""
    out = []
    for group in KINDS[kind][1]:
        entries = body.get(group["path"]) if group["kind"] == "list" and "." not in group["path"] else None
        inside = [(one, one["path"].rpartition(".")[2]) for one in KINDS[kind][1]
                  if one["path"].rpartition(".")[0] == group["path"] + "[]" and one["kind"] in _SIMPLE + ("id",)]
        columns = [(one, name) for one, name in inside if any(
            entry.get(name) is not None and not _BARE.fullmatch(str(entry[name])) for entry in entries or [])]
        if columns:
            out.append((group["label"], [one["label"] for one, _ in columns], [
                [_text(one, name, entry, units, clock) if entry.get(name) is not None else "" for one, name in columns] for entry in entries]))
    return out


def plain(reader, record, system, made_by):
    """Paper of a record: its fields, its lists as tables, its photos, who signed or closed it. record, system: revisions."""
    body, kind = record["body"], record["kind"]
    name, drawn = KINDS[kind][0], (body.get("signed") or {}).get("drawn")
    return render(reader, "plain.html", "%s: %s" % (name, system["body"].get("name") or "No name yet"), record["made_at"],
                  {"%s.json" % kind: body, "system.json": system["body"]}, page_of_record(record),
                  **of_system(reader, record, made_by, kind=name, record=body, system=system["body"], drawn=signature(drawn),
                              rows=_fields(kind, body, reader.units, reader.clock), tables=_tables(kind, body, reader.units, reader.clock),
                              pictures=photos(reader, body.get("photos"), name)))
