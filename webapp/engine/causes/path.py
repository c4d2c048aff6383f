"""What one would read on a system under a fault in closed form: half by half along the healthy build-up of each line."""
from ..basics.adding import added_up
from ..basics.kinds import DUAL, PROGRESSIVE, SIDES
from ..events import blocks
from ..line.grid import Grid
from ..line.tree import PUMP, Tree
from .expected import Predicted, fed_keys, half_of, never_begun, taken
from .track import Track, first_device


class Path:
    """A whole cycle under a fault. tracks: the healthy build-up of each line; lines: numbers of the lines that a fault can be on, of a
    system with one line [None]; healthy: the healthy cycle's readings; keys: what feeds each point."""

    def __init__(self, document, doses, at_c, kept, limit_s):
        self.document, self.limit_s = document, limit_s
        self.healthy = taken(kept["seen"])
        self.delivery = document["pump"]["delivery_cm3_min"] / 60
        self.relief = document["pump"]["relief_bar"]
        self.tree, self.keys, self.first = Tree(document), fed_keys(document), first_device(document)
        self.lines = [0, 1] if document["kind"] == DUAL else [None]
        grid, doses = Grid(document, at_c), self._doses(doses)
        self.tracks = [Track(document, self.tree, grid, kept["states"][number], doses[number], self._unfed(number), limit_s)
                       for number in range(len(self.lines))]
        self.healthy.used = added_up([added_up(track.doses.values()) for track in self.tracks])
        self.given = added_up([track.given for track in self.tracks])
        self.devices = [device["id"] for device in document["devices"]]
        self.known_dry = {}

    def _doses(self, doses):
        """Device -> cm³ of each half; of a progressive system what its first block takes until the switch counts."""
        if self.document["kind"] == DUAL:
            return [doses[side] for side in SIDES]
        if self.document["kind"] != PROGRESSIVE:
            return [doses]
        counted = ([switch["counts"] for switch in self.document["switches"] if switch.get("counts")] or [self.first["id"]])[0]
        turns = blocks.turns(self.document)[counted]
        return [{self.first["id"]: blocks.sums(self.document)[self.first["id"]] / turns}]

    def _unfed(self, number):
        """Devices that do not feed a point on a good day, in a half."""
        return [point["device"] for point, key in zip(self.document["points"], self.keys)
                if key in self.healthy.dry and half_of(self.document, point) == number]

    def beyond(self, section):
        """Nodes beyond a pipe."""
        nodes, stack = [], [section["to"]]
        while stack:
            nodes.append(stack.pop())
            stack += self.tree.children[nodes[-1]]
        return nodes

    def vented_s(self, share):
        """How long a vent valve that opens to a share lets the line fall to its lowest reset pressure [s], friction left out."""
        return self.tracks[0].vented_s(share)

    def predict(self, line=None, flow=1.0, leak=None, air=0.0, relief=None, trips=None, limit=None, left=None, shut=(), idle=(),
                starved=False):
        """Predicted readings where: the pump gives `flow` of its delivery; `leak` (node, cm³/(min·bar)); `air` more than usual;
        `relief` bar; `trips` {switch: bar}; `limit` s; `left` cm³ in the reservoir; `shut` nodes get nothing; `idle` devices stand
        still, where `starved` all of them in the second half. Of two lines, `leak`, `trips` and `shut` are on that of the number `line`;
        None: on all there are."""
        halves, still, used, other, limit = [], [], 0.0, limit, limit or self.limit_s
        for number, track in enumerate(self.tracks):
            if halves and halves[-1].ran:
                # a first half that does not end never gives way to the second
                halves.append(never_begun(track.at_end))
                still.append(self.devices)
                continue
            here = line in (None, number)
            half, idle_there, lost = track.predict(flow, leak if here else None, air, relief, here and trips or {}, limit, left,
                                                   shut if here else (), self.devices if starved and number else idle)
            halves.append(half)
            still.append(idle_there)
            used += lost
            if left is not None:
                left = max(0.0, left - (half.build_s or 0.0) * self.delivery)
        out = Predicted(halves, self._dry(still))
        out.limit_s, out.used = other, used
        if not out.ran():
            out.vent_s, out.residual = self.healthy.vent_s, self.healthy.residual
            if shut and line != 1 and out.residual:
                out.residual = {node: 0.0 if node in shut else bar for node, bar in out.residual.items()}
        return out

    def _dry(self, still):
        """What feeds points that get nothing where, in each half, devices stand still."""
        known = tuple([tuple(names) for names in still])
        if known not in self.known_dry:
            self.known_dry[known] = [key for point, key in zip(self.document["points"], self.keys)
                                     if point["device"] in still[half_of(self.document, point)]]
        return self.known_dry[known]

    def stiffen(self, out, stiffer):
        """Put a lubricant so many times as stiff into readings."""
        out.stiffer = stiffer
        for number, track in enumerate(self.tracks):
            if not (number and out.halves[number - 1].ran) and track.stiffen(out.halves[number], stiffer):
                self.end_never(out, number)

    def end_never(self, out, number=0):
        """Put into readings that a half never ends."""
        out.halves[number].build_s, out.halves[number].ran, out.residual, out.vent_s = None, True, None, None
        if number + 1 < len(out.halves):
            out.halves[number + 1] = never_begun(self.tracks[0].at_end)
            out.dry = [key for point, key in zip(self.document["points"], self.keys)
                       if key in out.dry or half_of(self.document, point) > number]

    def as_healthy(self, limit=None):
        """The healthy cycle, as well known as it is; limit: ended at that time [s]."""
        out = self.predict(limit=limit)
        out.simulated = True
        return out
