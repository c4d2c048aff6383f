"""`python -m docs.fields` writes the tables of docs/formats.md anew from the catalogue; a test says when that is due."""
from pathlib import Path

from webapp.engine.document.documents import KINDS
from webapp.engine.document.record_fields import READINGS
from webapp.tables import TABLES

FILE = Path(__file__).parent / "formats.md"
BEGIN = "## Fields of each document"
CSV_HEAD = "| file | one row is | columns of its own, by the tables below |\n| --- | --- | --- |\n"


def _range(one):
    if one["choices"]:
        return ", ".join(one["choices"])
    if one["low"] is not None:
        return "%s to %s" % (one["low"], one["high"])
    return "at most %d" % one["most"] if one["most"] else ""


def _row(one):
    cells = ("`%s`" % one["path"], one["label"], one["kind"], one["unit"] or "", _range(one), "yes" if one["required"] else "",
             "%s: %s" % (one["when"][0], ", ".join(one["when"][1])) if one["when"] else "")
    return "| %s |" % " | ".join(cell.replace("|", "\\|") for cell in cells)


def tables():
    """The tables of all kinds as Markdown."""
    out = []
    for kind, (name, fields) in KINDS.items():
        out += ["### %s: `%s/1`" % (name, kind), "", "| path | what | kind | unit | range | need | for |", "| --- | --- | --- | --- | --- | --- | --- |"]
        out += [_row(one) for one in fields]
        if kind == "fault-case":
            out += ["| `readings.%s` | %s | %s | %s |  |  |  |" % (path, label, of, unit or "") for path, label, of, unit in READINGS]
        out.append("")
    return "\n".join(out)


def csv_tables():
    """What each CSV table holds, as rows of a Markdown table."""
    return "\n".join("| `%s.csv` | %s | %s |" % (
        (table, "an entry of `%s` of one `%s`" % (group, kind), "fields below `%s`" % group) if group else
        (table, "one `%s`" % kind, "its fields outside lists")) for table, (kind, group) in TABLES.items())


def whole():
    """The file as it should be: what people wrote, the rows of CSV tables within it, and below the heading and its words the tables of all kinds."""
    written, heading, below = FILE.read_text(encoding="utf-8").partition(BEGIN)
    before, head, after = written.partition(CSV_HEAD)
    return before + head + csv_tables() + "\n\n" + after.partition("\n\n")[2] + heading + below.partition("\n### ")[0].rstrip() + "\n\n" + tables()


if __name__ == "__main__":
    FILE.write_text(whole(), encoding="utf-8")
