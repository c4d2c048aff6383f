"""Laminar flow of a Herschel-Bulkley liquid in a full, straight, round pipe. SI throughout.

Bingham is flow index 1; a Newtonian liquid is no yield and flow index 1, where the formula is Hagen-Poiseuille's.
"""
from math import pi

from ..basics.figure import InputError

HERSCHEL_BULKLEY = "Herschel-Bulkley flow in a round pipe (textbook formula, proven by numerical integration)"
# Reynolds number: Avila et al., "The onset of turbulence in pipe flow", Science 333 (2011), 192-196; above it drops read too low
LAMINAR_TO = 2040
FORCE_BALANCE = "The Tribology Handbook, C14: wall stress = pressure x bore / (4 x length)"


def flow_rate(drop_pa, bore_m, length_m, yield_pa, consistency, index):
    """Flow [m³/s] that a pressure drop drives through a pipe; exactly 0 up to the yield.

    drop_pa [Pa] 0 or more; bore_m, length_m [m] above 0; yield_pa [Pa] 0 or more; consistency [Pa·sⁿ] above 0;
    index above 0. Source: HERSCHEL_BULKLEY. Departs from the source: nowhere.
    """
    wall = drop_pa * bore_m / (4 * length_m)
    if wall <= yield_pa:
        return 0.0
    m = 1 / index
    phi = yield_pa / wall
    free = 1 - phi
    shape = free ** 2 / (m + 3) + 2 * phi * free / (m + 2) + phi ** 2 / (m + 1)
    return pi * (bore_m / 2) ** 3 * (wall / consistency) ** m * free ** (m + 1) * shape


def yield_drop(length_m, bore_m, yield_pa):
    """Pressure [Pa] below which nothing moves, and the most that can stay locked in a vented pipe: 4·τy·L/D.

    Source: FORCE_BALANCE.
    """
    return 4 * yield_pa * length_m / bore_m


def pressure_drop(flow_m3_s, bore_m, length_m, yield_pa, consistency, index):
    """Pressure drop [Pa] of a flow: flow_rate inverted by halving between bounds, relative 1e-13.

    Raises InputError when the flow is negative or a size is not above 0. Source: HERSCHEL_BULKLEY.
    """
    for field, value in (("bore_mm", bore_m), ("length_m", length_m), ("consistency_pa_sn", consistency),
                         ("flow_index", index)):
        if not value > 0:
            raise InputError(field, "must be above 0")
    if not flow_m3_s >= 0:
        raise InputError("delivery_cm3_min", "must not be negative")
    start = yield_drop(length_m, bore_m, yield_pa)
    if flow_m3_s == 0:
        return start
    low, excess = start, max(start, 1.0)
    while flow_rate(start + excess, bore_m, length_m, yield_pa, consistency, index) < flow_m3_s:
        low, excess = start + excess, excess * 2
    high = start + excess
    while high - low > 1e-13 * high:
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if flow_rate(middle, bore_m, length_m, yield_pa, consistency, index) < flow_m3_s:
            low = middle
        else:
            high = middle
    return (low + high) / 2
