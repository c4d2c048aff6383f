"""Sheets of labels with codes, for systems and points: exact in millimetres, large words, high contrast. Each label is one drawing."""
import math
from collections import OrderedDict
from urllib.parse import quote

import segno
from markupsafe import Markup, escape

from ..engine.basics.text import shown
from ..engine.pictures.svg import shortened, text_width
from .base import Paper, code, filled, page_of

A4, LETTER = (210.0, 297.0), (215.9, 279.4)
PAPERS = {"A4": A4, "Letter": LETTER}
# white that a printer's drift may eat into at each edge of a label [mm]
_EDGE = 1.0
# white around a code that its standard asks for (ISO/IEC 18004), in modules
_QUIET = 4
# side of a module that a phone still reads after years of dirt and sun, and the least at all [mm]; common practice, no published source
_GOOD, _LEAST = 0.5, 0.33
# height of the name's letters, the largest and the smallest [mm]; of the words below it, by the label's height
_LARGE, _SMALL = 9.0, 3.0
_BELOW_LEAST, _BELOW_MOST, _BELOW_SHARE = 2.6, 4.5, 1 / 13
# the most of a label's height for the words below the name, the most of its width for the code
_BELOW_ROOM, _CODE_ROOM = 0.36, 0.52
_LINE = 1.15
_MOST_SIDE = 24


class Sheet:
    """A label sheet. Lengths in mm; raises ValueError with a sentence where it cannot be."""

    def __init__(self, paper, columns, rows, width, height, left, top, gap_x=0.0, gap_y=0.0):
        self.columns, self.rows, self.width, self.height = columns, rows, width, height
        self.left, self.top, self.gap_x, self.gap_y = left, top, gap_x, gap_y
        self.paper = PAPERS.get(paper) or (width, height)
        for name, count in (("columns", columns), ("rows", rows)):
            if not 1 <= count <= _MOST_SIDE:
                raise ValueError("There can be 1 to %d %s, not %d." % (_MOST_SIDE, name, count))
        for name, value in (("width", width), ("height", height)):
            if not 10 <= value <= 300:
                raise ValueError("The %s of a label must be from 10 mm to 300 mm." % name)
        if min(left, top, gap_x, gap_y) < 0:
            raise ValueError("Margins and gaps cannot be less than nothing.")
        self._fits(columns, width, left, gap_x, self.paper[0], "columns", "wide", paper)
        self._fits(rows, height, top, gap_y, self.paper[1], "rows", "high", paper)

    @staticmethod
    def _fits(count, size, begin, gap, room, what, how, paper):
        needed = begin + count * size + (count - 1) * gap
        if needed > room + 0.05:
            raise ValueError("%d %s of %s with their gaps and the margin need %s; %s is %s %s." % (
                count, what, shown(size, "mm"), shown(needed, "mm"), paper if paper in PAPERS else "one label", shown(room, "mm"), how))

    @property
    def count(self):
        """Labels on a sheet."""
        return self.columns * self.rows

    def place(self, number):
        """(left, top) of a label on its sheet [mm], counted from 0 row by row."""
        row, column = divmod(number, self.columns)
        return self.left + column * (self.width + self.gap_x), self.top + row * (self.height + self.gap_y)


def _centred(paper, columns, rows, width, height, gap_x=0.0):
    """A sheet whose labels stand in its middle."""
    wide, high = PAPERS[paper]
    left, top = (wide - columns * width - (columns - 1) * gap_x) / 2, (high - rows * height) / 2
    return Sheet(paper, columns, rows, width, height, left, top, gap_x)


# sizes in common use, from memory: hold a printed sheet of plain paper against the labels before the first print
STANDARD = OrderedDict((
    ("a4-2x4", ("A4, 2 × 4 labels of 99.1 × 67.7 mm", _centred("A4", 2, 4, 99.1, 67.7, 2.5))),
    ("a4-2x7", ("A4, 2 × 7 labels of 99.1 × 38.1 mm", _centred("A4", 2, 7, 99.1, 38.1, 2.5))),
    ("a4-3x7", ("A4, 3 × 7 labels of 63.5 × 38.1 mm", _centred("A4", 3, 7, 63.5, 38.1, 2.5))),
    ("a4-3x8", ("A4, 3 × 8 labels of 70 × 37 mm", _centred("A4", 3, 8, 70.0, 37.0))),
    ("letter-2x3", ("Letter, 2 × 3 labels of 4 × 3 1/3 in", _centred("Letter", 2, 3, 101.6, 84.67, 4.76))),
    ("letter-2x5", ("Letter, 2 × 5 labels of 4 × 2 in", _centred("Letter", 2, 5, 101.6, 50.8, 4.76))),
    ("letter-3x10", ("Letter, 3 × 10 labels of 2 5/8 × 1 in", _centred("Letter", 3, 10, 66.675, 25.4, 3.175))),
    ("roll-100x50", ("One label a page, 100 × 50 mm", Sheet("label", 1, 1, 100.0, 50.0, 0.0, 0.0)))))


# what labels can be for
LABELS = {"both": "systems and their points", "systems": "systems", "points": "points"}
_MOST = 2000


def labels_for(systems, wanted):
    """Labels of these systems' documents, `wanted` being of LABELS. Raises ValueError where they are too many at once."""
    found = [one for system in systems for one in labels_of(system, wanted != "points", wanted != "systems")]
    if len(found) > _MOST:
        raise ValueError("These are %d labels: at most %d are printed at once. Choose an area, or fewer systems." % (len(found), _MOST))
    return found


def labels_of(system, with_system=True, with_points=True):
    """Labels of a system: {"title", "below": [lines], "page"}, the system's own first."""
    place = " · ".join(one for one in (system.get("area"), system.get("site")) if one)
    name, page = system.get("name") or "No name yet", page_of(system["id"])
    out = [{"title": name, "below": [place], "page": page}] if with_system else []
    if with_points:
        out += [{"title": point.get("name") or point["id"], "below": ["%s · %s" % (point["id"], name), place],
                 "page": "%s?point=%s" % (page, quote(point["id"], safe=""))} for point in system.get("points") or []]
    return out


def label_sheets(reader, labels, sheet, start=1):
    """Paper of these labels, beginning with the sheet's label `start`. Raises ValueError where a code does not fit."""
    if not reader.address:
        raise ValueError("A label needs the address where phones reach the server: give it as --address https://…, or in ADDRESS.")
    if not labels:
        raise ValueError("There is nothing to print a label for.")
    if not 1 <= start <= sheet.count:
        raise ValueError("A sheet has %d labels: begin with one of 1 to %d." % (sheet.count, sheet.count))
    pages = [[] for _ in range(math.ceil((start - 1 + len(labels)) / sheet.count))]
    for number, label in enumerate(labels, start - 1):
        left, top = sheet.place(number % sheet.count)
        drawn = _drawn(label, reader.link(label["page"]), sheet.width, sheet.height)
        pages[number // sheet.count].append({"left": _mm(left), "top": _mm(top), "svg": drawn})
    wide, high = sheet.paper
    html = filled("labels.html", title="Labels", pages=pages, wide=_mm(wide), high=_mm(high),
                  width=_mm(sheet.width), height=_mm(sheet.height))
    return Paper("Labels", html, "2026-01-01T00:00:00+00:00", {}, reader.photo)


def _mm(value):
    return ("%.3f" % value).rstrip("0").rstrip(".")


def _code(link, room):
    """(the code with its white, its side [mm]) in a square of `room`: the surest correction whose modules are large enough."""
    for error, least in (("q", _GOOD), ("m", _GOOD), ("m", _LEAST), ("l", _LEAST)):
        modules = segno.make(link, error=error, micro=False, boost_error=False).symbol_size(border=_QUIET)[0]
        if room / modules >= least:
            return code(link, error, _QUIET), room
    raise ValueError("The labels are too small for a code that a phone reads: it needs a square of %s, a label of at least %s each way." % (
        shown(math.ceil(modules * _LEAST), "mm"), shown(math.ceil(modules * _LEAST + 2 * _EDGE), "mm")))


def _drawn(label, link, width, height):
    """A label as one SVG whose units are millimetres: code beside the words where it is wide, above them where it is not."""
    beside = width >= 1.3 * height
    inner_w, inner_h = width - 2 * _EDGE, height - 2 * _EDGE
    square, side = _code(link, min(inner_h, _CODE_ROOM * inner_w) if beside else min(inner_w, 0.68 * inner_h))
    if beside:
        box = (_EDGE + side, _EDGE + 1, inner_w - side - 1, inner_h - 2)
        at = (_EDGE, (height - side) / 2)
    else:
        box = (_EDGE + 1, _EDGE + side, inner_w - 2, inner_h - side - 1)
        at = ((width - side) / 2, _EDGE)
    says = ", ".join([label["title"]] + [one for one in label["below"] if one])
    return Markup('<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 %s %s" width="%smm" height="%smm"><title>%s</title>'
                  '<svg x="%s" y="%s" width="%s" height="%s" viewBox="%s">%s</svg>%s</svg>') % (
        _mm(width), _mm(height), _mm(width), _mm(height), says, _mm(at[0]), _mm(at[1]), _mm(side), _mm(side), _box_of(square),
        _path_of(square), _words(label, *box))


def _box_of(square):
    return str(square).partition('viewBox="')[2].partition('"')[0]


def _path_of(square):
    return Markup(str(square)[str(square).index("<path"):].replace("</svg>", ""))


def _wrapped(text, size, room):
    """Lines of a text in a room, or None where a word is too long."""
    lines = []
    for word in text.split():
        longer = "%s %s" % (lines[-1], word) if lines else word
        if lines and text_width(longer, size) <= room:
            lines[-1] = longer
        elif text_width(word, size) <= room:
            lines.append(word)
        else:
            return None
    return lines


def _broken(text, size, room):
    """Lines of a text, its words broken where they are too long."""
    lines = [""]
    for letter in text:
        if text_width(lines[-1] + letter, size) > room:
            lines.append("")
        lines[-1] += letter
    return [line.strip() for line in lines]


def _fitted(text, width, height):
    """(size, lines) of a text, as large as it fits; broken and cut short where it does not fit at the smallest size."""
    size = _LARGE
    while size >= _SMALL:
        lines = _wrapped(text, size, width)
        if lines and len(lines) * size * _LINE <= height:
            return size, lines
        size -= 0.2
    lines, room = _wrapped(text, _SMALL, width) or _broken(text, _SMALL, width), max(1, int(height / (_SMALL * _LINE)))
    return _SMALL, lines if len(lines) <= room else lines[:room - 1] + [shortened(lines[room - 1] + "…", _SMALL, width)]


def _below(texts, size, width, room):
    """At most `room` lines of these texts: one each, and more where there is room."""
    out = []
    for place, text in enumerate(texts[:room], 1):
        most = room - len(out) - (min(len(texts), room) - place)
        lines = _wrapped(text, size, width) or [text]
        out += lines[:most - 1] + [shortened(" ".join(lines[most - 1:]), size, width)] if len(lines) >= most else [
            shortened(line, size, width) for line in lines]
    return out


def _words(label, left, top, width, height):
    """The name as large as it fits and what stands below it, in the middle of the height."""
    small = min(_BELOW_MOST, max(_BELOW_LEAST, height * _BELOW_SHARE))
    below = _below([one for one in label["below"] if one], small, width, int(_BELOW_ROOM * height / (small * _LINE)))
    size, lines = _fitted(label["title"], width, height - len(below) * small * _LINE)
    rows = [(line, size, 700) for line in lines] + [(line, small, 400) for line in below]
    y, out = top + max(0.0, height - sum(high for _, high, _ in rows) * _LINE) / 2, []
    for line, high, weight in rows:
        y += high * _LINE
        out.append('<text x="%s" y="%s" font-family="Atkinson Hyperlegible Next" font-size="%s" font-weight="%d" fill="#000000">'
                   '%s</text>' % (_mm(left), _mm(y - 0.25 * high), _mm(high), weight, escape(line)))
    return Markup("".join(out))
