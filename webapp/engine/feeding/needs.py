"""What each lubrication point needs per hour, by the bearing's size and speed, by a film to renew, or as stated."""
from math import pi

from ..basics.figure import InputError, figure, given
from ..lubricants.lubricant import DEFAULTS, OIL

QUANTITY = "The Tribology Handbook, A20 (0.005 g/mm²)"
REMEMBERED_QUANTITY = "bearing literature, from memory"
INTERVAL = "interval: published relubrication formula"
FILM = "basic lubrication formulas, volume = area x film (published formula page)"
GEOMETRY = FILM + "; area by geometry, no published rule"
STATED = "stated by the user"
LONGEST_INTERVAL_H = 30000
LARGE_BORE_MM = 300

# two published ways to shorten the interval, never mixed: A by six factors, B by temperature, shaft and size
SETS = {"A": "factor set A: editable, from memory; bearing design: The Tribology Handbook, A20",
        "B": "factor set B: a bearing maker's catalogue; bearing design: The Tribology Handbook, A20"}
FACTORS = ("temperature", "contamination", "moisture", "vibration", "position", "design")
SET_B_FROM_C = 70
# g of grease for each mm² of outside diameter x width, by how often it is replenished
QUANTITIES = {"any": 0.005, "weekly": 0.002, "monthly": 0.003, "yearly": 0.004}

FILM_MM, FILM_GREASE_H, FILM_OIL_H = 0.0254, 4, 1
# sizes that stand for an area: (fields, factor and formula for cm², meanings)
AREAS = (
    (("area_cm2",), 1, "area", ("area to lubricate",)),
    (("shaft_mm", "length_mm"), pi / 100, "pi * shaft * length / 100", ("shaft diameter", "bearing length")),
    (("pitch_mm", "width_mm"), pi / 100, "pi * pitch * width / 100", ("pitch diameter", "face width")),
    (("slide_mm", "width_mm"), 1 / 100, "slide * width / 100", ("length of the slideway", "width of the slideway")),
    (("pin_mm", "bush_mm", "links"), pi / 100, "pi * pin * bush * links / 100",
     ("pin diameter", "length of a pin's bearing", "links of all strands")),
)
_BY_GEOMETRY = ("pitch_mm", "pin_mm")


def bearing_interval(factor, speed_rpm, bore_mm):
    """Hours between replenishments of a rolling bearing: K (14 000 000 / (n sqrt(d)) - 4 d), at most 30 000 h.

    factor K above 0; speed_rpm [r/min] above 0; bore_mm [mm] above 0.
    Raises InputError for a speed at which the formula has no answer. Source: INTERVAL.
    Departs from the source: capped at 30 000 h, as a bearing maker advises.
    """
    hours = factor * (14e6 / (speed_rpm * bore_mm ** 0.5) - 4 * bore_mm)
    if not hours > 0:
        raise InputError("speed_rpm", "is above what the interval formula covers for this bore")
    return min(hours, LONGEST_INTERVAL_H)


def highest_speed(bore_mm):
    """Speed [r/min] at which the interval formula reaches nothing: 3.5e6 / d^1.5."""
    return 3.5e6 / bore_mm ** 1.5


def regrease_mass(outer_mm, width_mm, factor=0.005):
    """Grease for one replenishment [g]: factor [g/mm²] x outer diameter [mm] x width [mm]. Source: QUANTITY."""
    return factor * outer_mm * width_mm


def speed_factor(bore_mm, outer_mm, speed_rpm):
    """n·dm [mm/min], the mean diameter times the speed."""
    return speed_rpm * (bore_mm + outer_mm) / 2


def film_volume(area_cm2, film_mm):
    """Lubricant in a film [cm³]: area [cm²] x thickness [mm]. Source: FILM."""
    return area_cm2 * film_mm / 10


def _or(thing, field, default):
    value = thing.get(field)
    return default if value is None else value


def factor_set(need):
    """"A" or "B": the set by which a rolling bearing's interval is shortened."""
    return _or(need, "variant", "A")


def factors_of(need):
    """K as the product of named factors, [(name, value)], by the need's factor set.

    Set B: half for every 15 K above 70 °C, at most double below; half for an upright shaft and for a bore above 300 mm;
    judgement for vibration and dirt. Departs from its source: between the steps of 15 K the factor follows the curve.
    """
    factors = need.get("factors") or {}
    if factor_set(need) == "A":
        return [(name, _or(factors, name, 1.0)) for name in FACTORS]
    conditions = need.get("conditions") or {}
    return [("temperature", min(2.0, 2.0 ** ((SET_B_FROM_C - _or(need, "running_c", SET_B_FROM_C)) / 15))),
            ("shaft", 0.5 if conditions.get("shaft") == "vertical" else 1.0),
            ("size", 0.5 if need["bore_mm"] > LARGE_BORE_MM else 1.0),
            ("judgement", _or(conditions, "judgement", 1.0)), ("design", _or(factors, "design", 1.0))]


def product(factors):
    """The product K of named factors."""
    out = 1.0
    for _, factor in factors:
        out *= factor
    return out


def outer_ring_turns(need):
    """True where set B takes n·D as speed factor instead of n·dm."""
    return factor_set(need) == "B" and (need.get("conditions") or {}).get("outer_ring_turns") is True


def working_speed(need):
    """Speed [r/min] that goes into the interval; raised from the mean to the outside diameter where the outer ring turns."""
    if outer_ring_turns(need):
        return need["speed_rpm"] * (2 * need["outer_mm"] / (need["bore_mm"] + need["outer_mm"]))
    return need["speed_rpm"]


def interval_formula(need):
    """The interval's formula over K, n, d (and D)."""
    speed = "n * (2 * D / (d + D))" if outer_ring_turns(need) else "n"
    return "min(30000, K * (14000000 / (%s * sqrt(d)) - 4 * d))" % speed


def quantity_source(need):
    """Source of the grams for each mm²."""
    return QUANTITY if _or(need, "quantity", "any") == "any" else REMEMBERED_QUANTITY


def _of_bearing(need, lubricant):
    """(need [cm³/h], g for each mm², density [kg/m³], K): quantity over interval, by the need's factor set."""
    factor = QUANTITIES[_or(need, "quantity", "any")]
    density, known = _or(lubricant, "density_kg_m3", DEFAULTS["density_kg_m3"]), product(factors_of(need))
    hours = bearing_interval(known, working_speed(need), need["bore_mm"])
    return regrease_mass(need["outer_mm"], need["width_mm"], factor) / (density / 1000) / hours, factor, density, known


def rolling(need, lubricant):
    """Need of a rolling bearing as a figure [cm³/h]."""
    value, factor, density, known = _of_bearing(need, lubricant)
    return figure(
        value, "cm³/h",
        "k * D * B / (rho / 1000) / " + interval_formula(need), [
            ("k", given(factor, "1", "g for each mm² of D x B", factor != QUANTITIES["any"])),
            ("D", given(need["outer_mm"], "mm", "outside diameter")), ("B", given(need["width_mm"], "mm", "width")),
            ("d", given(need["bore_mm"], "mm", "bore")), ("n", given(need["speed_rpm"], "r/min", "speed")),
            ("K", given(known, "1", "product of the factors for conditions and design")),
            ("rho", given(density, "kg/m³", "density of the lubricant", lubricant.get("density_kg_m3") is None))],
        "%s; %s; %s" % (quantity_source(need), INTERVAL, SETS[factor_set(need)]))


def film_sizes(need):
    """The sizes that give the area, an entry of AREAS, or None where none is complete."""
    for entry in AREAS:
        if all([need.get(field) is not None for field in entry[0]]):
            return entry
    return None


def _of_film(need, lubricant):
    """(need [cm³/h], the entry of AREAS, film [mm], hours until it is renewed)."""
    sizes = film_sizes(need)
    area = sizes[1]
    for field in sizes[0]:
        area *= need[field]
    film, every = _or(need, "film_mm", FILM_MM), _or(need, "every_h", film_hours(lubricant))
    return film_volume(area, film) / every, sizes, film, every


def _film(need, lubricant):
    value, (fields, _, formula, meanings), film, every = _of_film(need, lubricant)
    units = {"area_cm2": "cm²", "links": "count"}
    inputs = [(field.split("_")[0], given(need[field], units.get(field, "mm"), meaning))
              for field, meaning in zip(fields, meanings)]
    return figure(value, "cm³/h", formula + " * film / 10 / every",
                  inputs + [("film", given(film, "mm", "film to renew")), ("every", given(every, "h", "renewed every"))],
                  GEOMETRY if fields[0] in _BY_GEOMETRY else FILM)


def film_hours(lubricant):
    """Hours after which a film is renewed: 1 with oil, 4 with grease. Source: FILM."""
    return FILM_OIL_H if lubricant.get("nlgi") == OIL else FILM_GREASE_H


def need_value(point, lubricant):
    """The point's need [cm³/h] alone, for the many times that nobody asks how it comes about. Raises InputError naming the field."""
    need = point["need"]
    if need["method"] == "rolling":
        return _of_bearing(need, lubricant)[0]
    return _of_film(need, lubricant)[0] if need["method"] == "film" else need["cm3_per_h"]


def need_of(point, lubricant):
    """The point's need [cm³/h] as a figure. Raises InputError naming the field."""
    need = point["need"]
    if need["method"] == "rolling":
        return rolling(need, lubricant)
    if need["method"] == "film":
        return _film(need, lubricant)
    return figure(need["cm3_per_h"], "cm³/h", "stated", [("stated", given(need["cm3_per_h"], "cm³/h", "stated need"))],
                  STATED)


def bearing_by_film(need, every_h=FILM_GREASE_H):
    """The other published rule for the same bearing, d² x rows x 25.4 µm each every_h hours, as a figure [cm³/h]."""
    rows = _or(need, "rows", 1)
    value = film_volume(need["bore_mm"] ** 2 / 100 * rows, FILM_MM) / every_h
    return figure(value, "cm³/h", "d ** 2 / 100 * rows * film / 10 / every", [
        ("d", given(need["bore_mm"], "mm", "bore")), ("rows", given(rows, "count", "rows of rolling elements")),
        ("film", given(FILM_MM, "mm", "film to renew")), ("every", given(every_h, "h", "renewed every"))], FILM)
