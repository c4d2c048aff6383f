"""A system over time from the store: what the engine says of its records, kept until one of them changes."""
import json
import uuid
from collections import OrderedDict
from threading import Lock

from .engine.bridge import ask
from .receive import from_desk, refusal
from .store import revisions

KINDS = ("test-run", "round", "refill", "defect", "fault-case", "adjustment", "set-aside")
# span in the address -> its words and days
SPANS = OrderedDict((("quarter", ("3 months", 92)), ("year", ("1 year", 366)), ("all", ("All that is held", None))))
CHARTS = (("build_up", "Timed cycle since the baseline"), ("residual", "Pressure left after venting since the baseline"))
WIDE, NARROW = 1180, 540
_MOST_KEPT = 50


class Kept:
    """Results of the systems looked at last, as JSON texts by system, revision, newest record and units."""

    def __init__(self):
        self._texts, self._lock = OrderedDict(), Lock()

    def over_time(self, connection, system, units):
        """The `over-time/1` document of a system's revision, with its texts."""
        key = (system["document"], system["id"], revisions.newest_number(connection, system["document"]), units)
        with self._lock:
            text = self._texts.pop(key, None)
        if text is None:
            text = json.dumps(_worked(connection, system, units))
        with self._lock:
            self._texts[key] = text
            while len(self._texts) > _MOST_KEPT:
                self._texts.popitem(last=False)
        return json.loads(text)


def _worked(connection, system, units):
    records = {kind: [one["body"] for one in revisions.newest_of_kind(connection, kind, systems=[system["document"]])] for kind in KINDS}
    return ask({"do": "over_time", "document": system["body"], "records": records, "units": units})


def pictures(worked, span, units):
    """(picture of the history or None, [(name, title, chart, its picture)])."""
    history, trend = worked["history"], worked["trend"]
    whole = None
    if history and history["first"] is not None:
        whole = ask({"do": "history_picture", "history": history, "width": WIDE, "days": SPANS[span][1], "units": units})
    charts = [(name, title, trend[name], ask({"do": "trend_picture", "chart": trend[name], "width": NARROW, "units": units}))
              for name, title in CHARTS if name in trend and len(trend[name]["points"]) > 1]
    return whole, charts


def set_aside(connection, system, worked, finding, why, person, made_at):
    """Keep that a person set a call aside at a time (RFC 3339). Returns None, or a sentence that says what is wrong."""
    open_calls = [entry for entry in worked["trend"]["findings"] if entry["id"] == finding and entry.get("of")]
    if not open_calls:
        return "This call does not stand any more: look at the page again."
    if not why.strip():
        return "Say in a few words why it needs nothing."
    body = {"format": "set-aside/1", "id": str(uuid.uuid4()), "system": system["document"], "system_revision": system["id"],
            "made_at": made_at, "made_by": person["name"], "finding": finding, "says": open_calls[0]["says"], "of": open_calls[0]["of"],
            "why": why.strip()}
    return refusal(from_desk(connection, person, body, made_at))
