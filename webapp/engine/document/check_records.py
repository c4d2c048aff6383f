"""How the fields of a record hang together, kind by kind, once each of them alone is well."""
from ..basics.findings import finding
from ..basics.text import UNITS


def _defect(document):
    """Closing needs the evidence that it names."""
    closed = document.get("closed")
    if not closed:
        return []
    needed = {"photo": closed.get("photos"), "reading": (closed.get("reading") or "").strip(), "test run": closed.get("test_run")}
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


HANGS_TOGETHER = {"defect/1": _defect, "checklist/1": _checklist}
