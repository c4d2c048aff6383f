"""Seeded cases of fault finding, all invented: a generated line of any kind, one fault of any name that this kind can have, of any
severity, noisy and partial readings.

The readings come from the simulator: build-up, or until the controller stopped the pump, with a stopwatch's 0.3 s, pressures at the
pump and one more node with a gauge's 2 % and 1 bar, both of each line, what stays after venting, the time of the vent, points whose device
did not dose, whether the limit was met, and on which line, whether the switch read as tripped at once, the reservoir's level where it is
empty, what was refilled in a month (within 8 %). Each is missing in one of four cases; one that differs from the good day by more than
its noise stays: somebody looks because of something, so a severity that shows nowhere is drawn again.
"""
import random

from webapp.engine.basics.kinds import DUAL, PROGRESSIVE, SIDES, SINGLE, TIMED, on_line
from webapp.engine.events.blocks import roots
from webapp.engine.events.faults import read
from webapp.engine.causes.expected import PRESSURES, at_time, built_s, dosed, fed_keys, halves_of, off_s, strokes, vent_s
from webapp.engine.events.simulate import simulate
from webapp.engine.systems.worked import doses_from, work

from .systems import random_system

FAULTS = ("leak", "return", "air", "pump", "blocked", "vent", "device", "switch", "contact", "relief", "empty", "cold")
# what a kind has no part for
_NOT_OF = {PROGRESSIVE: ("return", "vent"), TIMED: ("switch", "contact")}
# readings of the build-ups
BUILDS = ("build_s", "build_b_s")
_MISSING = 0.25
_DRAWS = 20
_GAUGE_BAR, _GAUGE = 1.0, 0.02


def faults_of(kind):
    """Names of the faults that a kind of system can have."""
    return [name for name in FAULTS if name not in _NOT_OF.get(kind, ())]


def limit_of(worked):
    """The time that the controller waits, or runs the pump, as worked [s]; None where there is none."""
    limit = worked.get("build", {}).get("time_limit") or worked.get("build", {}).get("window") or worked["interval"].get("run_time")
    return limit and limit["value"]


def sound_system(seed, kind=SINGLE):
    """A generated line that feeds all its devices on a good day, and its worked document; the first from the seed on. Of 4 to 8
    devices where it is a single line, of 2 to 8 otherwise."""
    for more in range(1000):
        document = random_system(seed * 1000 + more, 14, kind)
        if not (4 if kind == SINGLE else 2) <= len(document["devices"]) <= 8:
            continue
        document.pop("measured", None)
        document["switches"] = document.get("switches") or []
        worked = work(document, True)
        if "build" not in worked or limit_of(worked) is None:
            continue
        trace = simulate(document, doses_from(document, worked), document["ambient"]["usual_c"])
        if trace["completed"] and built_s(trace) < limit_of(worked):
            return document, worked, trace
    raise AssertionError("no sound line")


def _typed(rng, name, document, trace):
    """The fault as typed, of a random place and severity that does something; and how much colder it is than the readings say."""
    share = rng.uniform
    bar = max(at_time(trace, built_s(trace))["pump"], 1)
    delivery = document["pump"]["delivery_cm3_min"]
    volume = delivery / 60 * (sum(trace["trip_s"]) if document["kind"] == DUAL else built_s(trace)) / 1000
    line = rng.randrange(2) if document["kind"] == DUAL else 0
    node = on_line(rng.choice(document["sections"])["to"], line)
    if name in ("switch", "contact"):
        return _of_a_switch(rng, name, document["switches"][0])
    return {"leak": "leak=%s:%.4f" % (node, delivery / bar * 10 ** share(-0.8, 0.6)),
            "return": "leak=%s:%.4f" % (on_line("pump", line), delivery / bar * 10 ** share(-0.8, 0.6)),
            "air": "air=%.4f" % min(0.5, (document["lubricant"].get("air_fraction") or 0.01) + 10 ** share(-1.6, -0.5)),
            "pump": "pump=%.3f" % share(0.1, 0.85), "blocked": "blocked=" + on_line(rng.choice(document["sections"])["id"], line),
            "vent": "vent=" + rng.choice(["stuck", "stuck", "%.3f" % share(0.02, 0.2)]),
            "device": "device=" + rng.choice([point["device"] for point in document["points"]]),
            "relief": "relief=%.1f" % max(1, bar * share(0.4, 0.95)),
            "empty": "empty=%.5f" % (volume * rng.choice([0, 0, share(0, 0.8)])), "cold": None}[name]


def _of_a_switch(rng, name, switch):
    """A wrong contact, a switch that never trips or, where it listens to a pressure, one that trips at another."""
    if name == "contact":
        return "contact=" + switch["id"]
    if "counts" in switch:
        return "switch=%s:stuck" % switch["id"]
    share = rng.uniform
    return "switch=%s:%s" % (switch["id"], rng.choice(
        ["stuck", "%.1f" % (switch["trips_bar"] * rng.choice([share(0.3, 0.85), share(1.15, 1.7)]))]))


def _readings(rng, document, trace, limit_s, at_c, fault):
    """Everything that a patient technician would read."""
    halves = halves_of(document, trace, limit_s)
    ran = any(half.ran for half, _, _ in halves)
    gauge = lambda bar: round(max(0.0, bar * rng.gauss(1, _GAUGE) + rng.gauss(0, _GAUGE_BAR)), 1)
    out = {"ran_into_limit": ran, "at_c": at_c, "low_level": fault == "empty" and rng.random() < 0.9,
           "tripped_at_once": any(event["what"] == "switch tripped" and event["at_s"] == 0 for event in trace["events"])}
    node = rng.choice(document["sections"])["to"]
    for (half, start, _), pressure, build in zip(halves, PRESSURES, BUILDS):
        if start is not None:
            out[pressure] = {place: gauge(half.pressure[place]) for place in ("pump", node)}
            # until the switch trips, or until the controller stops the pump
            out[build] = round(max(0.1, (limit_s if half.ran else half.build_s) + rng.gauss(0, 0.3)), 1)
    if ran and len(halves) > 1:
        out["limit_line"] = SIDES[halves[1][0].ran]
    if not ran and "vent open" in [event["what"] for event in trace["events"]]:
        out["residual_bar"] = {place: gauge(trace["pressure_bar"][place][-1]) for place in ("pump", node)}
        if vent_s(trace) is not None:
            out["vent_s"] = round(max(0.0, vent_s(trace) + rng.gauss(0, 0.3)), 1)
    out["dry_points"] = [point["id"] for point, key in zip(document["points"], fed_keys(document), strict=True)
                         if key not in dosed(document, trace, halves)]
    return out


def _given(document, doses, trace, limit_s):
    """cm³ that leave by the devices in the cycle as the controller ends it. What hangs on a block is fed through that one."""
    halves = halves_of(document, trace, limit_s)
    if document["kind"] != PROGRESSIVE:
        return sum([doses.get(event.get("line"), doses)[event["where"]] for event in strokes(trace, halves)])
    ran = halves[0][0].ran
    through, began, off = sum([trace["delivered_cm3"][block["id"]] for block in roots(document)]), trace["working_s"], off_s(trace)
    return through * min(1.0, max(0.0, limit_s - began) / (off - began)) if ran and through else through


def _used(document, doses, trace, typed, limit_s):
    """cm³ that leave the system in the cycle: doses and, from a leak on the line, what runs out while the pump runs."""
    used, name = _given(document, doses, trace, limit_s), typed or ""
    if name.startswith("leak=") and not name.startswith("leak=pump"):
        node, line, rate = read(document, [typed])[0]["leaks"][0]
        _, began, ended = halves_of(document, trace, limit_s)[line]
        bars, times = trace[PRESSURES[line]][node], trace["time_s"]
        used += sum([rate / 60 * (a + b) / 2 * (end - start) for a, b, start, end in zip(bars, bars[1:], times, times[1:])
                     if began is not None and began <= start and end <= ended])
    return used


def _differs(name, value, usual):
    """True where a reading is unlike the good day's by clearly more than its noise."""
    if isinstance(value, bool) or isinstance(value, list) or usual is None:
        return value != usual
    if isinstance(value, dict):
        return any(abs(bar - usual.get(node, bar)) > 5 + 0.08 * bar for node, bar in value.items())
    return abs(value - usual) > 1 + (0.25 if name == "refill_l" else 0.08) * usual


def case(seed, kind=SINGLE):
    """(document, worked, readings, name of the true cause, fault as typed) of a seed; every fault of the kind in turn."""
    rng = random.Random("fault finding %d" % seed)
    name = faults_of(kind)[seed % len(faults_of(kind))]
    document, worked, healthy = sound_system(seed, kind)
    doses, at_c = doses_from(document, worked), document["ambient"]["usual_c"]
    usual = _all(random.Random(0), document, worked, healthy, healthy, None, "")
    for _ in range(_DRAWS):
        typed, stiffer_k = _typed(rng, name, document, healthy), rng.uniform(8, 30) if name == "cold" else 0
        faults, findings = read(document, [typed] if typed else [])
        assert not findings, findings
        full = _all(rng, document, worked, simulate(document, doses, at_c - stiffer_k, faults=faults), healthy, name, typed or "")
        # a time that the controller ended says nothing by itself
        stopped = BUILDS[SIDES.index(full.get("limit_line", "A"))]
        alone = ("at_c", "limit_line", stopped) if full["ran_into_limit"] else ("at_c",)
        symptoms = [one for one in sorted(full) if one not in alone and _differs(one, full[one], usual.get(one))]
        if symptoms:
            break
    kept = {one for one in sorted(full) if one == "at_c" or rng.random() >= _MISSING} | ({rng.choice(symptoms)} if symptoms else set())
    if full["ran_into_limit"] and "ran_into_limit" not in kept:
        kept -= {stopped, "limit_line"}
    readings = {one: full[one] for one in sorted(kept)}
    if "refill_l" in readings:
        readings["since_h"] = 720
    return document, worked, readings, name, typed or "%.0f K colder" % stiffer_k


def _all(rng, document, worked, trace, healthy, name, typed):
    """All readings of a trace, with what was refilled in a month."""
    limit_s = limit_of(worked)
    month = worked["reservoir"]["per_day"]["value"] * 30 * document["duty"]["days_per_week"] / 7 / 1000
    full = _readings(rng, document, trace, limit_s, document["ambient"]["usual_c"], name)
    doses = doses_from(document, worked)
    share = _used(document, doses, trace, typed, limit_s) / _given(document, doses, healthy, limit_s)
    full["refill_l"] = round(month * share * rng.gauss(1, 0.08 if name else 0), 3)
    return full
