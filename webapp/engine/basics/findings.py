"""Findings: what is wrong or worth knowing, as values. Sentences are filled by present.py from sentences.py."""
from collections import OrderedDict

SEVERITIES = ("stop", "warn", "note")


def finding(severity, where, identifier, values=None):
    """One finding. `where` is a path in the document; `values` is a list of (name, given(...) or text)."""
    return {"severity": severity, "where": where, "id": identifier, "with": OrderedDict(values or [])}


def ordered(findings):
    """Stops first, then warnings, then notes; within a severity in the order found."""
    return [entry for severity in SEVERITIES for entry in findings if entry["severity"] == severity]
