"""The application factory. Nothing here knows what a page shows."""
import secrets
from datetime import timedelta
from urllib.parse import urlsplit

from flask import Flask, abort, request
from flask.json.provider import DefaultJSONProvider
from flask_wtf import CSRFProtect
from werkzeug.middleware.proxy_fix import ProxyFix
from whitenoise import WhiteNoise

from . import errors, people_session, sync, sync_photos
from .clock import Clock
from .compress import PUBLIC, Compress
from .pages import BLUEPRINTS
from .photos import PhotoFolder, folder_for
from .phone_pages import STATIC
from .store import Store
from .verdicts import Verdicts
from .worker import papers_folder

POLICY = ("default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; "
          "object-src 'none'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'")
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), geolocation=(), microphone=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
# these two speak to documents; scripts, styles and pictures go out a hundred times on a first visit
ONLY_DOCUMENTS = ("Permissions-Policy", "Cross-Origin-Opener-Policy")
LOOPBACK = ("127.0.0.1", "localhost", "::1")


class StrictJSON(DefaultJSONProvider):
    """JSON as the standard has it: NaN and endless nesting are no JSON."""

    def loads(self, text, **options):
        def no_number(name):
            raise ValueError("%s is no JSON" % name)

        try:
            return super().loads(text, parse_constant=no_number, **options)
        except RecursionError as error:
            raise ValueError("nested too deeply") from error


def create_app(database_url, secret_key, demo=False, secure=False, trust_proxy=False, data=None, clock=None):
    """Build the application on a migrated store.

    demo         one-tap sign-in; answers only when asked by a loopback name
    secure       cookies only over TLS, and say so to browsers
    trust_proxy  take address and scheme from the proxy in front
    data         folder that holds the folders of photos and of papers; None: beside the SQLite file
    clock        the plant's Clock, by which its days are counted; None: UTC
    """
    app = Flask(__name__, static_folder=None)
    app.config.update(
        SECRET_KEY=secret_key, DEMO=demo, PAPERS=papers_folder(database_url, data), SESSION_COOKIE_HTTPONLY=True, SESSION_COOKIE_SAMESITE="Lax",
        SESSION_COOKIE_SECURE=secure, REMEMBER_COOKIE_HTTPONLY=True, PERMANENT_SESSION_LIFETIME=timedelta(days=14),
        SESSION_REFRESH_EACH_REQUEST=False,  # or else files that may be kept would carry a cookie
        MAX_CONTENT_LENGTH=6 * 1024 * 1024, RATELIMIT_STORAGE_URI="memory://", WTF_CSRF_TIME_LIMIT=3600)
    app.json = StrictJSON(app)
    store = Store(database_url)
    store.migrate()
    app.extensions["store"], app.extensions["verdicts"] = store, Verdicts(store)
    app.extensions["clock"] = clock or Clock()
    app.extensions["wake"] = lambda: None  # a server that runs wakes its worker by it
    app.extensions["photos"] = PhotoFolder(folder_for(database_url, data))
    CSRFProtect(app)
    people_session.register(app, store)
    errors.register(app)
    for blueprint in (*BLUEPRINTS, sync.blueprint, sync_photos.blueprint):
        app.register_blueprint(blueprint)
    _protect(app, demo, secure)
    app.wsgi_app = Compress(_serve_static(app.wsgi_app))
    if trust_proxy:
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=1, x_proto=1, x_host=1)
    return app


def _serve_static(wsgi_app):
    """Static files with ETags, for our own pages only; always asked for afresh."""
    def add_headers(headers, path, url):
        headers["Cache-Control"] = PUBLIC
        for name, value in HEADERS.items():
            if name not in ONLY_DOCUMENTS:
                headers[name] = value

    static = WhiteNoise(wsgi_app, max_age=0, allow_all_origins=False, add_headers_function=add_headers)
    for folder in ("app", "joined", "style", "icons", "vendor"):
        static.add_files(str(STATIC / folder), prefix="static/%s/" % folder)
    return static


def _protect(app, demo, secure):
    if demo:
        @app.before_request
        def only_loopback():
            if urlsplit("//" + request.host).hostname not in LOOPBACK:
                abort(403)

    @app.after_request
    def headers(reply):
        for name, value in HEADERS.items():
            reply.headers.setdefault(name, value)
        if secure:
            reply.headers["Strict-Transport-Security"] = "max-age=31536000"
        reply.headers.setdefault("Cache-Control", "no-store")
        return reply


def random_secret():
    """A secret nobody has seen."""
    return secrets.token_hex(32)
