"""The round report: what was not ok first with its photos, then every item in the order of the walk, signatures, corrections."""
from .base import of_system, page_of_record, render
from .photos import photos, signature
from .round_rows import rows


def round_report(reader, record, system, made_by, corrections=()):
    """Paper of a round.

    system       a revision of the system that was walked
    corrections  later revisions of the round, the oldest first: {"number", "made_at", "who", "reason"}
    """
    body = record["body"]
    items = [dict(item, shown_photos=_photos(reader, item)) for item in rows(body, reader.units)]
    bad = [item for item in items if item["bad"]]
    values = {"kind": "Round report", "record": body, "system": system["body"], "items": items, "bad": bad, "corrections": corrections,
              "open": [item for item in items if item.get("answer") in (None, "not done")],
              "others": [one for item in items if item not in bad for one in item["shown_photos"]],
              "drawn": signature((body.get("signed") or {}).get("drawn"))}
    return render(reader, "round_report.html", "Round report: %s" % system["body"]["name"], record["made_at"],
                  {"round.json": body, "system.json": system["body"]}, page_of_record(record), **of_system(reader, record, made_by, **values))


def _photos(reader, item):
    what = ": ".join(one for one in (item.get("where"), item.get("ask")) if one)
    return photos(reader, item.get("photos"), what)
