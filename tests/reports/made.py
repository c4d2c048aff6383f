"""Records made up for papers: a system with the longest names, rounds with photos, defects, a fault case. All invented."""
import hashlib
import io
from functools import lru_cache

from PIL import Image, ImageDraw

from demo_site import plant
from webapp.clock import Clock
from webapp.reports.base import Reader
from webapp.reports.span import Span

ADDRESS = "https://plant.example"
PERIOD = Span("2026-11-01", "2026-11-30")
LONG = "Donaudampfschifffahrtsgesellschaftskapitänskajütenschmierleitung"


@lru_cache(maxsize=None)
def picture(number, upright=False):
    """The bytes of a photo: JPEG, 1600 pixels long, not all of one colour."""
    size = (1200, 1600) if upright else (1600, 1200)
    made = Image.effect_noise((size[0] // 8, size[1] // 8), 60).resize(size).convert("RGB") if number == 0 else Image.new("RGB", size, (200, 210, 215))
    ImageDraw.Draw(made).ellipse((300, 300, 700 + 5 * number, 800), fill=(90, 60 + number, 40))
    out = io.BytesIO()
    made.save(out, "JPEG", quality=85)
    return out.getvalue()


class Photos:
    """A store of made photos: `held(number)` is one as a record names it, `photo` gives its bytes by hash."""

    def __init__(self):
        self._by_hash = {}

    def held(self, number, upright=False, **more):
        content = picture(number, upright)
        name = hashlib.sha256(content).hexdigest()
        self._by_hash[name] = content
        return dict({"sha256": name, "width": 1200 if upright else 1600, "height": 1600 if upright else 1200, "at": "2026-11-20T08:05:00+01:00",
                     "by": "Vera"}, **more)

    def photo(self, sha256):
        return self._by_hash.get(sha256)


ABSENT = {"sha256": "0" * 64, "width": 1600, "height": 1200, "at": "2026-11-20T08:06:00+01:00"}
MARKS = [{"shape": "arrow", "x1": 0.1, "y1": 0.1, "x2": 0.4, "y2": 0.4}, {"shape": "circle", "x1": 0.5, "y1": 0.2, "x2": 0.8, "y2": 0.6}]
SIGNED = {"by": "Vera Long", "at": "2026-11-20T09:00:00+01:00", "role": "technician", "statement": "Walked as asked.",
          "drawn": ["M20 60l0 0L60 20L100 70", "M130 40L240 46"]}


def reader(photos=None, units="metric", address=ADDRESS):
    return Reader(units, address, photos.photo if photos else lambda sha256: None, Clock("Europe/Vienna"))


def system(**changes):
    return dict(plant.head_rig(), **changes)


def revision(body, document=None, **changes):
    """A revision as the store gives it."""
    return dict({"id": "r1", "document": document or body["id"], "number": 7, "made_at": "2026-11-20T09:00:00+01:00", "made_by": "p1", "kind": "system",
                 "parent": None, "reason": None, "site": "Works", "body": body}, **changes)


def a_round(of, items, **changes):
    return dict({"format": "round/1", "id": "round-1", "system": of["id"], "made_at": "2026-11-20T08:00:00+01:00", "items": items, "signed": SIGNED}, **changes)


def item(number, answer="ok", **more):
    return dict({"id": "item:%d" % number, "where": "Point %d" % number, "ask": "Feed line attached, fitting dry", "answer": answer,
                 "at": "2026-11-20T08:%02d:00+01:00" % (number % 60), "by": "Vera"}, **more)


def defect(of, number=1, **changes):
    return dict({"format": "defect/1", "id": "defect-%d" % number, "system": of["id"], "made_at": "2026-11-10T08:00:00+01:00", "where": "Saw %d" % number,
                 "what": "Hose weeps at the crimp", "severity": "failing", "owner": "Vera", "due": "2026-11-17"}, **changes)
