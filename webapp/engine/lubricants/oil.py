"""Viscosity of oils: temperature (ASTM D341), index (ASTM D2270) and grade (ISO 3448)."""
from math import exp, log10

from ..basics.figure import InputError

D341 = "ASTM D341, Walther equation"
D2270 = "ASTM D2270"
ISO_3448 = "ISO 3448"
KELVIN = 273.15
USUAL_INDEX = 95  # of a mineral oil, from memory: taken where only one viscosity is known

# midpoints at 40 °C; the first four grades carry rounded names
GRADES = ((2, 2.2), (3, 3.2), (5, 4.6), (7, 6.8)) + tuple(
    (grade, float(grade)) for grade in (10, 15, 22, 32, 46, 68, 100, 150, 220, 320, 460, 680, 1000, 1500, 2200, 3200))

# ASTM D2270 as polynomials: from this viscosity at 100 °C, L = a Y² + b Y + c, H = d Y² + e Y + f
# (coefficients from memory, within 0.12 % of the standard's table at all its 311 points)
_INDEX_POLYNOMIALS = (
    (70.0, 0.83531, 14.6731, -216.246, 0.16841, 11.8493, -96.947),
    (55.0, 0.85921, 11.1009, -83.190, 0.17130, 11.3680, -76.940),
    (40.0, 0.84703, 12.6752, -133.310, 0.17029, 11.4866, -80.620),
    (28.0, 0.87031, 9.7157, -50.770, 0.18411, 10.1015, -46.750),
    (22.0, 0.91413, 7.4759, -21.820, 0.20323, 9.1267, -34.230),
    (18.0, 0.97256, 5.2500, -0.980, 0.24504, 7.4160, -16.730),
    (15.0, 0.97305, 5.3135, -2.200, 0.28889, 5.9741, -4.930),
    (12.0, 0.76720, 10.7972, -38.180, 0.20073, 8.4658, -22.490),
    (9.0, 0.88779, 7.5527, -16.600, 0.26665, 6.7015, -10.810),
    (7.7, 0.41858, 16.1558, -56.040, 0.05794, 10.5156, -28.240),
    (7.0, 0.01191, 21.4750, -72.870, 0.79762, -0.7321, 14.610),
    (6.4, 3.35714, -23.5643, 78.466, 0.22619, 7.7369, -16.656),
    (5.0, 0.10100, 16.6350, -45.469, 0.04985, 9.1613, -18.557),
    (4.4, 2.50000, -7.2143, 13.812, 0.82143, 1.5679, 0.119),
    (3.8, 3.38095, -15.4952, 33.196, 0.78571, 1.7929, -0.183),
    (2.0, 1.14673, 1.7576, -0.109, 0.84155, 1.5521, -0.077),
)


def _refuse_unless(inside, field, reason):
    if not inside:
        raise InputError(field, reason)


def _z_of(viscosity):
    """ASTM D341's Z; below 2 mm²/s with the standard's term for thin liquids."""
    if viscosity >= 2:
        return viscosity + 0.7
    return viscosity + 0.7 + exp(-1.47 - 1.84 * viscosity - 0.51 * viscosity ** 2)


def _viscosity_of(z):
    thin = z - 0.7
    if thin >= 2:
        return thin
    return thin - exp(-0.7487 - 3.295 * thin + 0.6119 * thin ** 2 - 0.3193 * thin ** 3)


def walther_constants(v40, v100, kelvin=KELVIN):
    """A and B of log10 log10 Z = A - B log10 T.

    v40, v100  kinematic viscosity at 40 and 100 °C [mm²/s], v40 > v100 > 0.2
    kelvin     offset of the Celsius scale [K]; the standard's old examples use 273
    Raises InputError naming the field. Source: D341. Departs from the source: nowhere.
    """
    _refuse_unless(v100 > 0.2, "v100_mm2_s", "must be above 0.2 mm²/s")
    _refuse_unless(v40 > v100, "v40_mm2_s", "must be above the viscosity at 100 °C")
    w40, w100 = log10(log10(_z_of(v40))), log10(log10(_z_of(v100)))
    b = (w40 - w100) / (log10(100 + kelvin) - log10(40 + kelvin))
    return w40 + b * log10(40 + kelvin), b


def viscosity_at(t_c, v40, v100, kelvin=KELVIN):
    """Kinematic viscosity [mm²/s] at t_c [°C] of an oil known at 40 and 100 °C. Source: D341.

    Meaningless below the pour point. Capped at 1e9 mm²/s, far beyond what any pump moves.
    Raises InputError naming the field.
    """
    a, b = walther_constants(v40, v100, kelvin)
    exponent = 10 ** (a - b * log10(t_c + kelvin))
    return 1e9 if exponent > 9 else _viscosity_of(10 ** exponent)


def index_ends(v100):
    """L and H [mm²/s at 40 °C]: oils of index 0 and 100 with this viscosity at 100 °C, at least 2 mm²/s. Source: D2270."""
    _refuse_unless(v100 >= 2, "v100_mm2_s", "the index is not defined below 2 mm²/s")
    for start, a, b, c, d, e, f in _INDEX_POLYNOMIALS:
        if v100 >= start:
            break
    return a * v100 ** 2 + b * v100 + c, d * v100 ** 2 + e * v100 + f


def viscosity_index(v40, v100):
    """Viscosity index, not rounded. v100 at least 2 mm²/s. Source: D2270, its table as polynomials (0.12 %)."""
    low, high = index_ends(v100)
    _refuse_unless(v40 > v100, "v40_mm2_s", "must be above the viscosity at 100 °C")
    if v40 >= high:
        return 100 * (low - v40) / (low - high)
    slope = (log10(high) - log10(v40)) / log10(v100)
    return (10 ** slope - 1) / 0.00715 + 100


def v40_of_index(v100, index):
    """Viscosity at 40 °C [mm²/s] of an oil known at 100 °C and by its index, 0 or more. Source: D2270 turned round."""
    low, high = index_ends(v100)
    if index <= 100:
        return low - index / 100 * (low - high)
    return high / v100 ** log10((index - 100) * 0.00715 + 1)


def v100_of_index(v40, index):
    """Viscosity at 100 °C [mm²/s] of an oil known at 40 °C and by its index: D2270 inverted by halving, relative 1e-12.

    Raises InputError for oils so thin that the index is not defined.
    """
    _refuse_unless(v40 > 2 and viscosity_index(v40, 2.0) <= index, "v40_mm2_s", "is too thin for one viscosity alone")
    low, high = 2.0, float(v40)
    while high - low > 1e-12 * high:
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if viscosity_index(v40, middle) < index:
            low = middle
        else:
            high = middle
    return high if high < v40 else low


def grade_limits(grade):
    """Lowest and highest viscosity at 40 °C [mm²/s] of an ISO VG grade: its midpoint, 10 % either way. Source: ISO_3448."""
    for name, middle in GRADES:
        if name == grade:
            return middle * 0.9, middle * 1.1
    raise InputError("grade", "is not one of the twenty ISO VG grades")


def grade_of(v40):
    """ISO VG grade of a viscosity at 40 °C [mm²/s], or None between two grades and beyond them. Source: ISO_3448."""
    for name, _ in GRADES:
        least, most = grade_limits(name)
        if least <= v40 <= most:
            return name
    return None
