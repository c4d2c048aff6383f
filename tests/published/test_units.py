"""Units against pint, and the reading of what people type against cases worked by hand (exact definitions of inch, psi, °F)."""
import json
from pathlib import Path

import pytest
from pint import UnitRegistry

from webapp.engine.document.catalogue import CATALOGUES
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
