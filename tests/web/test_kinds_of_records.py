"""Every kind of record has its place: in the check, lists at the desk, papers, tables; a new one by its entry in the catalogue alone."""
import csv
import io
import subprocess
import sys
from html import unescape
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.web.conftest import MADE_AT, a_revision, a_system, new_id
from tests.web.records import a_record
from webapp.clock import Clock
from webapp.engine.document.record_fields import ADDED, RECORDS, TYPED
from webapp.papers import PAPER_OF
from webapp.reports.plain import told
from webapp.tables import TABLES, lines


@pytest.fixture
def kept(hand):
    """kept(kind): a record of that kind, sent by somebody who may make any."""
    def keep(kind):
        system = a_system()
        body = a_record(kind, system)
        assert [one["says"] for one in hand("supervisor").send(a_revision(system), a_revision(body))] == [None, None]
        return body
    return keep


@pytest.mark.parametrize("kind", RECORDS)
def test_it_is_listed_at_the_desk_with_what_it_says(hand, kept, kind):
    body, desk = kept(kind), hand("supervisor")
    assert desk.get("/plant/%s" % body["system"]).status_code == 200
    older = unescape(desk.get("/plant/%s/%s" % (body["system"], kind)).get_data(as_text=True))
    said = told(kind, body, "metric", Clock())
    assert [label for label, text in said if label not in older or text not in older] == []
    assert ("/papers/" in older) == (kind in PAPER_OF)


@pytest.mark.parametrize("kind", PAPER_OF)
def test_its_paper_is_made(hand, kept, kind):
    body = kept(kind)
    assert hand("supervisor").get("/papers/%s/%s.pdf" % (PAPER_OF[kind], body["id"])).data.startswith(b"%PDF")


def test_a_plain_paper_shows_every_field_and_list_of_a_record_and_who_signed(hand, kept):
    body = kept("settings-entry")
    entries = [{"name": "time_limit", "shown": "2 min 30 s", "wording": "P2", "at": MADE_AT}, {"name": "pause", "shown": "25 min"}]
    by = {"by": "Vera", "at": MADE_AT, "statement": "Read back."}
    signed = dict(body, id=new_id(), note="Entered twice.", entries=entries, signed=by)
    hand("technician").send(a_revision(signed))
    reply = hand("supervisor").get("/papers/settings-entry/%s.pdf" % signed["id"])
    text = " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(reply.data)).pages).split())
    said = ("Entered twice.", "time limit", "2 min 30 s", "P2", "23 Nov 2026, 08:05", "pause", "25 min", "Signed off by Vera", "Read back.")
    assert [one for one in said if one not in text] == []


@pytest.mark.parametrize("kind", ADDED)
def test_what_is_added_at_a_system_stands_in_a_table(store, kept, kind):
    body = kept(kind)
    table, = [name for name, one in TABLES.items() if one == (kind, "")]
    with store.reading() as connection:
        row, = csv.DictReader(text.lstrip("\ufeff") for text in lines(connection, table))
    filled = {name.split(" ")[0] for name, value in row.items() if value}
    assert row["document"] == body["id"] and {one["path"] for one in RECORDS[kind][1] if one["part"] == TYPED} <= filled


def test_a_number_without_a_unit_of_its_own_is_said_in_the_one_beside_it(hand, kept):
    body = dict(kept("adjustment"), id=new_id(), value=150.0, unit="s")
    hand("technician").send(a_revision(body))
    assert "2 min 30 s" in hand("supervisor").get("/plant/%s/adjustment" % body["system"]).get_data(as_text=True)


def test_a_kind_that_is_only_an_entry_of_the_catalogue_works(tmp_path):
    ran = subprocess.run([sys.executable, "-m", "tests.web.a_new_kind", tmp_path / "plant.sqlite"], cwd=Path(__file__).parents[2],
                         capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
