"""Corrected readings over the weeks as a picture: limits dashed and named, calls marked, a reading outside as a diamond."""
from ..basics.dates import day_text, days_of
from ..words.sentences import sentence
from .svg import Drawing, text_width
from ..basics.text import decimal, number, shown

_HEIGHT = 250
_LEFT, _RIGHT, _TOP, _FOOT = 46, 14, 58, 30
_SIZE = 12
_APART = 16
# days from which a date in the middle finds room
_MIDDLE = 60


class _Scale:
    """Days to x, values to y."""

    def __init__(self, width, points, lines):
        days = [point["day"] for point in points]
        values = [point["corrected"] for point in points] + lines
        room = 0.14 * (max(values) - min(values)) or 0.02 * max(values)
        self.width, self.first, self.last = width, days[0], max(days[-1], days[0] + 7)
        self.least, self.span = min(values) - room, max(values) - min(values) + 2 * room

    def x(self, day):
        return _LEFT + (self.width - _LEFT - _RIGHT) * (day - self.first) / (self.last - self.first)

    def y(self, value):
        return _HEIGHT - _FOOT - (_HEIGHT - _FOOT - _TOP) * (value - self.least) / self.span


def trend_picture(chart, width, units="metric"):
    """One chart of a `trend/1` document (trend_chart.Chart.worked) as {"svg", "says", "rows"}.

    rows: texts of every reading, newest first: date, temperature, measured, corrected, is it outside
    """
    points, limits = chart["points"], {name: chart[name]["value"] for name in ("upper", "centre", "lower") if name in chart}
    drawing, scale = Drawing(width, _HEIGHT), _Scale(width, points, sorted(limits.values()))
    drawing.text("label", 4, 18, "Corrected to " + shown(chart["reference_c"], "°C", units), 15, bold=True)
    _axis(drawing, scale, points)
    _limits(drawing, scale, limits, chart["unit"], units)
    for css, key, thick, dash in (("trace-a", "corrected", 1, None), ("trace-b", "ewma", 2.5, "2 4")):
        places = [(scale.x(point["day"]), scale.y(point[key])) for point in points if key in point]
        if len(places) > 1:
            drawing.path(css, places, thick, dash)
    for point in points:
        x, y = scale.x(point["day"]), scale.y(point["corrected"])
        if point.get("outside"):
            drawing.diamond("outside", x, y, 5)
        else:
            drawing.dot("reading", x, y, 3)
    _calls(drawing, scale, chart)
    says = _says(chart, limits, units)
    rows = [[day_text(point["day"]), shown(point["at_c"], "°C", units), _text(point["measured"], chart["unit"], units),
             _text(point["corrected"], chart["unit"], units), bool(point.get("outside"))] for point in reversed(points)]
    return {"svg": drawing.svg(says), "says": says, "rows": rows}


def _text(value, unit, units):
    """Times to a tenth of a second, however long: on a chart minutes and seconds are too coarse."""
    return decimal(value, 1) + " s" if unit == "s" else shown(value, unit, units)


def _axis(drawing, scale, points):
    low = _HEIGHT - _FOOT
    drawing.path("grid", [(_LEFT, _TOP), (_LEFT, low), (scale.width - _RIGHT, low)], 1)
    first, last = points[0]["day"], points[-1]["day"]
    marks = [(first, "start")]
    if last - first > _MIDDLE:
        marks.append(((first + last) / 2, "middle"))
    if last - first > 7:
        marks.append((last, "end"))
    for day, anchor in marks:
        drawing.text("axis", scale.x(day) + (_RIGHT if anchor == "end" else 0), low + 18, day_text(day), _SIZE, anchor)


def _limits(drawing, scale, limits, unit, units):
    """Dashed limits, named outside of them where few readings are; the centre is named where there is room between."""
    places = {name: scale.y(value) for name, value in limits.items()}
    for name, below in (("upper", -6), ("lower", 15), ("centre", 0)):
        if name not in limits:
            continue
        y = places[name]
        drawing.path("grid" if name == "centre" else "limit", [(_LEFT, y), (scale.width - _RIGHT, y)], 1,
                     None if name == "centre" else "6 4")
        if below:
            drawing.text("limit-label", _LEFT + 4, y + below, name + " limit", _SIZE)
        if below or places["lower"] - places["upper"] > 2 * _APART:
            crowded = below if places["lower"] - places["upper"] < _APART else 4
            text = decimal(limits[name], 1) if unit == "s" else number(limits[name], unit, units)
            drawing.text("axis", _LEFT - 6, y + crowded, text, _SIZE, "end")


def _calls(drawing, scale, chart):
    """The last call: when the drift began, and when it was called."""
    if not chart["calls"]:
        return
    call = chart["calls"][-1]
    text = "drifts since " + day_text(call["since_day"]) + ("" if call["over"] is None else ", over " + day_text(days_of(call["over"])))
    x = scale.x(call["since_day"])
    drawing.path("moment", [(x, _TOP - 12), (x, _HEIGHT - _FOOT)], 1, "2 3")
    left = min(x, scale.width - _RIGHT - text_width(text, 13))
    drawing.text("moment-label", max(4, left), _TOP - 18, text, 13)


def _says(chart, limits, units):
    unit, points = chart["unit"], chart["points"]
    values = {"count": str(len(points)), "first": day_text(points[0]["day"]), "last": day_text(points[-1]["day"])}
    if not limits:
        return sentence("picture.trend_short", values)["says"]
    values.update({name: _text(value, unit, units) for name, value in limits.items()})
    return sentence("picture.trend", values)["says"]
