"""docs/formats.md says what the program does: its tables of fields, of parts of a plant's file, of CSV tables, of the wire."""
import re

from docs.fields import FILE, whole
from webapp.plant_file import FORMAT
from webapp.store.whole import PARTS, _COLUMNS
from webapp.tables import FROM, TABLES

TEXT = FILE.read_text(encoding="utf-8")


def test_the_tables_of_fields_are_those_of_the_catalogue():
    assert TEXT == whole(), "run python -m docs.fields"


def test_every_part_of_a_plants_file_is_told_with_its_columns():
    assert FORMAT in TEXT
    told = dict(re.findall(r"^\| `(\w+)\.jsonl` \| (.*) \|$", TEXT, re.M))
    assert tuple(told) == PARTS
    for part, columns in _COLUMNS.items():
        if part != "revisions":
            assert all("`%s`" % column.name in told[part] for column in columns), part
    revision = TEXT.partition("## A revision")[2].partition("## The wire")[0]
    assert all("`%s`" % column.name in revision for column in _COLUMNS["revisions"])


def test_every_table_and_its_first_columns_are_told():
    tables = TEXT.partition("## Tables")[2].partition("## Fields")[0]
    assert set(re.findall(r"`(\w+)\.csv`", tables)) == set(TABLES)
    assert all("`%s`" % name in tables for name in FROM)


def test_every_address_of_the_wire_is_told(app):
    wire = {(method, re.sub("<[^>]*>", "SHA256", rule.rule)) for rule in app.url_map.iter_rules() for method in rule.methods - {"HEAD", "OPTIONS"}
            if rule.rule.startswith(("/api", "/sync", "/health"))}
    told = set(re.findall(r"^\| `(\w+) (/[\w/]+)` \|", TEXT, re.M))
    assert told == wire - {("GET", "/api/demo")}
