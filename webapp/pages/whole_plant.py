"""The whole plant as one file, for the administrator."""
import tempfile

from flask import Blueprint, current_app, render_template, send_file
from flask_login import current_user

from .. import plant_file
from ..store import people
from .guard import administrator_needed, store
from .reader import clock
from .sign_in import EmptyForm

blueprint = Blueprint("whole_plant", __name__, url_prefix="/plant-file")


@blueprint.get("")
@administrator_needed
def page():
    return render_template("plant_file.html", button=EmptyForm())


@blueprint.post("")
@administrator_needed
def download():
    """Made on disk first, so that a plant of any size goes out and a half-made file never does."""
    file = tempfile.TemporaryFile()
    plant_file.write(store(), current_app.extensions["photos"], file)
    file.seek(0)
    with store().writing() as connection:
        people.note(connection, current_user.person["id"], "downloaded the whole plant", "")
    reply = send_file(file, "application/zip", as_attachment=True, download_name="plant-%s.zip" % clock().today())
    reply.headers["Cache-Control"] = "no-store"
    return reply
