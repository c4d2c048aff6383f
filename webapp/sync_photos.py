"""The HTTP face of photos for phones: pieces in, the picture made anew out. A record is there before its photos."""
import hashlib

from flask import Blueprint, Response, abort, current_app, jsonify, request
from flask_login import current_user, login_required

from .errors import error_reply
from .pages.guard import may_see, store
from .photos import MOST_BYTES, NoPicture, begins_as_picture, is_whole, made_anew
from .store import photos as rows

blueprint = Blueprint("sync_photos", __name__)

FORMS = ("application/x-www-form-urlencoded", "multipart/form-data")


def files():
    """The application's folder of photos."""
    return current_app.extensions["photos"]


def _may_have(connection, sha256):
    """True when a record that the person may see names the photo."""
    return any(may_see(current_user.person, site) for site in rows.sites_of(connection, sha256))


def _unknown():
    return error_reply(404, says="No record that you may see names this photo.", do="Send the record first, then its photos.")


def _count(name):
    """A header that counts bytes; None where it is missing."""
    text = request.headers.get(name)
    if text is None:
        return None
    if not text.isdecimal() or not text.isascii() or len(text) > 12:
        abort(400)
    return int(text)


@blueprint.put("/sync/photos/<sha256>")
@login_required
def take(sha256):
    """Take one piece. Upload-Offset: where it belongs. Upload-Length: how long the whole photo is, where the sender says so."""
    with store().reading() as connection:
        if not _may_have(connection, sha256):
            return _unknown()
    offset, length = _count("Upload-Offset"), _count("Upload-Length")
    if offset is None:
        return error_reply(400, says="Upload-Offset is missing.", do="Say where in the photo the piece belongs.")
    if request.mimetype in FORMS:
        return error_reply(415, "not bytes", "A piece is bytes, no form.", "Send it with Content-Type: application/octet-stream.")
    piece = request.get_data()
    with store().writing() as connection:  # one at a time, so that two senders do not mix their pieces
        held = rows.get(connection, sha256)
        if held["complete"]:
            return _state(held["received"], True)
        if offset != held["received"]:
            return _elsewhere(held["received"])
        received = offset + len(piece)
        if max(received, length or 0) > MOST_BYTES:
            return _refuse(connection, sha256, 413, "A photo may have at most %d MB." % (MOST_BYTES >> 20), "Make it smaller.")
        content = files().append(sha256, offset, piece)
        rows.received(connection, sha256, received)
    try:
        picture = _decided(sha256, content, length)
    except NoPicture as fault:
        with store().writing() as connection:
            return _refuse(connection, sha256, 422, str(fault), "Send it again from its start, or choose another photo.")
    if picture is None:
        return _state(received, False)
    kept = files().keep(sha256, picture)
    with store().writing() as connection:
        rows.completed(connection, sha256, kept)
        files().forget_pieces(sha256)
    return _state(received, True)


def _state(received, complete):
    return jsonify({"received": received, "complete": complete})


def _elsewhere(received):
    reply, status = error_reply(409, "wrong offset", "The first %d bytes of this photo are here." % received, "Go on from there.")
    reply.set_data(jsonify({**reply.get_json(), "received": received, "complete": False}).get_data())
    reply.headers["Upload-Offset"] = str(received)
    return reply, status


def _refuse(connection, sha256, status, says, do):
    rows.forget(connection, sha256)
    files().forget_pieces(sha256)
    return error_reply(status, says=says, do=do)


def _decided(sha256, content, length):
    """The picture made anew from what came, None while more is to come. Raises NoPicture for what can never be the photo."""
    if not begins_as_picture(content):
        raise NoPicture("It is no JPEG, PNG or WebP picture.")
    if hashlib.sha256(content).hexdigest() == sha256:
        return made_anew(content)
    if len(content) >= length if length is not None else is_whole(content):
        raise NoPicture("What came is not the photo of this address: its SHA-256 is another.")
    return None


@blueprint.get("/sync/photos/<sha256>")
@login_required
def give(sha256):
    """The picture made anew. The browser may keep it and asks each time whether it may still show it."""
    with store().reading() as connection:
        if not _may_have(connection, sha256):
            return _unknown()
        held = rows.get(connection, sha256)
    picture = files().picture(sha256) if held["complete"] else None
    if picture is None:
        return error_reply(404, says="This photo is not on the server yet.", do="The phone that took it sends it when it has signal.")
    reply = Response(picture, content_type="image/jpeg", headers={"Cache-Control": "private, no-cache"})
    reply.set_etag(held["kept_sha256"])
    return reply.make_conditional(request)
