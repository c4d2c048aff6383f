"""One system's points, devices, pipes and switches as CSV: given out, typed into, taken in as a revision like any that a phone sends.

The header names the revision that a table was given out of. Rows are held against that one, so what others changed meanwhile is merged or
becomes a clash, and is never overwritten. docs/formats.md has it.
"""
import csv
import io
import re
from collections import OrderedDict
from copy import deepcopy

from . import tables
from .documents import NoDocument
from .envelope import is_uuid, stops
from .receive import from_desk, refusal
from .store import revisions
from .store.times import now

# in the order in which findings are told: what stands at the line first
NAMES = ("sections", "devices", "switches", "points")
REVISION = "revision "
_MOST_TOLD = 50
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?", re.ASCII)
# separator -> decimal sign
_DECIMAL = {",": ".", ";": ",", "\t": "."}
_BOOL = {"true": True, "false": False}


class NotTakenIn(NoDocument):
    """Tables cannot be taken in; `faults` has a sentence for each row that is wrong."""

    def __init__(self, faults):
        more = len(faults) - _MOST_TOLD
        self.faults = faults[:_MOST_TOLD] + (["%d more rows are wrong: put these right first." % more] if more > 0 else [])
        NoDocument.__init__(self, "\n".join(self.faults))


def give_out(system, name):
    """A table of a system's revision as CSV text that `take_in` reads."""
    columns = tables.columns(name)
    getters = [tables.getter(name, one) for one in columns]
    rows = [[tables.cell(get(entry)) for get in getters] + [""] for entry in system["body"].get(name) or []]
    head = [tables.heading(name, one) for one in columns] + [REVISION + system["id"]]
    return tables.BOM + "".join(tables.line(row) for row in [head] + rows)


def name_of(file):
    """Which table a file holds, by its name. Raises NotTakenIn."""
    found = [name for name in NAMES if file.lower().startswith(name)]
    if not found:
        raise NotTakenIn(["%s: its name must begin with %s or %s, so that it is known what it holds." % (
            file[:60], ", ".join(NAMES[:-1]), NAMES[-1])])
    return found[0]


class _Table:
    """A table as it was typed: the revision that it was given out of, and its rows. Raises NotTakenIn."""

    def __init__(self, name, text):
        self.name, self.file, self.faults = name, name + ".csv", []
        text = text.removeprefix(tables.BOM)
        self.separator = max(_DECIMAL, key=text.partition("\n")[0].count)
        self.lines, self.cells = self._read(text)
        if not self.cells:
            raise NotTakenIn(["%s, line 1: the header is missing. Give the table out and type into it." % self.file])
        self.columns, self.base = self._header([one.strip() for one in self.cells.pop(0)])
        self.lines.pop(0)

    def _read(self, text):
        lines, cells, at = [], [], 1
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=self.separator, strict=True)
        try:
            for row in reader:
                if any(cell.strip() for cell in row):
                    lines.append(at)
                    cells.append(row)
                at = reader.line_num + 1
        except csv.Error as error:
            raise NotTakenIn(["%s, line %d: the quotes do not close. Write \" within a cell as \"\"." % (self.file, at)]) from error
        return lines, cells

    def _header(self, heads):
        """(the field of each column, None of the one that names the revision; the revision's id)."""
        known = {tables.heading(self.name, one): one for one in tables.columns(self.name)}
        bases = [one[len(REVISION):] for one in heads if one.startswith(REVISION)]
        for number, head in enumerate(heads, 1):
            if head not in known and not head.startswith(REVISION):
                raise NotTakenIn([self._of_head(head, number, known)])
            if heads.count(head) > 1:
                raise NotTakenIn(["%s, line 1: the column \"%s\" is there twice. Leave one of them out." % (self.file, head)])
        if "id" not in heads:
            raise NotTakenIn(["%s, line 1: the column id is missing. Each row needs one: add it." % self.file])
        if len(bases) != 1 or not is_uuid(bases[0]):
            raise NotTakenIn(["%s, line 1: the column that names the revision is missing or not as it was. Give the table out anew, and "
                              "type into that." % self.file])
        return [known.get(head) for head in heads], bases[0]

    def _of_head(self, head, number, known):
        bare = head.partition(" [")[0]
        meant = next((one for one in known if bare and one.partition(" [")[0] == bare), None)
        if meant:
            return "%s, line 1: the column \"%s\" must be \"%s\": give its figures in that unit." % (self.file, head[:60], meant)
        return "%s, line 1: the column \"%s\" (number %d) is not known here. Leave it out, or call it as it was given out." % (
            self.file, head[:60], number)

    def entries(self, before):
        """The list that the rows make, each on what the entry of its id was `before`; None where rows are wrong, which `faults` tells."""
        held, made, seen = {one["id"]: one for one in before}, [], {}
        for line, row in zip(self.lines, self.cells):
            try:
                entry = self._entry(row, held)
                if entry["id"] in seen:
                    raise _Wrong(None, "the id %s is there twice, first in line %d. Give each row its own." % (
                        entry["id"][:60], seen[entry["id"]]))
                seen[entry["id"]] = line
                made.append(entry)
            except _Wrong as wrong:
                self.faults.append(self.at(line, wrong.field, wrong.says))
        return None if self.faults else made

    def at(self, line, field, says):
        """A sentence with its place in front."""
        column = ", column %s" % tables.heading(self.name, field) if field else ""
        return "%s, line %d%s: %s" % (self.file, line, column, says)

    def _entry(self, row, held):
        if len(row) != len(self.columns):
            raise _Wrong(None, "it has %d cells and the header has %d. Put a text that holds \"%s\" into quotes, and leave no cell out." % (
                len(row), len(self.columns), self.separator))
        cells = [(field, text) for field, text in zip(self.columns, row) if field]
        identity, = (tables.uncell(text) for field, text in cells if tables.heading(self.name, field) == "id")
        entry = deepcopy(held.get(identity, {}))
        for field, text in cells:
            was = tables.getter(self.name, field)(entry)
            # what stands there as it went out is left as it is, to the last digit
            if text != tables.cell(was):
                _put(entry, tables.heading(self.name, field).partition(" [")[0].split("."), self._value(field, text, was))
        if not entry.get("id", "").strip():
            raise _Wrong(tables.columns(self.name)[0], "nothing is entered. Give each row an id of its own.")
        return entry

    def _value(self, field, text, was):
        """The value that a cell stands for; None where nothing is given."""
        kind, plain = field["kind"], text.strip()
        if not plain:
            return None
        if kind in ("text", "id"):
            return tables.uncell(text)
        if kind == "choice":
            if plain not in field["choices"]:
                raise _Wrong(field, "\u201c%s\u201d is not known. Use one of: %s." % (plain[:40], ", ".join(field["choices"])))
            return plain
        if kind == "bool":
            if plain.lower() not in _BOOL:
                raise _Wrong(field, "\u201c%s\u201d is neither true nor false. Write one of them, or nothing." % plain[:40])
            return _BOOL[plain.lower()]
        value = self._number(field, plain.removeprefix("'"))
        return was if value == was and not isinstance(was, bool) else value

    def _number(self, field, text):
        sign = _DECIMAL[self.separator]
        english = text if sign == "." else text.replace(".", "?").replace(sign, ".")
        value = float(english) if _NUMBER.fullmatch(english) else float("inf")
        if value in (float("inf"), float("-inf")):
            raise _Wrong(field, "\u201c%s\u201d is no number. Write it like %s." % (
                text[:40], "12.5, with a point" if sign == "." else "12,5, with a comma, where semicolons part the cells"))
        return int(value) if english.lstrip("+-").isdigit() else value


class _Wrong(ValueError):
    """A cell of a field, or a row (None), is wrong; `says` tells how, and what to do."""

    def __init__(self, field, says):
        ValueError.__init__(self, says)
        self.field, self.says = field, says


def _put(entry, path, value):
    """Set a value at a path below an entry, or take it away (None) with groups that are empty then."""
    if len(path) == 1:
        if value is None:
            entry.pop(path[0], None)
        else:
            entry[path[0]] = value
        return
    inner = entry.get(path[0])
    inner = inner if isinstance(inner, dict) else {}
    _put(inner, path[1:], value)
    if inner:
        entry[path[0]] = inner
    else:
        entry.pop(path[0], None)


def take_in(connection, person, system, files, at=None):
    """Take in {name of a table: its CSV text} for a system (its newest revision) in a person's name; `at`: RFC 3339, now where None.

    Returns the result of the wire, or None where the tables say what their revision says. Raises NotTakenIn; nothing is changed then.
    """
    read = [_Table(name, files[name]) for name in NAMES if name in files]
    if not read:
        raise NotTakenIn(["No file was chosen, or it is empty: choose one or more of the tables."])
    base = _base(connection, system, read)
    body = OrderedDict(base["body"])
    for table in read:
        rows = table.entries(body.get(table.name) or [])
        if rows or table.name in body:
            body[table.name] = rows
    faults = [fault for table in read for fault in table.faults] or _found(body, read)
    if faults:
        raise NotTakenIn(faults)
    if body == base["body"]:
        return None
    result = from_desk(connection, person, body, at or now(), base, "taken in from tables: %s" % ", ".join(table.name for table in read))
    if refusal(result):
        raise NotTakenIn([refusal(result)])
    return result


def _base(connection, system, read):
    """The revision that all tables were given out of. Raises NotTakenIn."""
    if system["deleted"]:
        raise NotTakenIn(["This system was deleted: bring it back first."])
    first = read[0]
    for table in read:
        if table.base != first.base:
            raise NotTakenIn(["%s was given out at another time than %s. Give all tables out anew, and type into those." % (
                table.file, first.file)])
    base = revisions.find(connection, first.base)
    if base is None or base["document"] != system["document"] or base["deleted"]:
        raise NotTakenIn(["%s was given out of another system, or of a plant that is not this one. Take the tables of %s." % (
            first.file, system["body"].get("name") or "this system")])
    return base


def _found(body, read):
    """What the check stops, the first of each row with its file, line and column."""
    tables_by_name, told = {table.name: table for table in read}, OrderedDict()
    for entry in stops(body):
        says, place = ("%s %s" % (entry["says"], entry["do"])).strip(), re.match(r"(\w+)\[(\d+)\]\.?(.*)", entry["where"])
        table = place and tables_by_name.get(place[1])
        if table:
            line, paths = table.lines[int(place[2])], {one["path"].partition("[].")[2]: one for one in tables.columns(table.name)}
            told.setdefault((table.name, line), table.at(line, paths.get(place[3]), says))
        else:
            told.setdefault(entry["where"], says)
    return list(told.values())
