"""Units against pint, and the reading of what people type against cases worked by hand (exact definitions of inch, psi, °F)."""
import json
from pathlib import Path

import pytest
from pint import UnitRegistry

from webapp.engine.document.catalogue import RANGE_FIELDS
from webapp.engine.document.documents import CATALOGUES
from webapp.engine.basics.text import UNITS
from webapp.unit_spellings import CHOICES
from webapp.units import Unreadable, read, unit_table

CASES = json.loads((Path(__file__).parent.parent / "units_cases.json").read_text(encoding="utf-8"))
REGISTRY = UnitRegistry()
# text.UNITS states its factors to eight digits or more
SHOWN = 1e-7
# pint's expression of both sides of a conversion for the reader; units that both readers see alike are left out
CONVERTED = {
    "bar": ("bar", "psi"), "Pa": ("Pa", "psi"), "MPa": ("MPa", "psi"), "cm³": ("cm**3", "inch**3"),
    "cm³/h": ("cm**3/hour", "inch**3/hour"), "cm³/day": ("cm**3/day", "inch**3/day"),
    "cm³/min": ("cm**3/minute", "inch**3/minute"), "cm³/(min·bar)": ("cm**3/minute/bar", "inch**3/minute/psi"),
    "cm³/(m·100 bar)": ("cm**3/m/hectobar", "inch**3/foot/kilopsi"), "cm³/m": ("cm**3/m", "inch**3/foot"),
    "l": ("liter", "gallon"), "mm": ("mm", "inch"), "m": ("m", "foot"), "cm²": ("cm**2", "inch**2"), "g": ("g", "ounce"),
    "°C": ("degC", "degF"), "K": ("delta_degC", "delta_degF"), "1/K": ("1/delta_degC", "1/delta_degF"),
    "kg/m³": ("kg/m**3", "lb/foot**3"), "g/cm³": ("g/cm**3", "lb/foot**3"), "mm²/s": ("mm**2/s", "centistokes"),
    "Ω/km": ("ohm/km", "ohm/kilofoot"),
}


@pytest.mark.parametrize("unit", CONVERTED)
def test_shown_conversion_agrees_with_pint(unit):
    metric, us = CONVERTED[unit]
    zero, hundred = (REGISTRY.Quantity(float(size), metric).to(us).magnitude for size in (0, 100))
    _, _, _, factor, offset, _ = UNITS[unit]
    assert 100 * factor == pytest.approx(hundred - zero, rel=SHOWN)
    assert offset == pytest.approx(zero, abs=1e-9)


@pytest.mark.parametrize("unit", [unit for unit in UNITS if unit not in CONVERTED])
def test_what_is_not_converted_is_the_same_for_every_reader(unit):
    _, _, _, factor, offset, _ = UNITS[unit]
    assert (factor, offset) == (1, 0)


TYPED = [(unit, name, expression) for unit, choices in CHOICES.items() for name, expression, _ in choices if expression]


@pytest.mark.parametrize("unit, name, expression", TYPED, ids=["%s as %s" % row[:2] for row in TYPED])
def test_reading_agrees_with_pint(unit, name, expression):
    base = CHOICES[unit][0][1]
    assert read("7.5 " + name, unit) == pytest.approx(REGISTRY.Quantity(7.5, expression).to(base).magnitude, rel=1e-9)


@pytest.mark.parametrize("unit", CHOICES)
def test_a_reader_s_own_unit_is_among_the_choices(unit):
    entry = unit_table()["units"][unit]
    names = [choice["name"] for choice in entry["choices"]]
    assert entry["metric"] == names[0]
    assert entry["us"] in names


@pytest.mark.parametrize("unit", CHOICES)
def test_no_spelling_means_two_units(unit):
    spellings = [spelling for choice in unit_table()["units"][unit]["choices"] for spelling in choice["spellings"]]
    assert len(spellings) == len(set(spellings))


def test_every_field_of_a_form_can_be_read():
    wanted = {entry["unit"] for catalogue in CATALOGUES.values() for entry in catalogue if entry["unit"]}
    assert wanted <= set(CHOICES)


def test_the_phone_s_table_is_json():
    assert json.loads(json.dumps(unit_table())) == unit_table()


@pytest.mark.parametrize("case", CASES["read"], ids=lambda case: "%s as %s" % (case["typed"], case["unit"]))
def test_typed_quantity_is_read(case):
    assert read(case["typed"], case["unit"], case.get("assumed")) == pytest.approx(case["value"], rel=1e-11)


@pytest.mark.parametrize("case", CASES["refused"], ids=lambda case: "%s as %s" % (case["typed"], case["unit"]))
def test_what_cannot_be_read_is_refused_with_a_sentence(case):
    with pytest.raises(Unreadable) as refusal:
        read(case["typed"], case["unit"])
    assert str(refusal.value) == case["says"]


# What a reader of either units types, by the contract's unit: (as typed, size in the contract's unit, offset). Exact by definition,
# written from memory: an inch is 25.4 mm, a pound-force 4.4482216152605 N, a US gallon 231 in³, a pound 0.45359237 kg, a circular
# mil a circle of 0.001 in across.
_INCH, _FOOT, _IN3, _PSI_BAR = 25.4, 304.8, 16.387064, 4.4482216152605 / 25.4 ** 2 * 10
USUAL = {
    "bar": (("bar", 1, 0), ("MPa", 10, 0), ("kPa", 0.01, 0), ("psi", _PSI_BAR, 0)),
    "Pa": (("Pa", 1, 0), ("kPa", 1000, 0), ("psi", _PSI_BAR * 1e5, 0)),
    "MPa": (("MPa", 1, 0), ("GPa", 1000, 0), ("bar", 0.1, 0), ("psi", _PSI_BAR / 10, 0)),
    "cm³": (("cm³", 1, 0), ("ml", 1, 0), ("mm3", 0.001, 0), ("in³", _IN3, 0), ("cu in", _IN3, 0)),
    "l": (("l", 1, 0), ("cm³", 0.001, 0), ("US gal", 3.785411784, 0), ("gal", 3.785411784, 0),
          ("qt", 0.946352946, 0), ("in³", _IN3 / 1000, 0)),
    "cm³/h": (("cm³/h", 1, 0), ("ml/h", 1, 0), ("in³/h", _IN3, 0)),
    "cm³/min": (("cm³/min", 1, 0), ("l/h", 1000 / 60, 0), ("in³/min", _IN3, 0)),
    "cm³/(min·bar)": (("cm³/(min·bar)", 1, 0), ("in³/(min·psi)", _IN3 / _PSI_BAR, 0)),
    "cm³/(m·100 bar)": (("cm³/m per 100 bar", 1, 0), ("in³/ft per 1000 psi", _IN3 / 0.3048 / (10 * _PSI_BAR), 0)),
    "mm": (("mm", 1, 0), ("cm", 10, 0), ("in", _INCH, 0), ('"', _INCH, 0), ("ft", _FOOT, 0)),
    "m": (("m", 1, 0), ("mm", 0.001, 0), ("ft", 0.3048, 0), ("in", 0.0254, 0)),
    "cm²": (("cm²", 1, 0), ("mm2", 0.01, 0), ("in²", 6.4516, 0), ("sq in", 6.4516, 0)),
    "mm²": (("mm²", 1, 0), ("kcmil", 0.5067074790974977, 0)),
    "°C": (("°C", 1, 0), ("°F", 1 / 1.8, -32 / 1.8), ("F", 1 / 1.8, -32 / 1.8)),
    "1/K": (("1/K", 1, 0), ("1/°C", 1, 0), ("1/°F", 1.8, 0)),
    "kg/m³": (("kg/m³", 1, 0), ("g/cm³", 1000, 0), ("lb/ft³", 0.45359237 / 0.3048 ** 3, 0)),
    "mm²/s": (("mm²/s", 1, 0), ("cSt", 1, 0)),
    "Pa·sⁿ": (("Pa·sⁿ", 1, 0),),
    "s": (("s", 1, 0), ("min", 60, 0), ("h", 3600, 0)),
    "h": (("h", 1, 0), ("min", 1 / 60, 0), ("days", 24, 0)),
    "days": (("days", 1, 0), ("h", 1 / 24, 0)),
    "A": (("A", 1, 0), ("mA", 0.001, 0)),
    "V": (("V", 1, 0),),
    "r/min": (("r/min", 1, 0), ("rpm", 1, 0)),
    "%": (("%", 1, 0),),
    "ratio": (("", 1, 0), ("%", 0.01, 0)),
    "1": (("", 1, 0), ("%", 0.01, 0)),
    "count": (("", 1, 0),),
}
FIELDS = [(name, entry) for name, catalogue in CATALOGUES.items() for entry in catalogue if entry["unit"]]
FIELDS += [("a range", entry) for entry in RANGE_FIELDS]


def inside(entry):
    """Values that the field allows: its ends and two between."""
    low, high = (0.0 if entry["low"] is None else entry["low"]), (1000.0 if entry["high"] is None else entry["high"])
    return (low, low + (high - low) * 0.037, low + (high - low) / 3, high)


@pytest.mark.parametrize("where, entry", FIELDS, ids=["%s %s" % (where, entry["path"]) for where, entry in FIELDS])
def test_every_field_takes_the_usual_units_of_both_readers_there_and_back(where, entry):
    table = unit_table()["units"][entry["unit"]]
    for spelling, size, offset in USUAL[entry["unit"]]:
        for value in inside(entry):
            typed = "%.15g %s" % ((value - offset) / size, spelling)
            assert read(typed, entry["unit"]) == pytest.approx(value, rel=1e-9, abs=1e-9), typed
    for choice in table["choices"]:
        for value in inside(entry):
            # as the phone writes a stored value beside a unit: six significant digits
            shown = "%.6g" % ((value - choice["offset"]) / choice["factor"])
            assert read(shown, entry["unit"], choice["name"]) == pytest.approx(value, rel=1e-5, abs=abs(choice["offset"]) * 1e-5), shown


def test_a_reader_of_us_units_has_one_wherever_a_metric_unit_is_not_theirs():
    alike = {"Pa·sⁿ", "s", "h", "days", "A", "V", "r/min", "%", "ratio", "1", "count"}
    for _, entry in FIELDS:
        assert entry["unit"] in alike or len(USUAL[entry["unit"]]) > 1
