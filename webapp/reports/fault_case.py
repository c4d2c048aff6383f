"""The fault case: what was seen, what was read, what was checked, the cause and what was done about it."""
from ..engine.basics.text import shown
from ..engine.document.record_fields import READINGS
from .base import of_system, page_of_record, render


def fault_case(reader, record, system, made_by, called, defect=None):
    """Paper of a fault case.

    called  {cause: its words} of the causes that it names
    defect  the revision of the defect that came of it, if any
    """
    body = record["body"]
    tried = [dict(one, called=called.get(one["cause"], one["cause"])) for one in body.get("tried") or []]
    values = {"kind": "Fault case", "record": body, "system": system["body"], "tried": tried, "defect": defect and defect["body"],
              "cause": called.get(body.get("cause")), "readings": _readings(body, system["body"], reader.units)}
    return render(reader, "fault_case.html", "Fault case: %s" % system["body"]["name"], record["made_at"],
                  {"fault-case.json": body, "system.json": system["body"], **({"defect.json": defect["body"]} if defect else {})},
                  page_of_record(record), **of_system(reader, record, made_by, **values))


def _readings(body, system, units):
    """[(what, value)] of the readings that were taken, as a reader reads them."""
    held = body.get("readings")
    if not isinstance(held, dict):
        return []
    names = {point["id"]: point["name"] for point in system["points"]}
    return [(what, _shown(held[name], kind, unit, units, names)) for name, what, kind, unit in READINGS if held.get(name) is not None]


def _shown(value, kind, unit, units, names):
    if kind == "texts":
        return ", ".join(names.get(one, str(one)) for one in value) or "none"
    if isinstance(value, dict):
        return ", ".join("%s at %s" % (shown(one, unit, units), place) for place, one in sorted(value.items()))
    return shown(value, unit or kind, units)
