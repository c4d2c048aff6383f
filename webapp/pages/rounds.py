"""One round at the desk, with its own list, and its counter-signature."""
from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask_login import current_user

from .. import rounds
from ..engine.document.catalogue import MOST_TEXT
from ..reports.round_rows import rows
from ..store import is_text, people, revisions
from .guard import readable_document, store, supervisor_needed
from .photos import photos_here
from .reader import clock, units

blueprint = Blueprint("rounds", __name__, url_prefix="/plant/rounds")
STATEMENT = "I have read this round and know what follows from it."


def _clash(connection, document):
    return revisions.document(connection, document)["clash"]


def _page(document, statement=STATEMENT, wrong=None, status=200):
    with store().reading() as connection:
        found = readable_document(connection, document, "round")
        clash = _clash(connection, document)
        system = revisions.newest(connection, found["body"]["system"])
        names = {person["id"]: person["name"] for person in people.everybody(connection)}
        there = photos_here(connection, found["body"])
        made = [dict(row, who=names.get(row["made_by"], "unknown")) for row in revisions.history(connection, document)]
    items = rows(found["body"], units())
    return render_template(
        "round.html", document=document, round=found["body"], system=system, items=items, made=made, there=there, clash=clash,
        statement=statement, wrong=wrong, asks={item["id"]: item for item in items},
        cannot=rounds.cannot_countersign(found, clash, current_user.person["name"])), status


@blueprint.get("/<document>")
@supervisor_needed
def page(document):
    return _page(document)


@blueprint.post("/<document>/countersigned")
@supervisor_needed
def countersign(document):
    statement, person = request.form.get("statement", "").strip(), current_user.person
    with store().writing() as connection:
        found = readable_document(connection, document, "round")
        wrong = rounds.cannot_countersign(found, _clash(connection, document), person["name"])
        if not wrong and (not statement or len(statement) > MOST_TEXT or not is_text(statement)):
            wrong = "Say in 1 to %d letters what you sign." % MOST_TEXT
        if not wrong:
            at = clock().now()
            revisions.change(connection, found, rounds.countersigned(found["body"], person, statement, at), person["id"], at, "counter-signed")
    if wrong:
        return _page(document, statement, wrong, 422)
    flash("Counter-signed.")
    return redirect(url_for("rounds.page", document=document, _anchor="main"))
