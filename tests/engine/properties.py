"""Properties over seeded generated systems: the same system as it is and changed, and which figures may not rise or fall."""
import copy
import random

from webapp.engine.bridge import ask

from .systems import random_system
from .whole_systems import whole_system

CASES = 60
# figures alike but for the order in which they were added up
BITS = 1e-9


def work(document):
    return ask({"do": "work", "document": document, "simulate": False})


def pairs(change, cases=CASES, kind=None, make=whole_system):
    """(worked as it is, worked as changed, the random generator's seed) of generated systems; change(document, rng) says False
    where there is nothing to change."""
    done = 0
    for seed in range(30000, 30000 + 20 * cases):
        document = random_system(seed, 8, kind) if kind else make(seed)
        other = copy.deepcopy(document)
        if change(other, random.Random(seed)) is not False:
            done += 1
            yield work(document), work(other), seed
        if done == cases:
            return
    raise AssertionError("too few systems to change: %d" % done)


def value(worked, path):
    """Value of a figure by its path; None where it is not there."""
    thing = worked
    for name in path.split("."):
        thing = (thing or {}).get(name)
    return None if thing is None else thing["value"]


def never_rises(change, paths, sign=1, **how):
    """Asserts that the change raises none of the figures (sign -1: lowers none), and that it moves one of them somewhere."""
    moved = 0
    for before, after, seed in pairs(change, **how):
        for path in paths:
            one, other = value(before, path), value(after, path)
            if one is not None and other is not None:
                assert sign * (other - one) <= BITS * abs(one), (seed, path, one, other)
                moved += abs(other - one) > BITS * abs(one)
    assert moved > 5


def never_falls(change, paths, **how):
    never_rises(change, paths, -1, **how)
