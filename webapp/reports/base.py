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
from ..engine.pictures.svg import shortened, text_width

TEMPLATES = Path(__file__).parent.parent / "templates" / "reports"
# paper by the reader's units
SIZES = {"metric": "A4", "us": "Letter"}
# letters after which a long word may break
_BREAK = 12
_LONG_WORD = re.compile(r"[\w\-./]{%d,}" % (2 * _BREAK))
_UNIT = re.compile(r"(?<=\d) (?=[^\d\s])")
_TIME_UNIT = re.compile(r"(?<=\d) (?=(?:h|min|s)\b)")
# the head that runs over all pages but the first: size of its letters and room for both its texts, by the generous text_width [mm]
_RUNNING, _ROOM = 3.0, 208.0


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
    rows = enumerate(made.matrix_iter(border=border))
    lines = "".join("M%d %dh1v1h-1z" % (x, y) for y, row in rows for x, dark in enumerate(row) if dark)
    return Markup('<svg xmlns="http://www.w3.org/2000/svg" class="%s" role="img" viewBox="0 0 %d %d" width="%d" height="%d">'
                  '<title>Code that opens %s</title><path d="%s" fill="#000000"/></svg>') % (
        css, side, side, side, side, address, Markup(lines))


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


def together(text):
    """A text of day and time in a table: a line may end before the time, never within the day."""
    return ", ".join(part.replace(" ", "\u00a0") for part in text.split(", "))


def _set(value):
    """A text as it is set on a page: a time keeps its unit on its line, and words longer than any line's room may break,
    where a table would push them off the paper."""
    if not isinstance(value, str) or isinstance(value, Markup):
        return value
    text = _TIME_UNIT.sub("\u00a0", value)
    return Markup(_LONG_WORD.sub(_broken, str(escape(text)))) if _LONG_WORD.search(text) else text


def _broken(word):
    letters = word.group()
    return "<wbr>".join(letters[start:start + _BREAK] for start in range(0, len(letters), _BREAK))


def _counted(number, what):
    """So many of something: 1 photo, 2 photos."""
    return "%d %s%s" % (number, what, "" if number == 1 else "s")


@lru_cache(maxsize=4)
def _environment(zone):
    """Templates whose times are those of a zone."""
    made, clock = Environment(loader=FileSystemLoader(TEMPLATES), autoescape=select_autoescape(), trim_blocks=True, lstrip_blocks=True,
                              finalize=_set), Clock(zone)
    made.filters.update(readable=readable, moment=lambda text: together(moment(text, clock)), day=lambda text: together(day(text, clock)),
                        share=lambda part: shown(100 * part, "%"), svg=Markup, counted=_counted,
                        united=lambda text: _UNIT.sub("\u00a0", text))
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
    values     among them kind, revision, and system (its document) or where
    """
    link, system = reader.link(page), values.get("system") or {}
    parts = (values["kind"], values.get("where"), *(system.get(name) for name in ("name", "site", "area")))
    about = " · ".join(str(one) for one in parts if one)
    html = filled(template, reader.clock.name, title=title, made_at=made_at, size=SIZES[reader.units], link=link,
                  code=code(link) if link else None, about=about, running=_running(about, values["revision"]), **values)
    return Paper(title, html, made_at, attached, reader.photo)


def _running(about, revision):
    """Both texts of the running head, cut short where they do not fit into one line; neither takes the other's half."""
    left = shortened(about, _RUNNING, max(_ROOM / 2, _ROOM - text_width(revision, _RUNNING)))
    return left, shortened(revision, _RUNNING, _ROOM - text_width(left, _RUNNING))


def of_system(reader, revision, made_by, **values):
    """What the head of a paper about one system shows; `revision` is of the document that the paper is about."""
    return dict(values, revision="Revision %d · %s · %s" % (revision["number"], moment(revision["made_at"], reader.clock), made_by))


def basis(system, units):
    """In one sentence what a sheet of a system rests on."""
    warmth, pump, lubricant = system["ambient"], system["pump"], system["lubricant"]
    said = [system["kind"], lubricant.get("name") or lubricant.get("code"), "pump %s, relief at %s" % (
        shown(pump["delivery_cm3_min"], "cm³/min", units), shown(pump["relief_bar"], "bar", units)),
        "%s to %s, usually %s" % tuple(shown(warmth[name], "°C", units) for name in ("coldest_c", "hottest_c", "usual_c"))]
    return "For: %s." % "; ".join(one for one in said if one)


def page_of(system):
    """The page of a system, as labels and papers name it: it never changes."""
    return "/app/systems/%s" % system


# kinds of record with a page of their own, by its place below the system's; all others share one (static/app/records.js knows the same)
RECORD_PAGES = {"round": "rounds", "defect": "defects"}


def page_of_record(revision):
    """The page of a record, by its newest revision."""
    body = revision["body"]
    return "%s/%s/%s" % (page_of(body["system"]), RECORD_PAGES.get(body["format"].partition("/")[0], "records"), revision["document"])
