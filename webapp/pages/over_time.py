"""One system over time at the desk: what its charts call, everything that is held on one axis, the charts with their figures."""
from flask import Blueprint, abort, current_app, redirect, render_template, request, url_for
from flask_login import current_user
from markupsafe import Markup

from .. import over_time
from .guard import readable_document, store, supervisor_needed
from .reader import clock, units

blueprint = Blueprint("over_time", __name__, url_prefix="/plant/<document>")
FIGURES = (("latest", "Last one, corrected"), ("centre", "Centre"), ("lower", "Lower limit"), ("upper", "Upper limit"),
           ("change", "Change since it drifts"), ("per_week", "Growth a week"), ("meets", "Until the time limit"),
           ("meets_coldest", "Until then, when coldest"))
USED = (("used", "Filled in"), ("expected", "Given by the doses"), ("share", "Filled in over given"), ("low", "At least"),
        ("high", "At most"))

blueprint.add_app_template_filter(Markup, "svg")


@blueprint.record_once
def _keep(state):
    state.app.extensions["over_time"] = over_time.Kept()


def _page(system, worked, wrong=None, typed=("", ""), status=200):
    span = request.args.get("span", "all")
    if span not in over_time.SPANS:
        abort(400)
    whole, charts = over_time.pictures(worked, span, units())
    text = render_template("over_time.html", system=system["body"], document=system["document"], trend=worked["trend"],
                           history=worked["history"], whole=whole, charts=charts, span=span, spans=over_time.SPANS, figures=FIGURES,
                           used=USED, wrong=wrong, typed=typed)
    return text, status


@blueprint.get("/over-time")
@supervisor_needed
def page(document):
    with store().reading() as connection:
        system = readable_document(connection, document, "system")
        worked = current_app.extensions["over_time"].over_time(connection, system, units())
    return _page(system, worked)


@blueprint.post("/set-aside")
@supervisor_needed
def set_aside(document):
    finding, why = request.form.get("finding", ""), request.form.get("why", "")
    with store().reading() as connection:
        system = readable_document(connection, document, "system")
        worked = current_app.extensions["over_time"].over_time(connection, system, units())
    with store().writing() as connection:
        wrong = over_time.set_aside(connection, system, worked, finding, why, current_user.person, clock().now())
    if wrong:
        return _page(system, worked, wrong, (finding, why), 422)
    return redirect(url_for("over_time.page", document=document), 303)
