"""How a person at a desk wants to read: metric or US units, chosen once a session and followed by pages and papers; a list from which row."""
from flask import Blueprint, abort, redirect, request, session, url_for
from flask_login import login_required

from ..engine.basics.text import READERS

blueprint = Blueprint("reader", __name__)


def units():
    """Units asked for in the address (as phones do), else those chosen at the desk."""
    wanted = request.args.get("units") or session.get("units", READERS[0])
    if wanted not in READERS:
        abort(400)
    return wanted


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
