"""What may be wrong: every cause with its weight, the minutes and dangers of its check, and what this plant's past makes of it.

Weights, minutes and how often a check finds what is there are from memory, an estimate; isolation is common practice, no
published source. Closed defects of the plant are counted on top of the weights (Dirichlet: the weights stand for PSEUDO defects).
"""
from collections import OrderedDict

from ..basics.adding import added_up
from ..basics.kinds import on_line
from ..line.tree import PUMP

PSEUDO = 20.0
NONE = "none"


class Cause:
    """name: fault as faults.FORMS names it, or one without simulation; weight: among the causes of trouble; minutes: its check;
    isolated: whether that must be done isolated and without pressure; found: share of cases in which the check finds it."""

    def __init__(self, name, weight, minutes, isolated, found):
        self.name, self.weight, self.minutes, self.isolated, self.found = name, weight, minutes, isolated, found


# `return` is a leak at the pump: the vent valve does not close. `cold`: lubricant too stiff, by cold or as a wrong one
CAUSES = OrderedDict([(row[0], Cause(*row)) for row in (
    ("empty", 16, 1, False, 0.97), ("cold", 12, 2, False, 0.8), ("leak", 19, 10, False, 0.75), ("return", 6, 2, False, 0.9),
    ("air", 8, 15, True, 0.8), ("pump", 7, 10, True, 0.9), ("relief", 3, 3, False, 0.9), ("switch", 7, 3, False, 0.9),
    ("contact", 4, 2, False, 0.97), ("vent", 5, 2, False, 0.95), ("blocked", 5, 5, False, 0.9), ("device", 8, 10, True, 0.9),
    ("feed_line", 5, 3, False, 0.9), ("setting", 6, 2, False, 0.97), ("supply", 6, 5, True, 0.95),
    ("machine_contact", 3, 2, False, 0.95), (NONE, 4, 5, False, 0.5))])
# only these kinds have such a cause
_NEEDS_SWITCH = ("switch", "contact")
_VENTED_ONLY = ("vent", "return")


def name_of(cause):
    """The name in this table of a cause as the diagnosis writes it: `leak=N3` is leak, `leak=pump` return, and so on line B.
    None: there is none."""
    name, _, place = cause.partition("=")
    if name == "leak" and place.partition(":")[0] in (PUMP, on_line(PUMP, 1)):
        name = "return"
    return name if name in CAUSES else None


def causes_of(document):
    """Names of the causes that a system can have."""
    kind = document["kind"]
    names = []
    for name in CAUSES:
        if name in _NEEDS_SWITCH and (kind == "time-only" or not document["switches"]):
            continue
        if name in _VENTED_ONLY and kind == "progressive":
            continue
        if name == "machine_contact" and not (document.get("machine_contact") or {}).get("used"):
            continue
        names.append(name)
    return names


def prior(document, closed):
    """Name -> share before any reading. closed: causes of this plant's closed defects, as the diagnosis writes them."""
    names = causes_of(document)
    total = float(added_up([CAUSES[name].weight for name in names]))
    counts = OrderedDict([(name, PSEUDO * CAUSES[name].weight / total) for name in names])
    for cause in closed:
        name = name_of(cause)
        if name in counts:
            counts[name] += 1
    total = added_up(counts.values())
    return OrderedDict([(name, count / total) for name, count in counts.items()])
