"""docs/formats.md says what the program does: its tables of fields, of parts of a plant's file, of CSV tables, of the wire."""
import json
import re

import pytest

from demo_site import plant
from docs.fields import FILE, whole
from webapp.engine.bridge import ask
from webapp.engine.document.record_fields import READINGS
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


def test_every_reading_is_told_and_the_example_can_be_used():
    told = TEXT.partition("### Readings")[2].partition("## Fields")[0]
    names = [name for row in re.findall(r"^\| (`.*?) \|", told, re.M) for name in re.findall(r"`(\w+)`", row)]
    assert sorted(names) == sorted([name for name, *_ in READINGS] + ["tried"])
    answer = ask({"do": "diagnose", "document": plant.head_rig(), "readings": json.loads(told.split("```")[1]), "units": "metric"})
    assert answer["format"] == "diagnosis/1" and all("`%s`" % name in TEXT for name in answer["causes"][0])


@pytest.mark.parametrize("do", ["work", "simulate"])
@pytest.mark.parametrize("system", plant.systems(), ids=lambda one: one["name"])
def test_what_a_worked_system_and_a_trace_hold_is_told(do, system):
    told = TEXT.partition("## Documents of the command line")[2].partition("### Readings")[0]
    assert [name for name in ask({"do": do, "document": system, "units": "metric"}) if "`%s" % name not in told] == []
