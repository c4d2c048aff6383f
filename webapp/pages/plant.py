"""The supervisor's first page and, behind each system, its history."""
from flask import Blueprint, abort, current_app, render_template, request
from flask_login import current_user

from .. import care, defects, plant
from ..engine.document.documents import KINDS
from ..engine.basics.text import shown
from ..store import verdicts
from ..verdicts import engine_version
from .guard import readable_document, sites_of, store, supervisor_needed
from .reader import clock, units

blueprint = Blueprint("plant", __name__, url_prefix="/plant")
_PAPERS = {"test-run": "commissioning", "round": "round"}
# while verdicts are worked, the page looks again
_AGAIN_S = 3
KIND_NAMES = {kind: name for kind, (name, _) in KINDS.items()}
blueprint.add_app_template_filter(shown)


def _start():
    """From which row on a list is shown, as the address says."""
    start = request.args.get("from", "0")
    return int(start) if start.isdecimal() and len(start) < 9 else abort(400)


@blueprint.get("")
@supervisor_needed
def page():
    state, area, start = request.args.get("state", ""), request.args.get("area", ""), _start()
    if state not in ("",) + verdicts.STATES or "\0" in area:
        abort(400)
    sites, kept = sites_of(current_user.person), current_app.extensions["verdicts"]
    with store().reading() as connection:
        seen = plant.overview(connection, engine_version(), sites, units(), start, state=state, area=area)
        fed = care.unconfirmed(care.care(connection, sites, clock(), units()))
        phones, lately = plant.phones(connection, sites), plant.sent_lately(connection, sites)
        found = defects.counts(connection, sites, clock())
    working = seen.counts[verdicts.WORKING]
    if working:
        kept.wake()
    text = render_template("plant.html", seen=seen, fed=fed, phones=phones, lately=lately, defects=found, state=state, area=area,
                           start=start, step=plant.ROWS, kind_names=KIND_NAMES, units=units())
    return text, {"Refresh": str(_AGAIN_S)} if working else {}


@blueprint.get("/<document>")
@supervisor_needed
def history(document):
    with store().reading() as connection:
        found = readable_document(connection, document, "system")
        pages = plant.history(connection, document)
        settings = plant.settings(connection, found, engine_version(), units()) if pages["adjustment"].rows else []
    records = {kind: one.rows for kind, one in pages.items()}
    records["defect"] = ([dict(row["revision"], overdue=row["overdue"]) for row in defects.standing(records["defect"], clock())["open"]]
                         + [row for row in records["defect"] if row["body"].get("closed")])
    causes = defects.cause_words(found["body"], [row["body"].get("cause") for row in records["fault-case"]])
    records["fault-case"] = [dict(row, cause=cause) for row, cause in zip(records["fault-case"], causes)]
    against = defects.adjustments(records["adjustment"], records["settings-entry"], settings, units()) if records["adjustment"] else []
    return render_template("history.html", system=found["body"], document=document, pages=pages, made=records["system"], records=records,
                           adjustments=against, units=units())


@blueprint.get("/<document>/<kind>")
@supervisor_needed
def older(document, kind):
    if kind not in KINDS:
        abort(404)
    start = _start()
    with store().reading() as connection:
        found = readable_document(connection, document, "system")
        listed = plant.records(connection, document, kind, start=start)
    told = [plant.told(kind, row["body"], units()) if kind != "system" else [] for row in listed.rows]
    return render_template("older.html", system=found["body"], document=document, kind=kind, name=KIND_NAMES[kind], listed=listed,
                           told=told, start=start, step=plant.ROWS, paper=_PAPERS.get(kind))
