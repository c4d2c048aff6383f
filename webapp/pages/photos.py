"""Photos at the desk: small beside what they show, large on a page of their own, their marks drawn as on papers."""
from flask import Blueprint, abort, render_template

from ..reports.photos import photo
from ..store import followed, photos
from .guard import readable_document, store, supervisor_needed
from .reader import clock

blueprint = Blueprint("photos", __name__, url_prefix="/plant")


@blueprint.app_template_global("photo")
def _photo(held, what, there):
    """What a page shows of a photo of a record; `there`: the hashes of photos that are here."""
    return photo(held, what, held["sha256"] in there, clock(), "/sync/photos/")


def photos_here(connection, body):
    """Hashes of those photos of a body that are here."""
    return photos.complete(connection, followed.photos_in(body))


@blueprint.get("/<any(rounds, defects):room>/<document>/photos/<sha256>")
@supervisor_needed
def page(room, document, sha256):
    with store().reading() as connection:
        body = readable_document(connection, document, room[:-1])["body"]
        held = followed.photos_in(body).get(sha256) or abort(404)
        there = photos_here(connection, body)
    return render_template("photo.html", photo_shown=_photo(held, "", there), room=room, document=document, sha256=sha256)
