"""Predicted pressure over time at the pump and at the far end, one panel a temperature, limits dashed and named."""
from ..basics.adding import added_up
from ..basics.kinds import DUAL, PROGRESSIVE, TIMED, fitting
from ..words.sentences import sentence
from ..events.simulate import moments
from .svg import Drawing, text_width
from ..basics.text import number, seconds, shown, unit_name
from ..line.tree import PUMP, Tree

# px: height of a panel, room left and right of it, above and below
PANEL = 232
LEFT = 46
RIGHT = 10
_HEAD = 46
_FOOT = 40
_BEYOND_TRIP = 1.9
# a line of text, as a share of a panel's pressures
_LINE_OF_TEXT = 0.12


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


class Panel:
    """Scales of one panel: time to x, pressure to y."""

    def __init__(self, drawing, top, span_s, span_bar):
        self.drawing, self.top, self.span_s, self.span_bar = drawing, top, span_s, span_bar
        self.low, self.high = top + PANEL - _FOOT, top + _HEAD

    def x(self, at):
        return LEFT + (self.drawing.width - LEFT - RIGHT) * min(at, self.span_s) / self.span_s

    def y(self, bar):
        return self.low - (self.low - self.high) * max(bar, 0) / self.span_bar

    def curve(self, times, bars, css, dash):
        points = [(self.x(at), self.y(bar)) for at, bar in zip(times, bars) if at <= self.span_s]
        self.drawing.path(css, points, 2.5, dash)


def pressure_axis(panel, units):
    """Ticks of the pressure, and both axes' lines."""
    factor = _per_bar(units)
    for value in ticks(panel.span_bar * factor, 4):
        y = panel.y(value / factor)
        panel.drawing.path("grid", [(LEFT - 4, y), (LEFT, y)], 1)
        panel.drawing.text("axis", LEFT - 6, y + 4, number(value / factor, "bar", units), 12, "end")
    panel.drawing.path("grid", [(LEFT, panel.high), (LEFT, panel.low), (panel.drawing.width - RIGHT, panel.low)], 1)


def _axes(panel, units):
    pressure_axis(panel, units)
    minutes = panel.span_s > 300
    for value in ticks(panel.span_s / (60 if minutes else 1), 5):
        text = number(value, "count")
        panel.drawing.text("axis", panel.x(value * (60 if minutes else 1)), panel.low + 16, text, 12, "middle")
    panel.drawing.text("axis", panel.drawing.width - RIGHT, panel.low + 32,
                       "%s; pressure in %s" % ("min" if minutes else "s", unit_name("bar", units)), 12, "end")


def _per_bar(units):
    return 14.503773773 if units == "us" else 1.0


def draw_limits(panel, limits):
    """Dashed limits, named right of the trip, where no pressure is high any more."""
    for bar, text, below in limits:
        _draw_limit(panel, bar)
        panel.drawing.text("limit-label", panel.drawing.width - RIGHT, panel.y(bar) + below, text, 13, "end")


def draw_limits_along(panel, limits):
    """The same over the length of the line, named near the pump, below the one that acts: while it does, the pressure there is above."""
    for bar, text, below in limits:
        _draw_limit(panel, bar)
        panel.drawing.text("limit-label", LEFT + 4, panel.y(bar) + (15 if below < 0 else -5), text, 13)


def _draw_limit(panel, bar):
    panel.drawing.path("limit", [(LEFT, panel.y(bar)), (panel.drawing.width - RIGHT, panel.y(bar))], 1, "6 4")


def _reached(times, bars, level):
    """Time at which a rising curve first reaches a level; its last time where it never does."""
    return next((at for at, bar in zip(times, bars) if bar >= level), times[-1])


def _curves(panel, trace, what, beyond=0.0):
    """Both curves of a trace with their names; `beyond`: names on the right stand beyond this time [s]."""
    times, level = trace["time_s"], what["level"]
    first, second = what["curves"](trace)
    panel.curve(times, first, "trace-a", None)
    panel.curve(times, second, "trace-b", "2 4")
    names, at = what["names"], min(level, 0.8 * max(first))
    beside = max(beyond, what["moment"](trace) or times[-1], _reached(times, second, min(level, 0.8 * max(second))))
    left = panel.x(_reached(times, first, at)) - 10
    if left - LEFT < text_width(names[0], 13):
        _name_beside(panel, times, first, at, beside, level, names[0])
        level -= panel.span_bar * _LINE_OF_TEXT
    else:
        panel.drawing.text("trace-label", left, panel.y(at), names[0], 13, "end")
    _name_beside(panel, times, second, min(level, 0.8 * max(second)), beside, level, names[1])


def _name_beside(panel, times, bars, at, beside, level, name):
    """A curve's name right of the moment that counts at the height of `level`, led to where the curve reaches `at`."""
    x, y = panel.x(beside) + 26, panel.y(level)
    panel.drawing.path("leader", [(panel.x(_reached(times, bars, at)), panel.y(at)), (x - 4, y)], 1)
    panel.drawing.text("trace-label", x, y + 4, name, 13)


def what_of(document, units):
    """What a trace of this kind of system shows: limits, curves and their names, the moment that counts, its sentences."""
    tree = Tree(document)
    far = max(tree.order, key=lambda node: (tree.distance[node], node))
    what = {"curves": lambda trace: (trace["pressure_bar"][PUMP], trace["pressure_bar"][far]),
            "names": ("at the pump", "at the far end"),
            "moment": lambda trace: trace["trip_s"][0], "event": "trips, pump off, vent opens", "never": "never trips",
            "says": ("picture.trace", "picture.never_trips")}
    kind, devices = document["kind"], document["devices"]
    if kind == PROGRESSIVE:
        acts = max([block["fires_bar"] for block in devices])
        limits, level = [(acts, "blocks move at " + shown(acts, "bar", units), -5)], acts / 2
        what.update(event="the cycle switch signals", never="never signals",
                    says=("picture.progressive", "picture.progressive.never"))
    else:
        resets = min([thing["resets_bar"] for thing in devices + document["switches"]])
        acts = max([device["fires_bar"] for device in devices]) if kind == TIMED else document["switches"][0]["trips_bar"]
        says = "last device fires at " if kind == TIMED else "trips at "
        limits, level = [(acts, says + shown(acts, "bar", units), -5),
                         (resets, "resets below " + shown(resets, "bar", units), 15)], (acts + resets) / 2
    if kind == TIMED:
        what.update(moment=lambda trace: trace["fed_s"][0], event="the last device is fed", never="not all are fed",
                    says=("picture.timed", "picture.timed.never"))
    elif kind == DUAL:
        what.update(curves=lambda trace: (trace["pressure_bar"][far], trace["pressure_b_bar"][far]), names=("line A", "line B"),
                    event="line A trips, then line B", says=("picture.dual", "picture.dual.never"))
    what.update(limits=limits, level=level, acts=acts)
    return what


def _sentence(trace, what, units):
    moment, values = moments(trace), {"t": shown(trace["at_c"], "°C", units), "why": trace["why"] or ""}
    reached, (good, never) = what["moment"](trace), what["says"]
    if reached is None:
        return sentence(never, values)["says"]
    values["trip"] = seconds(reached)
    if not trace["completed"]:
        return sentence("picture.incomplete", values)["says"]
    if len(trace["trip_s"]) > 1:
        values["second"] = seconds(trace["trip_s"][1])
    if moment["ready"] is not None:
        values["reset"] = seconds(moment["ready"] - moment["open"])
    return sentence(good, values)["says"]


def trace_picture(document, traces, width, units="metric"):
    """The picture of one or more `trace/1` documents of a system: {"svg", "says"}."""
    what = what_of(fitting(document), units)
    drawing = Drawing(width, PANEL * len(traces))
    says = [_sentence(trace, what, units) for trace in traces]
    span_s, span_bar = spans(traces, what)
    for place, trace in enumerate(traces):
        panel = Panel(drawing, place * PANEL, span_s, span_bar)
        drawing.text("label", 4, panel.top + 18, "At " + shown(trace["at_c"], "°C", units), 15, bold=True)
        _axes(panel, units)
        draw_limits(panel, what["limits"])
        _curves(panel, trace, what)
        trip = what["moment"](trace)
        _moment(panel, trip, what["never"] if trip is None else "%s: %s" % (seconds(trip), what["event"]), 14)
    return {"svg": drawing.svg(" ".join(says)), "says": " ".join(says)}


def _moment(panel, at, text, above):
    """The moment `at` [s] that counts, None where it never comes, with its text `above` [px] the panel."""
    if at is not None:
        panel.drawing.path("moment", [(panel.x(at), panel.low), (panel.x(at), panel.high - above + 4)], 1)
    room = panel.drawing.width - 4 - text_width(text, 13)
    panel.drawing.text("moment-label", max(LEFT, min(panel.x(at or 0), room)), panel.high - above, text, 13)


def compared_picture(document, healthy, faulted, width, units="metric"):
    """Two `trace/1` documents of a system in one picture, the healthy one behind, alike in shape to trace_picture's answer."""
    what = what_of(fitting(document), units)
    drawing = Drawing(width, PANEL)
    panel = Panel(drawing, 0, *spans([healthy, faulted], what))
    _axes(panel, units)
    draw_limits(panel, what["limits"])
    for bars, dash in zip(what["curves"](healthy), (None, "2 4")):
        panel.curve(healthy["time_s"], bars, "trace-healthy", dash)
    _curves(panel, faulted, what, what["moment"](healthy) or healthy["time_s"][-1])
    found = [(what["moment"](healthy), "healthy: "), (what["moment"](faulted), "with the faults: ")]
    # the earlier one above the later, whose text begins right of its line
    for above, (at, whose) in zip((31, 14), sorted(found, key=lambda one: (-1 if one[0] is None else one[0], one[1]))):
        _moment(panel, at, whose + (what["never"] if at is None else seconds(at)), above)
    says = sentence("picture.compared", {"healthy": _sentence(healthy, what, units),
                                         "faulted": _sentence(faulted, what, units)})["says"]
    return {"svg": drawing.svg(says), "says": says}


def spans(traces, what):
    """(seconds, bar) that pictures of these traces cover."""
    return (max([_span(trace, what) for trace in traces] + [1.0]),
            max([max(curve) for trace in traces for curve in what["curves"](trace)]
                + [max(trace["pressure_bar"][PUMP]) for trace in traces] + [what["acts"]]) * 1.12)


def _span(trace, what):
    """Seconds that the picture covers: well beyond the moment that counts; both halves of two lines."""
    reached = what["moment"](trace)
    if "pressure_b_bar" in trace and None not in trace["trip_s"]:
        reached = added_up(trace["trip_s"][:2])
    return (reached or trace["time_s"][-1]) * _BEYOND_TRIP
