"""`report`: every kind of paper from the command line, and what it says where it cannot."""
import io

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from tests.reports.codes import codes_on, pages
from tests.web.conftest import a_revision, a_system
from tests.web.records import a_record
from webapp import papers
from webapp.__main__ import main
from webapp.reports.labels import STANDARD


@pytest.fixture
def documents(hand):
    system = a_system()
    records = {kind: a_record(kind, system) for kind in papers.PAPER_OF}
    hand("technician").send(a_revision(system), *map(a_revision, records.values()))
    return {"system": system["id"], papers.PLANT: "all", **{kind: one["id"] for kind, one in records.items()}}


@pytest.fixture
def run(database, tmp_path):
    """run(kind, id, ...): (the command's result, the file it was to write)."""
    def command(*arguments):
        file = tmp_path / "paper.pdf"
        return CliRunner().invoke(main, ["report", *arguments, "-o", str(file)], env={"DATABASE_URL": database, "TIMEZONE": "UTC"}), file
    return command


@pytest.mark.parametrize("kind", papers.KINDS)
def test_it_writes_the_same_bytes_as_the_page_gives(run, hand, documents, kind):
    of = papers.KINDS[kind].of
    result, file = run(kind, documents[of], "--since", "2026-11-01", "--until", "2026-11-25", "--address", "http://localhost/")
    assert (result.exit_code, result.output) == (0, "")
    page = "/papers/%s.pdf" % kind if of == papers.PLANT else "/papers/%s/%s.pdf" % (kind, documents[of])
    assert hand("supervisor").get(page + "?since=2026-11-01&until=2026-11-25").data == file.read_bytes()


@pytest.mark.parametrize("identity", ["all", "North works", None])
def test_a_paper_of_many_systems_is_of_all_of_a_site_or_of_one(run, documents, identity):
    result, file = run("defects", identity or documents["system"])
    assert result.exit_code == 0 and "Defect list" in PdfReader(io.BytesIO(file.read_bytes())).pages[0].extract_text()


@pytest.mark.parametrize("arguments, words", [
    (("round", "system"), "is a system, not a round"), (("settings", "nobody"), "There is no document nobody"),
    (("defects", "Nowhere"), "There is no system and no site of the name Nowhere"),
    (("summary", "system", "--since", "x"), "is no day"), (("summary", "system", "--since", "2026-12-01", "--until", "2026-11-01"), "before it begins")])
def test_what_it_cannot_do_is_one_sentence(run, documents, arguments, words):
    kind, identity, *more = arguments
    result, file = run(kind, documents.get(identity, identity), *more)
    assert result.exit_code == 1 and result.stderr.count("\n") == 1 and words in result.stderr and not file.exists()


def test_a_file_that_cannot_be_written_is_named_with_what_to_do(database, documents, tmp_path):
    nowhere = str(tmp_path / "none" / "paper.pdf")
    result = CliRunner().invoke(main, ["report", "settings", documents["system"], "-o", nowhere], env={"DATABASE_URL": database, "TIMEZONE": "UTC"})
    assert result.exit_code == 1 and result.stderr == "Error: %s cannot be written: No such file or directory. Name another file.\n" % nowhere


def test_its_help_lists_every_kind_and_every_sheet_of_labels():
    text = CliRunner().invoke(main, ["report", "--help"]).output
    assert [one for one in (*papers.KINDS, "labels", *STANDARD) if one + ":" not in text] == []


def test_labels_are_the_page_s_to_the_byte(run, hand, documents):
    result, file = run("labels", "all", "--address", "http://localhost", "--sheet", "letter-2x5", "--start", "3")
    assert (result.exit_code, result.output) == (0, "")
    browser = hand("supervisor")
    form = {"labels": "both", "sheet": "letter-2x5", "start": "3", "csrf_token": browser.token()}
    assert browser.http.post("/plant/labels", data=form).data == file.read_bytes()


def test_a_sheet_of_other_sizes_is_written_in_millimetres(run, documents):
    _, file = run("labels", documents["system"], "--for", "systems", "--address", "http://localhost", "--sheet", "A4,2,5,90,50,10,15,5")
    (text, (x, y)), = codes_on(pages(file.read_bytes())[0])
    assert text == "http://localhost/app/systems/" + documents["system"] and 10 < x / 150 * 25.4 < 40 and 15 < y / 150 * 25.4 < 40


@pytest.mark.parametrize("arguments, words", [
    ((), "needs the address"), (("--address", "http://x", "--sheet", "a5"), "There is no sheet \"a5\": name one"), (("--address", "http://x", "--start", "25"), "1 to 24"),
    (("--address", "http://x", "--sheet", "A4,4,8,70,37,0,0.5"), "A4 is 210 mm wide"), (("--address", "http://x", "--sheet", "A4,4,8,70"), "write its sizes like")])
def test_labels_that_cannot_be_are_one_sentence(run, documents, arguments, words):
    result, file = run("labels", "all", *arguments)
    assert result.exit_code == 1 and result.stderr.count("\n") == 1 and words in result.stderr and not file.exists()
