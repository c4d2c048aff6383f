"""The round report: what was not ok first, then every item in the order of the walk."""
from .base import render
from .round_rows import rows


def round_report(record, system, made_by, units="metric"):
    """PDF of a signed round; `system`: a revision of the system that was walked."""
    items = rows(record["body"], units)
    return render("round_report.html", "Round report: %s" % system["body"]["name"], record["made_at"],
                  {"round.json": record["body"]}, kind="Round report", record=record["body"], system=system["body"], items=items,
                  bad=[item for item in items if item["bad"]], revision=record,
                  made_by=made_by)
