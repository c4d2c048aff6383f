"""What each lubrication point needs per hour, by the bearing's size and speed, by a film to renew, or as stated."""
from math import pi

from .figure import InputError, figure, given
from .lubricant import DEFAULTS

QUANTITY = "The Tribology Handbook, A20 (0.005 g/mm²)"
INTERVAL = QUANTITY + "; interval: published relubrication formula; factors: editable, from memory"
FILM = "basic lubrication formulas, volume = area x film (published formula page)"
STATED = "stated by the user"
LONGEST_INTERVAL_H = 30000

FACTORS = ("temperature", "contamination", "moisture", "vibration", "position", "design")
# sizes that stand for an area: (fields, formula for cm², meanings)
AREAS = (
    (("area_cm2",), "area", ("area to lubricate",)),
    (("shaft_mm", "length_mm"), "pi * shaft * length / 100", ("shaft diameter", "bearing length")),
    (("pitch_mm", "width_mm"), "pi * pitch * width / 100", ("pitch diameter", "face width")),
    (("slide_mm", "width_mm"), "slide * width / 100", ("length of the slideway", "width of the slideway")),
)


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


def _rolling(need, lubricant):
    factors = [_or(need.get("factors") or {}, name, 1.0) for name in FACTORS]
    product = 1.0
    for factor in factors:
        product *= factor
    density = lubricant.get("density_kg_m3")
    hours = bearing_interval(product, need["speed_rpm"], need["bore_mm"])
    value = regrease_mass(need["outer_mm"], need["width_mm"]) / (_or(lubricant, "density_kg_m3", DEFAULTS["density_kg_m3"])
                                                                / 1000) / hours
    return figure(
        value, "cm³/h", "0.005 * D * B / (rho / 1000) / min(30000, K * (14000000 / (n * sqrt(d)) - 4 * d))", [
            ("D", given(need["outer_mm"], "mm", "outside diameter")),
            ("B", given(need["width_mm"], "mm", "width")),
            ("d", given(need["bore_mm"], "mm", "bore")),
            ("n", given(need["speed_rpm"], "r/min", "speed")),
            ("K", given(product, "1", "product of the six factors for conditions and design")),
            ("rho", given(_or(lubricant, "density_kg_m3", DEFAULTS["density_kg_m3"]), "kg/m³", "density of the lubricant",
                          density is None))], INTERVAL)


def _or(thing, field, default):
    value = thing.get(field)
    return default if value is None else value


def film_sizes(need):
    """The sizes that give the area: (fields, formula, meanings), or None where none is complete."""
    for fields, formula, meanings in AREAS:
        if all([need.get(field) is not None for field in fields]):
            return fields, formula, meanings
    return None


def _film(need):
    fields, formula, meanings = film_sizes(need)
    sizes = [need[field] for field in fields]
    area = sizes[0] if len(fields) == 1 else sizes[0] * sizes[1] / 100 * (1 if fields[0] == "slide_mm" else pi)
    inputs = [(field.split("_")[0], given(size, "cm²" if field == "area_cm2" else "mm", meaning))
              for field, size, meaning in zip(fields, sizes, meanings)]
    return figure(film_volume(area, need["film_mm"]) / need["every_h"], "cm³/h", formula + " * film / 10 / every",
                  inputs + [("film", given(need["film_mm"], "mm", "film to renew")),
                            ("every", given(need["every_h"], "h", "renewed every"))], FILM)


def need_of(point, lubricant):
    """The point's need [cm³/h] as a figure. Raises InputError naming the field."""
    need = point["need"]
    if need["method"] == "rolling":
        return _rolling(need, lubricant)
    if need["method"] == "film":
        return _film(need)
    return figure(need["cm3_per_h"], "cm³/h", "stated", [("stated", given(need["cm3_per_h"], "cm³/h", "stated need"))],
                  STATED)


def bearing_by_film(need):
    """The other published rule for the same bearing, d² x rows x 25.4 µm each four hours, as a figure [cm³/h]."""
    value = film_volume(need["bore_mm"] ** 2 / 100, 0.0254) / 4
    return figure(value, "cm³/h", "d ** 2 / 100 * film / 10 / every", [
        ("d", given(need["bore_mm"], "mm", "bore")), ("film", given(0.0254, "mm", "film to renew")),
        ("every", given(4, "h", "renewed every, grease"))], FILM)
