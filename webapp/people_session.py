"""Sessions of people: who is signed in on this browser, and how fast somebody may guess."""
from flask import redirect, request, session, url_for
from flask_limiter import Limiter
from flask_limiter.util import get_remote_address
from flask_login import LoginManager, UserMixin, login_user

from .errors import error_reply, is_wire
from .store import NotFound, people

limiter = Limiter(get_remote_address)


class Signed(UserMixin):
    """The person of a session. Its id carries the session key, so that a new password or a dismissal ends it."""

    def __init__(self, person):
        self.person = person

    def get_id(self):
        return "%s:%s" % (self.person["id"], self.person["session_key"])


def limit_key():
    """Failed tries count by name and address together."""
    body = request.get_json(silent=True) if request.is_json else request.form
    name = body.get("name") if hasattr(body, "get") else None
    return "%s|%s" % (get_remote_address(), str(name)[:100])


def begin_session(person, phone=None):
    """Sign a person in on this browser. Returns the address that nobody was let in at before, or None."""
    asked = session.get("asked")
    session.clear()
    session.permanent = True
    session["phone"] = phone
    login_user(Signed(person))
    return asked


def register(app, store):
    """Let the application know people by their session."""
    login = LoginManager(app)
    limiter.init_app(app)

    @login.user_loader
    def load(identity):
        person_id, _, key = identity.partition(":")
        with store.reading() as connection:
            try:
                person = people.get(connection, person_id)
            except NotFound:
                return None
            phone = session.get("phone")
            if phone and people.is_revoked(connection, phone):
                return None
        return Signed(person) if person["active"] and person["session_key"] == key else None

    @login.unauthorized_handler
    def unauthorized():
        if is_wire():
            return error_reply(401)
        if request.method == "GET":  # kept in the session: an address from elsewhere, which might lead away, is never followed
            session["asked"] = request.full_path if request.query_string else request.path
        return redirect(url_for("sign_in.page"))
