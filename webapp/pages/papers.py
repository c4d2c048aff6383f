"""PDFs at the desk and, with signal, on the phone: one address a kind, by the list of kinds."""
from flask import Blueprint, Response, abort, current_app, request
from flask_login import current_user, login_required

from .. import papers
from ..reports.base import Reader
from ..reports.span import Span
from .guard import readable_document, sites_of, store, supervisor_needed
from .reader import clock, units

blueprint = Blueprint("papers", __name__, url_prefix="/papers")


def reader():
    """The Reader of this request: its units, the address that it came by, the plant's photos and clock."""
    return Reader(units(), request.url_root, current_app.extensions["photos"].picture, clock())


def span():
    """The period asked for in the address; the last 30 days where none is."""
    try:
        return Span.asked(request.args.get("since"), request.args.get("until"), clock())
    except ValueError:
        abort(400)


def _reply(kind, name, paper):
    return Response(paper.pdf(), content_type="application/pdf",
                    headers={"Content-Disposition": 'inline; filename="%s-%s.pdf"' % (kind, name)})


def _of_document(kind):
    @login_required
    def view(document):
        with store().reading() as connection:
            found = readable_document(connection, document, papers.KINDS[kind].of)
            paper = papers.make(connection, kind, reader(), found, span())
        return _reply(kind, document[:8], paper)
    return view


def _of_plant(kind):
    @supervisor_needed
    def view():
        asked, area = span(), request.args.get("area")
        with store().reading() as connection:
            about = papers.plant_of(connection, sites_of(current_user.person), area, request.args.getlist("system") or None)
            paper = papers.make(connection, kind, reader(), about, asked)
        return _reply(kind, asked.until, paper)
    return view


for _kind, _one in papers.KINDS.items():
    _rule, _view = ("/%s.pdf", _of_plant) if _one.of == papers.PLANT else ("/%s/<document>.pdf", _of_document)
    blueprint.add_url_rule(_rule % _kind, _kind, _view(_kind))
