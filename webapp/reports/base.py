"""Renders a paper: its template filled, then made a PDF."""
from datetime import datetime
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, select_autoescape
from markupsafe import Markup

from ..engine.basics.text import shown

TEMPLATES = Path(__file__).parent.parent / "templates" / "reports"


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
    from .pdf import to_pdf  # late: the PDF library takes longer to import than the rest of the server to start
    html = _environment.get_template(template).render(title=title, made_at=made_at, **values)
    return to_pdf(html, made_at, attached)
