"""What is due, refills, and points not confirmed fed, for the supervisor."""
from datetime import date

from flask import Blueprint, abort, render_template, request
from flask_login import current_user

from .. import care
from ..engine.care.due import COMING, OVERDUE, TODAY
from .guard import sites_of, store, supervisor_needed
from .reader import clock, units

blueprint = Blueprint("care", __name__, url_prefix="/plant")


def _rows(day=None):
    with store().reading() as connection:
        return care.care(connection, sites_of(current_user.person), clock(), units(), day)


def _areas(rows):
    return sorted({row["area"] for row in rows if row["area"]})


@blueprint.get("/due")
@supervisor_needed
def due():
    """Overdue, today, coming; by person and area in the address; a route for today with what to take along."""
    person, area = request.args.get("person", ""), request.args.get("area", "")
    rows = _rows()
    found = care.entries(rows, person, area)
    names = sorted({entry["who"].strip() for row in rows for entry in row["due"]} - {""}, key=str.casefold)
    stops, take = care.route(found, units())
    groups = [(state, care.by_system([entry for entry in found if entry["state"] == state])) for state in (OVERDUE, TODAY, COMING)]
    return render_template("due.html", groups=groups, stops=stops, take=take, person=person, people=names, area=area,
                           areas=_areas(rows), ahead=care.AHEAD, any=bool(rows))


@blueprint.get("/refills")
@supervisor_needed
def refills():
    """Days to low level and to empty, and what to carry for refilling on a day."""
    typed, area = request.args.get("day") or clock().today(), request.args.get("area", "")
    try:
        day = date.fromisoformat(typed).isoformat()
    except ValueError:
        abort(400)
    every = _rows(day)
    rows = [row for row in every if area in ("", row["area"]) and row["refill"]]
    lasting = [row for row in rows if row["refill"].get("days_to_low")]
    lasting.sort(key=lambda row: (row["refill"]["days_to_low"]["value"], row["name"], row["document"]))
    unknown = [row for row in rows if not row["refill"].get("days_to_low")]
    return render_template("refills.html", day=day, rows=lasting, unknown=unknown, carry=care.carry(rows, units()), area=area,
                           areas=_areas(every), any=bool(every))


@blueprint.get("/fed")
@supervisor_needed
def fed():
    """Points not confirmed fed, the longest first, with why and what to do."""
    area = request.args.get("area", "")
    every = _rows()
    rows = [row for row in every if area in ("", row["area"])]
    return render_template("fed.html", groups=care.alike(rows), count=care.unconfirmed(rows), stopped=[row for row in rows if row["stopped"]],
                           area=area, areas=_areas(every), any=bool(every))
