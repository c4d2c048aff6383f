"""Generated systems with generated faults: as the engine reads them, and as the reference line takes them."""
import random

from .systems import FLOW, random_system


def stated_system(seed, most_points=8, output="output_max_cm3"):
    """A system whose grease is stated in full, and the doses of its devices at their most (or, by `output`, their least)."""
    document = random_system(seed, most_points)
    if document["lubricant"]["nlgi"] == "oil":
        document["lubricant"]["nlgi"] = "1"
    document["lubricant"] = dict(FLOW, **document["lubricant"])
    feeds = [point["device"] for point in document["points"]]
    return document, {device["id"]: device[output] * feeds.count(device["id"]) for device in document["devices"]}


def random_faults(seed, document):
    """(texts for the engine, faults for the reference line): none to three of those that change a build-up."""
    rng = random.Random(seed)
    made = [_MAKERS[name](rng, document) for name in rng.sample(sorted(_MAKERS), rng.choice((0, 1, 1, 2, 3)))]
    faults = {}
    for _, name, value in made:
        faults[name] = value
    return [text for text, _, _ in made], faults


def _leak(rng, document):
    node, rate = rng.choice(["pump"] + [section["to"] for section in document["sections"]]), round(rng.uniform(0.005, 0.12), 4)
    return "leak=%s:%s" % (node, rate), "leaks", [(node, rate)]


def _air(rng, _document):
    share = round(rng.uniform(0, 0.08), 4)
    return "air=%s" % share, "air", share


def _pump(rng, _document):
    share = round(rng.uniform(0.3, 0.95), 3)
    return "pump=%s" % share, "pump", share


def _blocked(rng, document):
    section = rng.choice(document["sections"])["id"]
    return "blocked=%s" % section, "blocked", [section]


def _device(rng, document):
    device = rng.choice(document["devices"])["id"]
    return "device=%s" % device, "devices", [device]


def _switch(rng, document):
    switch = document["switches"][0]
    bar = rng.choice((None, round(switch["trips_bar"] * rng.uniform(0.6, 1.2), 1)))
    return "switch=%s:%s" % (switch["id"], bar or "stuck"), "trips", {switch["id"]: bar}


def _relief(rng, _document):
    bar = rng.randint(40, 200)
    return "relief=%d" % bar, "relief", bar


def _empty(rng, _document):
    litres = round(rng.uniform(0.002, 0.12), 4)
    return "empty=%s" % litres, "empty", litres


_MAKERS = {"leak": _leak, "air": _air, "pump": _pump, "blocked": _blocked, "device": _device, "switch": _switch,
           "relief": _relief, "empty": _empty}
