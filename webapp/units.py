"""Reads what people type ("150 psi", "0,5 cm³", "1/2 in", "3 h 40 min") into the contract's units.

pint knows the factors, the lists in unit_spellings.py what may be typed. `unit_table()` is the same knowledge as JSON for
the phone, which reads by the same steps; tests/units_cases.json holds both readers to the same answers.
"""
import re
from fractions import Fraction
from functools import lru_cache

from .engine.basics.text import UNITS
from .unit_spellings import ADDED_UP, CHOICES

LONGEST_TEXT = 60
SIGNIFICANT = 12

# what is typed or pasted -> what it is read as
REPLACED = {"\u2212": "-", "\u2012": "-", "\u2013": "-", "\u2044": "/", "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8",
            "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "\u00a0": " ",
            "\u202f": " ", "\u2009": " ", "\t": " "}
# within a unit: spaces, signs of a product or a power and brackets go, raised digits become plain
IN_UNITS = {" ": "", "^": "", "*": "", "·": "", "(": "", ")": "", "²": "2", "³": "3", "⁻": "-", "¹": "1", "ⁿ": "n",
            "µ": "u", "º": "°"}

SAYS = {
    "nothing": "Enter a number.",
    "number": "\u201c{text}\u201d cannot be read as a number. Type it like 12.5 or 12,5.",
    "two_ways": "\u201c{text}\u201d can be read in two ways. Type {whole} or {part}.",
    "zero": "\u201c{text}\u201d divides by 0. Type it like 1/2.",
    "unit": "\u201c{unit}\u201d does not fit here. Use {names}.",
    "no_unit": "\u201c{unit}\u201d does not fit here. Type the number alone.",
    "parts": "\u201c{text}\u201d cannot be added up. Give every part its unit, the largest first, like {example}.",
}
_EXAMPLES = {"m": "5 ft 3 in", "mm": "5 ft 3 in"}
_EXAMPLE = "3 h 40 min"

_NUMBER = re.compile(r"([+-]?) ?(?:(?:(\d+)[ -])?(\d+)/(\d+)|"
                     r"((?:\d{1,3}(?:[ ']\d{3})+(?!\d)|\d+)?(?:[.,]\d+)*)[.,]?([eE][+-]?\d+)?)", re.ASCII)
_PART_UNIT = re.compile(r" ?([a-zA-Z.'\"]*) ?")


class Unreadable(ValueError):
    """What was typed is no quantity for this field; its text is a sentence for a reader."""

    def __init__(self, says, **words):
        text = SAYS[says]
        for name, word in words.items():
            text = text.replace("{%s}" % name, word)
        ValueError.__init__(self, text)


def canonical(unit):
    """A unit's spelling without what does not matter: "cm^3 / min" and "cm³/min" become "cm3/min"."""
    return "".join(IN_UNITS.get(letter, letter) for letter in unit)


def _factor_and_offset(expression, base, registry):
    if expression is None or expression == base:
        return 1.0, 0.0
    zero, one = (registry.Quantity(Fraction(size), expression).to(base).magnitude for size in (0, 1))
    return float(one - zero), float(zero)


@lru_cache(maxsize=1)
def unit_table():
    """All that the phone needs for reading, as JSON.

    units      contract unit -> {"choices", "metric", "us", "adds"}; a choice: name, spellings, factor, offset, with
               contract = entered * factor + offset; metric, us: the choice that a reader of those units begins with
    replaced, in_units, says, longest, significant: see this module
    """
    from pint import UnitRegistry  # takes half a second: only when somebody reads units
    registry = UnitRegistry(non_int_type=Fraction)
    units = {}
    for unit, choices in CHOICES.items():
        rows = []
        for name, expression, others in choices:
            factor, offset = _factor_and_offset(expression, choices[0][1], registry)
            spellings = sorted({canonical(spelling) for spelling in (name,) + others})
            rows.append({"name": name, "spellings": spellings, "factor": factor, "offset": offset})
        metric, us = (UNITS[unit][0], UNITS[unit][2]) if unit in UNITS else (unit, unit)
        units[unit] = {"choices": rows, "metric": metric, "us": us, "adds": unit in ADDED_UP,
                       "example": _EXAMPLES.get(unit, _EXAMPLE)}
    return {"units": units, "replaced": REPLACED, "in_units": IN_UNITS, "says": SAYS, "longest": LONGEST_TEXT,
            "significant": SIGNIFICANT}


def read(text, unit, assumed=None):
    """The quantity typed, in the contract's unit.

    unit      the field's unit, a key of CHOICES
    assumed   name of the choice that a number without a unit is in; the contract's unit where None
    Raises Unreadable with a sentence for a reader.
    """
    entry = unit_table()["units"][unit]
    typed = "".join(REPLACED.get(letter, letter) for letter in text)
    typed = " ".join(typed.split())
    if not typed:
        raise Unreadable("nothing")
    if len(typed) > LONGEST_TEXT:
        raise Unreadable("number", text=typed[:LONGEST_TEXT] + "…")
    number, rest = _leading_number(typed)
    if entry["adds"] and re.search("[0-9]", rest):
        value = _added_up(typed, entry)
    else:
        choice = _choice(entry, rest.strip() or (entry["choices"][0]["name"] if assumed is None else assumed))
        value = number * choice["factor"] + choice["offset"]
    return float("%.*g" % (SIGNIFICANT, value))


def _leading_number(typed):
    """(number, what follows it)."""
    match = _NUMBER.match(typed)
    sign, whole, above, below, digits, power = match.groups()
    if above:
        if int(below) == 0:
            raise Unreadable("zero", text=typed)
        number = int(whole or 0) + int(above) / int(below)
    elif digits:
        number = float(_decimal(digits) + (power or ""))
    else:
        raise Unreadable("number", text=typed)
    if number == float("inf"):
        raise Unreadable("number", text=typed)
    return -number if sign == "-" else number, typed[match.end():]


def _decimal(digits):
    """A number's text with a decimal point and no marks between thousands."""
    tight = digits.replace(" ", "").replace("'", "")
    parts = re.split(r"[.,]", tight)
    marks = [letter for letter in tight if letter in ".,"]
    if not marks:
        return tight
    grouped = all(len(part) == 3 for part in parts[1:]) and 1 <= len(parts[0]) <= 3
    if len(marks) == 1:
        if marks[0] == "," and grouped and not parts[0].startswith("0") and tight == digits:
            raise Unreadable("two_ways", text=digits, whole="".join(parts), part=".".join(parts))
        return ".".join(parts)
    if len(set(marks)) == 1 and grouped:
        return "".join(parts)
    if marks.count(marks[-1]) == 1 and all(len(part) == 3 for part in parts[1:-1]) and 1 <= len(parts[0]) <= 3:
        return "".join(parts[:-1]) + "." + parts[-1]
    raise Unreadable("number", text=digits)


def _choice(entry, unit):
    """The choice that a typed unit names."""
    wanted = canonical(unit)
    for spelling in (wanted, wanted.lower()):
        for choice in entry["choices"]:
            if spelling in choice["spellings"]:
                return choice
    names = [choice["name"] for choice in entry["choices"] if choice["name"]]
    raise Unreadable("unit", unit=unit, names=", ".join(names)) if names else Unreadable("no_unit", unit=unit)


def _added_up(typed, entry):
    """A sum of parts, each with its unit, the larger units first, none negative."""
    total, last, rest = 0.0, float("inf"), typed
    while rest:
        number, rest = _leading_number(rest)
        match = _PART_UNIT.match(rest)
        if not match.group(1) or number < 0:
            raise Unreadable("parts", text=typed, example=entry["example"])
        choice, rest = _choice(entry, match.group(1)), rest[match.end():]
        if choice["factor"] >= last:
            raise Unreadable("parts", text=typed, example=entry["example"])
        last = choice["factor"]
        total += number * last
    return total
