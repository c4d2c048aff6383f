"""The defect list: what was open on a day, the worst first, each with who sees to it and until when."""
import re

from ..engine.basics.dates import days_of
from ..engine.document.record_fields import SEVERITIES
from .base import day, render, together
from .photos import photos

_DAY = re.compile(r"\d{4}-\d\d-\d\d")


def _raised(revision):
    """When it was raised, as its phone wrote it; where that is no day, when the revision was made."""
    text = revision["body"].get("made_at")
    return revision["made_at"] if days_of(text) is None else text


def open_on(defects, span):
    """Those defects that were open at the end of a period."""
    return [one for one in defects if span.over_by_its_end(_raised(one))
            and not span.over_by_its_end((one["body"].get("closed") or {}).get("at"))]


def is_overdue(body, today):
    """True where the day that is named has passed."""
    due = body.get("due") or ""
    return bool(_DAY.match(due)) and due[:10] < today


def rows(reader, defects, names, today, owners):
    """Rows of a table of defects, the worst and the longest due first; names: {system: its name}, owners: {id: name}."""
    made = [_row(reader, one, names, today, owners) for one in defects]
    return sorted(made, key=lambda row: (SEVERITIES.index(row["severity"]), row["sorted_by"], row["system"], row["id"]))


def _row(reader, revision, names, today, owners):
    body = revision["body"]
    due = body.get("due") or ""
    taken = [photo for one in (body, *(body.get("changes") or [])) for photo in one.get("photos") or []]
    return {"id": revision["document"], "severity": body["severity"], "system": names.get(body["system"], "a system not sent yet"),
            "where": body["where"], "what": body["what"], "owner": owners.get(body.get("owner"), body.get("owner") or "nobody yet"),
            "due": together(day(due)) if _DAY.match(due) else due or "no day named", "sorted_by": due if _DAY.match(due) else "9999",
            "overdue": is_overdue(body, today), "age": int(days_of(today) - days_of(reader.clock.day(_raised(revision)))),
            "photos": photos(reader, taken[:1], "%s: %s" % (body["where"], body["what"])), "more": len(taken[1:])}


def defect_list(reader, plant, span):
    """Paper of the defects of a plant's systems that were open at the end of a period; plant: papers.Plant."""
    listed = open_on(plant.records("defect", touched=span.in_utc()[0]), span)
    return render(reader, "defect_list.html", "Defect list: %s" % plant.where, plant.made_at(span),
                  {"defects.json": [one["body"] for one in listed]}, "/plant/defects", kind="Defect list", where=plant.where, at=span.until,
                  revision="Open on %s · %d systems" % (day(span.until), len(plant.systems)),
                  defects=rows(reader, listed, plant.names, span.until, plant.people))
