"""Tables of a plant as CSV (RFC 4180, UTF-8 with a byte order mark): columns from the catalogue, the unit in the header."""
import csv
from collections import OrderedDict

from .engine.document.documents import KINDS
from .engine.document.record_fields import ADDED
from .store import people, revisions, verdicts

# table -> (kind of document, the list of which each entry is a row; "": a document is a row)
TABLES = OrderedDict((
    ("systems", ("system", "")), ("sections", ("system", "sections[]")), ("devices", ("system", "devices[]")),
    ("points", ("system", "points[]")), ("switches", ("system", "switches[]")), ("runs", ("test-run", "runs[]")),
    ("rounds", ("round", "")), ("readings", ("round", "items[]")), ("defects", ("defect", "")), ("cases", ("fault-case", "")),
    *((many.lower().replace(" ", "_"), (kind, "")) for kind, (many, *_) in ADDED.items())))
# where a row comes from, before its own columns
FROM = ("document", "system", "system_name", "site", "record_made_at", "record_made_by")
# fields of every record that stand there under names of their own
ABOUT = ("id", "system", "made_at", "made_by", "phone")
_SINGLE = ("number", "whole", "text", "choice", "bool", "id")
_DRAWN = "signed.drawn"  # a signature's lines: no cell
_WITHOUT_UNIT = (None, "1", "count", "ratio")
# a spreadsheet would take a text that begins so for a formula
_FORMULA = frozenset("=+-@\t\r\n'")


def columns(table):
    """[field of the catalogue] that make up the columns of a table, in its order."""
    kind, group = TABLES[table]
    inside = [one for one in KINDS[kind][1] if one["path"].startswith(group + "." if group else "")]
    return [one for one in inside if one["kind"] in _SINGLE + ("texts",) and one["path"] != _DRAWN and "[]" not in _below(group, one)
            and not (not group and one["path"] in ABOUT)]


def _below(group, field):
    return field["path"][len(group) + 1:] if group else field["path"]


def heading(table, field):
    """A column's name: its path below its list, with its unit."""
    name, unit = _below(TABLES[table][1], field), field["unit"]
    return name if unit in _WITHOUT_UNIT else "%s [%s]" % (name, unit)


def header(table):
    """The first line: where a row comes from, then the columns of its own."""
    return list(FROM) + [heading(table, one) for one in columns(table)]


def cell(value):
    """A value as a cell: texts that would be formulas get an apostrophe in front, as does a text with an apostrophe there."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        value = "; ".join(str(one) for one in value)
    if not isinstance(value, str):
        return repr(value)
    return "'" + value if value[:1] in _FORMULA else value


def uncell(text):
    """The text that a cell stands for."""
    return text[1:] if text[:1] == "'" else text


def getter(table, field):
    """What takes a field's value out of an entry, None where it is not there."""
    return _getter(_below(TABLES[table][1], field))


def _getter(path):
    """What takes the value at a path below an entry, None where it is not there."""
    if "." not in path:
        return lambda entry: entry.get(path)

    def walk(thing):
        for name in path.split("."):
            thing = thing.get(name) if isinstance(thing, dict) else None
        return thing
    return walk


def _entries(body, group):
    """What makes rows of a body: itself, or the entries of one of its lists."""
    if not group:
        return [body]
    return [one for one in body.get(group[:-2]) or [] if isinstance(one, dict)]


class _Echo:
    """What a csv.writer writes into: the line comes back from `writerow`."""

    @staticmethod
    def write(line):
        return line


BOM = "\ufeff"
# line(cells): a line of a table
line = csv.writer(_Echo).writerow


def lines(connection, table):
    """Text of the table line by line, header first; documents are read a few at a time."""
    kind, group = TABLES[table]
    getters = [getter(table, one) for one in columns(table)]
    names = {one["id"]: one["name"] for one in people.everybody(connection)}
    systems = verdicts.names(connection)
    yield BOM + line(header(table))
    for revision in revisions.every_newest(connection, kind):
        body = revision["body"]
        system = revision["document"] if kind == "system" else body.get("system")
        about = [cell(value) for value in (revision["document"], system, systems.get(system), revision["site"], revision["made_at"],
                                           names.get(revision["made_by"], revision["made_by"]))]
        for entry in _entries(body, group):
            yield line(about + [cell(get(entry)) for get in getters])
