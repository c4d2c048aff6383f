"""What all papers share: for whom a paper is made, its code, its template filled."""
import re
from datetime import datetime
from functools import lru_cache
from pathlib import Path

import segno
from jinja2 import Environment, FileSystemLoader, select_autoescape
from markupsafe import Markup, escape

from ..clock import UTC, Clock
from ..engine.basics.text import shown

TEMPLATES = Path(__file__).parent.parent / "templates" / "reports"
# paper by the reader's units
SIZES = {"metric": "A4", "us": "Letter"}
# letters after which a long word may break
_BREAK = 12
_LONG_WORD = re.compile(r"[\w\-./]{%d,}" % (2 * _BREAK))


class Reader:
    """For whom a paper is made.

    units    "metric" or "us"; the size of the paper follows
    address  where phones reach the server ("https://plant.example"); without one no code is printed
    photo    photo(sha256) -> the picture's bytes, or None where the server does not have it
    clock    the plant's Clock, by which days and times are printed; None: UTC
    """

    def __init__(self, units="metric", address="", photo=lambda sha256: None, clock=None):
        self.units, self.address, self.photo, self.clock = units, address.rstrip("/"), photo, clock or Clock()

    def link(self, page):
        """The whole address of a page, or None without the server's."""
        return self.address + page if self.address else None


class Paper:
    """A paper that is ready to be rendered: its HTML, the time that dates it, documents to attach (name -> JSON), its reader's photos."""

    def __init__(self, title, html, made_at, attached, photo):
        self.title, self.html, self.made_at, self.attached, self.photo = title, html, made_at, attached, photo

    def pdf(self):
        """The bytes of the PDF, the same for the same input."""
        from .pdf import to_pdf  # late: the PDF library takes longer to import than the rest of the server to start
        return to_pdf([self])


def code(address, error="m", border=0, css="code"):
    """A QR code that opens an address, as SVG of one unit a module that its style scales."""
    made = segno.make(address, error=error, micro=False, boost_error=False)
    side = made.symbol_size(border=border)[0]
    lines = "".join("M%d %dh1v1h-1z" % (x, y) for y, row in enumerate(made.matrix_iter(border=border)) for x, dark in enumerate(row) if dark)
    return Markup('<svg xmlns="http://www.w3.org/2000/svg" class="%s" role="img" viewBox="0 0 %d %d" width="%d" height="%d">'
                  '<title>Code that opens %s</title><path d="%s" fill="#000000"/></svg>') % (css, side, side, side, side, address, Markup(lines))


def readable(formula):
    """A formula as a reader writes it."""
    for letters, sign in (("**", "^"), ("*", "×"), (">=", "≥"), ("<=", "≤"), ("_", " ")):
        formula = formula.replace(letters, sign)
    return formula


def _time(text, form):
    if not text:
        return ""
    try:
        return datetime.fromisoformat(text.replace("Z", "+00:00")).strftime(form).lstrip("0")
    except ValueError:
        return text


def moment(text, clock):
    """A stored time as a person reads it by a Clock: 23 Nov 2026, 09:45."""
    return _time(clock.here(text), "%d %b %Y, %H:%M")


def day(text, clock=None):
    """A day as a person reads it: 23 Nov 2026; of a stored time that of a Clock."""
    return _time(clock.day(text) if clock and text else text, "%d %b %Y")


def _breakable(value):
    """A text for a page: words longer than any line's room may break, where a table would push them off the paper."""
    if not isinstance(value, str) or isinstance(value, Markup) or not _LONG_WORD.search(value):
        return value
    return Markup(_LONG_WORD.sub(lambda word: "<wbr>".join(word.group()[start:start + _BREAK] for start in range(0, len(word.group()), _BREAK)),
                                 str(escape(value))))


@lru_cache(maxsize=4)
def _environment(zone):
    """Templates whose times are those of a zone."""
    made, clock = Environment(loader=FileSystemLoader(TEMPLATES), autoescape=select_autoescape(), trim_blocks=True, lstrip_blocks=True,
                              finalize=_breakable), Clock(zone)
    made.filters.update(readable=readable, moment=lambda text: moment(text, clock), day=lambda text: day(text, clock),
                        share=lambda part: shown(100 * part, "%"), svg=Markup)
    return made


def filled(template, zone=UTC, **values):
    """A template of templates/reports with its values, times by a zone."""
    return _environment(zone).get_template(template).render(**values)


def render(reader, template, title, made_at, attached, page, **values):
    """A paper.

    template   a file of templates/reports
    made_at    RFC 3339 time of the revision that the paper shows; it dates the PDF
    attached   documents to attach: name -> thing that becomes JSON
    page       path of the page that the code opens
    """
    link = reader.link(page)
    html = filled(template, reader.clock.name, title=title, made_at=made_at, size=SIZES[reader.units], link=link, code=code(link) if link else None, **values)
    return Paper(title, html, made_at, attached, reader.photo)


def of_system(reader, revision, made_by, **values):
    """What the head of a paper about one system shows; `revision` is of the document that the paper is about."""
    return dict(values, revision="Revision %d · %s · %s" % (revision["number"], moment(revision["made_at"], reader.clock), made_by))


def page_of(system):
    """The page of a system, as labels and papers name it: it never changes."""
    return "/app/systems/%s" % system
