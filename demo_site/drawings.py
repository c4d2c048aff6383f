"""Invented photos: schematic drawings of what a story's record shows. No photograph of anything.

A photo is called by the hash of its drawing's pixels, so that it has the same name on every machine whatever writes the file.
"""
import hashlib
from functools import lru_cache
from io import BytesIO

from PIL import Image, ImageDraw

SIZE = (640, 480)
_PAPER, _INK, _STEEL, _HOSE, _WET, _BOARD = "#f3f1ea", "#20303a", "#9fb0b8", "#3c4a50", "#b07d1e", "#c9a877"


def _fitting(draw, x, y):
    """A fitting on a pipe: nut and collar."""
    draw.rectangle((x - 14, y - 34, x + 14, y + 34), fill=_STEEL, outline=_INK, width=4)
    draw.polygon([(x + 14, y - 28), (x + 54, y - 22), (x + 54, y + 22), (x + 14, y + 28)], fill=_STEEL, outline=_INK, width=4)


def _hose(draw, crushed=False):
    draw.rectangle((0, 218, 200, 262), fill=_STEEL, outline=_INK, width=4)
    _fitting(draw, 214, 240)
    low = 250 if crushed else 264
    draw.polygon([(268, 216), (390, 216), (430, 236 if crushed else 216), (470, 216), (640, 216), (640, 264), (470, 264), (430, low),
                  (390, 264), (268, 264)], fill=_HOSE, outline=_INK, width=4)


def _wet(draw):
    _hose(draw)
    for x, y, size in ((330, 278, 9), (352, 300, 12), (338, 340, 14), (346, 400, 17)):
        draw.ellipse((x - size, y - size, x + size, y + size), fill=_WET)
    draw.ellipse((260, 440, 460, 470), fill=_WET)


def _crushed(draw):
    draw.rectangle((400, 60, 460, 236), fill=_BOARD, outline=_INK, width=4)
    _hose(draw, True)


def _guard(draw, there=True):
    draw.rectangle((120, 80, 520, 400), outline=_INK, width=8)
    if there:
        draw.rectangle((136, 96, 504, 384), fill=_STEEL, outline=_INK, width=4)
        for x, y in ((156, 116), (484, 116), (156, 364), (484, 364)):
            draw.ellipse((x - 12, y - 12, x + 12, y + 12), fill=_PAPER, outline=_INK, width=4)
        return
    for x in (230, 410):
        draw.ellipse((x - 70, 170, x + 70, 310), outline=_INK, width=10)
    draw.line((230, 170, 410, 170), fill=_INK, width=8)
    draw.line((230, 310, 410, 310), fill=_INK, width=8)


def _label(draw):
    draw.rectangle((140, 60, 500, 440), fill=_STEEL, outline=_INK, width=6)
    draw.rectangle((220, 170, 420, 300), fill=_PAPER, outline=_INK, width=3)
    for y, end in ((200, 300), (228, 258), (256, 330)):
        draw.line((240, y, end, y), fill=_STEEL, width=8)


# name -> (what draws it, where a circle was drawn on it in shares of its width and height: middle and edge)
DRAWINGS = {"wet hose": (_wet, (0.53, 0.66, 0.66, 0.66)), "crushed hose": (_crushed, (0.67, 0.48, 0.78, 0.48)),
            "guard missing": (lambda draw: _guard(draw, False), None), "guard back": (_guard, None),
            "label": (_label, (0.5, 0.49, 0.68, 0.49))}


@lru_cache(maxsize=None)
def drawn(name):
    """(Hash, JPEG bytes) of a drawing."""
    picture = Image.new("RGB", SIZE, _PAPER)
    DRAWINGS[name][0](ImageDraw.Draw(picture))
    out = BytesIO()
    picture.save(out, "JPEG", quality=85)
    return hashlib.sha256(picture.tobytes()).hexdigest(), out.getvalue()


def photo(name, at, by):
    """A drawing as a record names a photo."""
    row = {"sha256": drawn(name)[0], "width": SIZE[0], "height": SIZE[1], "at": at, "by": by}
    mark = DRAWINGS[name][1]
    if mark:
        row["marks"] = [dict(zip(("shape", "x1", "y1", "x2", "y2"), ("circle",) + mark))]
    return row
