"""The pressure along the line at some moments of traces: the picture's frame, and a table from which a page draws any of them."""
from ..basics.kinds import DUAL, PROGRESSIVE, fitting
from ..basics.text import number, seconds, shown, unit_name
from ..line.tree import PUMP, Tree
from ..words.sentences import sentence
from .svg import Drawing, text_width
from .trace_picture import LEFT, PANEL, RIGHT, Panel, draw_limits_along, pressure_axis, spans, ticks, what_of

MOMENTS = 60
# px: the pressures from top to foot, and the whole picture
_HIGH, _LOW, _HEIGHT = 14, 190, 272
_ROWS = 3
_FEET = 3.280839895
_TURNS = ("switch tripped", "pump off", "vent open")


class _Line:
    """The line as columns of a table: its nodes, on both lines of a dual-line system one after the other.

    curves   [[column]]: from the pump outwards, each branch from where it leaves
    things   [(column, "device" or "switch", id, line, how many stand there before it)]
    """

    def __init__(self, document):
        self.tree = Tree(document)
        self.lines = ("A", "B") if document["kind"] == DUAL else (None,)
        self.curves, self.things, self.document = [], [], document
        order = self.tree.order
        for which, line in enumerate(self.lines):
            column = {node: k + which * len(order) for k, node in enumerate(order)}
            for way in _ways(self.tree):
                self.curves.append([column[node] for node in way])
            there = {}
            for symbol, things in (("device", document["devices"]), ("switch", document["switches"])):
                for thing in things:
                    self.things.append((column[thing["at"]], symbol, thing["id"], line, there.get(thing["at"], 0)))
                    there[thing["at"]] = there.get(thing["at"], 0) + 1

    def pressures(self, trace):
        """[[bar]]: a row of samples for each column."""
        names = ("pressure_bar", "pressure_b_bar")[:len(self.lines)]
        return [trace[name][node] for name in names for node in self.tree.order]


def _ways(tree):
    """[[node]]: the longest way from the pump, then every branch from the node where it leaves."""
    reach, ways, waiting = {}, [], [(None, PUMP)]
    for node in reversed(tree.order):
        reach[node] = max([reach[child] for child in tree.children[node]] or [tree.distance[node]])
    while waiting:
        start, node = waiting.pop()
        way = [start, node] if start is not None else [node]
        while tree.children[node]:
            far = sorted(tree.children[node], key=lambda child: (-reach[child], child))
            waiting += [(node, child) for child in far[1:]]
            node = far[0]
            way.append(node)
        ways.append(way)
    return ways


def _moments(trace, span_s):
    """Times [s], evenly over the picture; where a switch trips, the pump stops or a vent opens, the nearest is that time."""
    times = [span_s * k / (MOMENTS - 1) for k in range(MOMENTS)]
    for event in trace["events"]:
        place = int(event["at_s"] / span_s * (MOMENTS - 1) + 0.5)
        if event["what"] in _TURNS and place < MOMENTS:
            times[place] = event["at_s"]
    return times


def _at(times, rows, at):
    """The value of every row at a time, by straight lines between samples; beyond the last sample that one."""
    above = next((k for k, time in enumerate(times) if time >= at), len(times) - 1)
    if not above or times[above] <= at:
        return [row[above] for row in rows]
    part = (at - times[above - 1]) / (times[above] - times[above - 1])
    return [row[above - 1] + (row[above] - row[above - 1]) * part for row in rows]


class _So:
    """What has happened up to a moment of a trace; moments are asked for in their order."""

    def __init__(self, line, trace):
        self.line, self.trace, self.next, self.on = line, trace, 0, {}

    def go(self, at):
        """Follow the events up to `at` [s]."""
        events = self.trace["events"]
        while self.next < len(events) and events[self.next]["at_s"] <= at:
            what, key = events[self.next]["what"], (events[self.next]["where"], events[self.next].get("line"))
            if what in ("device dosed", "switch tripped"):
                self.on[key] = True
            elif what == "switch returned":
                self.on[key] = False
            self.next += 1

    def phase(self, at):
        """What pump and vent do until `at` [s]: "on", "off" or "open"."""
        phase = "on"
        for event in self.trace["events"]:
            what = event["what"]
            if event["at_s"] < at and (what in ("pump on", "pump off") or (what == "vent open" and phase == "off")):
                phase = what.split()[1]
        return phase

    def flags(self):
        """A letter for each thing: 1 where a device has moved or a switch is tripped, 0 where not."""
        return "".join(["1" if self.on.get((name, line)) else "0" for _, _, name, line, _ in self.line.things])

    def says(self, at, values, far, units):
        """The moment in words: time, pressures at the pump and at the far end, what has moved."""
        texts, nodes = [], len(self.line.tree.order)
        for which, line in enumerate(self.line.lines):
            start = which * nodes
            texts.append(sentence("along.line" if line else "along.pressures", {
                "line": line or "", "pump": shown(max(values[start], 0.0), "bar", units),
                "far": shown(max(values[start + far], 0.0), "bar", units)})["says"])
        devices = [self.on.get((name, line)) for _, symbol, name, line, _ in self.line.things if symbol == "device"]
        tripped = [name for _, symbol, name, line, _ in self.line.things if symbol == "switch" and self.on.get((name, line))]
        end = self.trace["time_s"][-1]
        moved = {"moved": str(len([one for one in devices if one])), "devices": str(len(devices))}
        kind = self.line.document["kind"]
        parts = [sentence("along.over" if at > end else "along.pump_" + self.phase(at), {"end": seconds(end)})["says"],
                 sentence({PROGRESSIVE: "along.blocks", DUAL: "along.sides"}.get(kind, "along.devices"), moved)["says"]]
        if tripped:
            parts.append(sentence("along.tripped", {"names": ", ".join(tripped)})["says"])
        return " ".join([seconds(at) + ": " + ", ".join(texts) + "."] + parts)


def _table(line, panel, trace, time_panel, units):
    """What one trace gives to along_line's answer."""
    times = _moments(trace, panel.span_s)
    rows, so, far = line.pressures(trace), _So(line, trace), line.tree.order.index(_ways(line.tree)[0][-1])
    out = {"name": "At " + shown(trace["at_c"], "°C", units), "hair": [int(time_panel.x(at) + 0.5) for at in times],
           "y": [], "on": [], "says": []}
    for at in times:
        values = _at(trace["time_s"], rows, at)
        so.go(at)
        out["y"].append([int(panel.y(bar) + 0.5) for bar in values])
        out["on"].append(so.flags())
        out["says"].append(so.says(at, values, far, units))
    return out


def _frame(line, panel, x, units):
    """Axes, limits' place and the names of what stands on the line, as many as have room."""
    drawing, metres, us = panel.drawing, line.tree.longest_way(), units == "us"
    for value in ticks(metres * (_FEET if us else 1), 5):
        at = LEFT + (drawing.width - LEFT - RIGHT) * value / (metres * (_FEET if us else 1))
        drawing.path("grid", [(at, panel.low), (at, panel.low + 4)], 1)
        drawing.text("axis", at, panel.low + 16, number(value / (_FEET if us else 1), "m", units), 12, "middle")
    ends = [LEFT - 4.0] * _ROWS
    for column, _, name, text_line, _ in sorted(line.things):
        room = text_width(name, 12) / 2
        row = next((k for k in range(_ROWS) if ends[k] < x[column] - room), None)
        if row is not None and text_line != "B" and x[column] + room <= drawing.width:
            drawing.text("value", x[column], panel.low + 32 + 14 * row, name, 12, "middle")
            ends[row] = x[column] + room + 4
    drawing.text("axis", drawing.width - RIGHT, panel.low + 32 + 14 * _ROWS, "%s from the pump; pressure in %s" % (
        unit_name("m", units), unit_name("bar", units)), 12, "end")


def along_line(document, traces, width, panels, units="metric", names=None):
    """The pressure along the line at up to MOMENTS moments of one or more `trace/1` documents, for a page to draw from.

    panels   of the picture of the traces over which a hair line goes
    names    of the traces; None: their temperatures
    Returns {"svg", "says": the frame and what its marks mean; "panels": [[y from, y to]] of the hair line; "x": [px by column];
    "curves": [{"columns", "name", "dash"}]; "things": [[column, symbol, id, px above the curve]]; "traces": [{"name"; by moment:
    "hair": its x, "y": [px by column], "on": flags of the things, "says": it in words}]}.
    """
    document = fitting(document)
    what, line = what_of(document, units), _Line(document)
    span_s, span_bar = spans(traces, what)
    drawing = Drawing(width, _HEIGHT)
    time_panel, panel = Panel(drawing, 0, span_s, span_bar), Panel(drawing, 0, span_s, span_bar)
    panel.high, panel.low = _HIGH, _LOW
    metres, distance = line.tree.longest_way(), line.tree.distance
    x = [LEFT + (width - LEFT - RIGHT) * distance[node] / metres for node in line.tree.order] * len(line.lines)
    pressure_axis(panel, units)
    draw_limits_along(panel, what["limits"])
    _frame(line, panel, x, units)
    tables = [_table(line, panel, trace, time_panel, units) for trace in traces]
    for table, name in zip(tables, names or ()):
        table["name"] = name
    says = sentence("along.marks", {})["says"]
    return {"svg": drawing.svg(says), "says": says, "traces": tables, "x": [int(one + 0.5) for one in x], "curves": _named(line),
            "panels": [[time_panel.high + k * PANEL, time_panel.low + k * PANEL] for k in range(panels)],
            "things": [[column, symbol, name, 15 * before] for column, symbol, name, _, before in line.things]}


def _named(line):
    """Curves as along_line gives them: the first of each of two lines has a name, those of the second are dashed."""
    of_a_line = len(line.curves) // len(line.lines)
    return [{"columns": columns, "dash": k >= of_a_line,
             "name": "line " + line.lines[k // of_a_line] if line.lines[0] and k % of_a_line == 0 else ""}
            for k, columns in enumerate(line.curves)]
