"""All that is held of a system on one axis of time: timed cycles against what is expected, pressure left, lubricant used, what happened."""
from math import floor, log10

from ..basics.adding import added_up
from ..basics.dates import date_of, day_text, days_of
from ..basics.text import decimal, number, unit_name
from ..words.sentences import sentence
from .svg import Drawing, text_width

_LEFT, _RIGHT, _SIZE, _FOOT = 62, 12, 12, 26
_CAPTION, _GAP, _LANE, _LABEL = 22, 14, 20, 15
_WIDE = 600
# a row's height on a phone and at a desk
_HEIGHTS = {"build_up": (116, 190), "residual": (64, 90), "uses": (64, 90)}
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
# kinds of events, each a line of its own with its word
_LANES = (("fault", "Faults"), ("defect", "Defects"), ("setting", "Settings"), ("refill", "Refills"), ("run", "Test runs"))
_MOST_OF_LIMIT = 2.5


def history_picture(history, width, days=None, units="metric"):
    """One history (trends.over_time) as {"svg", "says", "rows"}; `days`: only the last so many.

    rows: texts of what happened, newest first: [date, what]
    """
    last = history["last"]
    first = history["first"] if days is None else max(history["first"], last - days)
    scale = _Scale(width, first, last)
    rows = _rows_of(history, scale, units)
    heights = [_CAPTION + _HEIGHTS[name][width > _WIDE] + _GAP for name, _, _, _ in rows]
    height = added_up(heights) + _LANE * len(_LANES) + _FOOT + 8
    drawing = Drawing(width, height)
    events = [event for event in history["events"] if first <= (last if event["kind"] == "defect" and event["until"] is None
                                                               else event["until"] or event["day"])]
    _months(drawing, scale, height)
    begun = [scale.x(event["day"]) for event in events if event["kind"] == "run" and event["day"] >= first]
    y = 0
    for (name, (caption, beside), values, draw), tall in zip(rows, heights):
        drawing.text("label", 4, y + 15, caption, 13, bold=True)
        drawing.text("axis", width - _RIGHT, y + 15, beside, _SIZE, "end")
        for x in begun:
            drawing.path("moment", [(x, y + _CAPTION), (x, y + tall - _GAP)], 1, "2 4")
        draw(drawing, scale, _Heights(y + _CAPTION, y + tall - _GAP, values, name == "build_up"))
        y += tall
    _lanes(drawing, scale, events, y)
    says = _says(history, events, first)
    return {"svg": drawing.svg(says), "says": says, "rows": [[day_text(event["day"]), event.get("says", "")] for event in reversed(events)]}


class _Scale:
    """Days to x."""

    def __init__(self, width, first, last):
        self.width, self.first, self.last = width, first, max(last, first + 7)

    def x(self, day):
        return _LEFT + (self.width - _LEFT - _RIGHT) * (min(max(day, self.first), self.last) - self.first) / (self.last - self.first)


class _Heights:
    """Values to y; where they are labelled inside, a line of text finds room above and below."""

    def __init__(self, top, low, values, labelled):
        self.top, self.low = top, low
        room = (max(values) - min(values)) * (_LABEL / (low - top - 2.0 * _LABEL) if labelled else 0.08) or 0.02 * max(values) or 1.0
        self.least, self.most = min(values) - room, max(values) + room

    def y(self, value):
        return self.low - (self.low - self.top) * (min(max(value, self.least), self.most) - self.least) / (self.most - self.least)

    def ticks(self):
        """Two to four round values."""
        step = 10.0 ** floor(log10(self.most - self.least))
        for part in (5, 2.5, 2, 1, 0.5, 0.25, 0.2):
            values = [part * step * place for place in range(int(self.least / (part * step)), int(self.most / (part * step)) + 1)]
            values = [value for value in values if self.least <= value <= self.most]
            if len(values) > 1:
                return values
        return [self.least, self.most]


def _rows_of(history, scale, units):
    """[(name, (caption, what stands beside it), values that must fit, what draws it)] of the rows that hold something."""
    out, first = [], scale.first
    points = [point for point in history["points"] if point["day"] >= first]
    if points:
        values = [point[name] for point in points for name in ("measured", "low", "high") if point[name] is not None]
        out.append(("build_up", ("Timed cycle, s", ""), values, lambda drawing, scale, rise: _timed(drawing, scale, rise, points)))
    left = [point for point in history["residual"] if point["day"] >= first]
    if left:
        limit, values = history["reset_bar"], [0.0] + [point["value"] for point in left]
        near = limit is not None and limit < _MOST_OF_LIMIT * max(values)
        beside = "" if limit is None else "must be below " + number(limit, "bar", units)
        out.append(("residual", ("Left after venting, " + unit_name("bar", units), beside), values + ([limit] if near else []),
                    lambda drawing, scale, rise: _left(drawing, scale, rise, left, limit if near else None, units)))
    uses = [use for use in history["uses"] if use["to"] > first]
    if uses:
        values = [0.0, 2.0] + [use["share"] for use in uses]
        out.append(("uses", ("Filled in over doses given", "thin line: how unsure"), values,
                    lambda drawing, scale, rise: _uses(drawing, scale, rise, uses)))
    return out


def _axis(drawing, scale, rise, text):
    drawing.path("grid", [(_LEFT, rise.top), (_LEFT, rise.low), (scale.width - _RIGHT, rise.low)], 1)
    for value in rise.ticks():
        y = rise.y(value)
        drawing.path("grid", [(_LEFT - 4, y), (_LEFT, y)], 1)
        drawing.text("axis", _LEFT - 7, y + 4, text(value), _SIZE, "end")


def _timed(drawing, scale, rise, points):
    band = [point for point in points if point["low"] is not None]
    if len(band) > 1:
        drawing.area("band", [(scale.x(point["day"]), rise.y(point["high"])) for point in band]
                     + [(scale.x(point["day"]), rise.y(point["low"])) for point in reversed(band)])
    _axis(drawing, scale, rise, lambda value: decimal(value, 1))
    for point in points:
        x, y = scale.x(point["day"]), rise.y(point["measured"])
        if point["outside"]:
            drawing.diamond("outside", x, y, 4)
        else:
            drawing.dot("reading", x, y, 2)
    if len(band) > 1:
        _name_band(drawing, scale, rise, points, band)


def _name_band(drawing, scale, rise, points, band):
    """The band's name right below it, or above it where readings lie below."""
    text = "expected at that day's temperature"
    near = [point for point in band if scale.x(point["day"]) < _LEFT + text_width(text, _SIZE)] or band[:1]
    low, high = min([point["low"] for point in near]), max([point["high"] for point in near])
    below = [point for point in points if point["day"] <= near[-1]["day"] and point["measured"] < low]
    drawing.text("moment-label", _LEFT + 6, rise.y(high) - 5 if below else rise.y(low) + _LABEL - 3, text, _SIZE)


def _left(drawing, scale, rise, points, limit, units):
    _axis(drawing, scale, rise, lambda value: number(value, "bar", units))
    places = [(scale.x(point["day"]), rise.y(point["value"])) for point in points]
    if len(places) > 1:
        drawing.path("trace-a", places, 1)
    for point, (x, y) in zip(points, places):
        if limit is not None and point["value"] >= limit:
            drawing.diamond("outside", x, y, 4)
        else:
            drawing.dot("reading", x, y, 2)
    if limit is not None:
        y = rise.y(limit)
        drawing.path("limit", [(_LEFT, y), (scale.width - _RIGHT, y)], 1, "6 4")


def _uses(drawing, scale, rise, uses):
    _axis(drawing, scale, rise, lambda value: decimal(value, 1))
    y = rise.y(1.0)
    drawing.path("grid", [(_LEFT, y), (scale.width - _RIGHT, y)], 1, "6 4")
    for use in uses:
        start, end, y = scale.x(use["from"]), scale.x(use["to"]), rise.y(use["share"])
        drawing.path("hair" if not use["low"] <= 1 <= use["high"] else "trace-a", [(start + 1, y), (end - 1, y)], 3)
        drawing.path("trace-a", [((start + end) / 2, rise.y(use["low"])), ((start + end) / 2, rise.y(use["high"]))], 1, "2 2")


def _lanes(drawing, scale, events, top):
    """What happened, a line for each kind: a defect from its raising to its closing, everything else a mark on its day."""
    for place, (kind, word) in enumerate(_LANES):
        y = top + _LANE * place + 10
        drawing.path("grid", [(_LEFT, y), (scale.width - _RIGHT, y)], 1)
        drawing.text("label", _LEFT - 7, y + 4, word, _SIZE, "end")
        for event in [one for one in events if one["kind"] == kind]:
            x = scale.x(event["day"])
            if kind == "defect":
                _defect(drawing, scale, event, x, y)
            elif event["day"] < scale.first:
                continue
            elif kind == "fault":
                drawing.diamond("outside", x, y, 4)
            elif kind == "refill":
                drawing.path("moment", [(x, y - 6), (x, y + 6)], 2)
            elif kind == "setting":
                drawing.square("reading", x, y, 4)
            else:
                drawing.dot("reading", x, y, 5)


def _defect(drawing, scale, event, x, y):
    """A thick line from raising to closing, with an end; one that is open runs out of the picture."""
    end = scale.width if event["until"] is None else max(scale.x(event["until"]), x + 3)
    drawing.path("hair", [(x, y), (end, y)], 5)
    if event["until"] is not None:
        drawing.path("hair", [(end, y - 6), (end, y + 6)], 2)


def _months(drawing, scale, height):
    """Names of months below, as many as find room, and a hair line up from each."""
    low = height - _FOOT
    drawing.path("grid", [(_LEFT, low), (scale.width - _RIGHT, low)], 1)
    room = text_width("Mar 2025", _SIZE) + 6
    months = max(1, (scale.last - scale.first) / 30.44)
    step = [step for step in (1, 2, 3, 6, 12, 24, 60, 120, 600) if (scale.width - _LEFT - _RIGHT) * step / months >= room][0]
    year, month = [int(part) for part in date_of(scale.first)[:7].split("-")]
    place = year * 12 + month - 1
    while True:
        day = days_of("%d-%s%d-01" % (place // 12, "0" if place % 12 < 9 else "", place % 12 + 1))
        if day > scale.last:
            break
        if day >= scale.first and place % step == 0:
            x = scale.x(day)
            drawing.path("grid", [(x, low), (x, low + 5)], 1)
            text = "%s %d" % (_MONTHS[place % 12], place // 12)
            wide = text_width(text, _SIZE) / 2
            drawing.text("axis", min(x, scale.width - 2 - wide), low + 18, text, _SIZE, "middle")
        place += 1


def _says(history, events, first):
    def count(kind):
        return len([event for event in events if event["kind"] == kind])

    points = [point for point in history["points"] if point["day"] >= first]
    return sentence("picture.history", {
        "first": day_text(first), "last": day_text(history["last"]), "readings": str(len(points)), "faults": str(count("fault")),
        "outside": str(len([point for point in points if point["outside"]])), "defects": str(count("defect")),
        "open": str(len([event for event in events if event["kind"] == "defect" and event["until"] is None])),
        "settings": str(count("setting")), "refills": str(count("refill")), "runs": str(count("run"))})["says"]
