"""Photos and what hands drew, as SVG on papers and desk pages: marks over a photo, a signature. photo-marks.js draws the same marks."""
import re

from markupsafe import Markup

from .base import moment

# a path of moves and lines as a finger draws it on the phone, and the field in which it does (static/app/views/sign-off.js)
_PATH = re.compile(r"M-?\d+ -?\d+(?:[Ll]-?\d+ -?\d+)*")
_FIELD = (300, 100)
_HASH = re.compile(r"[0-9a-f]{64}")
_ROUND = 'fill="none" stroke-linecap="round" stroke-linejoin="round"'
# of the longer side: how thick a line is, how long an arrow's head
_THICK, _HEAD = 140, 20


def _arrow(x1, y1, x2, y2, size):
    """Outline of an arrow from one place to another, its head at the second."""
    along = max(1.0, ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5)
    dx, dy = (x1 - x2) / along * size, (y1 - y2) / along * size
    return "M%.1f %.1fL%.1f %.1fM%.1f %.1fL%.1f %.1fL%.1f %.1f" % (
        x1, y1, x2, y2, x2 + dx - 0.6 * dy, y2 + dy + 0.6 * dx, x2, y2, x2 + dx + 0.6 * dy, y2 + dy - 0.6 * dx)


def _circle(x, y, x2, y2):
    """A circle by its middle and a place on its edge."""
    r = max(1.0, ((x2 - x) ** 2 + (y2 - y) ** 2) ** 0.5)
    return "M%.1f %.1fa%.1f %.1f 0 1 0 %.1f 0a%.1f %.1f 0 1 0 %.1f 0" % (x - r, y, r, r, 2 * r, r, r, -2 * r)


def _mark(mark, width, height):
    """A mark twice: black within white, so that it stands out on any photo and without colour."""
    box = (mark["x1"] * width, mark["y1"] * height, mark["x2"] * width, mark["y2"] * height)
    longer = max(width, height)
    path = _arrow(*box, longer / _HEAD) if mark["shape"] == "arrow" else _circle(*box)
    return "".join('<path class="%s" d="%s" stroke="%s" stroke-width="%.1f" %s/>' % (name, path, colour, share * longer / _THICK, _ROUND)
                   for name, colour, share in (("rim", "#ffffff", 2.4), ("mark", "#000000", 1.1)))


def _svg(name, width, height, title, inner):
    """A picture of this size for a page, with its title for those who cannot see it."""
    return Markup('<svg xmlns="http://www.w3.org/2000/svg" role="img" class="%s" viewBox="0 0 %d %d" width="%d" height="%d">'
                  '<title>%s</title>%s</svg>') % (name, width, height, width, height, title, inner)


def photo(held, what, there, clock, address="photo:"):
    """What a reader is shown of one photo: {"svg" (None where the server does not have it), "says"}.

    held     the photo in its record: sha256, width, height, marks, at, by
    what     what it shows, for those who cannot see it
    there    True where the server has the picture
    clock    by which the time is told
    address  where it lies, its hash added: a paper's own, or the server's for a page
    """
    width, height = held["width"], held["height"]
    said = [one for one in (what, moment(held.get("at"), clock), held.get("by")) if one]
    image = Markup('<image href="%s%s" x="0" y="0" width="%d" height="%d"/>') % (address, held["sha256"], width, height)
    marks = held.get("marks") or []
    marked = ["marked with " + ", ".join(mark["shape"] for mark in marks)] if marks else []
    title = "Photo: %s" % ", ".join(said + marked) if said + marked else "Photo"
    drawn = Markup("".join(_mark(mark, width, height) for mark in marks))
    svg = _svg("upright" if height > width else "flat", width, height, title, image + drawn)
    return {"svg": svg if there else None, "says": " · ".join(said)}


def photos(reader, held, what):
    """The same for a list of photos of one thing; `held` may be None."""
    return [photo(one, what, bool(_HASH.fullmatch(one["sha256"])) and reader.photo(one["sha256"]) is not None, reader.clock)
            for one in held or []]


def signature(drawn):
    """A signature drawn by hand, as SVG, or None where there is none."""
    paths = [path for path in drawn or [] if _PATH.fullmatch(path)]
    if not paths:
        return None
    lines = Markup("".join('<path d="%s" stroke="#111111" stroke-width="2.5" %s/>' % (path, _ROUND) for path in paths))
    return _svg("signature", *_FIELD, "Signature", lines)
