"""The headers that keep a browser safe, on pages, on the wire, on files and on errors alike."""
import pytest

from tests.web.conftest import SECRET, Hand
from webapp.app import create_app

ADDRESSES = ["/", "/app/", "/app/systems/x", "/sw.js", "/manifest.webmanifest", "/app-data/files.json", "/api/token", "/health",
             "/static/joined/app.js", "/static/style/base.css", "/nothing", "/sync/feed"]
PAGES = ["/", "/app/", "/people", "/plant", "/nothing"]


def policy(reply):
    """The policy as directive -> set of sources."""
    parts = [part.split() for part in reply.headers["Content-Security-Policy"].split(";")]
    return {part[0]: set(part[1:]) for part in parts}


@pytest.mark.parametrize("path", ADDRESSES)
def test_scripts_and_styles_come_from_here_only(hand, path):
    found = policy(hand().get(path))
    assert found["default-src"] == {"'self'"}
    assert found["script-src"] == {"'self'", "'wasm-unsafe-eval'"}
    assert found["style-src"] == {"'self'"}
    assert found["object-src"] == found["base-uri"] == found["frame-ancestors"] == {"'none'"}
    assert found["form-action"] == {"'self'"}
    assert not {"'unsafe-inline'", "'unsafe-eval'", "*", "https:", "http:"} & set().union(*found.values())


@pytest.mark.parametrize("path", ADDRESSES)
def test_types_are_not_guessed_and_the_referrer_stays_here(hand, path):
    headers = hand().get(path).headers
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"  # none at all would break the token over TLS
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"


@pytest.mark.parametrize("path", [path for path in ADDRESSES if not path.startswith("/static/")])
def test_documents_stay_apart_from_other_sites(hand, path):
    assert hand().get(path).headers["Cross-Origin-Opener-Policy"] == "same-origin"


@pytest.mark.parametrize("path", ["/", "/people", "/plant", "/api/session", "/sync/feed", "/api/token"])
def test_what_is_private_is_not_kept_by_the_browser(hand, path):
    assert hand("administrator").get(path).headers["Cache-Control"] == "no-store"


@pytest.mark.parametrize("path", ["/app/", "/sw.js", "/manifest.webmanifest", "/app-data/files.json"])
def test_the_shell_is_the_same_for_everybody_and_sets_no_cookie(hand, path):
    somebody, nobody = hand("administrator").get(path), hand().get(path)
    assert somebody.data == nobody.data
    assert "Set-Cookie" not in somebody.headers
    assert "no-cache" in somebody.headers["Cache-Control"]


@pytest.mark.parametrize("path", PAGES)
def test_pages_hold_no_inline_script_or_style(hand, path):
    html = hand("administrator").get(path, follow_redirects=True).get_data(as_text=True)
    assert html.count("<script") == html.count('<script type="module" src="/static/')
    assert not any(found in html for found in ("<style", " style=", " onclick=", " onload=", "javascript:"))


def cookie_of(app, **options):
    reply = Hand(app, **options).http.get("/api/token", **options)
    return reply.headers["Set-Cookie"]


def test_the_cookie_is_kept_from_scripts_and_other_sites(app):
    cookie = cookie_of(app)
    assert "HttpOnly" in cookie and "SameSite=Lax" in cookie


def test_over_tls_the_cookie_is_secure_and_browsers_are_told_to_stay(database):
    app = create_app(database, SECRET, secure=True)
    assert "Secure" in cookie_of(app, base_url="https://plant.example")
    assert app.test_client().get("/").headers["Strict-Transport-Security"].startswith("max-age=")
    app.extensions["store"].close()


def test_behind_a_proxy_the_scheme_it_tells_is_believed(database):
    app = create_app(database, SECRET, secure=True, trust_proxy=True)
    browser = Hand(app, headers={"X-Forwarded-Proto": "https"})
    assert browser.get("/app").location.startswith("https://")
    app.extensions["store"].close()


def test_without_a_proxy_nobody_may_tell_the_scheme(app):
    assert app.test_client().get("/app", headers={"X-Forwarded-Proto": "https"}).location.startswith("http://")
