"""The line cut into pieces for the simulation: flat lists, parents before children, so that one pass eliminates the tree."""
from math import ceil, pi

from ..basics.adding import added_up
from ..lubricants.lubricant import lubricant_at
from .tree import PUMP, Tree
from .warmth import section_c

PIECES_ON_LONGEST_WAY = 12
ATMOSPHERE_PA = 101325.0
# where a device draws more than flows in, pressure falls; at this gauge pressure the lubricant parts and a cavity opens
PARTS_PA = -0.9 * ATMOSPHERE_PA
# volume of a cavity, as a share of the cell, per pressure below that [1/Pa]: never less than free air would give
CAVITY_PER_PA = 100 / ATMOSPHERE_PA
# of a blocked pipe's first half piece so much stays before the blockage: a pump that feeds nothing else needs some room
_BEFORE_BLOCKAGE = 0.01
_CM3 = 1e-6


class Grid:
    """Cells and pieces of a line at the ambient temperature at_c [°C]. SI throughout.

    blocked: (section id, number of the line) of pipes through which nothing passes, closed at their start.
    lines: 2 for a dual-line system, whose second line is alike and hangs on the first cell by a piece that lets nothing through.

    parent     cell -> the cell it is fed from (cell 0 is the pump's)
    wall       piece into the cell: wall stress per pressure drop, D / (4 L); where a pipe is warmer or colder than at_c,
               stresses are scaled to its yield, so that one yield serves all pieces
    carry      piece into the cell: pi R³ / K^m, the flow scale of Herschel-Bulkley
    soft       cell: lubricant and wall storage per pressure [m³/Pa]
    air        cell: free air at atmospheric pressure [m³]; gas: times that pressure [m³·Pa]
    room       cell: its volume [m³]
    places     for each line: node name -> cell
    ways       runs of cells each fed from the one before it: (first, one after the last, cell that feeds the first), from the pump outwards
    roots      for each line: its cell at the pump; cell_of: places of the first line
    """

    def __init__(self, document, at_c, lines=1, blocked=()):
        tree = Tree(document)
        longest = tree.longest_way() / PIECES_ON_LONGEST_WAY
        self.state = lubricant_at(document["lubricant"], at_c)
        self.exponent = 1 / self.state["flow_index"]
        self.yield_pa = self.state["yield_pa"]
        self.parent, self.wall, self.carry = [], [], []
        self.soft, self.air, self.room = [], [], []
        self.places, self.roots = [], []
        for line in range(lines):
            self.roots.append(self._add_piece(0, 0.0, 0.0))
            self.places.append({PUMP: self.roots[line]})
            for node in tree.order[1:]:
                section = tree.section[node]
                state = lubricant_at(document["lubricant"], section_c(document, section, at_c))
                self._add_section(section, longest, state, line, (section.get("id"), line) in blocked)
        self.cell_of = self.places[0]
        self.gas = [free * ATMOSPHERE_PA for free in self.air]
        self.ways = _ways(self.parent)

    def _add_piece(self, parent, wall, carry):
        """Add a cell and the piece that leads into it; returns the cell."""
        self.parent.append(parent)
        self.wall.append(wall)
        self.carry.append(carry)
        for store in (self.soft, self.air, self.room):
            store.append(0.0)
        return len(self.parent) - 1

    def _add_section(self, section, longest, state, line, blocked):
        pieces = int(ceil(section["length_m"] / longest - 1e-9)) or 1
        length = section["length_m"] / pieces
        bore = section["bore_mm"] / 1000
        half = pi / 4 * bore ** 2 * length / 2
        swell = (section.get("expansion_cm3_per_m_per_100bar") or 0) * _CM3 / 1e7 * length / 2
        scale = self.yield_pa / state["yield_pa"] if state["yield_pa"] > 0 else 1.0
        carry = pi * (bore / 2) ** 3 / (state["consistency_pa_sn"] * scale) ** self.exponent
        cell = self.places[line][section["from"]]
        for number in range(pieces):
            shut = blocked and number == 0
            fresh = self._add_piece(cell, bore / (4 * length) * scale, 0.0 if shut else carry)
            before = _BEFORE_BLOCKAGE if shut else 1
            for end, share in ((cell, before), (fresh, 2 - before)):
                self.soft[end] += (half / state["bulk_modulus_pa"] + swell) * share
                self.air[end] += half * state["air_fraction"] * share
                self.room[end] += half * share
            cell = fresh
        self.places[line][section["to"]] = cell

    def add_air(self, cell, free):
        """So much more free air in a cell [m³ at atmospheric pressure]."""
        self.air[cell] += free
        self.gas[cell] = self.air[cell] * ATMOSPHERE_PA

    def stored_in(self, cell, p):
        """Lubricant pressed into one cell at the gauge pressure p [m³]."""
        held = p if p > PARTS_PA else PARTS_PA
        return (self.soft[cell] * p + self.air[cell] * held / (held + ATMOSPHERE_PA)
                + self.room[cell] * CAVITY_PER_PA * (p - held))

    def stored_each(self, pressures):
        """Lubricant pressed into every cell [m³]."""
        if min(pressures) <= PARTS_PA:
            return [self.stored_in(cell, p) for cell, p in enumerate(pressures)]
        return [soft * p + air * p / (p + ATMOSPHERE_PA) for soft, air, p in zip(self.soft, self.air, pressures)]

    def stored(self, pressures, first=0, end=None):
        """Lubricant pressed into the whole line, or into the cells from first up to end [m³]."""
        return added_up(self.stored_each(pressures)[first:end])

    def span(self, line):
        """(first cell of a line, the one after its last)."""
        ends = self.roots[1:] + [len(self.parent)]
        return self.roots[line], ends[line]


def _ways(parent):
    firsts = [cell for cell in range(len(parent)) if cell == 0 or parent[cell] != cell - 1]
    return [(first, end, parent[first]) for first, end in zip(firsts, firsts[1:] + [len(parent)])]
