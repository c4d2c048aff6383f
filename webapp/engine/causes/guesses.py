"""The fixed small set of what is tried in mind: each cause at a few places and severities, with its readings in closed form."""
from math import exp, log

from ..basics.adding import added_up
from ..basics.kinds import on_line
from ..lubricants.lubricant import DEFAULTS
from .expected import Half, Predicted
from ..line.tree import PUMP

# places of a leak that are told apart, on all lines together: more than that no gauge does
_LEAK_PLACES = 5
# a leak's flow at the trip, as a share of the pump's delivery
_LEAKS = (0.08, 0.12, 0.16, 0.2, 0.25, 0.3, 0.36, 0.43, 0.5, 0.58, 0.66, 0.74, 0.82, 0.9, 1.0, 1.1, 1.2, 1.35, 1.5, 1.7,
          1.9, 2.2, 2.5, 3.0, 3.6, 4.5)
_FLOWS = (0.0, 0.05, 0.07, 0.1, 0.13, 0.16, 0.2, 0.24, 0.28, 0.32, 0.36, 0.4, 0.44, 0.48, 0.52, 0.56, 0.6, 0.64, 0.68,
          0.72, 0.76, 0.8, 0.84, 0.88, 0.92)
_AIR = (0.01, 0.015, 0.02, 0.025, 0.03, 0.036, 0.043, 0.05, 0.06, 0.07, 0.08, 0.095, 0.11, 0.13, 0.155, 0.18, 0.21, 0.25, 0.3, 0.36,
        0.43, 0.5)
_RELIEF = (0.3, 0.36, 0.42, 0.48, 0.54, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 0.94, 0.98)
_TRIPS = (0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 1.07, 1.15, 1.23,
          1.31, 1.4, 1.5, 1.6, 1.75)
_LEFT = tuple([step / 20.0 for step in range(20)]) + (1.5,)
_OPENS = (0.01, 0.015, 0.025, 0.04, 0.06, 0.09, 0.13, 0.2, 0.3, 0.5)
_COLDER_K = (5, 8, 11, 14, 17, 20, 24, 28)
MIDDLE_K = 17
_SHORTENED = (0.3, 0.5, 0.7, 0.9)
# a supply that is too low slows a pump to no less
_SLOWEST = 0.4
_ENDLESS = 1e9


class Guess:
    """One cause at one place and of one severity: `typed` as faults.read takes it (None: the simulation has no such fault),
    `colder` K, `weight` within its cause, `readings` predicted; `line`: number of the line of a dual-line system that it is on, None
    where it is on none or there is but one."""

    def __init__(self, cause, place, weight, readings, typed=None, colder=0, line=None):
        self.cause, self.place, self.weight, self.readings = cause, place, weight, readings
        self.typed, self.colder, self.line = typed, colder, line
        self.key = typed or "%s:%d" % (cause, colder) if typed or colder else None
        self.surrogate = readings

    def named(self):
        """The cause as the diagnosis writes it: a fault's name and place."""
        name = "leak" if self.cause == "return" else self.cause
        return name + ("=" + on_line(self.place, self.line) if self.place else "")


def number(value):
    """A typed number that both machines write alike: four significant digits."""
    scale = 1
    while 0 < value * scale < 1000 and scale < 10 ** 9:
        scale *= 10
    whole = int(value * scale + 0.5)
    digits = len(str(scale)) - 1
    text = str(whole)
    if not digits:
        return text
    text = "0" * (digits + 1 - len(text)) + text
    return text[:-digits] + "." + text[-digits:]


def guesses(document, path, names):
    """All guesses for the causes `names`; weights add up to 1 within a cause."""
    out = []
    for name in names:
        made = _MAKERS[name](document, path)
        total = float(added_up([guess.weight for guess in made]))
        for guess in made:
            guess.weight /= total
        out += made
    return out


def _gaps(levels):
    """The part of the range that each level stands for: half of what is between its neighbours."""
    last = len(levels) - 1
    return [(levels[min(last, k + 1)] - levels[max(0, k - 1)]) / 2 for k in range(last + 1)]


def _leak_at(document, path, cause, node, line):
    bar = max(path.tracks[line or 0].at_end[node], 1.0)
    per_bar, there = document["pump"]["delivery_cm3_min"] / bar, on_line(node, line)
    return [Guess(cause, node, weight, path.predict(line, leak=(node, share * per_bar)),
                  "leak=%s:%s" % (there, number(share * per_bar)), 0, line)
            for share, weight in zip(_LEAKS, _gaps([log(share) for share in _LEAKS]))]


def _leak(document, path):
    nodes = path.tree.order[1:]
    stride = (len(nodes) * len(path.lines) + _LEAK_PLACES - 1) // _LEAK_PLACES
    out = []
    for line in path.lines:
        for node in nodes[::-1][::stride]:
            out += _leak_at(document, path, "leak", node, line)
    return out


def _return(document, path):
    out = []
    for line in path.lines:
        out += _leak_at(document, path, "return", PUMP, line)
    return out


def _air(document, path):
    usual = document["lubricant"].get("air_fraction")
    usual = DEFAULTS["air_fraction"] if usual is None else usual
    levels = [(share, weight) for share, weight in zip(_AIR, _gaps([log(share) for share in _AIR])) if share > usual + 0.005]
    return [Guess("air", None, weight, path.predict(air=share - usual), "air=" + number(share))
            for share, weight in levels] or [Guess("air", None, 1, path.as_healthy())]


def _pump(document, path):
    return [Guess("pump", None, weight, path.predict(flow=share), "pump=" + number(share))
            for share, weight in zip(_FLOWS, _gaps(_FLOWS))]


def _relief(document, path):
    highest = path.tracks[0].at_end[PUMP]
    return [Guess("relief", None, 1, path.predict(relief=share * highest), "relief=" + number(max(1.0, share * highest)))
            for share in _RELIEF]


def _switch(document, path):
    out = []
    for place, switch in enumerate(document["switches"]):
        # of two lines each has its switch: both are wrong, by what was set, or that of one line, which the simulation does not have
        for line in [None] + [one for one in path.lines if one is not None]:
            out += _switch_on(path, place, switch, line)
    return out


def _switch_on(path, place, switch, line):
    name = switch["id"]

    def guess(weight, readings, value):
        return Guess("switch", name, weight, readings, "switch=%s:%s" % (name, value) if line is None else None, 0, line)

    levels = [] if switch.get("counts") else [share * switch["trips_bar"] for share in _TRIPS]
    out = [guess(1, path.predict(line, trips={name: bar}), number(bar)) for bar in levels if 0.5 <= bar <= 1000]
    stuck = path.predict(line, trips={name: _ENDLESS})
    if place or switch.get("counts"):
        path.end_never(stuck)
    built = path.healthy.halves[0].build_s
    if switch.get("counts") and built:
        # the blocks go round until the controller stops the pump
        stuck.used += max(0.0, path.limit_s - built) * path.delivery
    return out + [guess(len(_TRIPS) // 2, stuck, "stuck")]


def _contact(document, path):
    out = []
    for place, switch in enumerate(document["switches"]):
        readings = path.predict()
        if not place:
            stands = path.predict(flow=0.0)
            readings = Predicted([Half(0.0, {node: 0.0 for node in path.tree.order}, False) for _ in path.lines], stands.dry)
            readings.used = stands.used
        readings.at_once = True
        out.append(Guess("contact", switch["id"], 1, readings, "contact=" + switch["id"]))
    return out


def _vent(document, path):
    out = []
    built, vented = path.healthy.halves[-1].build_s or 0.0, path.healthy.vent_s
    for share in (0.0,) + _OPENS:
        vent_s = vented if vented is None or not share else vented + path.vented_s(share)
        # no side moves before the other has reset
        readings = path.predict(starved=not share or (vent_s or 0.0) > built)
        readings.vent_s = vent_s if share and not readings.ran() else None
        if not share:
            bars = readings.halves[0].pressure
            readings.residual = {node: added_up(bars.values()) / len(bars) for node in bars}
        out.append(Guess("vent", None, len(_OPENS) if not share else 1, readings, "vent=" + (number(share) if share else "stuck")))
    return out


def _blocked(document, path):
    out = []
    for section in document["sections"]:
        name, nodes = section["id"], path.beyond(section)
        for line in path.lines:
            if document["kind"] == "progressive" and path.first["at"] in nodes:
                readings = _stands(path, nodes)
            else:
                readings = path.predict(line, shut=nodes)
            out.append(Guess("blocked", name, 1, readings, "blocked=" + on_line(name, line), 0, line))
    return out


def _stands(path, shut=()):
    """No block of a progressive system moves: all points dry, the relief pressure as far as the pump reaches."""
    readings = path.predict(flow=0.0)
    readings.halves[0].pressure = {node: 0.0 if node in shut else path.relief for node in path.tree.order}
    readings.dry = path.keys
    return readings


def _device(document, path):
    out = []
    for device in document["devices"]:
        name = device["id"]
        readings = _stands(path) if document["kind"] == "progressive" else path.predict(idle=(name,))
        out.append(Guess("device", name, 1, readings, "device=" + name))
    return out


def _empty(document, path):
    out = []
    for share in _LEFT:
        readings = path.predict(left=share * path.given)
        readings.low = True
        out.append(Guess("empty", None, len(_LEFT) if not share else 1, readings, "empty=" + number(share * path.given / 1000)))
    return out


def _cold(document, path):
    """Closed form: what stays locked in grows as the yield; build-up and vent as between the usual and the coldest temperature."""
    per_k = document["lubricant"].get("stiffening_per_k")
    per_k = DEFAULTS["stiffening_per_k"] if per_k is None else per_k
    out = []
    for colder in _COLDER_K:
        readings = path.predict(flow=exp(-path.build_per_k * colder))
        path.stiffen(readings, exp(per_k * colder))
        if readings.vent_s is not None:
            readings.vent_s *= exp(path.vent_per_k * colder)
        out.append(Guess("cold", None, 1, readings, None, colder))
    return out


def _feed_line(document, path):
    out = []
    for point in document["points"]:
        readings = path.as_healthy()
        readings.points = [point["id"]]
        out.append(Guess("feed_line", point["id"], 1, readings))
    return out


def _setting(document, path):
    """The time limit too short; or another setting changed, which no reading of a cycle shows."""
    whole = max([half.build_s or path.limit_s for half in path.healthy.halves])
    return [Guess("setting", None, 1, path.as_healthy(share * whole)) for share in _SHORTENED] + [
        Guess("setting", None, 2 * len(_SHORTENED), path.as_healthy())]


def _supply(document, path):
    out = []
    for share in _FLOWS[:-3]:
        if not share or share >= _SLOWEST:
            readings = path.predict(flow=share)
            readings.current = 1.0 if share else 0.0
            out.append(Guess("supply", None, 1 if share else 3 * len(_FLOWS), readings, "pump=" + number(share)))
    return out


def _machine_contact(document, path):
    readings = path.predict(flow=0.0)
    readings.halves[0].ran, readings.current = False, 0.0
    return [Guess("machine_contact", None, 1, readings)]


def _none(document, path):
    return [Guess("none", None, 1, path.healthy)]


_MAKERS = {"leak": _leak, "return": _return, "air": _air, "pump": _pump, "relief": _relief, "switch": _switch,
           "contact": _contact, "vent": _vent, "blocked": _blocked, "device": _device, "empty": _empty, "cold": _cold,
           "feed_line": _feed_line, "setting": _setting, "supply": _supply, "machine_contact": _machine_contact, "none": _none}
