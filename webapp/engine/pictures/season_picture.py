"""How long, how far and what stays over the ambient range: three panels over one temperature scale, limits dashed and named."""
from ..basics.kinds import PROGRESSIVE, TIMED, switches
from ..words.sentences import sentence
from .svg import Drawing, text_width
from ..basics.text import number, shown, unit_name
from .trace_picture import ticks

_PANEL = 150
_HEAD = 34
_LEFT = 46
_RIGHT = 12
_FOOT = 62
_ROOM = 1.15


class _Panel:
    """Scales of one panel: temperature to x, value to y."""

    def __init__(self, drawing, top, span_c, most):
        self.drawing, self.span_c, self.most = drawing, span_c, most
        self.high, self.low = top + _HEAD, top + _PANEL

    def x(self, at_c):
        low, high = self.span_c
        return _LEFT + (self.drawing.width - _LEFT - _RIGHT) * (at_c - low) / (high - low)

    def y(self, value):
        return self.low - (self.low - self.high) * value / self.most

    def frame(self, title, factor):
        right = self.drawing.width - _RIGHT
        self.drawing.text("label", 4, self.high - 16, title, 15, bold=True)
        for tick in ticks(self.most * factor, 4):
            self.drawing.path("grid", [(_LEFT - 4, self.y(tick / factor)), (_LEFT, self.y(tick / factor))], 1)
            self.drawing.text("axis", _LEFT - 6, self.y(tick / factor) + 4, number(tick, "ratio"), 12, "end")
        self.drawing.path("grid", [(_LEFT, self.high), (_LEFT, self.low), (right, self.low)], 1)

    def curve(self, points):
        """Line with a mark at each temperature that was worked; a gap where there is no value."""
        run = []
        self.drawn = [(self.x(at_c), self.y(value)) for at_c, value in points if value is not None]
        for at_c, value in points + [(None, None)]:
            if value is not None:
                run.append((self.x(at_c), self.y(value)))
                continue
            if len(run) > 1:
                self.drawing.path("trace-a", run, 2.5)
            for x, y in run:
                self.drawing.square("trace-mark", x, y, 3)
            run = []

    def limit(self, value, text):
        """A dashed limit, named where its name lies over no curve."""
        if not 0 < value < self.most:
            return
        right, wide = self.drawing.width - _RIGHT, text_width(text, 13)
        self.drawing.path("limit", [(_LEFT, self.y(value)), (right, self.y(value))], 1, "6 4")
        places = [(x, self.y(value) + dy) for dy in (-5, 16) for x in (right - wide, _LEFT + 6)]
        free = [place for place in places if not self._crossed(place[0], place[1], wide)] or places
        self.drawing.text("limit-label", free[0][0], free[0][1], text, 13)

    def _crossed(self, x, y, wide):
        """True where the drawn curve passes through a line of text that begins at x, y."""
        for (x1, y1), (x2, y2) in zip(self.drawn, self.drawn[1:]):
            for k in range(25):
                at_x, at_y = x1 + (x2 - x1) * k / 24, y1 + (y2 - y1) * k / 24
                if x - 4 <= at_x <= x + wide + 4 and y - 14 <= at_y <= y + 5:
                    return True
        return False


def _most(values, limit):
    """Top of a scale: the greatest value, and the limit where it is not far above."""
    top = max([value for value in values if value is not None] or [0])
    return _ROOM * (max(top, limit) if limit > 0 and (limit < 2.5 * top or not top) else top or 1.0)


def _panels(document, season):
    """(title, unit, figure's name, limit, its text) of each panel."""
    kind, relief = document["kind"], document["pump"]["relief_bar"]
    if kind == PROGRESSIVE:
        return (("Until the cycle switch signals", "s", "build", _longest(season, "window"), "monitoring time "),
                ("Greatest pressure at the pump", "bar", "peak", relief, "relief "), ("Stays in the line at rest", "bar", "rest", 0, ""))
    left = ("Left after venting", "bar", "residual", min([thing["resets_bar"] for thing in _resetting(document)]), "resets below ")
    if kind == TIMED:
        fires = max([device["fires_bar"] for device in document["devices"]])
        return (("Until the last device is fed", "s", "build", _longest(season, "run_time"), "run time "),
                ("Drop at full delivery", "bar", "drop", relief - fires, "relief less firing "), left)
    return (("Build-up", "s", "build", _longest(season, "time_limit"), "time limit "),
            ("Drop at full delivery", "bar", "drop", relief - document["switches"][0]["trips_bar"], "relief less trip "), left)


def _resetting(document):
    return document["devices"] + switches(document)


def _longest(season, name):
    """The longest limit of the sets; where nothing can be set the longest that the controller accepts."""
    return max([one[name]["value"] for one in season["sets"]] or [season["lowest"]["works_to"]["inputs"]["limit"]["value"]])


def _scale(values, unit, units):
    """(text of the unit, its factor) on an axis: minutes for long times."""
    if unit == "s":
        long = max([value for value in values if value is not None] or [0]) > 300
        return ("min", 1 / 60) if long else ("s", 1.0)
    return unit_name(unit, units), 14.503773773 if units == "us" else 1.0


def _temperatures(drawing, panel, bottom, season, units):
    """The common scale below, and the lowest temperature that works through all panels."""
    low, high = panel.span_c
    us = units == "us"
    ends = [t * 1.8 + 32 if us else t for t in (low, high)]
    step = ticks(ends[1] - ends[0], 6)[1]
    first = -int(-ends[0] // step) if ends[0] < 0 else int(ends[0] // step) + (ends[0] % step > 0)
    value = first * step
    while value <= ends[1] + 1e-9:
        drawing.text("axis", panel.x((value - 32) / 1.8 if us else value), panel.low + 18, number(value, "ratio"), 12, "middle")
        value += step
    drawing.text("axis", drawing.width - _RIGHT, panel.low + 36, "ambient, " + unit_name("°C", units), 12, "end")
    works_to = season["lowest"]["works_to"]["value"]
    if works_to is not None and low <= works_to <= high:
        x, text = panel.x(works_to), "works down to " + shown(works_to, "°C", units)
        for top in (0, _PANEL, 2 * _PANEL):
            drawing.path("moment", [(x, top + _HEAD), (x, top + _PANEL)], 1, "2 3")
        drawing.text("moment-label", max(4, min(x, drawing.width - 4 - text_width(text, 13))), bottom - 8, text, 13)


def _says(document, season, units):
    """The picture in a sentence: how long from coldest to hottest, and what stays in the line."""
    rows, timed = season["temperatures"], document["kind"] == TIMED
    cold, hot = rows[0], rows[-1]
    left = "rest" if document["kind"] == PROGRESSIVE else "residual"
    values = {"cold": shown(cold["at"]["value"], "°C", units), "hot": shown(hot["at"]["value"], "°C", units),
              "left_cold": shown(cold[left]["value"], "bar", units), "left_hot": shown(hot[left]["value"], "bar", units)}
    if any([row["build"]["value"] is None for row in rows]):
        return sentence("picture.season_none" + (".timed" if timed else ""), values)["says"]
    values["slow"], values["quick"] = [shown(row["build"]["value"], "s", units) for row in (cold, hot)]
    return sentence("picture.season." + document["kind"], values)["says"]


def season_picture(document, season, width, units="metric"):
    """The picture of a `season/1` document: {"svg", "says"}."""
    rows = season["temperatures"]
    span_c = (rows[0]["at"]["value"], max(rows[-1]["at"]["value"], rows[0]["at"]["value"] + 1))
    says, height = _says(document, season, units), 3 * _PANEL + _FOOT
    drawing = Drawing(width, height)
    for place, (title, unit, name, limit, text) in enumerate(_panels(document, season)):
        values = [row[name]["value"] for row in rows]
        panel = _Panel(drawing, place * _PANEL, span_c, _most(values, limit))
        axis, factor = _scale(values, unit, units)
        panel.frame("%s, %s" % (title, axis), factor)
        panel.curve([(row["at"]["value"], value) for row, value in zip(rows, values)])
        panel.limit(limit, text + shown(limit, unit, units))
    _temperatures(drawing, panel, height, season, units)
    return {"svg": drawing.svg(says), "says": says}
