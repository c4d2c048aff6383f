"""How long a line takes to vent, roughly and in closed form: good for ranking cases, not for telling a time."""
from ..line import line
from ..line.flow import flow_rate
from ..line.grid import ATMOSPHERE_PA
from ..line.tree import Tree
from ..line.warmth import section_c
from ..lubricants.lubricant import lubricant_at
from . import build_ups

_PA = 1e5
_PARTS = 12
NEVER = float("inf")


class VentingTime:
    """The slower of two things to reset: the one that takes longest as the document is, and the one that keeps most of its reset
    pressure, which may take for ever where the lubricant is stiffer."""

    def __init__(self, document, at_c):
        tree, locked, lowest = Tree(document), line.locked_pressures(document, at_c), {}
        for thing in document["devices"] + document["switches"]:
            lowest[thing["at"]] = min(thing["resets_bar"], lowest.get(thing["at"], NEVER))
        nodes = sorted(lowest)
        ways = [_Way(document, tree.way(node), lowest[node]) for node in nodes]
        shares = [locked[node] / lowest[node] for node in nodes]
        slowest = max([(way.seconds(document, at_c), share, number) for number, (way, share) in enumerate(zip(ways, shares))])
        fullest = max([(share, number) for number, share in enumerate(shares)])
        self.ways = [ways[slowest[2]]]
        if fullest[0] > slowest[1]:
            self.ways.append(ways[fullest[1]])

    def seconds(self, document, at_c):
        """[s] for any lubricant; NEVER where more stays locked in than a reset pressure."""
        return max([way.seconds(document, at_c) for way in self.ways])


class _Way:
    """The way to a thing that has to reset, as one pipe with the same yield drop.

    What is pressed in leaves through it: the pressure falls from that of the build-up to the reset pressure, and at each
    pressure the line gives C(p) and the pipe lets Q(p) through; time = sum of C / Q over the pressures. Source: the line model.
    Departs from it: one pressure for the whole line.
    """

    def __init__(self, document, sections, resets_bar):
        self.names = [section["id"] for section in sections]
        self.resets = resets_bar * _PA
        self.starts = max(build_ups.wanted_bar(document) * _PA, 1.01 * self.resets)
        self.rate = ((document.get("vent_valve") or {}).get("flow_cm3_min_per_bar") or 0) / 60e6 / _PA

    def seconds(self, document, at_c):
        """[s] for any lubricant; NEVER where more stays locked in than the reset pressure."""
        sections = [section for section in document["sections"] if section["id"] in self.names]
        length, slender, yields, thick, states = 0.0, 0.0, 0.0, 0.0, {}
        for section in sections:
            own_c, share = section_c(document, section, at_c), section["length_m"] / section["bore_mm"]
            if own_c not in states:
                states[own_c] = lubricant_at(document["lubricant"], own_c)
            state = states[own_c]
            length, slender = length + section["length_m"], slender + share
            yields, thick = yields + share * state["yield_pa"], thick + share * state["consistency_pa_sn"]
        if not sections or 4000 * yields >= self.resets:
            return NEVER if sections else 1.0
        bore, total, step = length / slender / 1000, 0.0, (self.starts / self.resets) ** (1.0 / _PARTS)
        for part in range(_PARTS):
            p = self.resets * step ** (part + 0.5)
            flow = flow_rate(p, bore, length, yields / slender, thick / slender, state["flow_index"])
            each = (1 / flow if flow else NEVER) + (1 / (self.rate * p) if self.rate else 0.0)
            gives = 1 / state["bulk_modulus_pa"] + state["air_fraction"] * ATMOSPHERE_PA / (p + ATMOSPHERE_PA) ** 2
            total += p * (step - 1) * each * gives
        return total
