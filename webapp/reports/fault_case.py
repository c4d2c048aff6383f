"""The fault case: what was seen, what was read, what was checked, the cause and what was done about it."""
from ..engine.basics.text import shown
from .base import of_system, page_of, render

# name of a reading -> (what it is, its unit); the order is that of the questions
_READINGS = (
    ("ran_into_limit", "The time limit passed", "bool"), ("tripped_at_once", "A switch reads as tripped at once", "bool"),
    ("low_level", "Reservoir at its low level", "bool"), ("build_s", "Build-up", "s"), ("vent_s", "Vent", "s"),
    ("pressure_bar", "Highest pressure", "bar"), ("residual_bar", "Pressure when the pause begins", "bar"), ("dry_points", "Points that stay dry", "points"),
    ("current_a", "Current of the pump", "A"), ("refill_l", "Filled in", "l"), ("since_h", "In the time of", "h"), ("at_c", "Temperature at the line", "°C"))


def fault_case(reader, record, system, made_by, defect=None):
    """Paper of a fault case; `defect`: the revision of the defect that came of it, if any."""
    body = record["body"]
    tried = [dict(one, name=one.get("name") or one["cause"]) for one in body.get("tried") or []]
    called = {one["cause"]: one["name"] for one in tried}
    return render(reader, "fault_case.html", "Fault case: %s" % system["body"]["name"], record["made_at"],
                  {"fault-case.json": body, "system.json": system["body"], **({"defect.json": defect["body"]} if defect else {})},
                  page_of(body["system"]),
                  **of_system(reader, record, made_by, kind="Fault case", record=body, system=system["body"], tried=tried, defect=defect and defect["body"],
                              cause=called.get(body.get("cause"), body.get("cause")), readings=_readings(body, system["body"], reader.units)))


def _readings(body, system, units):
    """[(what, value)] of the readings that were taken, as a reader reads them."""
    held = body.get("readings")
    names = {point["id"]: point["name"] for point in system["points"]}
    return [(what, _shown(held[name], unit, units, names)) for name, what, unit in _READINGS if isinstance(held, dict) and held.get(name) is not None]


def _shown(value, unit, units, names):
    if unit == "points":
        return ", ".join(names.get(one, str(one)) for one in value) or "none"
    if isinstance(value, dict):
        return ", ".join("%s at %s" % (shown(one, unit, units), place) for place, one in sorted(value.items()))
    return shown(value, unit, units)
