"""The round report: what was not ok first with its photos, then every item in the order of the walk, signatures, corrections."""
from ..engine.basics.text import MISSING, shown
from .base import of_system, page_of, render
from .photos import photos, signature


def round_report(reader, record, system, made_by, corrections=()):
    """Paper of a round.

    system       a revision of the system that was walked
    corrections  later revisions of the round, the oldest first: {"number", "made_at", "who", "reason"}
    """
    body = record["body"]
    items = [_item(reader, item) for item in body["items"]]
    bad = [item for item in items if is_bad(item)]
    values = {"kind": "Round report", "record": body, "system": system["body"], "items": items, "bad": bad, "corrections": corrections,
              "open": [item for item in items if not item.get("answer")], "others": [one for item in items if item not in bad for one in item["shown_photos"]],
              "drawn": signature((body.get("signed") or {}).get("drawn"))}
    return render(reader, "round_report.html", "Round report: %s" % system["body"]["name"], record["made_at"],
                  {"round.json": body, "system.json": system["body"]}, page_of(body["system"]), **of_system(record, made_by, **values))


def _item(reader, item):
    what = ": ".join(one for one in (item.get("where"), item.get("ask")) if one)
    return dict(item, shown=answer_of(item, reader.units), limits=_limits(item, reader.units), shown_photos=photos(reader, item.get("photos"), what))


def is_bad(item):
    """True for an answer that is not ok, or a reading outside its limits."""
    value, low, high = item.get("value"), item.get("low"), item.get("high")
    return item.get("answer") == "not ok" or value is not None and ((low is not None and value < low) or (high is not None and value > high))


def answer_of(item, units):
    """An item's answer as a reader reads it."""
    if item.get("answer") == "reading":
        if item.get("value") is None:
            return MISSING
        return shown(item["value"], item["unit"], units) if item.get("unit") else shown(item["value"], "1", units)
    return {"ok": "OK", "not ok": "NOT OK", "not applicable": "does not apply", "text": "read"}.get(item.get("answer"), "not answered")


def _limits(item, units):
    low, high, unit = item.get("low"), item.get("high"), item.get("unit")
    if not unit or (low is None and high is None):
        return ""
    if low is None or high is None:
        return "at most %s" % shown(high, unit, units) if low is None else "at least %s" % shown(low, unit, units)
    return "%s to %s" % (shown(low, unit, units), shown(high, unit, units))
