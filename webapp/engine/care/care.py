"""All that a page asks of one system's care at a moment: points not confirmed fed, the reservoir, what is due."""
from collections import OrderedDict

from ..basics.findings import ordered
from ..basics.kinds import fitting
from ..document.check import check
from ..systems.checklist import checklist
from ..systems.shaped import shaped
from .due import due, round_days
from .fed import fed
from .refills import refill


def care(document, now, known, day=None):
    """{"fed", "refill", "due"}, or {"findings"} of a document that the check stops; texts not filled in.

    now, day  RFC 3339, and the date of a refill; known: as of fed.fed, refills.refill and due.due, any part may be missing
    """
    stops = [entry for entry in check(document) if entry["severity"] == "stop"]
    if stops:
        return {"findings": ordered(stops)}
    document = fitting(document)
    record = known.get("checklist") or {}
    items = known.get("items") or shaped(checklist(document)["items"], record)
    forecast = refill(document, now, known, day, round_days(record))
    return OrderedDict((("fed", fed(document, now, known)), ("refill", forecast),
                        ("due", due(document, now, dict(known, items=items), forecast))))
