"""Faults to try on a system: typed as NAME=VALUE, read into plain numbers, put into the document that is simulated.

A place on the second line of a dual-line system is named with its line: `N3/B`; without, it is on line A.
"""
from ..basics.findings import finding
from ..line.tree import PUMP

_ENDLESS = float("inf")
# name -> (what its value should be, for a reader)
FORMS = (
    ("leak", "NODE:CM3_MIN_PER_BAR, for example N3:0.2"), ("air", "a share of the volume from 0 to 0.5"),
    ("pump", "the share of its delivery that is left, from 0 to 1"), ("blocked", "the name of a pipe"),
    ("vent", "stuck, or the share that it opens, from 0 to 1"), ("device", "the name of a metering device or block"),
    ("switch", "SWITCH:stuck or SWITCH:BAR, for example PS1:80"), ("contact", "the name of a switch"),
    ("relief", "the pressure at which it opens, in bar from 1 to 1000"),
    ("empty", "what is left in the reservoir, in litres from 0 to 10000"))


def read(document, texts):
    """(faults, findings) of typed faults, for a checked document. A finding names what is wrong and what is allowed.

    faults: plain numbers, only what was typed: `leaks` [(node, line, cm³/(min·bar))], `air` share, `pump` share, `blocked`
    [(section, line)], `vent` share (0: stuck), `devices` [id], `switches` {id: bar, endless where stuck}, `contacts` [id],
    `relief` bar, `empty_m3` m³
    """
    reader = _Reader(document)
    for text in texts:
        reader.read(text)
    return reader.faults, reader.findings


class _Reader:
    """Reads one text after the other; each fault's method returns False where its value is none."""

    def __init__(self, document):
        self.document, self.faults, self.findings = document, {}, []
        self.forms = dict(FORMS)

    def read(self, text):
        """Read one NAME=VALUE."""
        name, equals, value = text.partition("=") if isinstance(text, str) else ("", "", "")
        name, value = name.strip(), value.strip()
        if not equals or name not in self.forms:
            self._find("fault.unknown", str(text)[:60], [("known", ", ".join([form[0] for form in FORMS]))])
        elif not getattr(self, "_" + name)(value):
            self._find("fault.value", text[:60], [("name", name), ("form", self.forms[name]), ("there", self._there(name))])

    def _find(self, identifier, typed, values):
        self.findings.append(finding("stop", "faults", identifier, [("typed", typed)] + values))

    def _there(self, name):
        """What a fault's value may name in this system, as a sentence; nothing where it names nothing."""
        names = {"leak": self._nodes, "blocked": self._sections, "device": self._devices, "switch": self._switches,
                 "contact": self._switches}
        if name not in names:
            return ""
        return " There: %s." % (", ".join(names[name]()) or "none")

    def _nodes(self):
        return [PUMP] + [section["to"] for section in self.document["sections"]]

    def _sections(self):
        return [section["id"] for section in self.document["sections"]]

    def _devices(self):
        return [device["id"] for device in self.document["devices"]]

    def _switches(self):
        return [switch["id"] for switch in self.document["switches"]]

    def _once(self, key, value):
        """Keep a number that can be so only once; False where it is none or was given before."""
        if value is None or key in self.faults:
            return False
        self.faults[key] = value
        return True

    def _more(self, key, value):
        self.faults.setdefault(key, []).append(value)
        return True

    def _place(self, names, text):
        """(name, number of the line), None where there is no such place."""
        line = 0
        if text not in names and self.document["kind"] == "dual-line" and text[-2:] in ("/A", "/B"):
            text, line = text[:-2], "AB".find(text[-1])
        return (text, line) if text in names else None

    # ---- the faults

    def _leak(self, value):
        node, _, rate = value.rpartition(":")
        place, rate = self._place(self._nodes(), node), _number(rate, 0, 1e6)
        return place is not None and rate is not None and self._more("leaks", (place[0], place[1], rate))

    def _air(self, value):
        return self._once("air", _number(value, 0, 0.5))

    def _pump(self, value):
        return self._once("pump", _number(value, 0, 1))

    def _blocked(self, value):
        place = self._place(self._sections(), value)
        return place is not None and self._more("blocked", place)

    def _vent(self, value):
        return self._once("vent", 0.0 if value == "stuck" else _number(value, 0, 1))

    def _device(self, value):
        return value in self._devices() and self._more("devices", value)

    def _switch(self, value):
        name, _, bar = value.rpartition(":")
        bar = _ENDLESS if bar == "stuck" else _number(bar, 0.5, 1000)
        known = self.faults.setdefault("switches", {})
        counts = [switch["id"] for switch in self.document["switches"] if switch.get("counts")]
        if name not in self._switches() or name in known or bar is None or (name in counts and bar != _ENDLESS):
            return False
        known[name] = bar
        return True

    def _contact(self, value):
        return value in self._switches() and self._more("contacts", value)

    def _relief(self, value):
        return self._once("relief", _number(value, 1, 1000))

    def _empty(self, value):
        litres = _number(value, 0, 1e4)
        return self._once("empty_m3", None if litres is None else litres / 1000)


def _number(text, low, high):
    """The number of a text, None where it is none or out of range; a comma may be the decimal sign."""
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        return None
    return value if low <= value <= high else None


def applied(document, faults):
    """A copy of the document with those faults in it that are but other numbers: air, pump, relief, devices, switches."""
    out = dict(document)
    out["pump"] = dict(document["pump"])
    out["pump"]["delivery_cm3_min"] *= faults.get("pump", 1)
    out["pump"]["relief_bar"] = faults.get("relief", document["pump"]["relief_bar"])
    if "air" in faults:
        out["lubricant"] = dict(document["lubricant"], air_fraction=faults["air"])
    stuck, trips = faults.get("devices", ()), faults.get("switches", {})
    out["devices"] = [dict(device, fires_bar=_ENDLESS) if device["id"] in stuck else device for device in document["devices"]]
    out["switches"] = [_other_switch(switch, trips[switch["id"]]) if switch["id"] in trips else switch
                       for switch in document["switches"]]
    return out


def _other_switch(switch, trips):
    """A switch that trips elsewhere; where it would then not return below its trip, it returns lower by the same ratio."""
    resets = switch.get("resets_bar", 0)
    if resets >= trips:
        resets *= trips / switch["trips_bar"]
    return dict(switch, trips_bar=trips, resets_bar=resets)
