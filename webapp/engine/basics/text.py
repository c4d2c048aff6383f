"""Numbers as text for a reader, identical on both interpreters: integer arithmetic only, no format, round or repr.

The one place that knows reader's units. Engine values stay in the contract's units; only texts are converted.
"""
from math import floor, log10

READERS = ("metric", "us")
MINUS = "\u2212"
MISSING = "not known"
# a hair above one half, so that a value that is a tie but for its last bits is rounded the same way everywhere
_TIE = 1e-11

# digits after the point by size: ((from, digits), ...), largest first; negative digits round to tens and hundreds
_COARSE = ((100, 0), (10, 1), (1, 2), (0.1, 3), (0.01, 4), (0, 5))
_WHOLE = ((0, 0),)
_PRESSURE = ((10, 0), (1, 1), (0, 2))
_PSI = ((100, -1), (10, 0), (0, 1))
_ONE = ((100, 0), (0, 1))
_TWO = ((100, 0), (10, 1), (0, 2))
_FINE = ((100, 1), (1, 2), (0, 3))
_BORE = ((10, 1), (0.1, 2), (0, 4))

# unit of the contract: (metric text, digits, US text, factor, offset, digits)
UNITS = {
    "bar": ("bar", _PRESSURE, "psi", 14.503773773, 0, _PSI),
    "Pa": ("Pa", ((100, -1), (10, 0), (0, 1)), "psi", 1.4503773773e-4, 0, ((1, 2), (0.1, 3), (0.01, 4), (0, 5))),
    "MPa": ("MPa", ((1000, -1), (10, 0), (0, 1)), "psi", 145.03773773, 0, ((100000, -3), (0, -1))),
    "cm³": ("cm³", _TWO, "in³", 0.061023744095, 0, _COARSE),
    "cm³/h": ("cm³/h", _COARSE, "in³/h", 0.061023744095, 0, _COARSE),
    "cm³/day": ("cm³/day", _TWO, "in³/day", 0.061023744095, 0, _COARSE),
    "cm³/min": ("cm³/min", _TWO, "in³/min", 0.061023744095, 0, _COARSE),
    "cm³/(min·bar)": ("cm³/(min·bar)", _TWO, "in³/(min·psi)", 0.004207439047, 0, _COARSE),
    "cm³/(m·100 bar)": ("cm³/m per 100 bar", _FINE, "in³/ft per 1000 psi", 0.012824274214, 0, _COARSE),
    "cm³/m": ("cm³/m", _TWO, "in³/ft", 0.018600037, 0, _COARSE),
    "l": ("l", _TWO, "US gal", 0.264172052, 0, _TWO),
    "mm": ("mm", _BORE, "in", 1 / 25.4, 0, ((10, 1), (1, 2), (0.01, 3), (0, 5))),
    "m": ("m", _ONE, "ft", 1 / 0.3048, 0, _ONE),
    "cm²": ("cm²", _ONE, "in²", 0.15500031, 0, _TWO),
    "mm²": ("mm²", _TWO, "mm²", 1, 0, _TWO),
    "g": ("g", _TWO, "oz", 0.0352739619, 0, _COARSE),
    "°C": ("°C", _ONE, "°F", 1.8, 32, _WHOLE),
    "K": ("K", _ONE, "°F difference", 1.8, 0, _WHOLE),
    "1/K": ("1/K", _COARSE, "1/°F", 1 / 1.8, 0, _COARSE),
    "kg/m³": ("kg/m³", _WHOLE, "lb/ft³", 0.062427961, 0, _ONE),
    "g/cm³": ("g/cm³", _FINE, "lb/ft³", 62.427961, 0, _ONE),
    "mm²/s": ("mm²/s", _TWO, "cSt", 1, 0, _TWO),
    "Pa·s": ("Pa·s", _COARSE, "Pa·s", 1, 0, _COARSE),
    "Pa·sⁿ": ("Pa·sⁿ", _COARSE, "Pa·sⁿ", 1, 0, _COARSE),
    "A": ("A", _TWO, "A", 1, 0, _TWO),
    "W": ("W", _ONE, "W", 1, 0, _ONE),
    "V": ("V", _TWO, "V", 1, 0, _TWO),
    "Ω/km": ("Ω/km", _TWO, "Ω/1000 ft", 0.3048, 0, _TWO),
    "%": ("%", ((10, 0), (0, 1)), "%", 1, 0, ((10, 0), (0, 1))),
    "r/min": ("r/min", _WHOLE, "r/min", 1, 0, _WHOLE),
    "mm/min": ("mm/min", _WHOLE, "mm/min", 1, 0, _WHOLE),
    "index": ("", _WHOLE, "", 1, 0, _WHOLE),
    "h": ("h", _ONE, "h", 1, 0, _ONE),
    "min": ("min", _ONE, "min", 1, 0, _ONE),
    "days": ("days", ((10, 0), (0, 1)), "days", 1, 0, ((10, 0), (0, 1))),
    "1/s": ("1/s", _TWO, "1/s", 1, 0, _TWO),
    "count": ("", ((100, 0), (0, 2)), "", 1, 0, ((100, 0), (0, 2))),
    "ratio": ("", _TWO, "", 1, 0, _TWO),
    "1": ("", _COARSE, "", 1, 0, _COARSE),
}


def decimal(value, digits):
    """The number with at most `digits` after the point (negative: rounded to tens, hundreds), trailing zeros cut."""
    if value != value or value in (float("inf"), float("-inf")):
        return MISSING
    scale = 10 ** abs(digits)
    size = abs(value)
    scaled = size * scale if digits >= 0 else size / scale
    whole = floor(scaled + 0.5 + _TIE * (scaled + 1))
    sign = MINUS if value < 0 and whole else ""
    if digits <= 0:
        return sign + str(whole * (scale if digits < 0 else 1))
    tail = str(whole % scale)
    tail = ("0" * (digits - len(tail)) + tail).rstrip("0")
    return sign + str(whole // scale) + ("." + tail if tail else "")


def _digits(size, rule):
    for start, digits in rule:
        if size >= start * (1 - _TIE):
            return digits
    return rule[-1][1]


def _tiny(size):
    """Digits that keep two figures of a number that its unit's rule would show as nothing."""
    return min(12, 2 + int(floor(-log10(size)))) if size > 0 else 0


def number(value, unit, units="metric"):
    """The number alone, converted to the reader's units ("metric" or "us") and rounded as the trade would."""
    metric_text, metric_rule, us_text, factor, offset, us_rule = UNITS[unit]
    rule = metric_rule
    if units == "us":
        value, rule = value * factor + offset, us_rule
    if value != value or value in (float("inf"), float("-inf")):
        return MISSING
    digits = _digits(abs(value), rule)
    if digits > 0 and 0 < abs(value) * 10 ** digits < 0.5:
        digits = _tiny(abs(value))
    return decimal(value, digits)


def unit_name(unit, units="metric"):
    """The unit's text for a reader; empty for counts and ratios."""
    return UNITS[unit][2 if units == "us" else 0]


def seconds(value):
    """A time as a reader says it: "14.2 s", "2 min 5 s", "3 h 40 min". Negative and unknown times are not known."""
    if value != value or value < 0 or value == float("inf"):
        return MISSING
    if value < 59.95:
        return decimal(value, 1) + " s"
    whole = floor(value + 0.5 + _TIE * value)
    if value >= 3600 and abs(value - whole) > 1e-6:
        whole = 60 * floor(value / 60 + 0.5)
    hours, rest = whole // 3600, whole % 3600
    parts = [(hours, "h"), (rest // 60, "min"), (rest % 60, "s")]
    return " ".join("%d %s" % part for part in parts if part[0])


def shown(value, unit, units="metric", language="en"):
    """The text of a value for a reader, unit included. Lists are joined; bools become yes or no."""
    if value is None:
        return MISSING
    if isinstance(value, bool) or unit == "bool":
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, (list, tuple)):
        return ", ".join(shown(entry, unit, units, language) for entry in value)
    if unit == "s":
        return seconds(value)
    name = unit_name(unit, units)
    text = number(value, unit, units)
    if text == MISSING or not name:
        return text
    return text + " " + ("day" if name == "days" and text == "1" else name)
