"""All that a page asks of one system's care at a moment: points not confirmed fed, the reservoir, what is due."""
from collections import OrderedDict

from ..basics.findings import ordered
from ..basics.kinds import fitting
from ..document.check import check
from ..systems.checklist import checklist
from ..systems.shaped import shaped
from .due import due, round_days
from .fed import Lacks, fed, over
from .refills import refill


def care(document, now, known, day=None, period=None):
    """{"fed", "refill", "due"}, or {"findings"} of a document that the check stops; texts not filled in.

    now, day  RFC 3339, and the date of a refill; known: as of fed.Lacks, refills.refill and due.due, any part may be missing
    period    (its begin, its end, RFC 3339), where "lacked" is to say which points were not confirmed fed in it, as fed.over
    """
    stops = [] if _is_worked(known) else [entry for entry in check(document) if entry["severity"] == "stop"]
    if stops:
        return {"findings": ordered(stops)}
    document = fitting(document)
    record = known.get("checklist") or {}
    items = known.get("items") or shaped(checklist(document)["items"], record)
    forecast = refill(document, now, known, day, round_days(record))
    lacks = Lacks(document, now, known)
    out = OrderedDict((("fed", fed(lacks)), ("refill", forecast), ("due", due(document, now, dict(known, items=items), forecast))))
    if period:
        out["lacked"] = over(lacks, *period)
    return out


def _is_worked(known):
    """True where the system was worked: then it has passed the check."""
    return bool(((known.get("worked") or {}).get("reservoir") or {}).get("per_day"))
