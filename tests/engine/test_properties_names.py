"""Names, order and units carry no quantity: properties over generated systems of every kind, each with its why."""
import math
import random

import pint

from webapp.engine.bridge import ask

from .properties import pairs
from .sound import figures_in
from .systems import any_system


def by_place(worked, renamed=lambda name: name):
    """Path -> value of every figure, points and blocks by their names."""
    out = dict(worked)
    for group in ("points", "blocks"):
        out[group] = {renamed(one["id"]): one for one in worked.get(group, [])}
    out["findings"] = {}
    return {path: one["value"] for path, one in figures_in(out)}


def assert_alike(one, other, seed):
    assert sorted(one) == sorted(other), seed
    for path, here in one.items():
        there = other[path]
        if isinstance(here, float) and not isinstance(there, (bool, type(None))):
            assert math.isclose(here, there, rel_tol=1e-6, abs_tol=1e-9), (seed, path, here, there)
        else:
            assert here == there, (seed, path)


def _shuffled(thing, rng):
    """The same document with its keys in another order."""
    if isinstance(thing, dict):
        names = rng.sample(list(thing), len(thing))
        return {name: _shuffled(thing[name], rng) for name in names}
    return [_shuffled(one, rng) for one in thing] if isinstance(thing, list) else thing


def test_order_without_meaning_changes_no_figure():
    """Devices, points and pipes are known by their names; a form or another program lists them as it likes."""
    def shuffled(document, rng):
        fresh = _shuffled(document, rng)
        document.clear()
        document.update(fresh)
        for group in ("devices", "points", "sections"):
            rng.shuffle(document[group])
    for before, after, seed in pairs(shuffled):
        assert_alike(by_place(before), by_place(after), seed)
        assert sorted(one["id"] for one in before["findings"]) == sorted(one["id"] for one in after["findings"]), seed


def test_other_names_change_no_figure():
    """A name is what people call a thing."""
    other = lambda name: name if name == "pump" else "x " + name[::-1]

    def renamed(document, rng):
        for group in ("sections", "devices", "points", "switches"):
            for thing in document.get(group, []):
                for field in ("id", "from", "to", "at", "device", "counts", "outlet"):
                    if field in thing:
                        thing[field] = other(thing[field])
                for outlet in thing.get("outlets", []):
                    outlet.update({field: other(outlet[field]) for field in ("id", "joined_to") if field in outlet})
                if "hangs_from" in thing:
                    thing["hangs_from"] = {field: other(name) for field, name in thing["hangs_from"].items()}
        for entry in document.get("measured", {}).get("residual_bar", []):
            entry["at"] = other(entry["at"])
    for before, after, seed in pairs(renamed):
        assert_alike(by_place(before, other), by_place(after), seed)


_UNITS = {"bar": ("bar", "psi"), "cm³": ("cm**3", "inch**3"), "cm³/h": ("cm**3/hour", "inch**3/hour"), "mm": ("mm", "inch"),
          "cm³/day": ("cm**3/day", "inch**3/day"), "Pa": ("Pa", "psi"), "m": ("m", "foot"), "g": ("g", "ounce"),
          "cm³/min": ("cm**3/min", "inch**3/min"), "l": ("liter", "gallon"), "kg/m³": ("kg/m**3", "lb/foot**3")}


def test_both_systems_of_units_show_the_same_quantity():
    """A reader in one country must not feed another amount than a reader in the other: by the factors of another program, within
    what is rounded off."""
    units, compared = pint.UnitRegistry(), set()
    for seed in range(34000, 34040):
        metric, american = (ask({"do": "work", "document": any_system(seed, 8), "units": name, "simulate": False})
                            for name in ("metric", "us"))
        for (path, one), (_, other) in zip(figures_in(metric), figures_in(american), strict=True):
            assert one["value"] == other["value"], path
            for here, there in [(one, other)] + list(zip(one["inputs"].values(), other["inputs"].values(), strict=True)):
                unit = here.get("unit")
                if unit in _UNITS and isinstance(here["value"], (int, float)) and here["value"] > 0:
                    base, foreign = _UNITS[unit]
                    for shown, wanted in ((here["shown"], here["value"]),
                                          (there["shown"], (here["value"] * units(base)).to(foreign).magnitude)):
                        number = shown.split(" ")[0]
                        assert abs(float(number) - wanted) <= _rounding(number), (seed, path, shown, wanted)
                    compared.add(unit)
    assert compared == set(_UNITS)


def _rounding(number):
    """Half of the last digit that is shown: trailing zeros of a whole number may be rounded ones."""
    whole, _, tail = number.partition(".")
    return 0.5000001 * 10.0 ** (-len(tail) if tail else len(whole) - len(whole.rstrip("0")))
