"""The supervisor's first page and, behind each system, its history."""
from datetime import datetime

from flask import Blueprint, abort, render_template, request
from flask_login import current_user

from .. import care, defects, plant
from ..engine.document.documents import KINDS
from ..engine.basics.text import shown
from ..worked import worked
from ..store.times import now
from .guard import readable_document, sites_of, store, supervisor_needed
from .reader import units

blueprint = Blueprint("plant", __name__, url_prefix="/plant")
KIND_NAMES = {kind: name for kind, (name, _) in KINDS.items()}


@blueprint.app_template_filter("moment")
def moment(text):
    """A stored time as a person reads it, by the clock of whoever wrote it; the server's own is UTC and says so."""
    if not text:
        return "never"
    try:
        at = datetime.fromisoformat(text.replace("Z", "+00:00"))
    except ValueError:  # a record's own time is whatever its phone wrote
        return text
    return at.strftime("%d %b, %H:%M" if at.utcoffset() else "%d %b, %H:%M UTC").lstrip("0")


blueprint.add_app_template_filter(shown)


@blueprint.get("")
@supervisor_needed
def page():
    state, area = request.args.get("state", ""), request.args.get("area", "")
    if state not in ("",) + plant.STATES:
        abort(400)
    sites = sites_of(current_user.person)
    with store().reading() as connection:
        every = plant.systems(connection, sites, units())
        fed = care.unconfirmed(care.care(connection, sites, now(), units()))
        phones, lately = plant.phones(connection, sites), plant.sent_lately(connection, sites)
        found = defects.counts(connection, sites)
    chosen = [row for row in every if state in ("", row["state"]) and area in ("", row["area"])]
    return render_template("plant.html", every=every, shown=chosen, fed=fed, phones=phones, lately=lately, defects=found, state=state, area=area,
                           areas=sorted({row["area"] for row in every if row["area"]}), kind_names=KIND_NAMES, units=units())


@blueprint.get("/<document>")
@supervisor_needed
def history(document):
    with store().reading() as connection:
        found = readable_document(connection, document, "system")
        made, records = plant.history(connection, found)
    records["defect"] = ([dict(row["revision"], overdue=row["overdue"]) for row in defects.standing(records["defect"])["open"]]
                         + [row for row in records["defect"] if row["body"].get("closed")])
    causes = defects.cause_words(found["body"], [row["body"].get("cause") for row in records["fault-case"]])
    records["fault-case"] = [dict(row, cause=cause) for row, cause in zip(records["fault-case"], causes)]
    against = defects.adjustments(records["adjustment"], worked(found["body"], units()).get("settings") or [], units()) if records["adjustment"] else []
    return render_template("history.html", system=found["body"], document=document, made=made, records=records, adjustments=against,
                           units=units())
