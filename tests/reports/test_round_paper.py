"""The round report: photos with marks, answers with who, signatures, corrections, on A4 and on Letter, whatever the names are."""
import io
import json
import logging
import re

import pikepdf
import pytest
from pypdf import PdfReader

from webapp.reports.photos import signature
from webapp.reports.round_report import round_report

from .codes import codes_on, pages
from .made import ABSENT, ADDRESS, LONG, MARKS, Photos, a_round, item, reader, revision, system


def paper(items, photos=None, units="metric", corrections=(), of=None, address=ADDRESS, **changes):
    of = of or system()
    record = a_round(of, items, **changes)
    return round_report(reader(photos, units, address), revision(record, "round-1"), revision(of), "Vera Long", corrections).pdf()


def text_of(pdf):
    return re.sub(r"\s+", " ", "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages))


def pictures_in(pdf):
    """The bytes of each picture as the PDF holds them."""
    with pikepdf.open(io.BytesIO(pdf)) as read:
        return [bytes(thing.read_raw_bytes()) for thing in read.objects if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Image"]


def test_photos_of_what_was_not_ok_stand_with_it_and_their_pixels_are_the_phone_s():
    photos = Photos()
    held = [photos.held(1, marks=MARKS), photos.held(2, upright=True)]
    pdf = paper([item(1), item(2, "not ok", note="Fitting weeps", photos=held), item(3, photos=[photos.held(3)])], photos)
    text = text_of(pdf)
    assert text.index("Fitting weeps") < text.index("All 3 items") < text.index("Photos of what was ok")
    assert sorted(pictures_in(pdf)) == sorted(map(photos.photo, [held[0]["sha256"], held[1]["sha256"], photos.held(3)["sha256"]]))
    with pikepdf.open(io.BytesIO(pdf)) as read:
        described = [str(thing.Alt) for thing in read.objects if isinstance(thing, pikepdf.Dictionary) and "/Alt" in thing]
    title = "Photo: Point 2: Feed line attached, fitting dry, 20 Nov 2026, 08:05, Vera"
    assert [described.count(one) for one in (title, title + ", marked with arrow, circle")] == [1, 1]


def test_marks_are_drawn_over_the_photo_in_black_within_white():
    photos = Photos()
    plain, marked = (pages(paper([item(1, "not ok", photos=[photos.held(1, **more)])], photos), 60)[0] for more in ({}, {"marks": MARKS}))
    changed = [(a, b) for a, b in zip(plain.convert("L").get_flattened_data(), marked.convert("L").get_flattened_data()) if abs(a - b) > 60]
    assert len(changed) > 100 and min(b for _, b in changed) < 40 and max(b for _, b in changed) > 240


def test_a_photo_that_was_not_sent_yet_is_said():
    assert "Not on the server yet" in text_of(paper([item(1, "not ok", photos=[ABSENT])], Photos()))


def test_who_answered_and_who_signed_in_which_role_with_the_drawn_signature():
    pdf = paper([item(1)], countersigned={"by": "Otto Chief", "at": "2026-11-21T10:00:00+01:00", "role": "supervisor", "statement": "Seen."})
    text = text_of(pdf)
    for said in ("Vera, 20 Nov 2026, 08:01", "Signed off by Vera Long, technician, 20 Nov 2026, 09:00.", "“Walked as asked.”",
                 "Counter-signed by Otto Chief, supervisor"):
        assert said in text
    assert "Walked by" not in text and "Seen by" not in text  # nothing is left to sign


@pytest.mark.parametrize("drawn, there", [(["M0 0l0 0L10 10"], True), ([], False), (None, False), (["<script>"], False), (["M0"], False),
                                          (['M0 0L1 1"/><image href="http://x"/>'], False)])
def test_a_signature_is_made_of_moves_and_lines_alone(drawn, there):
    assert (signature(drawn) is not None) == there


def test_what_was_not_answered_is_said_and_an_unsigned_round_asks_to_be_signed():
    text = text_of(paper([item(1), item(2, None), item(3, "not done", note="Guard locked")], signed=None))
    assert "2 of 3 items were not done" in text and "Guard locked" in text and "Not signed off." in text and "Walked by" in text


def test_corrections_say_who_made_them_and_why():
    corrections = [{"number": 9, "made_at": "2026-11-22T10:00:00+01:00", "who": "Otto Chief", "reason": "Wrong reading"}]
    assert "Corrected since it was signed" in (text := text_of(paper([item(1)], corrections=corrections))) and "Otto Chief Wrong reading" in text


@pytest.mark.parametrize("low, high, said", [(1, None, "at least 1 bar"), (None, 40, "at most 40 bar"), (1, 40, "1 bar to 40 bar")])
def test_a_reading_outside_one_limit_is_to_look_at(low, high, said):
    value = 0.5 if low else 50
    text = text_of(paper([item(1, "reading", value=value, unit="bar", low=low, high=high)]))
    assert "To look at: 1" in text and said in text


@pytest.mark.parametrize("units, size", [("metric", (210.0, 297.0)), ("us", (215.9, 279.4))])
def test_the_paper_s_size_follows_the_reader_s_units(units, size):
    box = PdfReader(io.BytesIO(paper([item(1)], units=units))).pages[0].mediabox
    assert (float(box.width) / 72 * 25.4, float(box.height) / 72 * 25.4) == pytest.approx(size, abs=0.1)


@pytest.mark.parametrize("address, read", [(ADDRESS, [ADDRESS + "/app/systems/%s/rounds/round-1" % system()["id"]]), ("", [])])
def test_its_code_opens_the_page_and_is_left_out_without_an_address(address, read):
    pdf = paper([item(1)], address=address)
    assert [text for text, _ in codes_on(pages(pdf)[0])] == read
    assert ("Scan" in text_of(pdf)) == bool(read)


def test_the_longest_names_stay_on_the_page():
    of = system(name=LONG * 3, area=LONG, site=LONG)
    for picture in pages(paper([item(1, "not ok", where=LONG, ask=LONG, note=LONG * 2)], of=of), 50):
        grey = picture.convert("L")
        assert min(grey.crop((grey.width - 20, 0, grey.width, grey.height)).get_flattened_data()) == 255  # nothing reaches into the right margin


def test_sixty_photos_are_all_there_and_nothing_is_warned_of(caplog):
    photos = Photos()
    items = [item(number, "not ok" if number < 3 else "ok", photos=[photos.held(2 * number + one) for one in range(2)]) for number in range(30)]
    with caplog.at_level(logging.WARNING):
        pdf = paper(items, photos)
    assert [record.getMessage() for record in caplog.records if record.name.startswith("weasyprint")] == []
    assert len(set(pictures_in(pdf))) == 60
    assert json.loads(PdfReader(io.BytesIO(pdf)).attachments["round.json"][0])["items"] == items


def test_black_and_white_says_the_same(caplog):
    """Nothing but photos has a colour: every other pixel is a grey."""
    picture = pages(paper([item(1, "not ok", note="Fitting weeps")]), 50)[0]
    assert all(max(pixel) - min(pixel) <= 2 for pixel in picture.convert("RGB").get_flattened_data())
