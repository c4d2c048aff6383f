"""The settings sheet: what to enter and why, the line, the predicted cycle, the working of every figure."""
from ..engine.bridge import ask
from ..engine.basics.listing import listed
from .base import basis, of_system, page_of, render

_WIDTH = 640


def settings_sheet(reader, revision, made_by):
    """Paper of a system's revision; made_by: the name of the person who made it."""
    document, units = revision["body"], reader.units
    worked = ask({"do": "work", "document": document, "units": units, "keep_traces": True})
    values = of_system(reader, revision, made_by, system=document, worked=worked, kind="Settings sheet")
    if "settings" in worked:
        values["basis"] = basis(document, units)
        traces = worked.pop("traces")
        values["diagram"] = ask({"do": "diagram", "document": document, "worked": worked, "width": _WIDTH, "units": units})
        values["trace"] = ask({"do": "trace_picture", "document": document, "width": _WIDTH, "units": units,
                               "traces": [traces["usual"], traces["coldest"]]})
        values["groups"] = listed(worked, document["kind"])
    return render(reader, "settings_sheet.html", "Settings sheet: %s" % document["name"], revision["made_at"],
                  {"system.json": document, "worked.json": worked}, page_of(revision["document"]), **values)
