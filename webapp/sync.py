"""The HTTP face of the store for phones: session, token, send, feed. Errors have one shape (errors.py)."""
from flask import Blueprint, abort, current_app, jsonify, request, session
from flask_login import current_user, login_required, logout_user
from flask_wtf.csrf import generate_csrf

from .compress import packed
from .envelope import is_uuid
from .errors import error_reply
from .pages.guard import sites_of, store
from .people_session import begin_session, limiter, limit_key
from .receive import NO_SITE, receive_each
from .store import people, revisions

blueprint = Blueprint("sync", __name__)

MOST_REVISIONS = 200
MOST_BYTES = 5 * 1024 * 1024
MOST_IN_FEED = 500


# ---- session

def _json_object():
    if not request.is_json:
        abort(415)
    body = request.get_json(silent=True)
    if not isinstance(body, dict):
        abort(400)
    return body


def _session_answer():
    person = current_user.person
    with store().reading() as connection:
        sites = person["sites"] if not person["all_sites"] else sorted(set(revisions.sites(connection)) - {NO_SITE})
    return jsonify({"person": {"id": person["id"], "name": person["name"], "role": person["role"], "sites": sites},
                    "token": generate_csrf()})


@blueprint.post("/api/session")
@limiter.limit("10 per minute; 60 per hour", key_func=limit_key, deduct_when=lambda reply: reply.status_code == 401)
def sign_in():
    body = _json_object()
    name, password, phone = body.get("name"), body.get("password"), body.get("phone")
    if not isinstance(name, str) or not isinstance(password, str):
        return error_reply(400, says="Name and password are needed.", do="Enter both.")
    if phone is not None and not is_uuid(phone):
        return error_reply(400, says="The phone's id is not a UUID.", do="Make one on the phone and keep it.")
    with store().reading() as connection:
        person = people.verify(connection, name, password)
    if person is None:
        return error_reply(401, "wrong name or password", "Name or password is wrong.", "Try again.")
    with store().writing() as connection:
        if phone and not people.seen_phone(connection, phone, person["id"]):
            return error_reply(403, says="This phone has been revoked.", do="Ask your administrator.")
        people.note(connection, person["id"], "signed in", phone or "")
    begin_session(person, phone)
    return _session_answer()


@blueprint.get("/api/session")
@login_required
def who():
    session.modified = True  # phones ask before every exchange: the session lasts while the phone is used
    return _session_answer()


@blueprint.delete("/api/session")
def sign_out():
    logout_user()
    session.clear()
    return jsonify({"ended": True})


@blueprint.get("/api/token")
def token():
    return jsonify({"token": generate_csrf()})


@blueprint.get("/api/demo")
def demo_people():
    if not current_app.config["DEMO"]:
        abort(404)
    return jsonify({"people": [{"name": name} for name in (people.TECHNICIAN, people.SUPERVISOR)]})


@blueprint.get("/health")
def health():
    store().answers()
    return jsonify({"ok": True})


# ---- sending

@blueprint.post("/sync/send")
@login_required
def send():
    if (request.content_length or 0) > MOST_BYTES:
        abort(413)
    incoming = _json_object().get("revisions")
    if not isinstance(incoming, list):
        return error_reply(400, says="revisions must be a list.")
    if len(incoming) > MOST_REVISIONS:
        return error_reply(413, says="At most %d revisions at a time." % MOST_REVISIONS, do="Send the rest afterwards.")
    with store().writing() as connection:
        before = revisions.top(connection)
        results = receive_each(connection, current_user.person, incoming)
        new = {result["id"]: revision for revision, result in zip(incoming, results) if (result["number"] or 0) > before}
        _note_phones(connection, list(new.values()))
    if any(isinstance(revision, dict) and revision.get("kind") == "system" for revision in incoming):
        current_app.extensions["verdicts"].wake()
    return jsonify({"results": results})


def _note_phones(connection, new):
    """Remember which phone new revisions came from, by the id in them or else in the session; what came again counts no second time."""
    for phone in {revision.get("phone") or session.get("phone") for revision in new} - {None}:
        of_phone = [revision for revision in new if (revision.get("phone") or session.get("phone")) == phone]
        people.seen_phone(connection, phone, current_user.person["id"])
        people.sent_by(connection, phone, len(of_phone), of_phone[-1]["kind"])


# ---- the feed

def _whole_number(name, default, most):
    text = request.args.get(name, str(default))
    if not text.isdecimal() or len(text) > len(str(most)) or int(text) > most:
        abort(400)
    return int(text)


@blueprint.get("/sync/feed")
@login_required
def feed():
    """Revisions after a number, in order; with `rounds=N` only what a phone holds: a round stays out as long as its system has N
    newer ones and an item's last answer is not in it. All else comes, so nothing that a phone holds lacks a revision."""
    after, limit = _whole_number("after", 0, 2 ** 31 - 1), _whole_number("limit", 200, MOST_IN_FEED)
    rounds = _whole_number("rounds", 0, 10 ** 6) or None
    with store().reading() as connection:
        found, cursor, more = revisions.feed(connection, after, max(limit, 1), sites_of(current_user.person), rounds)
    return packed(jsonify({"revisions": found, "cursor": cursor, "more": more}), request.accept_encodings)
