"""The line drawn to scale along its length: pump at the top, pipe downwards, branches to the side, labels at the right."""
from ..basics.kinds import DUAL, PROGRESSIVE, fitting
from ..words.sentences import sentence
from .svg import Drawing, shortened
from ..basics.text import shown
from ..line.tree import PUMP, Tree

_ROW = 46
_TOP = 26
_EDGE = 20
_COLUMN = 20
_SPINES_ROOM = 110
_GAP = 30


class _Layout:
    """Where every node stands: x by its branch, y to scale by its distance from the pump."""

    def __init__(self, document, height):
        self.tree = Tree(document)
        reach = {}
        for node in reversed(self.tree.order):
            below = [reach[child] + self.tree.section[child]["length_m"] for child in self.tree.children[node]]
            reach[node] = max(below) if below else 0.0
        self.column, columns = {PUMP: 0}, 1
        for node in self.tree.order:
            far = sorted(self.tree.children[node],
                         key=lambda child: (-reach[child] - self.tree.section[child]["length_m"], child))
            for number, child in enumerate(far):
                self.column[child] = self.column[node] if number == 0 else columns
                columns += 0 if number == 0 else 1
        self.spacing = min(_COLUMN, _SPINES_ROOM / columns)
        self.scale = height / reach[PUMP]
        self.right = _EDGE + self.spacing * (columns - 1)

    def at(self, node):
        return _EDGE + self.spacing * self.column[node], _TOP + self.scale * self.tree.distance[node]


def _own(document, section):
    """The ambient of a section's own, None where it is the system's."""
    own = section.get("ambient")
    return own if own and any([own[name] != document["ambient"][name] for name in own]) else None


def _warmth_rows(document, units):
    """Labels of the pipes at which another ambient begins than that of the pipe before."""
    into = {section["to"]: _own(document, section) for section in document["sections"]}
    rows = []
    for section in document["sections"]:
        own = into[section["to"]]
        if own == into.get(section["from"]):
            continue
        ambient = own or document["ambient"]
        name = " to ".join([shown(ambient[when], "°C", units) for when in ("coldest_c", "hottest_c")])
        rows.append((section["to"], "warmth", name, "pipe %s, %s" % (section.get("id"), "a place of its own" if own else "as the system again")))
    return rows


def _rows(document, worked, units):
    """(node, symbol, name, second line) of everything that gets a label."""
    ratios = {}
    for point, figures in zip(document["points"], (worked or {}).get("points") or []):
        ratios.setdefault(point["device"], []).append(figures["ratio"]["value"] if figures["ratio"] else None)
    rows = []
    for device in document["devices"]:
        names = [point["name"] for point in document["points"] if point["device"] == device["id"]]
        known = [ratio for ratio in ratios.get(device["id"], []) if ratio is not None]
        feeds = "%s of need" % shown(100 * min(known), "%", units) if known else "feeds no point" if not names else ""
        rows.append((device["at"], "device", ", ".join(names) or device["id"],
                     " · ".join([part for part in (device["id"] if names else "", _how_fed(document, device, feeds)) if part])))
    for switch in document["switches"]:
        counts = document["kind"] == PROGRESSIVE
        says = "counts block " + switch["counts"] if counts else "trips at " + shown(switch["trips_bar"], "bar", units)
        rows.append((switch["at"], "switch", "Switch " + switch["id"], says))
    return rows + _warmth_rows(document, units)


def _how_fed(document, device, feeds):
    """What a device's second line says beside how well its points are fed: on which lines they are, or which block feeds it."""
    if document["kind"] == DUAL:
        sides = sorted({point["side"] for point in document["points"] if point["device"] == device["id"]})
        return " · ".join([part for part in (("lines " if len(sides) > 1 else "line ") + " and ".join(sides) if sides else "", feeds) if part])
    above = device.get("hangs_from") if document["kind"] == PROGRESSIVE else None
    if above:
        return " · ".join([part for part in (feeds, "fed by %s, outlet %s" % (above["block"], above["outlet"])) if part])
    return feeds


def _pipe_texts(section, units):
    """What a pipe is, in full and shorter."""
    length, bore = shown(section["length_m"], "m", units), shown(section["bore_mm"], "mm", units)
    return "%s %s, %s" % (length, section.get("wall") or "steel", bore), "%s, %s" % (length, bore)


def _spread(wanted, least, lowest):
    """Label heights at or below the wanted ones, `least` apart, in the given order; pulled up where they pass `lowest`."""
    places = []
    for y in wanted:
        places.append(max(y, places[-1] + least) if places else y)
    limit = lowest
    for number in range(len(places) - 1, -1, -1):
        places[number] = min(places[number], limit)
        limit = places[number] - least
    return places


def _draw_pipes(drawing, layout, document):
    """The pipes, dashed where they have a temperature of their own."""
    for node in layout.tree.order[1:]:
        x, y = layout.at(node)
        from_x, from_y = layout.at(layout.tree.section[node]["from"])
        drawing.path("pipe", [(from_x, from_y), (x, from_y), (x, y)], 5, "10 4" if _own(document, layout.tree.section[node]) else None)


def _draw_symbols(drawing, layout, rows):
    drawing.square("pump", _EDGE, _TOP, 11)
    for symbol in ("device", "switch"):
        for node in sorted({row[0] for row in rows if row[1] == symbol}):
            x, y = layout.at(node)
            if symbol == "device":
                drawing.ring("device", x, y, 7)
            else:
                shared = any(row[0] == node and row[1] == "device" for row in rows)
                drawing.diamond("switch", x, y + (14 if shared else 0), 8)


def diagram(document, worked, width, units="metric"):
    """The picture of a checked document's line: {"svg", "says"}; `worked` adds how well each device feeds its points."""
    document = fitting(document)
    rows = _rows(document, worked, units)
    height = max(180, _ROW * (len(rows) + 1))
    layout = _Layout(document, height)
    rows.sort(key=lambda row: (layout.at(row[0])[1], layout.column[row[0]], row[1], row[2]))
    drawing = Drawing(width, _TOP + height + 34)
    label_x = layout.right + _GAP
    _draw_pipes(drawing, layout, document)
    drawing.text("label", label_x, _TOP + 5, shortened(_pump_text(document, units), 15, width - label_x), 15, bold=True)
    previous = None
    heights = _spread([max(layout.at(row[0])[1], _TOP + _ROW) for row in rows], _ROW, _TOP + height + 8)
    for (node, _, name, second), y in zip(rows, heights):
        x, node_y = layout.at(node)
        drawing.path("leader", [(x + 8, node_y), (label_x - 12, y), (label_x - 4, y)], 1)
        drawing.text("label", label_x, y, shortened(name, 15, width - label_x), 15, bold=True)
        pipes = () if node in (previous, PUMP) else _pipe_texts(layout.tree.section[node], units)
        lines = [" · ".join([part for part in (second, pipe) if part]) for pipe in pipes] + [second]
        fits = [line for line in lines if shortened(line, 13, width - label_x) == line] or lines[-1:]
        drawing.text("value", label_x, y + 17, shortened(fits[0], 13, width - label_x), 13)
        previous = node
    _draw_symbols(drawing, layout, rows)
    says = sentence("picture.line", {
        "length": shown(layout.tree.longest_way(), "m", units), "devices": str(len(document["devices"])),
        "points": str(len(document["points"]))})["says"]
    elsewhere = [section for section in document["sections"] if _own(document, section)]
    if elsewhere:
        says += " " + sentence("picture.line_elsewhere", {"pipes": ", ".join([section["id"] for section in elsewhere])})["says"]
    return {"svg": drawing.svg(says), "says": says}


def _pump_text(document, units):
    return "Pump, " + shown(document["pump"]["delivery_cm3_min"], "cm³/min", units)
