"""The commissioning record: timed runs, spread, verdict against the prediction, the time limit that follows."""
from ..engine.basics.text import shown
from ..engine.bridge import ask
from .base import of_system, page_of_record, render
from .photos import signature

# (name, field of a run) of what the runs of a kind time
_TIMES = {"single-line": (("Build-up", "build_s"), ("Vent", "vent_s")),
          "two": (("Build-up", "build_s"), ("Second switch", "second_s"), ("Vent", "vent_s")),
          "dual-line": (("Line A", "build_s"), ("Line B", "build_b_s"), ("Vent", "vent_s")),
          "progressive": (("First signal", "build_s"), ("Signal to signal", "cycle_s")), "time-only": (("Last device", "build_s"),)}
_LIMITS = {"progressive": "Monitoring time that follows"}


def commissioning(reader, record, system, made_by):
    """Paper of a test run; `system`: the revision of the system it was made on."""
    body, units = record["body"], reader.units
    judged = ask({"do": "verdict", "document": system["body"], "record": body, "units": units})
    figures = _figures(system["body"], judged)
    values = {"kind": "Commissioning record", "record": body, "system": system["body"], "judged": judged,
              "texts": _texts(body, system["body"], units), "figures": figures,
              "said": [(figure["shown"], name) for name, figure in figures],
              "drawn": signature((body.get("signed") or {}).get("drawn"))}
    return render(reader, "commissioning.html", "Commissioning record: %s" % system["body"]["name"], record["made_at"],
                  {"test-run.json": body, "system.json": system["body"]}, page_of_record(record), **of_system(reader, record, made_by, **values))


def _figures(system, judged):
    """[(name, figure)] of what was judged, by the kind of system."""
    figures = [("Median", "median"), ("Spread", "spread"), ("Predicted, from", "predicted_low"), ("Predicted, to", "predicted_high")]
    if system["kind"] == "dual-line":
        figures += [(name + ", line B", key + "_b") for name, key in figures]
    figures.append((_LIMITS.get(system["kind"], "Time limit that follows"), "time_limit"))
    return [(name, judged[key]) for name, key in figures if judged.get(key)]


def _texts(record, system, units):
    """Texts of what was measured, in the reader's units."""
    times = _TIMES["two" if system["kind"] == "single-line" and len(system["switches"]) == 2 else system["kind"]]
    runs = [[shown(run.get(field), "s", units) if run.get(field) is not None else "–" for _, field in times] for run in record["runs"]]
    names = {point["id"]: point["name"] for point in system["points"]}
    seen = [(names.get(row["point"], row["point"]), row["fed"]) for row in record.get("seen") or []]
    at_c = record.get("at_c")
    return {"heads": [name for name, _ in times], "runs": runs, "seen": seen, "readings": _readings(record, units),
            "at": None if at_c is None else shown(at_c, "°C", units)}


def _readings(record, units):
    """[(what, value)] of what was read beside the times."""
    out = [("Left after venting, at %s" % row["at"], shown(row["bar"], "bar", units)) for row in record.get("residual_bar") or []]
    if record.get("delivery_cm3_min") is not None:
        out.append(("Given by the pump, caught in a cup", shown(record["delivery_cm3_min"], "cm³/min", units)))
    if record.get("held"):
        after, bar = record["held"]["after_s"], record["held"]["bar"]
        out.append(("At the pump %s after it stopped, the vent held shut" % shown(after, "s", units), shown(bar, "bar", units)))
    return out
