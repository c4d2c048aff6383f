"""Generated systems of every kind in which each field of the catalogue is there sometimes, and the faults to try on them.

`whole_system(seed)` is `systems.any_system(seed)` with what that leaves out: warmth of single pipes, pipe that can be bought,
words and units of the controller, residual pressures, the vent valve's cable by its American size. All invented.
"""
import copy
import random

from .systems import any_system

# most points by the seed: many small systems, which are quick to work, and some large ones
_MOST_POINTS = (3, 6, 4, 8, 5, 6, 4, 24)
_TEXTS = ("Pause time", "F2", "Überwachung", "{name}", "t <1>", "")


def whole_system(seed, most_points=None):
    """A document of the kind that goes by the seed (every fourth of each), at most 24 points; the caller's to change."""
    # eight sizes over four kinds: the size moves on with each round of the kinds
    size = most_points or _MOST_POINTS[(seed + seed // 4) % len(_MOST_POINTS)]
    document = copy.deepcopy(any_system(seed, size))
    rng = random.Random("whole %s" % seed)
    for more in (_elsewhere, _pipe_to_buy, _controller_words, _residuals, _names):
        if rng.random() < 0.5:
            more(rng, document)
    return document


def _elsewhere(rng, document):
    """Some pipes lie where it is colder or warmer."""
    for section in rng.sample(document["sections"], rng.randint(1, len(document["sections"]))):
        usual = rng.choice([-15, 5, 18, 40])
        section["ambient"] = {"coldest_c": usual - rng.choice([0, 10, 20]), "usual_c": usual, "hottest_c": usual + 12}


def _pipe_to_buy(rng, document):
    document.setdefault("choices", {})["pipe_prices"] = [
        {"bore_mm": bore, "price_per_m": rng.choice([0, 4.5, 12])} for bore in rng.sample([6, 8, 10, 12, 16, 20, 25], 3)]


def _controller_words(rng, document):
    names = ("pause", "cycles", "time_limit", "vent", "window", "run_time", "low_level")
    document["controller"].update(
        wording={name: rng.choice(_TEXTS) for name in rng.sample(names, 3)}, order=rng.sample(names, 4),
        shown_in={"pause": rng.choice(["min", "h", "s"])})


def _residuals(rng, document):
    measured = document.setdefault("measured", {"at_c": document["ambient"]["usual_c"]})
    nodes = ["pump"] + [section["to"] for section in document["sections"]]
    measured["residual_bar"] = [{"at": rng.choice(nodes), "bar": rng.choice([0, 3.5, 18, 60])} for _ in range(rng.randint(1, 3))]


def _names(rng, document):
    document.update(site="Invented works", area=rng.choice(["North hall", ""]), baseline_run=rng.choice(["invented-run", None]))
    if "wiring" in document and document["kind"] != "progressive":
        document["wiring"].update(vent_cable_m=4, vent_awg=rng.choice([12, 16]))
        document["wiring"].pop("vent_conductor_mm2", None)


def whole_faults(seed, document):
    """One to three faults as typed, each of a name of its own, all of which this kind of system can have."""
    rng = random.Random("faults %s" % seed)
    return [_FAULTS[name](rng, document) for name in rng.sample(_possible(document), rng.choice((1, 1, 2, 3)))]


def _possible(document):
    names = ["air", "blocked", "device", "empty", "leak", "pump", "relief"]
    names += [] if document["kind"] == "progressive" else ["vent"]
    return names + (["contact", "switch"] if document["kind"] != "time-only" else [])


def _node(rng, document):
    line = rng.choice(["", "/A", "/B"]) if document["kind"] == "dual-line" else ""
    return rng.choice(["pump"] + [section["to"] for section in document["sections"]]) + line


def _switch(rng, document):
    switch = rng.choice(document["switches"])
    bars = ["stuck"] if "counts" in switch else ["stuck", "%.1f" % (switch["trips_bar"] * rng.uniform(0.4, 1.6))]
    return "switch=%s:%s" % (switch["id"], rng.choice(bars))


_FAULTS = {
    "leak": lambda rng, document: "leak=%s:%.4f" % (_node(rng, document), 10 ** rng.uniform(-2.5, 0.5)),
    "air": lambda rng, _: "air=%.4f" % rng.uniform(0, 0.3), "pump": lambda rng, _: "pump=%.3f" % rng.choice([0, rng.random(), 1]),
    "blocked": lambda rng, document: "blocked=" + rng.choice(document["sections"])["id"],
    "vent": lambda rng, _: "vent=" + rng.choice(["stuck", "0", "0.03", "0.4"]),
    "device": lambda rng, document: "device=" + rng.choice(document["devices"])["id"], "switch": _switch,
    "contact": lambda rng, document: "contact=" + rng.choice(document["switches"])["id"],
    "relief": lambda rng, _: "relief=%d" % rng.randint(20, 200), "empty": lambda rng, _: "empty=%.4f" % rng.choice([0, rng.random() / 8])}
