"""Error replies: one JSON shape for the wire, a plain page for people."""
from flask import jsonify, render_template, request
from flask_login import current_user
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
    words = _WORDS.get(status, _WORDS[500])
    return render_template("error.html", says=says or words[1], do=do or words[2], status=status,
                           person=current_user), status


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
