"""What the lubricant's figures say: viscosity at the line's temperatures, index, grade, and whether the flow stays laminar."""
from collections import OrderedDict
from math import log10, pi

from .bearing import point_figures
from ..basics.figure import InputError, figure, given
from ..lubricants.generic_greases import GENERIC, generic
from ..lubricants.lubricant import OIL, viscosities
from .lubricant_findings import lubricant_findings
from ..lubricants.oil import (D341, D2270, ISO_3448, KELVIN, USUAL_INDEX, grade_limits, grade_of, index_ends, viscosity_at, viscosity_index,
                              walther_constants)

REYNOLDS = "Reynolds number of pipe flow"


def oil_of(lubricant):
    """(v40, v100 [mm²/s], is it an estimate, source or "") of the oil or base oil; None where not known or contradictory."""
    try:
        found = viscosities(lubricant)
    except InputError:
        return None
    if found:
        return found[0], found[1], bool(found[2]), ""
    like = None if lubricant["nlgi"] == OIL else generic(lubricant)
    return (like["v40_mm2_s"], like["v100_mm2_s"], True, GENERIC) if like else None


def _both(oil):
    return [("v40", given(oil[0], "mm²/s", "viscosity at 40 °C", oil[2])),
            ("v100", given(oil[1], "mm²/s", "viscosity at 100 °C", oil[2]))]


def _ends(low, high):
    return [("L", given(low, "mm²/s", "at 40 °C, of an oil of index 0")),
            ("H", given(high, "mm²/s", "at 40 °C, of an oil of index 100"))]


def _source(oil, of):
    return of + ("; " + oil[3] if oil[3] else "")


def viscosity(oil, t_c):
    """Kinematic viscosity [mm²/s] of the (base) oil at t_c [°C], a figure. Source: D341."""
    kelvin = max(t_c, 1 - KELVIN) + KELVIN
    a, b = walther_constants(oil[0], oil[1])
    value = viscosity_at(kelvin - KELVIN, oil[0], oil[1])
    inputs = [("A", given(a, "1", "from both viscosities", oil[2])), ("B", given(b, "1", "from both viscosities", oil[2]))]
    formula = "min(1000000000, 10 ** (10 ** (A - B * log10(t + 273.15))) - 0.7)"
    if value < 2:
        z = 10 ** (10 ** (a - b * log10(kelvin)))
        inputs = [("Z", given(z, "1", "of a thin oil, 10^(10^(A - B log10 T))", oil[2]))]
        formula = "Z - 0.7 - exp(-0.7487 - 3.295 * (Z - 0.7) + 0.6119 * (Z - 0.7) ** 2 - 0.3193 * (Z - 0.7) ** 3)"
    return figure(value, "mm²/s", formula, inputs + [("t", given(kelvin - KELVIN, "°C", "temperature"))] + _both(oil),
                  _source(oil, D341))


def index(oil):
    """Viscosity index as a figure, or None for oils too thin to have one. Source: D2270."""
    if oil[1] < 2:
        return None
    low, high = index_ends(oil[1])
    formula = "100 * (L - v40) / (L - H)"
    if oil[0] < high:
        formula = "(10 ** ((log10(H) - log10(v40)) / log10(v100)) - 1) / 0.00715 + 100"
    return figure(viscosity_index(oil[0], oil[1]), "index", formula, _both(oil) + _ends(low, high), _source(oil, D2270))


def second_viscosity(lubricant, oil):
    """The viscosity that is not entered, from the other and the index; None where both or none are. Source: D2270 turned round."""
    stated = [lubricant.get(field) for field in ("v40_mm2_s", "v100_mm2_s")]
    if (stated[0] is None) == (stated[1] is None):
        return None
    taken = lubricant.get("viscosity_index")
    taken, unknown = (USUAL_INDEX, True) if taken is None else (taken, False)
    at_index = ("index", given(taken, "index", "viscosity index", unknown))
    if stated[0] is not None:
        return figure(oil[1], "mm²/s", "v100", [("v100", given(oil[1], "mm²/s", "viscosity at 100 °C, found by halving", oil[2])),
                                                 ("v40", given(oil[0], "mm²/s", "viscosity at 40 °C")), at_index], D2270,
                      method="iterated", residual={"says": "index of the pair against the one taken, as a share of 100",
                                                   "value": abs(viscosity_index(oil[0], oil[1]) - taken) / 100, "limit": 0.005})
    low, high = index_ends(oil[1])
    formula = "L - index / 100 * (L - H)" if taken <= 100 else "H / v100 ** log10((index - 100) * 0.00715 + 1)"
    return figure(oil[0], "mm²/s", formula,
                  [("v100", given(oil[1], "mm²/s", "viscosity at 100 °C")), at_index] + _ends(low, high), D2270)


def grade(oil):
    """ISO VG grade as a figure, or None between two grades. Source: ISO_3448."""
    name = grade_of(oil[0])
    if name is None:
        return None
    least, most = grade_limits(name)
    return figure(name, "count", "grade * (least <= v40) * (v40 <= most)", [
        ("grade", given(name, "count", "ISO VG")), ("least", given(least, "mm²/s", "least of the grade")),
        ("most", given(most, "mm²/s", "most of the grade")), ("v40", given(oil[0], "mm²/s", "viscosity at 40 °C", oil[2]))],
        _source(oil, ISO_3448), method="chosen")


def reynolds(document, oil):
    """Greatest Reynolds number on the line, a figure with `at`, a pipe: the whole delivery where bore and hottest oil make it so."""
    flow, ranked = document["pump"]["delivery_cm3_min"], []
    for number, section in enumerate(document["sections"]):
        t = (section.get("ambient") or document["ambient"])["hottest_c"]
        ranked.append((-section["bore_mm"] * viscosity_at(t, oil[0], oil[1]), -number, t))
    _, number, t = max(ranked)
    section = document["sections"][-number]
    nu, bore = viscosity_at(t, oil[0], oil[1]), section["bore_mm"]
    out = figure(4 * flow / 60 * 1000 / (pi * bore * nu), "count", "4 * flow / 60 * 1000 / (pi * bore * nu)", [
        ("flow", given(flow, "cm³/min", "the pump's whole delivery")), ("bore", given(bore, "mm", "bore of the pipe")),
        ("nu", given(nu, "mm²/s", "viscosity at the hottest temperature", oil[2])), ("t", given(t, "°C", "hottest"))], REYNOLDS)
    out["at"] = section["id"]
    return out


def lubricant_figures(document, oil):
    """Section `lubricant` of a worked document; empty where the (base) oil's viscosity is not known."""
    out = OrderedDict()
    if oil:
        out["second_viscosity"] = second_viscosity(document["lubricant"], oil)
        for when in ("usual", "coldest", "hottest"):
            out["viscosity_" + when] = viscosity(oil, document["ambient"][when + "_c"])
        out["viscosity_index"], out["grade"] = index(oil), grade(oil)
        if document["lubricant"]["nlgi"] == OIL:
            out["reynolds_hottest"] = reynolds(document, oil)
    return OrderedDict([(name, entry) for name, entry in out.items() if entry is not None])


def add_lubricant(document, worked):
    """Put the lubricant's figures and those of every point's rules into a worked document; returns the findings."""
    lubricant = document["lubricant"]
    oil = oil_of(lubricant)
    worked["lubricant"] = lubricant_figures(document, oil)
    for point, figures in zip(document["points"], worked["points"]):
        for name, entry in point_figures(point["need"], figures["need"], lubricant, oil):
            if entry is not None:
                figures[name] = entry
    return lubricant_findings(document, worked, oil)
