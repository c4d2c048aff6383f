"""Readings of a system in trouble (`readings/1`), checked against it: every finding names its place, nothing is raised."""
from ..document.check import is_number
from ..basics.figure import given
from ..basics.findings import finding
from ..basics.kinds import DUAL, SIDES
from .expected import PRESSURES
from .prior import name_of

FORMAT = "readings/1"
ANSWERS = ("found", "not found", "cannot tell")
_MOST = 200
# name -> (unit, least, most)
_NUMBERS = {"current_a": ("A", 0, 1000), "refill_l": ("l", 0, 10000), "since_h": ("h", 0.01, 100000), "at_c": ("°C", -70, 250)}
_TIMES = {"build_s": (0, 100000), "build_b_s": (0, 100000), "vent_s": (0, 1000000)}
_PRESSURES = ("residual_bar",) + PRESSURES
_OF_TWO_LINES = ("build_b_s", PRESSURES[1], "limit_line")
_FLAGS = ("ran_into_limit", "low_level", "tripped_at_once")
_OTHER = ("format", "dry_points", "tried", "id", "system", "made_at", "made_by", "phone", "note")


def check_readings(document, readings):
    """Findings of readings for a checked document; with a `stop` they cannot be used."""
    if not isinstance(readings, dict):
        return [finding("stop", "readings", "readings.none")]
    return _Readings(document, readings).findings


def check_history(closed, tried):
    """Findings of closed defects and of what was tried: lists of causes, alone or as {"cause", "answer"}."""
    findings = []
    for place, entries, answered in (("closed", closed, False), ("tried", tried, True)):
        if not isinstance(entries, list) or len(entries) > _MOST * 10:
            findings.append(finding("stop", place, "readings.list"))
            continue
        for number, entry in enumerate(entries):
            cause, answer = entry_of(entry)
            if not isinstance(cause, str) or name_of(cause) is None or (answered and answer not in ANSWERS):
                findings.append(finding("stop", "%s[%d]" % (place, number), "readings." + place))
    return findings


def stopped_line(document, readings):
    """Number of the line whose build-up the controller ended, as the readings say; None where it ended none or they do not tell."""
    if not readings.get("ran_into_limit"):
        return None
    if document["kind"] != DUAL:
        return 0
    if readings.get("limit_line") is not None:
        return SIDES.index(readings["limit_line"])
    # the second line gets the pump only when the first has built up
    return None if readings.get("build_b_s") is None else 1


def entry_of(entry):
    """(cause, answer) of an entry; a cause alone was looked for and not found."""
    if isinstance(entry, dict):
        return entry.get("cause"), entry.get("answer", "not found")
    return entry, "not found"


class _Readings:
    def __init__(self, document, readings):
        self.document, self.readings, self.findings = document, readings, []
        if readings.get("format", FORMAT) != FORMAT:
            self._find("format", "readings.format")
        for name in sorted(readings):
            self._one(name, readings[name])
        if not self.findings and readings.get("refill_l") is not None and readings.get("since_h") is None:
            self._find("since_h", "readings.since")
        if not self.findings and readings.get("limit_line") is not None and not readings.get("ran_into_limit"):
            self._find("limit_line", "readings.no_limit")

    def _find(self, place, identifier, values=None):
        if len(self.findings) < _MOST:
            self.findings.append(finding("stop", "readings." + place, identifier, values))

    def _one(self, name, value):
        if value is None:
            return
        if name in _OF_TWO_LINES and self.document["kind"] != DUAL:
            self._find(name, "readings.one_line")
        elif name in _NUMBERS:
            self._number(name, value, *_NUMBERS[name])
        elif name in _TIMES:
            self._times(name, value)
        elif name in _PRESSURES:
            self._pressures(name, value)
        elif name in _FLAGS:
            if value is not True and value is not False:
                self._find(name, "readings.flag")
        elif name == "limit_line":
            if value not in SIDES:
                self._find(name, "readings.line")
        elif name == "dry_points":
            self._points(value)
        elif name not in _OTHER:
            self._find(name[:60], "readings.unknown", [("known", ", ".join(
                sorted(list(_NUMBERS) + list(_TIMES) + list(_PRESSURES) + list(_FLAGS) + ["limit_line", "dry_points", "tried"])))])

    def _number(self, place, value, unit, low, high):
        if not is_number(value) or not low <= value <= high:
            self._find(place, "readings.number", [("low", given(low, unit, "least")), ("high", given(high, unit, "most"))])

    def _times(self, name, value):
        values = value if isinstance(value, list) else [value]
        if not values or len(values) > _MOST:
            self._find(name, "readings.runs")
        for number, one in enumerate(values[:_MOST]):
            self._number("%s[%d]" % (name, number) if isinstance(value, list) else name, one, "s", *_TIMES[name])

    def _pressures(self, name, value):
        nodes = ["pump"] + [section["to"] for section in self.document["sections"]]
        if not isinstance(value, dict):
            self._find(name, "readings.places", [("known", ", ".join(nodes))])
            return
        for node in sorted(value):
            if node not in nodes:
                self._find("%s.%s" % (name, node[:60]), "readings.places", [("known", ", ".join(nodes))])
            else:
                self._number("%s.%s" % (name, node), value[node], "bar", 0, 1500)

    def _points(self, value):
        known = [point["id"] for point in self.document["points"]]
        if not isinstance(value, list):
            self._find("dry_points", "readings.list")
            return
        for number, one in enumerate(value):
            if one not in known:
                self._find("dry_points[%d]" % number, "readings.point", [("known", ", ".join(known))])
