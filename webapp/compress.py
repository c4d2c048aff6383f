"""Compression of what is public: the phone's files and shell, which every phone loads whole on its first visit.

Private replies pass untouched: compressing a secret next to what a stranger can put in gives the secret away by its length.
"""
import gzip
from functools import lru_cache

from werkzeug.wrappers import Request, Response

_SHRINKS = ("text/html", "text/css", "text/javascript", "application/javascript", "application/json",
            "application/manifest+json", "application/wasm", "image/svg+xml")
PUBLIC = "no-cache"


@lru_cache(maxsize=256)
def _gzipped(content):
    """Compressed once a process: the key is the content itself, so a changed file is never served stale."""
    return gzip.compress(content, mtime=0)


class Compress:
    """WSGI: gzips replies that may be kept (Cache-Control: no-cache, with an ETag) and whose kind of content shrinks.

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
            wanted = Request(environ).accept_encodings["gzip"] > 0
            if wanted and environ["REQUEST_METHOD"] == "GET" and reply.status_code == 200:
                reply.set_data(_gzipped(reply.get_data()))
                reply.content_encoding = "gzip"
        return reply(environ, start_response)

    @staticmethod
    def _may_shrink(reply):
        if reply.headers.get("Cache-Control") != PUBLIC or reply.get_etag()[0] is None:
            return False
        return reply.status_code == 304 or (reply.status_code == 200 and reply.mimetype in _SHRINKS)
