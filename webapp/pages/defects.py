"""All defects of the plant at the desk, overdue ones first, each with its history; a supervisor settles adjustments that differ."""
from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from flask_login import current_user

from .. import closing, defects
from ..engine.document.record_fields import SETTLED, SEVERITIES
from ..receive import from_desk, refusal
from ..store import revisions
from .guard import readable_document, sites_of, store, supervisor_needed
from .photos import photos_here
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


def _page(document, said=None, wrong=None, status=200):
    """The page of a defect; `said`: what a person wrote to close it, `wrong`: what is missing of it."""
    with store().reading() as connection:
        found = readable_document(connection, document, "defect")
        system = revisions.newest(connection, found["body"]["system"])
        made, there = defects.history(connection, document), photos_here(connection, found["body"])
        evidence = closing.evidence(connection, found["body"])
    body = found["body"]
    rows = [] if found["deleted"] else defects.standing([found], clock())["open"]
    points = {point["id"]: point["name"] for point in system["body"].get("points") or []}
    return render_template(
        "defect.html", document=document, defect=body, deleted=found["deleted"], system=system, made=made, there=there,
        standing=rows[0] if rows else None, happened=defects.happened(found),
        cause=defects.cause_words(system["body"], [body.get("cause")])[0],
        causes=defects.causes(system["body"]) if rows else [], evidence=evidence, wrong=wrong,
        said=said or {"cause": body.get("cause"), "photos": []},
        points=[points[one] for one in body.get("points") or [] if one in points]), status


@blueprint.get("/defects/<document>")
@supervisor_needed
def one(document):
    return _page(document)


@blueprint.post("/defects/<document>/closed")
@supervisor_needed
def close(document):
    said = {name: request.form.get(name, "").strip() for name in ("how", "cause", "evidence", "reading", "test_run")}
    said["photos"] = request.form.getlist("photos")
    try:
        with store().writing() as connection:
            closing.close(connection, readable_document(connection, document, "defect"), said, current_user.person, clock().now())
    except closing.NotClosed as wrong:
        return _page(document, said, str(wrong), 422)
    flash("Closed.")
    return redirect(url_for("defects.one", document=document, _anchor="main"), 303)


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
        wrong = refusal(from_desk(connection, person, dict(found["body"], settled=settled), settled["at"], found, "settled: " + how))
    flash(wrong or "Settled: %s." % how)
    return redirect(url_for("plant.history", document=found["body"]["system"]), 303)
