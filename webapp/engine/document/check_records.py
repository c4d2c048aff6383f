"""How the fields of a record hang together, kind by kind, once each of them alone is well."""
from ..basics.dates import days_of
from ..basics.findings import finding
from ..basics.text import UNITS
from .record_fields import SETTLED


def _defect(document):
    """Closing needs the evidence that it names, a reading a number in it; what is due is due on a day."""
    if document.get("due") and days_of(document["due"]) is None:
        return [finding("stop", "due", "check.no_day", [("value", document["due"][:40])])]
    closed = document.get("closed")
    if not closed:
        return []
    needed = {"photo": closed.get("photos"), "reading": [letter for letter in closed.get("reading") or "" if letter in "0123456789"],
              "test run": closed.get("test_run")}
    if needed[closed["evidence"]]:
        return []
    return [finding("stop", "closed.evidence", "check.no_evidence", [("evidence", closed["evidence"])])]


def _checklist(document):
    """No item twice, and limits in order."""
    findings, seen = [], set()
    for number, item in enumerate(document["items"]):
        place = "items[%d]" % number
        if item["id"] in seen:
            findings.append(finding("stop", place + ".id", "check.duplicate", [("label", "Item"), ("value", item["id"])]))
        seen.add(item["id"])
        if item.get("low") is not None and item.get("high") is not None and item["low"] > item["high"]:
            findings.append(finding("stop", place + ".low", "check.range_order", [("label", "Limits"), ("of", " of " + (item.get("ask") or item["id"]))]))
        if (item.get("unit") or item.get("answer") == "reading") and item.get("own") and item.get("unit") not in UNITS:
            findings.append(finding("stop", place + ".unit", "check.choice", [
                ("label", "Unit"), ("of", " of " + (item.get("ask") or item["id"])), ("value", item.get("unit") or "none"),
                ("choices", ", ".join(sorted(UNITS)))]))
        if item.get("own") and not (item.get("ask") or "").strip():
            findings.append(finding("stop", place + ".ask", "check.missing", [("label", "What is asked"), ("of", " of item %d" % (number + 1))]))
    return findings


def _adjustment(document):
    """An exception needs a reason."""
    settled = document.get("settled") or {}
    if settled.get("how") == SETTLED[-1] and not (settled.get("statement") or "").strip():
        return [finding("stop", "settled.statement", "check.missing", [("label", "Why it stays as an exception"), ("of", "")])]
    return []


HANGS_TOGETHER = {"defect/1": _defect, "checklist/1": _checklist, "adjustment/1": _adjustment}
