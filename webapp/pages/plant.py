"""The supervisor's first page and, behind each system, its history."""
from flask import Blueprint, abort, current_app, render_template, request
from flask_login import current_user

from .. import care, defects, plant
from ..engine.basics.text import shown
from ..engine.document.documents import KINDS
from ..engine.document.record_fields import ADDED
from ..papers import PAPER_OF
from ..reports.plain import told
from ..store import verdicts
from ..verdicts import engine_version
from .guard import readable_document, sites_of, store, supervisor_needed
from .reader import clock, start, units

blueprint = Blueprint("plant", __name__, url_prefix="/plant")
# kinds that the template shows each in its own way; of others it says what their fields say
_OWN_WAY = ("system", "test-run", "round", "defect", "fault-case", "adjustment", "refill", "note")
# while verdicts are worked, the page looks again
_AGAIN_S = 3
KIND_NAMES = {kind: name for kind, (name, _) in KINDS.items()}
blueprint.add_app_template_filter(shown)


@blueprint.get("")
@supervisor_needed
def page():
    state, area, begin = request.args.get("state", ""), request.args.get("area", ""), start()
    if state not in ("",) + verdicts.STATES or "\0" in area:
        abort(400)
    sites = sites_of(current_user.person)
    with store().reading() as connection:
        seen = plant.overview(connection, engine_version(), sites, units(), begin, state=state, area=area)
        fed = care.unconfirmed(care.care(connection, sites, clock(), units()))
        phones, lately = plant.phones(connection, sites), plant.sent_lately(connection, sites)
        found = defects.counts(connection, sites, clock())
    text = render_template("plant.html", seen=seen, fed=fed, phones=phones, lately=lately, defects=found, state=state, area=area,
                           start=begin, step=plant.ROWS, kind_names=KIND_NAMES, units=units())
    return _looked_at_again(text, seen.counts[verdicts.WORKING])


@blueprint.get("/<document>")
@supervisor_needed
def history(document):
    with store().reading() as connection:
        found = readable_document(connection, document, "system")
        pages, seen = plant.history(connection, document), plant.standing(connection, engine_version(), document, units())
        settings = plant.settings(connection, found, engine_version(), units()) if pages["adjustment"].rows else []
    records = {kind: one.rows for kind, one in pages.items()}
    records["defect"] = ([dict(row["revision"], overdue=row["overdue"]) for row in defects.standing(records["defect"], clock())["open"]]
                         + [row for row in records["defect"] if row["body"].get("closed")])
    causes = defects.cause_words(found["body"], [row["body"].get("cause") for row in records["fault-case"]])
    records["fault-case"] = [dict(row, cause=cause) for row, cause in zip(records["fault-case"], causes)]
    against = defects.adjustments(records["adjustment"], records["settings-entry"], settings, units()) if records["adjustment"] else []
    others = [(kind, _called(kind), _told(kind, rows)) for kind, rows in records.items()
              if kind not in _OWN_WAY and (rows or kind in ADDED)]
    text = render_template("history.html", system=found["body"], document=document, standing=seen, pages=pages, made=records["system"],
                           records=records, adjustments=against, others=others, papers=PAPER_OF, units=units())
    return _looked_at_again(text, seen and seen["state"] == verdicts.WORKING and not against)  # a remark may be being typed


def _looked_at_again(text, working):
    """A page that looks again by itself while a verdict that it shows is being worked, and sees to it that it is."""
    if not working:
        return text
    current_app.extensions["verdicts"].wake()
    return text, {"Refresh": str(_AGAIN_S)}


def _called(kind):
    """What a list of a kind is called."""
    return ADDED[kind][0] if kind in ADDED else KIND_NAMES[kind]


def _told(kind, rows):
    """Revisions of a kind of record, each with what its fields say."""
    return [dict(row, told=told(kind, row["body"], units(), clock()) if kind != "system" else []) for row in rows]


@blueprint.get("/<document>/<kind>")
@supervisor_needed
def older(document, kind):
    if kind not in KINDS:
        abort(404)
    begin = start()
    with store().reading() as connection:
        found = readable_document(connection, document, "system")
        listed = plant.records(connection, document, kind, start=begin)
    return render_template("older.html", system=found["body"], document=document, kind=kind, name=_called(kind),
                           rows=_told(kind, listed.rows), older=listed.older, start=begin, step=plant.ROWS, paper=PAPER_OF.get(kind))
