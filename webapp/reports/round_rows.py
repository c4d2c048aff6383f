"""A round's items in words, for papers and for the desk's pages."""
from ..engine.basics.text import MISSING, shown

_WORDS = {"ok": "OK", "not ok": "NOT OK", "not applicable": "does not apply", "not done": "not done", "text": "noted"}


def rows(body, units="metric"):
    """The items as they were answered, each with `shown`, `limits` and `bad`: not ok, or outside its limits."""
    return [dict(item, shown=answer_of(item, units), limits=_limits(item, units), bad=is_bad(item))
            for item in body["items"]]


def is_bad(item):
    """True for an answer that is not ok, or a reading outside its limits."""
    value, low, high = item.get("value"), item.get("low"), item.get("high")
    outside = value is not None and (low is not None and value < low or high is not None and value > high)
    return item.get("answer") == "not ok" or outside


def answer_of(item, units):
    """An item's answer as a reader reads it."""
    if item.get("answer") == "reading":
        return shown(item.get("value"), item["unit"], units) if item.get("unit") else MISSING
    return _WORDS.get(item.get("answer"), "not answered")


def _limits(item, units):
    low, high = [shown(item[name], item["unit"], units) if item.get(name) is not None and item.get("unit") else ""
                 for name in ("low", "high")]
    if low and high:
        return "%s to %s" % (low, high)
    return "at least " + low if low else "at most " + high if high else ""
