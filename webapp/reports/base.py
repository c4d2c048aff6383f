"""Renders a paper: our own fonts and style only, tagged, its document attached, no clock and no chance in it."""
import hashlib
import json
from datetime import datetime, timezone
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, select_autoescape
from markupsafe import Markup
from weasyprint import HTML, Attachment
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

from ..engine.text import shown

HERE = Path(__file__).parent
TEMPLATES = HERE.parent / "templates" / "reports"
FONTS = HERE.parent.parent / "static" / "vendor" / "fonts"
_OWN = {"paper:style": (HERE / "paper.css", "text/css")}
_OWN.update({"paper:%s" % path.name: (path, "font/woff2") for path in FONTS.glob("*.woff2")})


class Refused(FatalURLFetchingError):
    """A paper asked for something that is not its own: rendering stops."""


class _OwnFiles(URLFetcher):
    """Gives a paper its style and fonts and refuses everything else."""

    def fetch(self, url, headers=None):
        if url not in _OWN:
            raise Refused("A paper may not load %s." % url)
        path, kind = _OWN[url]
        return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": kind})


def readable(formula):
    """A formula as a reader writes it."""
    for code, sign in (("**", "^"), ("*", "×"), (">=", "≥"), ("<=", "≤"), ("_", " ")):
        formula = formula.replace(code, sign)
    return formula


def moment(text):
    """A stored time as a person reads it: 23 Nov 2026, 09:45."""
    try:
        return datetime.fromisoformat(text.replace("Z", "+00:00")).strftime("%d %b %Y, %H:%M").lstrip("0")
    except (AttributeError, ValueError):
        return text or ""


_environment = Environment(loader=FileSystemLoader(TEMPLATES), autoescape=select_autoescape(), trim_blocks=True,
                           lstrip_blocks=True)
_environment.filters.update(readable=readable, moment=moment, share=lambda part: shown(100 * part, "%"), svg=Markup)


def render(template, title, made_at, attached, **values):
    """A paper as PDF bytes.

    template   a file of templates/reports
    made_at    RFC 3339 time of the revision that the paper shows; it dates the PDF
    attached   documents to attach: name -> thing that becomes JSON
    """
    html = _environment.get_template(template).render(title=title, made_at=made_at, **values)
    when = datetime.fromisoformat(made_at.replace("Z", "+00:00")).astimezone(timezone.utc)
    attachments = [Attachment(string=json.dumps(thing, ensure_ascii=False, indent=1, sort_keys=True), name=name,
                              description=name, created=when, modified=when) for name, thing in sorted(attached.items())]
    return HTML(string=html, url_fetcher=_OwnFiles(), base_url="paper:").write_pdf(
        font_config=FontConfiguration(), attachments=attachments, pdf_identifier=hashlib.md5(html.encode()).digest(),
        pdf_variant="pdf/ua-1")
