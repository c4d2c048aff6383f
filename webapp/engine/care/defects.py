"""Defects by their consequence: what each word means, when it is due, and which come first.

Words and due times are common practice, no published source. Days are the plant's own, as ISO texts; the clock is the caller's.
"""
from collections import OrderedDict

from ..basics.dates import date_of, day_of
from ..basics.figure import given
from ..document.record_fields import SEVERITIES

DANGER = SEVERITIES[0]
# severity -> days from the day on which it is raised; what is untidy waits for the next round
WITHIN_D = {"danger": 0, "starving": 0, "failing": 7}
_SIGNS = {"danger": "stop", "starving": "stop", "failing": "warn", "untidy": "note"}
_NO_DAY = 10 ** 7


def due(severity, today, next_round=None):
    """The day on which a defect that is raised today is due. next_round: the day of the next round where it is known."""
    if severity == "untidy" and day_of(next_round) is not None:
        return max(today[:10], next_round[:10])
    return date_of(day_of(today) + _within(severity))


def _within(severity):
    from ..systems.checklist import ROUND_EVERY_D  # late: a list of defects needs no more of it
    return WITHIN_D.get(severity, ROUND_EVERY_D)


def severities(today, next_round=None):
    """The four words, the worst first, each with what it means, what to do, the day on which it would be due, and its sign."""
    return {"severities": [{"severity": one, "sign": _SIGNS[one], "due": due(one, today, next_round), "means": _means(one)}
                           for one in SEVERITIES]}


def _means(severity):
    return {"id": "defect." + severity, "with": {}}


def standing(defects, today):
    """The open ones of some defects, in the order in which to see to them: overdue and dangerous first, then by consequence, then by day.

    defects: bodies, each with its `document`. A row: document, severity, sign, due, overdue, days (until it is due, below 0: since),
    `when` and `means` as sentences. What is due on a day is overdue from the next day on; danger comes first from the beginning.
    """
    rows = []
    for number, defect in enumerate(defects):
        if not defect.get("closed"):
            row = _row(defect, day_of(today))
            key = (not row["overdue"] and row["severity"] != DANGER, SEVERITIES.index(row["severity"]), row["days"], number)
            rows.append((key, row))
    rows = [row for _, row in sorted(rows, key=lambda one: one[0])]
    return {"open": rows, "overdue": len([row for row in rows if row["overdue"]]),
            "danger": len([row for row in rows if row["severity"] == DANGER])}


def _row(defect, today):
    severity = defect["severity"] if defect.get("severity") in SEVERITIES else DANGER
    day = day_of(defect.get("due"))
    if day is None:  # nobody set one: as it would have been proposed
        raised = day_of(defect.get("made_at"))
        day = today if raised is None else raised + _within(severity)
    days = int(day - today)
    return OrderedDict((("document", defect.get("document")), ("severity", severity), ("sign", _SIGNS[severity]), ("due", date_of(day)),
                        ("overdue", days < 0), ("days", days), ("when", _when(severity, days)), ("means", _means(severity))))


def _when(severity, days):
    if days < 0:
        return _say("overdue" if days < -1 else "overdue_since_yesterday", -days)
    if severity == DANGER:
        return _say("at_once", 0)
    return _say(("due_today", "due_tomorrow")[days] if days < 2 else "due_in", days)


def _say(name, days):
    return {"id": "defect." + name, "with": OrderedDict((("days", given(min(days, _NO_DAY), "days", "days")),))}
