"""All defects of the plant at the desk, overdue ones first, each with its history; a supervisor settles adjustments that differ."""
import uuid

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from flask_login import current_user

from .. import defects
from ..engine.bridge import ask
from ..engine.document.record_fields import SETTLED, SEVERITIES
from ..store import revisions
from ..sync_decide import ACCEPTED
from .guard import readable_document, sites_of, store, supervisor_needed
from .reader import clock

blueprint = Blueprint("defects", __name__, url_prefix="/plant")
FILTERS = ("site", "area", "severity", "owner")


@blueprint.get("/defects")
@supervisor_needed
def page():
    state, chosen = request.args.get("state", defects.OPEN), {name: request.args.get(name, "") for name in FILTERS}
    if state not in defects.STATES or chosen["severity"] not in ("",) + SEVERITIES:
        abort(400)
    with store().reading() as connection:
        every = defects.listed(connection, sites_of(current_user.person), clock(), state)
    shown = [row for row in every if all(chosen[name] in ("", row[name]) for name in FILTERS)]
    choices = {name: sorted({row[name] for row in every if row[name]} | {chosen[name]} - {""}) for name in FILTERS}
    return render_template("defects.html", rows=shown, every=len(every), state=state, states=defects.STATES, chosen=chosen,
                           choices=dict(choices, severity=SEVERITIES))


@blueprint.get("/defects/<document>")
@supervisor_needed
def one(document):
    with store().reading() as connection:
        found = readable_document(connection, document, "defect")
        system = revisions.newest(connection, found["body"]["system"])
        made = defects.history(connection, document)
    body = found["body"]
    rows = defects.standing([found], clock())["open"]
    points = {point["id"]: point["name"] for point in system["body"].get("points") or []}
    return render_template("defect.html", defect=body, system=system, made=made, standing=rows[0] if rows else None,
                           cause=defects.cause_words(system["body"], [body.get("cause")])[0],
                           points=[points[one] for one in body.get("points") or [] if one in points])


@blueprint.post("/adjustments/<document>/settled")
@supervisor_needed
def settle(document):
    how, statement = request.form.get("how", ""), request.form.get("statement", "").strip()
    person = current_user.person
    with store().writing() as connection:
        found = readable_document(connection, document, "adjustment")
        if how not in SETTLED:
            abort(400)
        if found["deleted"]:  # settling it would bring it back
            abort(404)
        settled = {"by": person["name"], "at": clock().now(), "role": person["role"], "how": how, "statement": statement}
        body = dict(found["body"], settled=settled)
        wrong = ask({"do": "check", "document": body})["findings"]
        if not wrong:
            revisions.add(connection, {
                "id": str(uuid.uuid4()), "document": document, "kind": "adjustment", "site": found["site"], "parent": found["id"],
                "made_at": settled["at"], "made_by": person["id"], "body": body, "reason": "settled: " + how}, ACCEPTED)
    flash("%s %s" % (wrong[0]["says"], wrong[0]["do"]) if wrong else "Settled: %s." % how)
    return redirect(url_for("plant.history", document=found["body"]["system"]), 303)
