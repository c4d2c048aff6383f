"""A diagnosis for a reader: `because`, `check` and `caution` of each cause as text, in the reader's units."""
from ..basics.kinds import DUAL, SIDES
from .prior import CAUSES, NONE, causes_of
from .readings import stopped_line
from ..words.sentences import sentence
from ..basics.text import shown

# what a reading must weigh, as a natural logarithm of how much likelier it makes the cause, to be named
_WORTH_NAMING = 0.5
# readings of a build-up: (what is read, number of the line)
_OF_A_LINE = {"build_s": ("build_s", 0), "build_b_s": ("build_s", 1), "pressure_bar": ("pressure_bar", 0),
              "pressure_b_bar": ("pressure_bar", 1)}
_CAUTIONS = {"leak": ("leak",), "return": ("running", "leak"), "relief": ("running", "leak"), "vent": ("leak",),
             "switch": ("running",), "blocked": ("running",), "device": ("isolated", "leak"), "supply": ("live",),
             "feed_line": ("leak",), "air": ("isolated", "leak"), "pump": ("isolated", "running"), NONE: ("running",),
             "machine_contact": ("running",)}


def names(document, language="en"):
    """[{"cause", "name"}] of all causes that a system can have, wherever on it."""
    return [{"cause": one, "name": sentence("cause." + one, {"at": ""}, language)["says"].replace("  ", " ")}
            for one in causes_of(document)]


def told(case, diagnosis, units="metric", language="en"):
    """The diagnosis with texts in the place of what they are made from; plain JSON."""
    words = _Words(case, units, language)
    diagnosis["causes"] = [words.cause(entry) for entry in diagnosis["causes"]]
    return diagnosis


class _Words:
    def __init__(self, case, units, language):
        self.readings, self.units, self.language, self.limit_s = case.readings, units, language, case.sheet_limit_s
        self.two_lines, self.stopped = case.document["kind"] == DUAL, stopped_line(case.document, case.readings)
        self.names = {point["id"]: point["name"] for point in case.document["points"]}

    def _says(self, identifier, texts=None):
        return sentence(identifier, texts or {}, self.language)["says"]

    def _shown(self, value, unit):
        return shown(value, unit, self.units, self.language)

    def cause(self, entry):
        """One cause as the diagnosis gives it."""
        name, expected = entry["fault"], entry.pop("expected")
        speaks = entry.pop("speaks")
        at = entry["place"] or ""
        if name == "return":
            at = ""
        at = self.names.get(at, at)
        if at and name not in ("switch", "contact"):
            at = self._says("cause.at", {"place": at})
        if "line" in entry:
            at += self._says("of_line", {"line": entry["line"]})
        entry["name"] = self._says("cause." + name, {"at": at})
        entry["because"] = self._because(speaks, expected)
        entry["check"] = "%s %s" % (sentence("cause." + name, {"at": at}, self.language)["do"], self._says(
            "cause.takes", {"minutes": self._shown(CAUSES[name].minutes, "min")}))
        entry["caution"] = " ".join([self._says("caution." + one) for one in _CAUTIONS.get(name, ())]) or None
        return entry

    def _because(self, speaks, expected):
        texts = []
        for identifier, sign in (("because.for", 1), ("because.against", -1)):
            ranked = sorted([(-sign * row["weight"], number, row["reading"]) for number, row in enumerate(speaks)
                             if sign * row["weight"] > _WORTH_NAMING])
            if ranked:
                named = [self._reading(name, expected) for _, _, name in ranked[:3]]
                texts.append(self._says(identifier, {"readings": "; ".join(named)}))
        return " ".join(texts) or self._says("because.usual")

    def _reading(self, name, expected):
        value, wanted = self._values(name, expected)
        what, line = _OF_A_LINE.get(name, (name, None))
        of = self._says("of_line", {"line": SIDES[line]}) if self.two_lines and line is not None else ""
        what = self._says("reading.stopped_s" if self._was_stopped(name) else "reading." + what, {"of": of})
        texts = {"reading": what, "value": value, "expected": wanted}
        return self._says("because.expected" if wanted else "because.plain", texts)

    def _values(self, name, expected):
        """(text of the reading, of what is expected; nothing where it says nothing)."""
        value = self.readings[name]
        if name == "residual_bar":
            return self._pressures(value, expected.residual or {})
        if self._was_stopped(name):
            return self._shown(value, "s"), self._shown(expected.limit_s or self.limit_s, "s")
        if name in _OF_A_LINE:
            what, line = _OF_A_LINE[name]
            half = expected.halves[line]
            if what == "pressure_bar":
                return self._pressures(value, half.pressure)
            return self._shown(value, "s"), self._says("reading.never") if half.build_s is None else self._shown(half.build_s, "s")
        if name == "vent_s":
            return self._shown(value, "s"), "" if expected.vent_s is None else self._shown(expected.vent_s, "s")
        if name == "current_a":
            return self._shown(value, "A"), ""
        if name == "refill_l":
            return self._shown(value, "l"), ""
        if name == "dry_points":
            return ", ".join([self.names[one] for one in value]) or self._says("reading.no_points"), ""
        return value if name == "limit_line" else self._shown(value, "bool"), ""

    def _was_stopped(self, name):
        """True of the time after which the controller stopped the pump."""
        return _OF_A_LINE.get(name) == ("build_s", self.stopped)

    def _pressures(self, value, of):
        places = sorted([place for place in value])
        both = [", ".join(["%s %s" % (place, self._shown(bars[place], "bar")) for place in places if place in bars])
                for bars in (value, of)]
        return both[0], both[1]
