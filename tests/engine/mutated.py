"""Systems gone wrong from a seed: what people, other programs and half-sent files may make of a document."""
import copy
import random

from .systems import KINDS
from .whole_systems import whole_system

WRONG = (None, "", "many", -1, 0, float("nan"), float("inf"), -float("inf"), 1e300, 1e-300, True, [], {}, [[]], {"a": {"b": []}},
         10 ** 400, "1.5", "pump", -0.0, [None], "x" * 100000, list(range(10000)))


def places(thing):
    """(holder, key) of every value within a document; of long lists only the ends, where one entry is like the other."""
    inner = thing.items() if isinstance(thing, dict) else list(enumerate(thing))[:40] + list(enumerate(thing))[-1:]
    for key, part in inner:
        yield thing, key
        if isinstance(part, (dict, list)):
            yield from places(part)


def put_wrong(rng, document):
    holder, key = rng.choice(list(places(document)))
    holder[key] = copy.deepcopy(rng.choice(WRONG))


def take_away(rng, document):
    holder, key = rng.choice(list(places(document)))
    del holder[key]


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


def _times(rng, document, factors):
    holder, key = rng.choice([(holder, key) for holder, key in places(document) if isinstance(holder[key], (int, float))])
    holder[key] *= rng.choice(factors)


def other_number(rng, document):
    _times(rng, document, [-1, 1e-6, 1e6, 1e18, 1e-18, 0])


def mistyped(rng, document):
    """A number as a slip of the finger leaves it: mostly still one that the field accepts."""
    _times(rng, document, [0.1, 0.5, 2, 3, 10, 100])


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


DEEDS = (mistyped, put_wrong, put_wrong, take_away, twice, loop, orphan, enormous, other_number, other_number, other_kind, tangled)


def mutated(seed):
    """A system with one to three things wrong; of odd seeds only numbers, so that many of them can be worked."""
    rng = random.Random(seed)
    document = whole_system(seed % 400, 8)
    for _ in range(rng.randint(1, 3)):
        try:
            rng.choice((mistyped,) if seed % 2 else DEEDS)(rng, document)
        except (KeyError, IndexError, TypeError, AttributeError, ValueError):
            continue  # an earlier deed has taken away what this one works on
    return document
