"""Papers of many systems and a period: chosen at the desk, made by the worker in the background, fetched here when they are done."""
from flask import Blueprint, abort, current_app, redirect, render_template, request, send_file, url_for
from flask_login import current_user

from .. import papers
from ..reports.span import Span
from ..store import NotFound, jobs
from .guard import sites_of, store, supervisor_needed
from .reader import clock, units

blueprint = Blueprint("paper_jobs", __name__, url_prefix="/plant/papers")

FORMS = {"zip": "a ZIP of single PDFs", "pdf": "one PDF"}
# more systems than this are chosen by their area, not one by one
ROWS = 300
_AGAIN_S = 3
_STATES = {jobs.WAITING: "waits for the worker", jobs.WORKING: "is being made", jobs.DONE: "is ready", jobs.STOPPED: "was stopped",
           jobs.FAILED: "could not be made"}


def _may_see(held):
    """True for a supervisor of all the sites that the papers are about, whoever asked for them."""
    sites = sites_of(current_user.person)
    return sites is None or set(held["request"]["sites"]) <= set(sites)


def _page(wrong=None, status=200):
    with store().reading() as connection:
        try:
            plant = papers.plant_of(connection, sites_of(current_user.person))
        except NotFound:
            plant = None
        made = [held for held in jobs.every(connection) if _may_see(held)]
        names = plant.people if plant else {}
    systems = plant.systems if plant else []
    month = Span.asked(None, None, clock())
    typed = request.form or {"since": month.since, "until": month.until, "as": "zip"}
    areas = sorted({one["body"]["area"] for one in systems if one["body"].get("area")})
    text = render_template("papers.html", systems=systems[:ROWS], more=len(systems) > ROWS, areas=areas, kinds=papers.KINDS, forms=FORMS,
                           typed=typed, ticked=request.form.getlist("kind") or ["summary"], chosen=request.form.getlist("system"),
                           wrong=wrong, jobs=made, states=_STATES, names=names, units=units(), plant=papers.PLANT)
    working = any(held["state"] in jobs.OPEN for held in made) and request.method == "GET"
    return text, status, {"Refresh": str(_AGAIN_S)} if working else {}


@blueprint.get("")
@supervisor_needed
def page():
    return _page()


def _request(connection):
    """What is asked for, from the form. Raises ValueError with a sentence, NotFound."""
    kinds = [kind for kind in papers.KINDS if kind in request.form.getlist("kind")]
    if not kinds:
        raise ValueError("Tick at least one kind of paper.")
    if request.form.get("as") not in FORMS:
        raise ValueError("Choose one PDF or a ZIP.")
    span = Span.asked(request.form.get("since"), request.form.get("until"), clock())
    plant = papers.plant_of(connection, sites_of(current_user.person), request.form.get("area"), request.form.getlist("system") or None)
    return {"kinds": kinds, "systems": [one["document"] for one in plant.systems], "sites": sorted({one["site"] for one in plant.systems}),
            "where": plant.where, "since": span.since, "until": span.until, "as": request.form["as"], "units": units(),
            "address": request.url_root}


@blueprint.post("")
@supervisor_needed
def begin():
    try:
        with store().reading() as connection:
            wanted = _request(connection)
    except NotFound:
        return _page("There is no system of those that you chose. Choose others.", 422)
    except ValueError as error:
        return _page(str(error), 422)
    person = current_user.person["id"]
    with store().writing() as connection:
        busy = jobs.is_any_open(connection, person)
        if not busy:
            jobs.ask(connection, person, wanted)
    if busy:
        return _page("Your last papers are still being made. Wait until they are ready, or stop them.", 409)
    current_app.extensions["wake"]()
    return redirect(url_for("paper_jobs.page", _anchor="main"), 303)


def _job(connection, identity):
    held = jobs.get(connection, identity)
    return held if held and _may_see(held) else abort(404)


@blueprint.post("/<job>/stop")
@supervisor_needed
def stop(job):
    with store().writing() as connection:
        _job(connection, job)
        jobs.stop(connection, job)
    return redirect(url_for("paper_jobs.page"), 303)


@blueprint.get("/<job>/file")
@supervisor_needed
def file(job):
    with store().reading() as connection:
        held = _job(connection, job)
    path = current_app.config["PAPERS"] / (held["file"] or "none yet")
    if held["state"] != jobs.DONE or not path.is_file():
        abort(404)
    name = "papers-%s-to-%s%s" % (held["request"]["since"], held["request"]["until"], path.suffix)
    return send_file(path, as_attachment=True, download_name=name)
