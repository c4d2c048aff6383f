"""Compression of what is public: the phone's files and shell, which every phone loads whole on its first visit.

Private replies pass untouched, since a secret beside what a stranger can put in is given away by the compressed length; the
feed, which holds no secret and may be long, asks for it by `packed`.
"""
import gzip
from functools import lru_cache

import brotli
from werkzeug.wrappers import Request, Response

_SHRINKS = ("text/html", "text/css", "text/javascript", "application/javascript", "application/json",
            "application/manifest+json", "application/wasm", "image/svg+xml")
PUBLIC = "no-cache"


# browsers take brotli over TLS and on the loopback address; the best quality takes too long while somebody waits
_WAYS = {"br": lambda content: brotli.compress(content, quality=10), "gzip": lambda content: gzip.compress(content, mtime=0)}


@lru_cache(maxsize=512)
def _shrunk(content, way):
    """Compressed once a process: the key is the content itself, so a changed file is never served stale."""
    return _WAYS[way](content)


def packed(reply, encodings):
    """A private reply without a token or other secret in it, gzipped where these encodings are accepted."""
    reply.vary.add("Accept-Encoding")
    if encodings["gzip"] > 0:
        reply.set_data(gzip.compress(reply.get_data(), mtime=0))
        reply.content_encoding = "gzip"
    return reply


class Compress:
    """WSGI: shrinks replies that may be kept (Cache-Control: no-cache, with an ETag) and whose kind of content shrinks.

    The ETag becomes a weak one, since one tag stands for both encodings.
    """

    def __init__(self, inner):
        self.inner = inner

    def __call__(self, environ, start_response):
        if "HTTP_IF_NONE_MATCH" in environ:
            environ["HTTP_IF_NONE_MATCH"] = environ["HTTP_IF_NONE_MATCH"].removeprefix("W/")
        reply = Response.from_app(self.inner, environ)
        if self._may_shrink(reply):
            reply.vary.add("Accept-Encoding")
            reply.set_etag(reply.get_etag()[0], weak=True)
            way = Request(environ).accept_encodings.best_match(_WAYS)
            shrunk_before = reply.content_encoding  # set-up does the largest files once
            if way and not shrunk_before and environ["REQUEST_METHOD"] == "GET" and reply.status_code == 200:
                reply.set_data(_shrunk(reply.get_data(), way))
                reply.content_encoding = way
        return reply(environ, start_response)

    @staticmethod
    def _may_shrink(reply):
        if reply.headers.get("Cache-Control") != PUBLIC or reply.get_etag()[0] is None:
            return False
        return reply.status_code == 304 or (reply.status_code == 200 and reply.mimetype in _SHRINKS)
