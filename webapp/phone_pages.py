"""The phone's pages as a phone gets them: `static/app` and `static/style` joined to one script and one style sheet.

A phone opens one file sooner than sixty. `python -m webapp.phone_pages` joins them where something changed; the server
serves only what was joined from the files that lie there. Needs nothing beyond the standard library and what set-up installed.
"""
import hashlib
import subprocess
import sys
from pathlib import Path

STATIC = Path(__file__).parent.parent / "static"
JOINED = STATIC / "joined"
_MARK = JOINED / ".made-from"
_COMMON = ("--bundle", "--minify", "--sourcemap", "--charset=utf8", "--log-level=error", "--outdir=" + str(JOINED))


class NotJoined(RuntimeError):
    """The phone's pages changed since they were joined, or never were; the text says what to do."""


def _sources():
    """Hash of all that goes in, the way of joining included."""
    digest = hashlib.sha256(Path(__file__).read_bytes())
    for path in sorted([*STATIC.glob("app/**/*.js"), *STATIC.glob("style/*.css"), STATIC / "package-lock.json"]):
        digest.update(path.relative_to(STATIC).as_posix().encode() + path.read_bytes())
    return digest.hexdigest()


def is_joined():
    return _MARK.exists() and _MARK.read_text() == _sources()


def need_joined():
    """Raises NotJoined."""
    if not is_joined():
        raise NotJoined("The phone's pages changed since they were joined: run ./set-up run.")


def join():
    """Join the pages. Raises subprocess.CalledProcessError, having shown what is wrong, where a file cannot be read."""
    tool = next(STATIC.glob("node_modules/@esbuild/*/bin/esbuild"))
    mark = _sources()
    subprocess.run([tool, "app=" + str(STATIC / "app" / "main.js"), "--format=esm", *_COMMON], check=True)
    subprocess.run([tool, STATIC / "style" / "phone.css", "--external:/static/*", *_COMMON], check=True)
    _MARK.write_text(mark)


if __name__ == "__main__":
    if not is_joined():
        try:
            join()
        except subprocess.CalledProcessError:
            sys.exit(1)
