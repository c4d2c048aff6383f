"""A lubricant's flow properties at a temperature. Missing rheology falls back on its NLGI grade, marked as estimates."""
from math import exp

from ..basics.figure import InputError
from .oil import KELVIN, USUAL_INDEX, v40_of_index, v100_of_index, viscosity_at

OIL = "oil"

# per NLGI grade at 25 °C: yield [Pa], consistency [Pa·sⁿ], flow index. Orders of magnitude, from memory.
GRADE_DEFAULTS = {
    "000": (20, 4, 0.75), "00": (60, 8, 0.65), "0": (120, 15, 0.55), "1": (190, 25, 0.50), "2": (400, 45, 0.45),
    "3": (900, 80, 0.40), "4": (1800, 150, 0.40), "5": (3500, 300, 0.35), "6": (7000, 600, 0.35),
}
DEFAULTS = {"reference_c": 25, "stiffening_per_k": 0.025, "bulk_modulus_mpa": 1500, "air_fraction": 0.01,
            "density_kg_m3": 900}


def _stated(lubricant, field, default, estimates):
    value = lubricant.get(field)
    if value is None:
        estimates.append(field)
        return default
    return value


def viscosities(lubricant):
    """(v40, v100 [mm²/s], fields taken from memory) of an oil or a base oil; None where neither viscosity is entered.

    One viscosity and the index give the other (ASTM D2270); where no index is entered either, that of a usual mineral oil.
    Raises InputError naming the field where what is entered does not hang together.
    """
    v40, v100, index = [lubricant.get(field) for field in ("v40_mm2_s", "v100_mm2_s", "viscosity_index")]
    if v40 is None and v100 is None:
        return None
    estimates = []
    if v40 is None or v100 is None:
        if index is None:
            index, estimates = USUAL_INDEX, ["viscosity_index"]
        if v40 is None:
            v40 = v40_of_index(v100, index)
        else:
            v100 = v100_of_index(v40, index)
    if not v100 < v40:
        raise InputError("v40_mm2_s", "must be above the viscosity at 100 °C")
    return v40, v100, estimates


def _oil_flow(lubricant, t_c, density, estimates):
    v40, v100, taken = viscosities(lubricant)
    if taken:
        estimates.append("consistency_pa_sn")
    return 0.0, viscosity_at(max(t_c, 1 - KELVIN), v40, v100) * 1e-6 * density, 1.0


def _grease_flow(lubricant, t_c, estimates):
    of_grade = GRADE_DEFAULTS[lubricant["nlgi"]]
    yield_pa = _stated(lubricant, "yield_pa", of_grade[0], estimates)
    consistency = _stated(lubricant, "consistency_pa_sn", of_grade[1], estimates)
    index = _stated(lubricant, "flow_index", of_grade[2], estimates)
    reference = _stated(lubricant, "reference_c", DEFAULTS["reference_c"], estimates)
    stiffening = _stated(lubricant, "stiffening_per_k", DEFAULTS["stiffening_per_k"], estimates)
    factor = exp(stiffening * (reference - t_c))
    return yield_pa * factor, consistency * factor, index


def lubricant_at(lubricant, t_c):
    """Flow properties of the lubricant at t_c [°C].

    Grease: Herschel-Bulkley, yield and consistency grown by exp(stiffening · (reference − t)) (form of the yield:
    Cyriac, Lugt, Bosman, Tribology Transactions 58 (2015)). Oil: Newtonian, viscosity by ASTM D341.
    Returns yield_pa [Pa], consistency_pa_sn [Pa·sⁿ], flow_index, bulk_modulus_pa [Pa], air_fraction, density_kg_m3 and
    `estimates`, the fields that were missing and were filled from memory.
    """
    estimates = []
    density = _stated(lubricant, "density_kg_m3", DEFAULTS["density_kg_m3"], estimates)
    modulus = _stated(lubricant, "bulk_modulus_mpa", DEFAULTS["bulk_modulus_mpa"], estimates)
    air = _stated(lubricant, "air_fraction", DEFAULTS["air_fraction"], estimates)
    if lubricant["nlgi"] == OIL:
        flow = _oil_flow(lubricant, t_c, density, estimates)
    else:
        flow = _grease_flow(lubricant, t_c, estimates)
    return {"yield_pa": flow[0], "consistency_pa_sn": flow[1], "flow_index": flow[2], "bulk_modulus_pa": modulus * 1e6,
            "air_fraction": air, "density_kg_m3": density, "estimates": estimates}
