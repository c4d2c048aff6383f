"""Label sheets: exact in millimetres, codes that a camera reads back, words as large as they fit, clear refusals."""
import io
import logging
import re

import pikepdf
import pytest
from pypdf import PdfReader

from webapp.reports.labels import STANDARD, Sheet, label_sheets, labels_of

from .codes import codes_on, pages
from .made import ADDRESS, LONG, reader, system

DOTS = 200
MM = DOTS / 25.4
LABELS = labels_of(system())


def links(labels):
    return [ADDRESS + label["page"] for label in labels]


@pytest.mark.parametrize("key", STANDARD)
def test_every_label_of_a_common_sheet_is_read_back_and_lies_in_its_place(key):
    sheet = STANDARD[key][1]
    pdf = label_sheets(reader(), LABELS, sheet).pdf()
    sheets = pages(pdf, DOTS)
    assert len(sheets) == -(-len(LABELS) // sheet.count)
    read = [code for picture in sheets for code in codes_on(picture)]
    assert [text for text, _ in read] == links(LABELS)
    for number, (_, (x, y)) in enumerate(read):
        left, top = sheet.place(number % sheet.count)
        assert left < x / MM < left + 0.6 * sheet.width and top < y / MM < top + 0.6 * sheet.height


def test_the_drawings_lie_where_the_sheet_says_to_a_tenth_of_a_millimetre():
    """By the boxes that the PDF itself holds, not by pixels."""
    sheet = STANDARD["a4-3x7"][1]
    with pikepdf.open(io.BytesIO(label_sheets(reader(), LABELS, sheet, 4).pdf())) as pdf:
        width, height = (float(value) / 72 * 25.4 for value in pdf.pages[0].MediaBox[2:])
        boxes = [[float(value) * 25.4 / 96 for value in thing.A.BBox] for thing in pdf.objects
                 if isinstance(thing, pikepdf.Dictionary) and thing.get("/S") == "/Figure"]
    assert (width, height) == pytest.approx((210, 297), abs=0.05)
    wanted = [(left, top, left + sheet.width, top + sheet.height) for left, top in map(sheet.place, range(3, 3 + len(LABELS)))]
    assert sorted(boxes) == [pytest.approx(box, abs=0.1) for box in sorted(map(list, wanted))]


def test_the_first_label_can_be_any_of_the_sheet():
    sheet = STANDARD["a4-2x4"][1]
    read = codes_on(pages(label_sheets(reader(), LABELS[:1], sheet, 4).pdf(), DOTS)[0])
    assert len(read) == 1 and read[0][1][0] / MM > 105 and 13.1 + 67.7 < read[0][1][1] / MM < 13.1 + 2 * 67.7


@pytest.mark.parametrize("key", ["a4-3x8", "letter-3x10"])
def test_long_names_do_not_reach_over_their_label_and_nothing_is_warned_of(caplog, key):
    sheet = STANDARD[key][1]
    below = (["P1 · " + LONG, LONG], ["P2 · a plate that says it in many words", LONG], [LONG], ["P4"])
    long = [dict(label, title=title, below=lines) for label, title, lines in zip(LABELS, (LONG, "A " * 60, LONG * 4, "Saw → 4 & <b>"), below)]
    with caplog.at_level(logging.WARNING):
        pdf = label_sheets(reader(), long, sheet).pdf()
    assert [record.getMessage() for record in caplog.records if record.name.startswith("weasyprint")] == []
    picture = pages(pdf, DOTS)[0].convert("L")
    for number in range(4):
        left, top = sheet.place(number)
        right = int((left + sheet.width - 0.4) * MM)
        strip = picture.crop((right, int(top * MM), int((left + sheet.width) * MM), int((top + sheet.height) * MM)))
        assert min(strip.get_flattened_data()) > 200
    assert "Saw → 4 & <b>" in re.sub(r"\s+", " ", PdfReader(io.BytesIO(pdf)).pages[0].extract_text())


def test_names_are_large_black_on_white():
    """The name's letters are at least 3 mm high in their size, and the darkest is black."""
    pdf = label_sheets(reader(), LABELS, STANDARD["a4-3x8"][1]).pdf()
    sizes = []
    PdfReader(io.BytesIO(pdf)).pages[0].extract_text(visitor_text=lambda text, cm, tm, font, size: sizes.append(abs(size * tm[3] * cm[3])) if text.strip() else None)
    assert max(sizes) / 72 * 25.4 >= 3 and min(pages(pdf, 60)[0].convert("L").get_flattened_data()) == 0


def test_the_same_labels_give_the_same_bytes():
    first, second = (label_sheets(reader(), LABELS, STANDARD["roll-100x50"][1]).pdf() for _ in range(2))
    assert first == second


def test_points_and_systems_can_be_had_alone():
    assert [label["title"] for label in labels_of(system(), True, False)] == [system()["name"]]
    points = labels_of(system(), False, True)
    assert labels_of({"id": "s", "points": [{"id": "P 1&2#ü"}]}, False)[0]["page"] == "/app/systems/s?point=P%201%262%23%C3%BC"
    assert [label["page"].partition("?point=")[2] for label in points] == [point["id"] for point in system()["points"]]


@pytest.mark.parametrize("changes, words", [
    ({"columns": 4}, "4 columns of 70 mm with their gaps and the margin need 280 mm; A4 is 210 mm wide."),
    ({"rows": 9}, "9 rows of 37 mm"), ({"columns": 0}, "1 to 24 columns, not 0"), ({"width": 5}, "width of a label must be from 10 mm"),
    ({"left": -1}, "cannot be less than nothing"), ({"gap_x": 10}, "need 230 mm")])
def test_a_sheet_that_cannot_be_is_refused_in_a_sentence(changes, words):
    with pytest.raises(ValueError, match=re.escape(words)):
        Sheet(**dict({"paper": "A4", "columns": 3, "rows": 8, "width": 70.0, "height": 37.0, "left": 0.0, "top": 0.5}, **changes))


@pytest.mark.parametrize("sheet, labels, start, words", [
    (Sheet("A4", 1, 1, 12, 12, 0, 0), LABELS, 1, "too small for a code"), (STANDARD["a4-3x8"][1], LABELS, 25, "1 to 24"),
    (STANDARD["a4-3x8"][1], LABELS, 0, "1 to 24"), (STANDARD["a4-3x8"][1], [], 1, "nothing to print")])
def test_what_cannot_be_printed_is_said(sheet, labels, start, words):
    with pytest.raises(ValueError, match=words):
        label_sheets(reader(), labels, sheet, start)


def test_without_an_address_no_label_is_printed():
    with pytest.raises(ValueError, match="address"):
        label_sheets(reader(address=""), LABELS, STANDARD["a4-3x8"][1])
