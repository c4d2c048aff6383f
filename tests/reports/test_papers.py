"""The papers as PDFs: read back, not only rendered."""
import io
import json
import logging
import re
import subprocess

import pikepdf
import pytest
from pypdf import PdfReader

from demo_site import plant_kinds
from tests.engine.test_season import slow_in_the_cold
from webapp.engine.bridge import ask
from webapp.phone_pages import STATIC
from webapp.reports.base import RECORD_PAGES, Paper, Reader
from webapp.reports.commissioning import commissioning
from webapp.reports.pdf import Refused
from webapp.reports.season_sheet import season_sheet
from webapp.reports.settings_sheet import settings_sheet
from webapp.store import revisions

from .codes import codes_on, pages
from .conftest import ADDRESS, PLANT, make
from .made import revision

PAPERS = [("settings", "Head rig and edger"), ("settings", "Sorter chain"), ("settings", "Debarker ring"),
          ("commissioning", "Head rig and edger"), ("round", "Head rig and edger"),
          ("settings", "Trim saw table"), ("settings", "Stacker"), ("settings", "Band resaw"),
          ("defects", PLANT), *(("season", name) for name in ("Sorter chain", "Trim saw table", "Stacker", "Band resaw"))]
every_paper = pytest.mark.parametrize("kind, name", PAPERS)


def text_of(pdf):
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


def flat(text):
    return re.sub(r"\s+", " ", text)


@every_paper
def test_qpdf_finds_nothing_wrong(paper, tmp_path, kind, name):
    file = tmp_path / "paper.pdf"
    file.write_bytes(paper(kind, name))
    checked = subprocess.run(["qpdf", "--check", str(file)], capture_output=True, text=True)
    assert checked.returncode == 0, checked.stdout + checked.stderr


@every_paper
def test_it_is_tagged_titled_and_says_its_language(paper, kind, name):
    with pikepdf.open(io.BytesIO(paper(kind, name))) as pdf:
        assert pdf.Root.MarkInfo.Marked and pdf.Root.StructTreeRoot.K is not None
        assert str(pdf.Root.Lang) == "en" and pdf.Root.ViewerPreferences.DisplayDocTitle
        assert name in str(pdf.docinfo.Title)


@pytest.mark.parametrize("kind, name", [PAPERS[0], *PAPERS[3:6], *PAPERS[-2:]])
def test_the_same_input_gives_the_same_bytes(plant, paper, kind, name):
    assert make(plant, kind, name) == paper(kind, name)


@every_paper
def test_rendering_warns_of_nothing(plant, caplog, kind, name):
    with caplog.at_level(logging.WARNING):
        make(plant, kind, name)
    assert [record.getMessage() for record in caplog.records if record.name.startswith("weasyprint")] == []


@every_paper
def test_every_page_has_its_number_and_says_what_it_is(paper, kind, name):
    pages = [flat(page.extract_text()) for page in PdfReader(io.BytesIO(paper(kind, name))).pages]
    for number, text in enumerate(pages, 1):
        assert "%d of %d" % (number, len(pages)) in text and name in text and ("Revision" in text or name == PLANT)


def test_the_document_itself_is_attached(plant, paper):
    attached = PdfReader(io.BytesIO(paper("settings", "Sorter chain"))).attachments
    with plant.reading() as connection:
        stored = {one["body"]["name"]: one["body"] for one in revisions.newest_of_kind(connection, "system")}
    assert json.loads(attached["system.json"][0]) == stored["Sorter chain"]
    assert json.loads(attached["worked.json"][0])["format"] == "worked/1"


def test_only_fonts_of_ours_and_all_of_them_embedded(paper):
    with pikepdf.open(io.BytesIO(paper("settings", "Sorter chain"))) as pdf:
        fonts = [thing for thing in pdf.objects if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/FontDescriptor"]
        assert fonts and all("/FontFile2" in font or "/FontFile3" in font for font in fonts)


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_settings_sheet_holds_every_setting_reason_finding_and_figure(plant, paper, units):
    with plant.reading() as connection:
        system = next(one["body"] for one in revisions.newest_of_kind(connection, "system") if one["body"]["name"] == "Sorter chain")
    worked = ask({"do": "work", "document": system, "units": units})
    text = flat(text_of(paper("settings", "Sorter chain", units))).replace(" ", "")
    said = [one[key] for one in worked["settings"] for key in ("label", "shown", "reason")]
    said += [entry[key] for entry in worked["findings"] for key in ("says", "do")]
    said += [worked[room][name]["shown"] for room, name in (("interval", "pause"), ("line", "volume"), ("build", "time_coldest"),
                                                             ("electrical", "voltage_drop"), ("reservoir", "days_to_low"))]
    assert [one for one in said if flat(one).replace(" ", "") not in text] == []


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_first_page_of_a_settings_sheet_is_whole(paper, units):
    """What is entered, the cautions and who signs: one leaf that stays at the controller, A4 or Letter."""
    first = flat(PdfReader(io.BytesIO(paper("settings", "Head rig and edger", units))).pages[0].extract_text())
    assert [one for one in ("Pause", "Alarm output", "Never feel for a leak by hand", "Set by", "Page 1 of") if one not in first] == []


@pytest.mark.parametrize("warnings, units", [(1, "us"), (2, "metric"), (5, "metric")])
def test_who_signs_for_settings_has_the_last_of_them_on_the_same_page(plant, monkeypatch, warnings, units):
    def warned(question):
        answer = ask(question)
        more = [{"severity": "warn", "says": "The last device has little pressure to spare.", "do": "Choose a larger pipe. " * 6}] * warnings
        return dict(answer, findings=more + answer["findings"]) if question["do"] == "work" else answer

    monkeypatch.setattr("webapp.reports.settings_sheet.ask", warned)
    first, second = [flat(page.extract_text()) for page in PdfReader(io.BytesIO(make(plant, "settings", "Head rig and edger", units))).pages[:2]]
    assert "Pause" in first and "Set by" not in first
    assert [one for one in ("Machine contact at rest", "Alarm output", "Never feel for a leak by hand", "Set by") if one not in second] == []


def pages_of(pdf):
    return [flat(page.extract_text()) for page in PdfReader(io.BytesIO(pdf)).pages]


def test_no_figure_s_working_stands_alone_on_the_last_page(paper):
    """The dual-line sheet's last row would."""
    last = pages_of(paper("settings", "Stacker"))[-1]
    assert "delivered" in last.partition("times the need")[0]


def test_temperatures_of_a_season_stand_on_one_page(paper):
    """On that of the progressive system there would be two on the first page."""
    there = [text for text in pages_of(paper("season", "Trim saw table")) if "Temperature by temperature" in text]
    assert len(there) == 1 and there[0].count(" bar works") == 5


def test_a_level_is_never_parted_from_its_unit(paper):
    assert re.search(r"[0-9]\n\s*l\b", text_of(paper("refills", PLANT))) is None


@pytest.mark.parametrize("sheet, says", [(settings_sheet, "No settings follow until this is corrected."),
                                         (season_sheet, "No season can be told until this is corrected.")])
def test_a_sheet_of_a_draft_says_what_is_missing_and_that_nothing_follows(sheet, says):
    draft = {"format": "system/1", "id": "d", "name": "Press"}
    text = flat(text_of(sheet(Reader("metric", ADDRESS, lambda sha256: None), revision(draft), "Vera").pdf()))
    assert "Pump: nothing is entered. Enter it." in text and says in text


def test_us_units_leave_no_metric_result(paper):
    first_page = PdfReader(io.BytesIO(paper("settings", "Sorter chain", "us"))).pages[0].extract_text()
    assert "psi" in first_page and not re.search(r"\d bar\b", first_page)


def test_the_commissioning_record_holds_runs_verdict_limit_and_signature(paper):
    text = flat(text_of(paper("commissioning", "Head rig and edger")))
    for said in ("Timed runs at 7 °C", "As predicted", "Time limit that follows", "Signed off by technician", "Never feel for a leak by hand"):
        assert said in text


@pytest.mark.parametrize("kind, place", [("commissioning", "records"), ("round", "rounds"), ("settings", None), ("season", None)])
def test_its_code_opens_the_page_of_what_it_is_about(plant, paper, kind, place):
    name = "Head rig and edger"
    with plant.reading() as connection:
        system = next(one["document"] for one in revisions.newest_of_kind(connection, "system") if one["body"]["name"] == name)
        of = {"commissioning": "test-run", "round": "round"}.get(kind)
        record = [one["document"] for one in revisions.newest_of_kind(connection, of) if one["body"]["system"] == system][-1] if of else None
    page = "/app/systems/%s" % system + ("/%s/%s" % (place, record) if place else "/season" if kind == "season" else "")
    assert [text for text, _ in codes_on(pages(paper(kind, name))[0])] == [ADDRESS + page]


def test_papers_and_phone_know_the_same_pages_of_records():
    """A code that named another page than the phone's would open nothing."""
    written = re.search(r"const PAGES = \{ (.*) \};", (STATIC / "app" / "records.js").read_text(encoding="utf-8"))[1]
    assert dict(re.findall(r"'?([\w-]+)'?: '([\w-]+)'", written)) == RECORD_PAGES
    routes = (STATIC / "app" / "router.js").read_text(encoding="utf-8")
    assert [place for place in ("records", *RECORD_PAGES.values()) if r"\/%s\/(?<document>" % place not in routes] == []


def test_the_round_report_says_what_was_not_ok_first(paper):
    text = flat(text_of(paper("round", "Head rig and edger")))
    assert text.index("Fitting weeps") < re.search("All [0-9]+ items", text).start()
    assert "Signed off by technician" in text


def test_a_paper_may_load_nothing_but_its_own_style_and_fonts():
    for wanted in ("http://127.0.0.1:9/x.png", "photo:abc"):
        with pytest.raises(Refused):
            Paper("title", '<img src="%s">' % wanted, "2026-11-23T09:00:00+01:00", {}, lambda sha256: None).pdf()


def test_letters_that_our_fonts_lack_come_from_the_next_font(caplog):
    """A font that claims a letter which it does not hold prints a box."""
    letters = "→←↑↓ µΩ ′″ ≥≤≈∞√ ‑ № ½₂ ŁşžĂ Жאπ"
    with caplog.at_level(logging.WARNING):
        Paper("title", '<html lang="en"><title>t</title><link rel="stylesheet" href="paper:style"><p>%s<b>%s</b>' % (letters, letters),
              "2026-11-23T09:00:00+01:00", {}, None).pdf()
    assert [record.getMessage() for record in caplog.records if record.name.startswith("weasyprint")] == []


def test_what_a_person_typed_is_text_and_never_markup(plant):
    with plant.reading() as connection:
        found = next(one for one in revisions.newest_of_kind(connection, "system") if one["body"]["name"] == "Sorter chain")
    body = dict(found["body"], name="<img src=x> & <b>bold</b>")
    text = flat(text_of(settings_sheet(Reader(), dict(found, body=body), "somebody").pdf()))
    assert "<img src=x> & <b>bold</b>" in text


@pytest.mark.parametrize("name, words", [
    ("Trim saw table", ["Monitoring time", "Cycle switch at rest", "Outlet O6 of block B2 feeds nothing",
                        "B2: cycles in a cycle of the first block"]),
    ("Stacker", ["Changeover switch at rest", "Volume to press in, line A", "Predicted, coldest, line B"]),
    ("Band resaw", ["Nothing confirms that lubricant arrives", "Run time", "nothing confirms a cycle, so no fault is ever shown"])])
def test_the_sheet_of_another_kind_says_what_its_controller_asks_for(paper, name, words):
    text = flat(text_of(paper("settings", name)))
    assert [one for one in words if one not in text] == []
    assert ("Time limit, second switch" in text) is False


@pytest.mark.parametrize("system, words", [
    (plant_kinds.trimmer(), ["Signal to signal", "Monitoring time that follows"]),
    (plant_kinds.stacker(), ["Line A", "Median, line B"]),
    (plant_kinds.resaw(), ["Last device", "Points looked at", "DRY"])], ids=["progressive", "dual-line", "time-only"])
def test_a_commissioning_record_shows_what_the_kind_times(system, words):
    day = "2026-11-23T09:00:00+01:00"
    runs = [{"id": "1", "started_at": day, "build_s": 17.0, "build_b_s": 18.0, "cycle_s": 2.4}]
    record = {"format": "test-run/1", "system": system["id"], "runs": runs, "seen": [{"point": "P1", "fed": False}]}
    made = [{"body": body, "document": "run-1", "number": 1, "made_at": day} for body in (record, system)]
    text = flat(text_of(commissioning(Reader(), *made, "technician").pdf()))
    assert [one for one in words if one not in text] == []


@pytest.mark.parametrize("name, words", [
    ("Sorter chain", ["It works down to −9 °C", "Left after venting", "Time limit", "does not reset"]),
    ("Trim saw table", ["Until the cycle switch signals", "Greatest pressure at the pump", "Stays in the line at rest", "Monitoring time"]),
    ("Stacker", ["Build-up, slower line", "Until all has reset", "Time limit"]),
    ("Band resaw", ["until the last device is fed", "takes longer than can be set", "No setting makes it work"])])
def test_the_season_sheet_says_what_limits_the_kind_and_shows_every_row(plant, paper, name, words):
    text = flat(text_of(paper("season", name)))
    assert [one for one in words if one not in text] == []
    with plant.reading() as connection:
        system = next(one["body"] for one in revisions.newest_of_kind(connection, "system") if one["body"]["name"] == name)
    season = ask({"do": "season", "document": system})
    said = [entry[key] for entry in season["findings"] for key in ("says", "do")]
    said += [part["shown"] for row in season["temperatures"] for part in row.values() if isinstance(part, dict)]
    assert [one for one in said if flat(one).replace(" ", "") not in text.replace(" ", "")] == []
    attached = PdfReader(io.BytesIO(paper("season", name))).attachments
    assert json.loads(attached["season.json"][0])["format"] == "season/1"


def test_the_season_sheet_of_two_settings_names_both_and_the_day_to_change():
    system = slow_in_the_cold()
    text = flat(text_of(season_sheet(Reader(), {"body": system, "document": system["id"], "number": 1, "made_at": "2026-11-23T09:00:00+01:00"}, "technician").pdf()))
    assert "summer" in text and "winter" in text and "Change over when mornings pass" in text
