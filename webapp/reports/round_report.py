"""The round report: what was not ok first, then every item in the order of the walk."""
from ..engine.basics.text import MISSING, shown
from .base import render


def round_report(record, system, made_by, units="metric"):
    """PDF of a signed round; `system`: a revision of the system that was walked."""
    items = [dict(item, shown=_answer(item, units), limits=_limits(item, units)) for item in record["body"]["items"]]
    return render("round_report.html", "Round report: %s" % system["body"]["name"], record["made_at"],
                  {"round.json": record["body"]}, kind="Round report", record=record["body"], system=system["body"], items=items,
                  bad=[item for item in items if item.get("answer") == "not ok" or _outside(item)], revision=record,
                  made_by=made_by)


def _outside(item):
    value, low, high = item.get("value"), item.get("low"), item.get("high")
    return value is not None and ((low is not None and value < low) or (high is not None and value > high))


def _answer(item, units):
    if item.get("answer") == "reading":
        return shown(item.get("value"), item["unit"], units) if item.get("unit") else MISSING
    return {"ok": "OK", "not ok": "NOT OK", "not applicable": "does not apply"}.get(item.get("answer"), "not answered")


def _limits(item, units):
    if item.get("low") is None or item.get("high") is None or not item.get("unit"):
        return ""
    return "%s to %s" % (shown(item["low"], item["unit"], units), shown(item["high"], item["unit"], units))
