"""The line cut into pieces for the simulation: flat lists, parents before children, so that one pass eliminates the tree."""
from math import ceil, pi

from .tree import PUMP, Tree

PIECES_ON_LONGEST_WAY = 12
ATMOSPHERE_PA = 101325.0
# where a device draws more than flows in, pressure falls; at this gauge pressure the lubricant parts and a cavity opens
PARTS_PA = -0.9 * ATMOSPHERE_PA
# volume of a cavity, as a share of the cell, per pressure below that [1/Pa]: never less than free air would give
CAVITY_PER_PA = 100 / ATMOSPHERE_PA
_CM3 = 1e-6


class Grid:
    """Cells and pieces of one line with one lubricant state. SI throughout.

    parent     cell -> the cell it is fed from (cell 0 is the pump's)
    wall       piece into the cell: wall stress per pressure drop, D / (4 L)
    carry      piece into the cell: pi R³ / K^m, the flow scale of Herschel-Bulkley
    soft       cell: lubricant and wall storage per pressure [m³/Pa]
    air        cell: free air at atmospheric pressure [m³]
    room       cell: its volume [m³]
    cell_of    node name -> cell
    """

    def __init__(self, document, state):
        tree = Tree(document)
        longest = tree.longest_way() / PIECES_ON_LONGEST_WAY
        self.exponent = 1 / state["flow_index"]
        self.yield_pa = state["yield_pa"]
        self.parent, self.wall, self.carry = [0], [0.0], [0.0]
        self.soft, self.air, self.room = [0.0], [0.0], [0.0]
        self.cell_of = {PUMP: 0}
        for node in tree.order[1:]:
            self._add_section(tree.section[node], longest, state)

    def _add_section(self, section, longest, state):
        pieces = int(ceil(section["length_m"] / longest - 1e-9)) or 1
        length = section["length_m"] / pieces
        bore = section["bore_mm"] / 1000
        half = pi / 4 * bore ** 2 * length / 2
        swell = (section.get("expansion_cm3_per_m_per_100bar") or 0) * _CM3 / 1e7 * length / 2
        carry = pi * (bore / 2) ** 3 / state["consistency_pa_sn"] ** self.exponent
        cell = self.cell_of[section["from"]]
        for _ in range(pieces):
            self.parent.append(cell)
            self.wall.append(bore / (4 * length))
            self.carry.append(carry)
            self.soft.append(0.0)
            self.air.append(0.0)
            self.room.append(0.0)
            for end in (cell, len(self.parent) - 1):
                self.soft[end] += half / state["bulk_modulus_pa"] + swell
                self.air[end] += half * state["air_fraction"]
                self.room[end] += half
            cell = len(self.parent) - 1
        self.cell_of[section["to"]] = cell

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

    def stored(self, pressures):
        """Lubricant pressed into the whole line [m³]."""
        return sum(self.stored_each(pressures))
