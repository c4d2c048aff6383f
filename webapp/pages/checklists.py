"""A system's checklist at the desk: looked at, given out and taken in as YAML."""
from flask import Blueprint, Response, flash, redirect, render_template, request, url_for
from flask_login import current_user

from .. import checklists
from ..documents import LARGEST_BYTES, NoDocument, text_of
from ..engine.basics.text import shown
from .guard import readable_document, store, supervisor_needed
from .reader import clock, units

blueprint = Blueprint("checklists", __name__, url_prefix="/plant")
_EVERY = {"round": "each round", "month": "once a month", "year": "once a year", "cold": "on the coldest day so far"}


def _held(connection, document):
    """(system's revision, the plant's checklist or None)"""
    system = readable_document(connection, document, "system")
    return system, checklists.held(connection, document)


def _page(document, wrong=None, status=200):
    with store().reading() as connection:
        system, plan = _held(connection, document)
    listed = checklists.shaped(system["body"], plan and plan["body"], units())
    for item in listed["items"]:
        item["limits_shown"] = [shown(item[name], item["unit"], units()) if item[name] is not None else "" for name in ("low", "high")]
    return render_template("checklist.html", document=document, system=system["body"], plan=plan, listed=listed, every=_EVERY,
                           wrong=wrong), status


@blueprint.get("/<document>/checklist")
@supervisor_needed
def page(document):
    return _page(document)


@blueprint.get("/<document>/checklist.yaml")
@supervisor_needed
def give_out(document):
    with store().reading() as connection:
        system, plan = _held(connection, document)
    return Response(checklists.give_out(document, system["body"], plan and plan["body"]), content_type="application/yaml; charset=utf-8",
                    headers={"Content-Disposition": 'attachment; filename="checklist-%s.yaml"' % document[:8]})


def _uploaded():
    """The text of the file that was sent. Raises NoDocument."""
    file = request.files.get("file")
    raw = file.read(LARGEST_BYTES + 1) if file else b""
    if not raw:
        raise NoDocument("No file was chosen, or it is empty.")
    return text_of(raw, "The file")


@blueprint.post("/<document>/checklist")
@supervisor_needed
def take_in(document):
    try:
        with store().writing() as connection:
            system = readable_document(connection, document, "system")
            body = checklists.take_in(_uploaded(), document, system["body"])
            checklists.keep(connection, current_user.person, system, body, clock().now())
    except NoDocument as error:
        return _page(document, str(error), 422)
    flash("The checklist was taken in. Phones have it when they next fetch.")
    return redirect(url_for("checklists.page", document=document))
