"""Who may see what: settled before a view does anything. Pages and the wire both use it."""
from functools import wraps

from flask import abort, current_app
from flask_login import current_user, login_required

from ..rights import may_see
from ..store import NotFound, people, revisions


def store():
    """The application's store."""
    return current_app.extensions["store"]


def sites_of(person):
    """Names of the sites that a person works on; None: all of them."""
    return None if person["all_sites"] else person["sites"]


def role_needed(*roles):
    """Let only people of these roles in: 401 (or the sign-in page) without a session, 403 with another role."""
    def wrap(view):
        @wraps(view)
        @login_required
        def guarded(*args, **kwargs):
            if current_user.person["role"] not in roles:
                abort(403)
            return view(*args, **kwargs)
        return guarded
    return wrap


supervisor_needed = role_needed(people.SUPERVISOR, people.ADMINISTRATOR)
administrator_needed = role_needed(people.ADMINISTRATOR)


def readable_document(connection, document, kind):
    """The newest revision of a document that the person may see, of a deleted one with the body that stood before; 404 otherwise, so that
    nothing is given away."""
    try:
        found = revisions.newest(connection, document)
    except NotFound:
        abort(404)
    if found["kind"] != kind or not may_see(current_user.person, found["site"]):
        abort(404)
    if found["deleted"]:  # what came with the deletion was not checked
        found = dict(found, body=next(one["body"] for one in revisions.history(connection, document) if not one["deleted"]))
    return found
