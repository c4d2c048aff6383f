"""How pages are read: in units chosen once a session and followed by pages and papers, by the plant's clock, lists from a row on."""
from datetime import datetime

from flask import Blueprint, abort, current_app, redirect, request, session, url_for
from flask_login import login_required

from ..engine.basics.dates import day_text, days_of
from ..engine.basics.text import READERS

blueprint = Blueprint("reader", __name__)


def units():
    """Units asked for in the address (as phones do), else those chosen at the desk."""
    wanted = request.args.get("units") or session.get("units", READERS[0])
    if wanted not in READERS:
        abort(400)
    return wanted


def clock():
    """The plant's clock."""
    return current_app.extensions["clock"]


@blueprint.app_template_filter("moment")
def moment(text):
    """A stored time as a person reads it, by the plant's clock, with its year unless it is this one."""
    if not text:
        return "never"
    try:
        at = datetime.fromisoformat(clock().here(text))
        return at.strftime("%d %b, %H:%M" if clock().today().startswith("%d-" % at.year) else "%d %b %Y, %H:%M").lstrip("0")
    except ValueError:  # a record's own time is whatever its phone wrote
        return text


@blueprint.app_template_filter("day")
def day(text):
    """The day of a stored time as a person reads it, by the plant's clock."""
    days = days_of(clock().day(text))
    return text if days is None else day_text(days)


def start():
    """From which row on a list is shown, as the address says."""
    asked = request.args.get("from", "0")
    return int(asked) if asked.isdecimal() and len(asked) < 9 else abort(400)


@blueprint.post("/units")
@login_required
def choose():
    wanted = request.form.get("units")
    if wanted not in READERS:
        abort(400)
    session["units"] = wanted
    return redirect(url_for("plant.page"))
