"""Documents gone wrong end in findings that name the place or in finite figures; never in an exception, a hang or nonsense."""
import copy
import json
import math
import random
import time

import pytest

from tests.engine.systems import KINDS, any_system, random_system
from webapp.engine.bridge import ask

COUNT, CHUNKS = 5000, 10
LONGEST_S = 1.0
WRONG = (None, "", "many", -1, 0, float("nan"), float("inf"), -float("inf"), 1e300, 1e-300, True, [], {}, [[]], {"a": {"b": []}},
         10 ** 400, "1.5", "pump", -0.0, [None], "x" * 100000, list(range(10000)))


def places(thing, way=()):
    """Ways to every value within a document."""
    yield way
    inner = thing.items() if isinstance(thing, dict) else enumerate(thing) if isinstance(thing, list) else ()
    for key, part in inner:
        yield from places(part, way + (key,))


def holder(document, way):
    for key in way[:-1]:
        document = document[key]
    return document


def put_wrong(rng, document):
    way = rng.choice([way for way in places(document) if way])
    holder(document, way)[way[-1]] = copy.deepcopy(rng.choice(WRONG))


def take_away(rng, document):
    way = rng.choice([way for way in places(document) if way])
    del holder(document, way)[way[-1]]


def twice(rng, document):
    things = document[rng.choice(["sections", "devices", "points", "switches"])]
    things.append(copy.deepcopy(rng.choice(things)))


def loop(rng, document):
    one, other = rng.choice(document["sections"]), rng.choice(document["sections"])
    one["from"] = other["to"]
    other["from"] = one["to"]


def orphan(rng, document):
    group, field = rng.choice([("sections", "from"), ("devices", "at"), ("switches", "at"), ("points", "device")])
    rng.choice(document[group])[field] = "nowhere"


def enormous(rng, document):
    group = rng.choice(["sections", "devices", "points", "switches"])
    thing = rng.choice(document[group])
    document[group] = [dict(thing, id="X%d" % number, to="X%d" % number, **{"from": "X%d" % (number - 1) if number else "pump"})
                       for number in range(rng.choice([300, 5000]))]


def other_number(rng, document):
    ways = [way for way in places(document) if way and isinstance(holder(document, way)[way[-1]], (int, float))]
    way = rng.choice(ways)
    holder(document, way)[way[-1]] *= rng.choice([-1, 1e-6, 1e6, 1e18, 1e-18, 0])


def other_kind(rng, document):
    document["kind"] = rng.choice(KINDS)


def tangled(rng, document):
    """Blocks hang on any outlet of any block, outlets are joined to any."""
    names = [(block["id"], outlet["id"]) for block in document["devices"] for outlet in block["outlets"]]
    for block in document["devices"]:
        if rng.random() < 0.5:
            block["hangs_from"] = dict(zip(("block", "outlet"), rng.choice(names)))
        if rng.random() < 0.5:
            rng.choice(block["outlets"])["joined_to"] = rng.choice(names)[1]


DEEDS = (put_wrong, put_wrong, take_away, twice, loop, orphan, enormous, other_number, other_number, other_kind, tangled)


def mutated(seed):
    """A system with one to three things wrong. A copy: what the generator shares between its systems stays whole."""
    rng = random.Random(seed)
    document = copy.deepcopy(any_system(seed % 200, 8))
    for _ in range(rng.randint(1, 3)):
        try:
            rng.choice(DEEDS)(rng, document)
        except (KeyError, IndexError, TypeError, AttributeError, ValueError):
            continue  # an earlier deed has taken away what this one works on
    return document


def not_finite(thing, way="$"):
    """Places of numbers that are none."""
    if isinstance(thing, dict):
        return [found for key, part in thing.items() for found in not_finite(part, way + "." + str(key))]
    if isinstance(thing, (list, tuple)):
        return [found for number, part in enumerate(thing) for found in not_finite(part, "%s[%d]" % (way, number))]
    return [way] if isinstance(thing, float) and not math.isfinite(thing) else []


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_mutated_documents_end_in_findings_or_finite_figures(chunk):
    for seed in range(chunk, COUNT, CHUNKS):
        document = mutated(seed)
        begun = time.process_time()
        worked = ask({"do": "work", "document": document, "simulate": False})
        assert time.process_time() - begun < LONGEST_S, seed
        stops = [entry for entry in worked["findings"] if entry["severity"] == "stop"]
        if "settings" in worked:
            assert (seed, not_finite(worked)) == (seed, [])
        else:
            assert stops and all(entry["says"] and entry["do"] for entry in stops), seed
            assert all(isinstance(entry["where"], str) for entry in stops), seed
            assert json.dumps(worked, allow_nan=False), seed


@pytest.mark.parametrize("thing", [None, 5, "text", [], [[]], {}, True, {"format": []}, {"format": "system/2"}, {"format": "system/1"}],
                         ids=repr)
def test_what_is_no_system_at_all_is_said(thing):
    worked = ask({"do": "work", "document": thing, "simulate": False})
    assert worked["findings"][0]["severity"] == "stop" and "settings" not in worked


def test_a_finding_names_the_place():
    document = random_system(1)
    document["pump"]["delivery_cm3_min"] = -3
    assert [entry["where"] for entry in ask({"do": "check", "document": document})["findings"]] == ["pump.delivery_cm3_min"]
