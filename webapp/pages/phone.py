"""What the phone keeps: one shell for every address under /app/, and the list of files that work without signal.

Nothing here holds anything private, so all of it may be cached.
"""
import hashlib
import json
from functools import lru_cache
from pathlib import Path

from flask import Blueprint, Response, render_template, request

from ..compress import PUBLIC
from ..engine.document.documents import KINDS
from ..engine.document.record_fields import ADDED, TYPED
from ..papers import PAPER_OF
from ..phone_engine import bundle
from ..phone_pages import STATIC, need_joined
from ..units import unit_table

blueprint = Blueprint("phone", __name__)

SHELL = "/app/"
KEPT = ("joined/*.js", "joined/*.css", "app/engine-*.js", "icons/*.svg", "icons/*.png", "vendor/micropython.*", "vendor/fonts/*.woff2")
NOT_ON_PHONE = (".br",)


def _catalogue():
    """Kind of document -> its name, its fields where a person types them into a form, its paper, and how it is added at a system."""
    return {kind: {"name": name, "fields": fields if kind == "system" else [one for one in fields if one["part"] == TYPED],
                   "paper": PAPER_OF.get(kind), "add": ADDED[kind][1:] if kind in ADDED else None}
            for kind, (name, fields) in KINDS.items()}


@lru_cache(maxsize=1)
def _made():
    """Files that are made rather than stored: address -> bytes."""
    return {"/app-data/engine-version.json": json.dumps(bundle()["version"]).encode(),
            "/app-data/engine.json": json.dumps(bundle(), ensure_ascii=False, sort_keys=True).encode(),
            "/app-data/catalogue.json": json.dumps(_catalogue(), ensure_ascii=False).encode(),
            "/app-data/units.json": json.dumps(unit_table(), ensure_ascii=False, sort_keys=True).encode()}


def _stored():
    need_joined()
    for kept in KEPT:
        for path in sorted(STATIC.glob(kept)):
            if path.suffix not in NOT_ON_PHONE:
                yield "/static/" + path.relative_to(STATIC).as_posix(), path


@lru_cache(maxsize=1)
def files():
    """Address -> hash of everything that a phone keeps, the shell included."""
    out = {address: _hash(path.read_bytes()) for address, path in _stored()}
    out.update({address: _hash(content) for address, content in _made().items()})
    out[SHELL] = _hash((Path(__file__).parent.parent / "templates" / "phone.html").read_bytes())
    out["/manifest.webmanifest"] = _hash(json.dumps(MANIFEST, sort_keys=True).encode())
    return out


def _hash(content):
    return hashlib.sha256(content).hexdigest()[:16]


def version():
    """One hash over all files: it names the phone's cache."""
    return _hash(json.dumps(files(), sort_keys=True).encode())


MANIFEST = {
    "name": "Linewright", "short_name": "Linewright", "id": SHELL, "start_url": SHELL, "scope": SHELL,
    "display": "standalone", "background_color": "#ffffff", "theme_color": "#0b5563",
    "description": "Lubrication lines: set up, proven, looked after.",
    "icons": [{"src": "/static/icons/icon.svg", "sizes": "any", "type": "image/svg+xml"},
              {"src": "/static/icons/icon-192.png", "sizes": "192x192", "type": "image/png"},
              {"src": "/static/icons/icon-512.png", "sizes": "512x512", "type": "image/png", "purpose": "any"},
              {"src": "/static/icons/icon-maskable.png", "sizes": "512x512", "type": "image/png", "purpose": "maskable"}]}


def _fresh(content, kind):
    reply = Response(content, content_type=kind, headers={"Cache-Control": PUBLIC})
    reply.add_etag()
    return reply.make_conditional(request)


@blueprint.get("/app/")
@blueprint.get("/app/<path:_rest>")
def shell(_rest=""):
    return _fresh(render_template("phone.html"), "text/html; charset=utf-8")


@blueprint.get("/sw.js")
def service_worker():
    return _fresh('const VERSION = "%s";\n%s' % (version(), (STATIC / "sw.js").read_text()), "text/javascript; charset=utf-8")


@blueprint.get("/manifest.webmanifest")
def manifest():
    return _fresh(json.dumps(MANIFEST), "application/manifest+json")


@blueprint.get("/app-data/files.json")
def file_list():
    return _fresh(json.dumps({"version": version(), "files": files()}), "application/json")


@blueprint.get("/app-data/<any('engine.json', 'engine-version.json', 'catalogue.json', 'units.json'):name>")
def made(name):
    return _fresh(_made()["/app-data/" + name], "application/json; charset=utf-8")
