"""Predicted pressure over time at the pump and at the far end, one panel a temperature, limits dashed and named."""
from .sentences import sentence
from .simulate import moments
from .svg import Drawing, text_width
from .text import number, seconds, shown, unit_name
from .tree import PUMP, Tree

_PANEL = 232
_LEFT = 46
_RIGHT = 10
_HEAD = 46
_FOOT = 40
_BEYOND_TRIP = 1.9


def ticks(top, most):
    """Round steps (1, 2, 5 times a power of ten) from 0 up to top, at most `most` of them."""
    step = 1.0
    while top / step > most:
        step *= 10
    while top / step <= most / 10:
        step /= 10
    for part in (0.1, 0.2, 0.5):
        if top / (step * part) <= most:
            step *= part
            break
    count = int(top / step + 1e-9)
    return [step * k for k in range(count + 1)]


class _Panel:
    """Scales of one panel: time to x, pressure to y."""

    def __init__(self, drawing, top, span_s, span_bar):
        self.drawing, self.top, self.span_s, self.span_bar = drawing, top, span_s, span_bar
        self.low, self.high = top + _PANEL - _FOOT, top + _HEAD

    def x(self, at):
        return _LEFT + (self.drawing.width - _LEFT - _RIGHT) * min(at, self.span_s) / self.span_s

    def y(self, bar):
        return self.low - (self.low - self.high) * max(bar, 0) / self.span_bar

    def curve(self, times, bars, css, dash):
        points = [(self.x(at), self.y(bar)) for at, bar in zip(times, bars) if at <= self.span_s]
        self.drawing.path(css, points, 2.5, dash)


def _axes(panel, units):
    factor = _per_bar(units)
    for value in ticks(panel.span_bar * factor, 4):
        y = panel.y(value / factor)
        panel.drawing.path("grid", [(_LEFT - 4, y), (_LEFT, y)], 1)
        panel.drawing.text("axis", _LEFT - 6, y + 4, number(value / factor, "bar", units), 12, "end")
    panel.drawing.path("grid", [(_LEFT, panel.high), (_LEFT, panel.low), (panel.drawing.width - _RIGHT, panel.low)], 1)
    minutes = panel.span_s > 300
    for value in ticks(panel.span_s / (60 if minutes else 1), 5):
        text = number(value, "count")
        panel.drawing.text("axis", panel.x(value * (60 if minutes else 1)), panel.low + 16, text, 12, "middle")
    panel.drawing.text("axis", panel.drawing.width - _RIGHT, panel.low + 32,
                       "%s; pressure in %s" % ("min" if minutes else "s", unit_name("bar", units)), 12, "end")


def _per_bar(units):
    return 14.503773773 if units == "us" else 1.0


def _limits(panel, trips, resets, units):
    """Dashed limits, named right of the trip, where no pressure is high any more."""
    right = panel.drawing.width - _RIGHT
    for bar, text, below in ((trips, "trips at " + shown(trips, "bar", units), -5),
                             (resets, "resets below " + shown(resets, "bar", units), 15)):
        panel.drawing.path("limit", [(_LEFT, panel.y(bar)), (right, panel.y(bar))], 1, "6 4")
        panel.drawing.text("limit-label", right, panel.y(bar) + below, text, 13, "end")


def _reached(times, bars, level):
    """Time at which a rising curve first reaches a level; its last time where it never does."""
    return next((at for at, bar in zip(times, bars) if bar >= level), times[-1])


def _curves(panel, trace, far, trips, resets):
    times, pump, end = trace["time_s"], trace["pressure_bar"][PUMP], trace["pressure_bar"][far]
    panel.curve(times, pump, "trace-a", None)
    panel.curve(times, end, "trace-b", "2 4")
    level = min((trips + resets) / 2, 0.8 * max(pump))
    panel.drawing.text("trace-label", panel.x(_reached(times, pump, level)) - 10, panel.y(level), "at the pump", 13, "end")
    level = min((trips + resets) / 2, 0.8 * max(end))
    beside = panel.x(trace["trip_s"][0] or times[-1]) + 26
    panel.drawing.path("leader", [(panel.x(_reached(times, end, level)), panel.y(level)), (beside - 4, panel.y(level))], 1)
    panel.drawing.text("trace-label", beside, panel.y(level) + 4, "at the far end", 13)


def _sentence(trace, units):
    moment, values = moments(trace), {"t": shown(trace["at_c"], "°C", units)}
    if trace["trip_s"][0] is None:
        values["why"] = trace["why"]
        return sentence("picture.never_trips", values)["says"]
    values["trip"] = seconds(trace["trip_s"][0])
    if moment["ready"] is None:
        values["why"] = trace["why"]
        return sentence("picture.incomplete", values)["says"]
    values["reset"] = seconds(moment["ready"] - moment["open"])
    return sentence("picture.trace", values)["says"]


def trace_picture(document, traces, width, units="metric"):
    """The picture of one or more `trace/1` documents of a system: {"svg", "says"}."""
    tree = Tree(document)
    far = max(tree.order, key=lambda node: (tree.distance[node], node))
    drawing = Drawing(width, _PANEL * len(traces))
    says = [_sentence(trace, units) for trace in traces]
    span_s = max([(trace["trip_s"][0] or trace["time_s"][-1]) * _BEYOND_TRIP for trace in traces] + [1.0])
    trips = document["switches"][0]["trips_bar"]
    resets = min([thing["resets_bar"] for thing in document["devices"] + document["switches"]])
    span_bar = max([max(trace["pressure_bar"][PUMP]) for trace in traces] + [trips]) * 1.12
    for place, trace in enumerate(traces):
        panel = _Panel(drawing, place * _PANEL, span_s, span_bar)
        drawing.text("label", 4, panel.top + 18, "At " + shown(trace["at_c"], "°C", units), 15, bold=True)
        _axes(panel, units)
        _limits(panel, trips, resets, units)
        _curves(panel, trace, far, trips, resets)
        trip = trace["trip_s"][0]
        text = "never trips" if trip is None else seconds(trip) + ": trips, pump off, vent opens"
        if trip is not None:
            drawing.path("moment", [(panel.x(trip), panel.low), (panel.x(trip), panel.high - 10)], 1)
        room = width - 4 - text_width(text, 13)
        drawing.text("moment-label", max(_LEFT, min(panel.x(trip or 0), room)), panel.high - 14, text, 13)
    return {"svg": drawing.svg(" ".join(says)), "says": " ".join(says)}
