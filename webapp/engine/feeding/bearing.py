"""Figures of a point beyond its need: the other published rule, the bearing's interval and quantity, speed and oil film."""
from ..basics.figure import figure, given
from ..lubricants.generic_greases import GENERIC
from .needs import (FACTORS, INTERVAL, QUANTITIES, SET_B_FROM_C, SETS, bearing_by_film, bearing_interval, factor_set, factors_of,
                    film_hours, highest_speed, interval_formula, outer_ring_turns, product, quantity_source, regrease_mass, rolling,
                    speed_factor, working_speed)
from ..lubricants.oil import D341, viscosity_at

SPEED = "n·dm as in a trade magazine's bearing formulas"
KAPPA = "reference viscosity after ISO 281, formula from memory; viscosity by " + D341
_MEANS = {"temperature": "temperature", "shaft": "shaft: 0.5 upright", "size": "bore: 0.5 above 300 mm",
          "judgement": "judged: vibration, dirt", "design": "bearing design", "contamination": "contamination",
          "moisture": "moisture", "vibration": "vibration", "position": "shaft position"}
_SIZES = ("bore_mm", "outer_mm", "width_mm", "speed_rpm")


def running_c(need):
    """(temperature at which the bearing runs [°C], True where it is not entered: 70 °C, up to which the interval holds)."""
    stated = need.get("running_c")
    return (SET_B_FROM_C, True) if stated is None else (stated, False)


def _sized(need):
    """True where a need by film also has a bearing's sizes; nothing but the method's own fields has been checked."""
    sizes = [need.get(field) for field in _SIZES]
    if not all([isinstance(size, (int, float)) and not isinstance(size, bool) and 0.1 < size < 1e5 for size in sizes]):
        return False
    return sizes[1] > sizes[0] and sizes[3] < 0.999 * highest_speed(sizes[0])


def other_rule(need, lubricant):
    """The need [cm³/h] by the rule that was not chosen, a figure, or None where only one rule applies."""
    if need["method"] == "rolling":
        return bearing_by_film(need, film_hours(lubricant))
    if need["method"] == "film" and _sized(need):
        sizes = {field: need[field] for field in _SIZES}
        return rolling(dict(sizes, factors=need.get("factors")), lubricant)
    return None


def other_ratio(need, other):
    """How many times the chosen rule's figure the other one gives, or None where nothing is needed."""
    if other is None or not need["value"] > 0:
        return None
    return figure(other["value"] / need["value"], "ratio", "other / need", [
        ("other", given(other["value"], "cm³/h", "by the other rule", other["estimate"])),
        ("need", given(need["value"], "cm³/h", "by the rule that was used", need["estimate"]))],
        "two published rules that do not agree")


def factors_figure(need):
    """K, the product of the need's factors, as a figure that names each and says which set it is."""
    factors = factors_of(need)
    inputs = [(name, given(value, "1", _MEANS[name])) for name, value in factors]
    names = [name for name, _ in factors]
    formula = " * ".join(names)
    if names[0] == "temperature" and names[1] not in FACTORS:
        t, unknown = running_c(need)
        formula = formula.replace("temperature", "min(2, 2 ** ((70 - t) / 15))", 1)
        inputs[0] = ("t", given(t, "°C", "running temperature", unknown))
    return figure(product(factors), "1", formula, inputs, SETS[factor_set(need)])


def interval(need):
    """Hours between replenishments of a rolling bearing as a figure, by the need's factor set. Source: INTERVAL and SETS."""
    factors = factors_figure(need)
    value = bearing_interval(factors["value"], working_speed(need), need["bore_mm"])
    inputs = [("K", given(factors["value"], "1", "product of the factors", factors["estimate"])),
              ("n", given(need["speed_rpm"], "r/min", "speed")), ("d", given(need["bore_mm"], "mm", "bore"))]
    if outer_ring_turns(need):
        inputs.append(("D", given(need["outer_mm"], "mm", "outside diameter: the outer ring turns")))
    return figure(value, "h", interval_formula(need), inputs, "%s; %s" % (INTERVAL, SETS[factor_set(need)]))


def _quantity(need):
    which = need.get("quantity") or "any"
    factor = QUANTITIES[which]
    return figure(regrease_mass(need["outer_mm"], need["width_mm"], factor), "g", "k * D * B", [
        ("k", given(factor, "1", "g for each mm² of D x B", which != "any")),
        ("D", given(need["outer_mm"], "mm", "outside diameter")), ("B", given(need["width_mm"], "mm", "width"))],
        quantity_source(need))


def _speed_factor(need):
    d, outer, speed = need["bore_mm"], need["outer_mm"], need["speed_rpm"]
    value, formula = speed_factor(d, outer, speed), "n * (d + D) / 2"
    if outer_ring_turns(need):
        value, formula = speed * outer, "n * D"
    return figure(value, "mm/min", formula, [
        ("n", given(speed, "r/min", "speed")), ("d", given(d, "mm", "bore")),
        ("D", given(outer, "mm", "outside diameter"))], SPEED)


def _speed_limit(need):
    return figure(highest_speed(need["bore_mm"]), "r/min", "3500000 / d ** 1.5", [("d", given(need["bore_mm"], "mm", "bore"))],
                  "where the interval formula gives nothing any more")


def viscosity_ratio(need, oil):
    """kappa of a rolling bearing as a figure: the oil's viscosity where it runs over the reference of its size and speed.

    Reference [mm²/s] from n [r/min] and mean diameter dm [mm]: 4500 / sqrt(n dm), below 1000 r/min 45000 n^-0.83 dm^-0.5.
    `oil`: (v40, v100 [mm²/s], is it an estimate, source or ""). Source: KAPPA.
    """
    t, unknown = running_c(need)
    nu = viscosity_at(t, oil[0], oil[1])
    n, dm = need["speed_rpm"], (need["bore_mm"] + need["outer_mm"]) / 2
    if n < 1000:
        value, formula = nu * n ** 0.83 * dm ** 0.5 / 45000, "nu * n ** 0.83 * sqrt((d + D) / 2) / 45000"
    else:
        value, formula = nu * (n * dm) ** 0.5 / 4500, "nu * sqrt(n * (d + D) / 2) / 4500"
    return figure(value, "ratio", formula, [
        ("nu", given(nu, "mm²/s", "viscosity of the oil at t", unknown or oil[2])), ("n", given(n, "r/min", "speed")),
        ("d", given(need["bore_mm"], "mm", "bore")), ("D", given(need["outer_mm"], "mm", "outside diameter")),
        ("t", given(t, "°C", "running temperature", unknown)), ("v40", given(oil[0], "mm²/s", "viscosity at 40 °C", oil[2])),
        ("v100", given(oil[1], "mm²/s", "viscosity at 100 °C", oil[2]))],
        KAPPA + ("; oil of a " + GENERIC if oil[3] else ""), True)


def point_figures(need, needed, lubricant, oil):
    """[(name, figure or None)] of one point; `needed` is the figure of its need, `oil` as for viscosity_ratio or None."""
    other = other_rule(need, lubricant)
    out = [("other_rule", other), ("other_ratio", other_ratio(needed, other))]
    if need["method"] == "rolling":
        out += [("factors_" + factor_set(need).lower(), factors_figure(need)), ("regrease_interval", interval(need)),
                ("regrease_quantity", _quantity(need)), ("speed_factor", _speed_factor(need)),
                ("speed_limit", _speed_limit(need)), ("kappa", viscosity_ratio(need, oil) if oil else None)]
    return out
