"""How uncertain what goes in is: one table, and a document with its values moved within it.

All spreads are from memory, orders of magnitude of what data sheets, pipes, pumps and thermometers leave open: estimates, none
published. Each spans the middle 80 % of cases. A value is estimated where the lubricant's grade or a default stood in for it.
"""
from ..basics.kinds import BY_PRESSURE
from ..document.catalogue import SYSTEM
from ..lubricants.lubricant import DEFAULTS, GRADE_DEFAULTS, OIL, lubricant_at
from ..lubricants.oil import USUAL_INDEX

# the middle 80 % of a normal distribution, in standard deviations either way
TEN_TO_NINETY = 1.2815515655446004
TIMES, PLUS = "times", "plus"
_RHEOLOGY = ("yield_pa", "consistency_pa_sn", "flow_index")
_LEAST_INDEX = 0.15
_FIELDS = {entry["path"]: entry for entry in SYSTEM}

# field of the lubricant: (how it spreads, spread of an estimate, spread of an entered value)
_LUBRICANT = (
    ("yield_pa", TIMES, 2.0, 1.2), ("consistency_pa_sn", TIMES, 2.0, 1.2), ("flow_index", PLUS, 0.08, 0.03),
    ("stiffening_per_k", TIMES, 1.5, 1.15), ("reference_c", PLUS, 3.0, 1.0), ("bulk_modulus_mpa", TIMES, 1.15, 1.05),
    ("air_fraction", TIMES, 2.0, 1.3))
_OF_OIL = (("v40_mm2_s", TIMES, None, 1.1), ("v100_mm2_s", TIMES, None, 1.1), ("viscosity_index", PLUS, 20.0, None),
           ("bulk_modulus_mpa", TIMES, 1.15, 1.05), ("air_fraction", TIMES, 2.0, 1.3), ("density_kg_m3", TIMES, 1.03, 1.01))
# what else was entered: (group, field, how, spread); lists are moved as one
_ENTERED = (("pump", "delivery_cm3_min", TIMES, 1.05), ("sections", "length_m", TIMES, 1.03), ("sections", "bore_mm", TIMES, 1.03),
            ("sections", "expansion_cm3_per_m_per_100bar", TIMES, 1.3), ("ambient", "coldest_c", PLUS, 3.0))
# the pressure that ends a build-up: the switch's, or where none does the devices'
_ENDS = {True: ("switches", "trips_bar", TIMES, 1.03), False: ("devices", "fires_bar", TIMES, 1.05)}


class Uncertain:
    """One input that may be other than it is taken to be: path, label and unit, how it spreads, by how much, is it an estimate."""

    def __init__(self, group, field, how, by, estimate):
        self.group, self.field, self.how, self.by, self.estimate = group, field, how, by, estimate
        entry = _FIELDS.get(group + "." + field) or _FIELDS[group + "[]." + field]
        self.path, self.label, self.unit = entry["path"], entry["label"], entry["unit"]

    def spread(self, value, z):
        """The value moved z standard deviations."""
        share = z / TEN_TO_NINETY
        moved = value * self.by ** share if self.how == TIMES else value + self.by * share
        return max(moved, _LEAST_INDEX) if self.field == "flow_index" else moved

    def value(self, document):
        """The value that the engine takes; for lists that of each entry."""
        group = document[self.group]
        if isinstance(group, list):
            return [thing.get(self.field) or 0 for thing in group]
        value = group.get(self.field)
        if value is None and self.field in _RHEOLOGY:
            return GRADE_DEFAULTS[group["nlgi"]][_RHEOLOGY.index(self.field)]
        if value is None and self.field == "viscosity_index":
            return USUAL_INDEX
        return DEFAULTS[self.field] if value is None else value

    def moved(self, document, z):
        """The document with this input moved z standard deviations; only what changes is copied."""
        value, group = self.value(document), document[self.group]
        if isinstance(group, list):
            fresh = [dict(thing) for thing in group]
            for thing, one in zip(fresh, value):
                thing[self.field] = self.spread(one, z)
        else:
            fresh = dict(group)
            fresh[self.field] = self.spread(value, z)
            if self.field == "v40_mm2_s" and fresh.get("v100_mm2_s"):
                fresh["v100_mm2_s"] *= fresh[self.field] / value  # an oil is thicker or thinner at both temperatures
        out = dict(document)
        out[self.group] = fresh
        return out


def uncertain(document, entered=False):
    """The inputs of a document that are estimates; with `entered` all that are not known exactly."""
    lubricant, oil = document["lubricant"], document["lubricant"]["nlgi"] == OIL
    missing = lubricant_at(lubricant, document["ambient"]["usual_c"])["estimates"]
    if oil and "consistency_pa_sn" in missing:
        missing = missing + ["viscosity_index"]
    out, known = [], [field for field in lubricant if lubricant[field] is not None]
    if "v40_mm2_s" in known and "v100_mm2_s" in known:
        known.remove("v100_mm2_s")  # moved with the other
    for field, how, guessed, stated in _OF_OIL if oil else _LUBRICANT:
        if field in missing and guessed:
            out.append(Uncertain("lubricant", field, how, guessed, True))
        elif entered and stated and (field in known or field in DEFAULTS):
            out.append(Uncertain("lubricant", field, how, stated, False))
    if entered:
        out += [Uncertain(group, field, how, by, False) for group, field, how, by in
                (_ENDS[document["kind"] in BY_PRESSURE],) + _ENTERED]
    return out


def moved_by(document, inputs, moves):
    """The document with several inputs moved, each by its own number of standard deviations."""
    for one, z in zip(inputs, moves):
        document = one.moved(document, z)
    return document
