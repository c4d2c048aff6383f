"""Error replies: one JSON shape for the wire, a plain page for people."""
from flask import current_app, jsonify, request
from flask_login import AnonymousUserMixin, current_user
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException, MethodNotAllowed

from .store import NotFound, StoreError

_WORDS = {
    400: ("bad request", "The request cannot be read.", "Send it as described."),
    401: ("no session", "You are not signed in.", "Sign in, then do it again."),
    403: ("not allowed", "You have no right to do this.", "Ask your administrator."),
    404: ("not found", "There is nothing here.", "Check the address."),
    405: ("wrong method", "This address does not take such requests.", "Use another method."),
    409: ("conflict", "It changed meanwhile.", "Load it again."),
    413: ("too large", "This is too large to take in one piece.", "Send it in smaller pieces."),
    415: ("not JSON", "The body must be JSON.", "Send it with Content-Type: application/json."),
    422: ("cannot be accepted", "This cannot be accepted.", "Correct it and send it again."),
    429: ("too many tries", "Too many failed tries.", "Wait a minute, then try again."),
    500: ("our fault", "Something went wrong on the server.", "Nothing was stored. Try again; tell your administrator."),
}
# what a person at a page can do about it, where that is not what a program can
_TO_PEOPLE = {
    400: ("The address or the form cannot be read.", "Go back and choose again."),
    403: ("You have no right to see or do this.", "An administrator can give you another role or another site."),
    404: ("There is nothing here.", "The address may be mistyped, or what it led to is not at one of your sites."),
    405: ("This address is not opened like that.", "Go to the page that it belongs to, and use its button."),
    413: ("This is too large to take in one piece.", "Choose a smaller file."),
    500: ("Something went wrong on the server.",
          "Nothing was stored. Try again; if it happens again, tell your administrator what you did, and when."),
}


def is_wire():
    """True for requests of programs: they get JSON."""
    return request.path.startswith(("/api/", "/sync/", "/health", "/app-data/"))


def error_reply(status, what=None, says=None, do=None):
    """The one shape of an error: {"error": {"what", "says", "do"}}."""
    words = _WORDS.get(status, _WORDS[500 if status >= 500 else 400])
    error = {"what": what or words[0], "says": says or words[1], "do": do or words[2]}
    return jsonify({"error": error}), status


def reply(status, says=None, do=None, what=None):
    """The reply to a failed request: JSON on the wire, a page for people."""
    if is_wire():
        return error_reply(status, what, says, do)
    words = _TO_PEOPLE.get(status) or _WORDS.get(status, ("", *_TO_PEOPLE[500]))[1:]
    page = current_app.jinja_env.get_template("error.html")  # render_template would ask a store that failed who this is
    return page.render(current_user=_person(), says=says or words[0], do=do or words[1], status=status), status


def _person():
    """Who is signed in; nobody where the store cannot tell."""
    try:
        return current_user._get_current_object()
    except StoreError:
        return AnonymousUserMixin()


def register(app):
    """Make every failure of the application answer in this shape."""
    @app.errorhandler(CSRFError)
    def csrf(error):
        return reply(400, "The form or token is too old: %s" % error.description, "Load it again, then send once more.",
                      "token")

    @app.errorhandler(NotFound)
    def nothing(error):
        return reply(404, str(error))

    @app.errorhandler(StoreError)
    def database(error):
        app.logger.error("%s", error)
        return reply(500)

    @app.errorhandler(HTTPException)
    def known(error):
        body, status = reply(error.code)
        allowed = {"Allow": ", ".join(sorted(error.valid_methods))} if isinstance(error, MethodNotAllowed) else {}
        return body, status, allowed

    @app.errorhandler(Exception)
    def bug(error):
        app.logger.exception("unexpected error")
        return reply(500)
