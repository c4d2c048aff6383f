"""One system's points, devices, pipes and switches at the desk: given out and taken in as CSV."""
from flask import Blueprint, Response, current_app, flash, redirect, render_template, request, url_for
from flask_login import current_user

from .. import register
from ..documents import LARGEST_BYTES, NoDocument, text_of
from ..sync_decide import CLASH, MERGED
from .guard import readable_document, store, supervisor_needed
from .reader import clock

blueprint = Blueprint("register", __name__, url_prefix="/plant")
_WORDS = {"sections": "Pipes", "devices": "Devices", "switches": "Switches", "points": "Points"}
_TOLD = {None: "The tables say what the system says already: nothing was changed.",
         MERGED: "The tables were taken in and united with what was changed meanwhile. Phones have it when they next fetch.",
         CLASH: "The tables were taken in, but somebody changed the same meanwhile: both are kept. Settle it on the system's phone page."}


def _page(document, faults=(), status=200):
    with store().reading() as connection:
        system = readable_document(connection, document, "system")
    return render_template("register.html", document=document, system=system["body"], words=_WORDS, faults=faults), status


@blueprint.get("/<document>/register")
@supervisor_needed
def page(document):
    return _page(document)


@blueprint.get("/<document>/register/<any(%s):name>.csv" % ", ".join(map(repr, register.NAMES)))
@supervisor_needed
def give_out(document, name):
    with store().reading() as connection:
        system = readable_document(connection, document, "system")
    return Response(register.give_out(system, name), content_type="text/csv; charset=utf-8",
                    headers={"Content-Disposition": 'attachment; filename="%s-%s.csv"' % (name, document[:8])})


def _uploaded():
    """{name of a table: its text} of the files that were sent. Raises NoDocument."""
    files = {}
    for file in request.files.getlist("file"):
        if file.filename:
            name = register.name_of(file.filename)
            if name in files:
                raise NoDocument("Two files hold %s: choose one of them." % name)
            files[name] = text_of(file.read(LARGEST_BYTES + 1), file.filename[:60])
    return files


@blueprint.post("/<document>/register")
@supervisor_needed
def take_in(document):
    try:
        texts = _uploaded()  # before the store is taken: a long file holds nobody up
        with store().writing() as connection:
            system = readable_document(connection, document, "system")
            result = register.take_in(connection, current_user.person, system, texts, clock().now())
    except NoDocument as error:
        return _page(document, str(error).split("\n"), 422)
    current_app.extensions["verdicts"].wake()
    flash(_TOLD.get(result and result["state"], "The tables were taken in. Phones have it when they next fetch."))
    return redirect(url_for("register.page", document=document), 303)
