"""How long a line takes to vent, roughly and in closed form: good for ranking cases, not for telling a time."""
from math import pi

from ..basics.adding import added_up
from ..line import line
from ..line.flow import flow_rate
from ..line.grid import ATMOSPHERE_PA
from ..line.tree import PUMP, Tree
from ..line.warmth import section_c
from ..lubricants.lubricant import lubricant_at
from . import build_ups

_PA = 1e5
_PARTS = 12
# what is at the pump resets as the vent opens [s]: not 0, of which there is no logarithm
_AT_ONCE_S = 1e-3
NEVER = float("inf")


class VentingTime:
    """The slower of two things to reset: the one that takes longest as the document is, and the one that keeps most of its reset
    pressure, which may take for ever where the lubricant is stiffer."""

    def __init__(self, document, at_c):
        tree, locked, lowest = Tree(document), line.locked_pressures(document, at_c), {}
        for thing in document["devices"] + document["switches"]:
            lowest[thing["at"]] = min(thing["resets_bar"], lowest.get(thing["at"], NEVER))
        nodes, beyond = sorted(lowest), _beyond(tree)
        ways = [_Way(document, tree.way(node), lowest[node], beyond) for node in nodes]
        shares = [locked[node] / lowest[node] for node in nodes]
        slowest = max([(way.seconds(document, at_c), share, number) for number, (way, share) in enumerate(zip(ways, shares))])
        fullest = max([(share, number) for number, share in enumerate(shares)])
        self.ways = [ways[slowest[2]]]
        if fullest[0] > slowest[1]:
            self.ways.append(ways[fullest[1]])

    def seconds(self, document, at_c):
        """[s] for any lubricant; NEVER where more stays locked in than a reset pressure."""
        return max([way.seconds(document, at_c) for way in self.ways])


def _volume(section):
    """[m³]"""
    return pi / 4 * (section["bore_mm"] / 1000) ** 2 * section["length_m"]


def _beyond(tree):
    """Node -> volume of the pipes beyond it [m³]."""
    out = {}
    for node in reversed(tree.order):
        out[node] = added_up([out[child] + _volume(tree.section[child]) for child in tree.children[node]])
    return out


class _Way:
    """The way to a thing that has to reset, as one pipe with the same yield drop and the same drop of what flows.

    What is pressed in beyond each of its pipes leaves through that pipe: the pressure falls from that of the build-up to the reset
    pressure, and at each pressure the line gives C(p) and the pipe lets Q(p) through; time = sum of C / Q over the pressures.
    Source: the line model. Departs from it: one pressure for the whole line.
    """

    def __init__(self, document, sections, resets_bar, beyond):
        self.through = {section["id"]: beyond[section["to"]] + _volume(section) / 2 for section in sections}
        self.whole = beyond[PUMP]
        self.resets = resets_bar * _PA
        self.starts = max(build_ups.wanted_bar(document) * _PA, 1.01 * self.resets)
        self.rate = ((document.get("vent_valve") or {}).get("flow_cm3_min_per_bar") or 0) / 60e6 / _PA

    def seconds(self, document, at_c):
        """[s] for any lubricant; NEVER where more stays locked in than the reset pressure."""
        length, slender, yields, thick, filled, states = 0.0, 0.0, 0.0, 0.0, 0.0, {}
        for section in document["sections"]:
            if section["id"] in self.through:
                own_c, share = section_c(document, section, at_c), section["length_m"] / section["bore_mm"]
                if own_c not in states:
                    states[own_c] = lubricant_at(document["lubricant"], own_c)
                state = states[own_c]
                resists = state["consistency_pa_sn"] * share / section["bore_mm"] ** (3 * state["flow_index"])
                length, slender, yields = length + section["length_m"], slender + share, yields + share * state["yield_pa"]
                thick, filled = thick + resists, filled + resists * self.through[section["id"]]
        if 4000 * yields >= self.resets:
            return NEVER
        state = lubricant_at(document["lubricant"], at_c)
        total, step = 0.0, (self.starts / self.resets) ** (1.0 / _PARTS)
        for part in range(_PARTS):
            p, each = self.resets * step ** (part + 0.5), 0.0
            if length:
                bore = length / slender
                flow = flow_rate(p, bore / 1000, length, yields / slender, thick / slender * bore ** (3 * state["flow_index"]),
                                 state["flow_index"])
                each = filled / thick / flow if flow else NEVER
            if self.rate:
                each += self.whole / (self.rate * (p - 4000 * yields))  # at the valve less is left by what the pipes hold
            gives = 1 / state["bulk_modulus_pa"] + state["air_fraction"] * ATMOSPHERE_PA / (p + ATMOSPHERE_PA) ** 2
            total += p * (step - 1) * each * gives
        return max(total, _AT_ONCE_S)
