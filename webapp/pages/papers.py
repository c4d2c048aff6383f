"""PDFs at the desk and, with signal, on the phone."""
from flask import Blueprint, Response
from flask_login import login_required

from ..papers import commissioning_pdf, round_pdf, season_pdf, settings_pdf
from .guard import readable_document, store
from .reader import units

blueprint = Blueprint("papers", __name__, url_prefix="/papers")


def _pdf(kind, document, make):
    with store().reading() as connection:
        found = readable_document(connection, document, kind)
        content = make(connection, found, units())
    return Response(content, content_type="application/pdf", headers={
        "Content-Disposition": 'inline; filename="%s-%s.pdf"' % (kind, document[:8])})


@blueprint.get("/settings/<document>.pdf")
@login_required
def settings(document):
    return _pdf("system", document, settings_pdf)


@blueprint.get("/season/<document>.pdf")
@login_required
def season(document):
    return _pdf("system", document, season_pdf)


@blueprint.get("/commissioning/<document>.pdf")
@login_required
def commissioning(document):
    return _pdf("test-run", document, commissioning_pdf)


@blueprint.get("/round/<document>.pdf")
@login_required
def round_(document):
    return _pdf("round", document, round_pdf)
