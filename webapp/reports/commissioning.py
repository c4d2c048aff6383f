"""The commissioning record: timed runs, spread, verdict against the prediction, the time limit that follows."""
from ..engine.bridge import ask
from ..engine.text import shown
from .base import render


def commissioning(record, system, made_by, units="metric"):
    """PDF of a test run; `system`: the revision of the system it was made on."""
    judged = ask({"do": "verdict", "document": system["body"], "record": record["body"], "units": units})
    return render("commissioning.html", "Commissioning record: %s" % system["body"]["name"], record["made_at"],
                  {"test-run.json": record["body"], "system.json": system["body"]}, kind="Commissioning record",
                  record=record["body"], system=system["body"], judged=judged, revision=record, made_by=made_by,
                  texts=_texts(record["body"], units))


def _texts(record, units):
    """Texts of what was measured, in the reader's units."""
    runs = [{name: shown(run.get(name), "s", units) if run.get(name) is not None else "–"
             for name in ("build_s", "second_s", "vent_s")} for run in record["runs"]]
    left = [(row["at"], shown(row["bar"], "bar", units)) for row in record.get("residual_bar") or []]
    at_c = record.get("at_c")
    return {"runs": runs, "left": left, "at": None if at_c is None else shown(at_c, "°C", units)}
