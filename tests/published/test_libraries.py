"""Formulas of the engine against general libraries and numerical integration, over whole ranges.

chemicals: the standard's own table for the viscosity index; fluids: laminar pipe friction and wire gauges; scipy: physical
constants and quadrature.
"""
from math import pi

import fluids
import numpy
import pytest
from chemicals.viscosity import VI_Hs, VI_Ls, VI_nus
from chemicals.viscosity import viscosity_index as index_by_table
from scipy import constants
from scipy.integrate import quad

from webapp.engine.wiring.conductors import awg_diameter
from webapp.engine.line.flow import LAMINAR_TO, flow_rate, pressure_drop
from webapp.engine.line.grid import ATMOSPHERE_PA
from webapp.engine.feeding.lubricant_figures import reynolds
from webapp.engine.lubricants.oil import KELVIN, v40_of_index, v100_of_index, viscosity_at, viscosity_index

# the polynomials stand for the standard's table to this
OF_TABLE = 0.0012


@pytest.mark.parametrize("end", ("L", "H"))
def test_both_ends_of_the_viscosity_index_follow_the_standard_s_table(end):
    """Above H the index falls in a straight line, from 100 at H to 0 at L: two indices of thick oils give both ends."""
    for v100, low, high in zip(VI_nus, VI_Ls, VI_Hs):
        thick, thicker = 1.5 * low, 2 * low
        fall = (viscosity_index(thick, v100) - viscosity_index(thicker, v100)) / (thicker - thick)
        found = {"L": thick + viscosity_index(thick, v100) / fall,
                 "H": thick + (viscosity_index(thick, v100) - 100) / fall}[end]
        assert found == pytest.approx({"L": low, "H": high}[end], rel=OF_TABLE), v100


@pytest.mark.parametrize("v100", (2.5, 4, 5.4, 8.86, 12, 19, 30, 45, 65, 90))
def test_viscosity_index_of_usual_oils_agrees_to_a_fifth(v100):
    compared = 0
    for v40 in numpy.geomspace(1.5 * v100, 25 * v100, 100):
        by_table = index_by_table(v40 * 1e-6, v100 * 1e-6)
        if 0 < by_table < 200:
            compared += 1
            assert viscosity_index(v40, v100) == pytest.approx(by_table, abs=0.2), v40
    assert compared >= 10


@pytest.mark.parametrize("index", (30, 80, 95, 100, 101, 130, 180))
def test_one_viscosity_and_the_index_give_the_other_as_the_standard_s_table_has_it(index):
    """The polynomials move it by less than a third of an index (0.27 at most)."""
    for v40 in numpy.geomspace(12, 3000, 60):
        v100 = v100_of_index(v40, index)
        assert index_by_table(v40 * 1e-6, v100 * 1e-6) == pytest.approx(index, abs=0.3), v40
    for v100 in numpy.geomspace(2.5, 150, 60):
        assert index_by_table(v40_of_index(v100, index) * 1e-6, v100 * 1e-6) == pytest.approx(index, abs=0.3), v100


@pytest.mark.parametrize("bore_mm", (4, 8, 20))
@pytest.mark.parametrize("delivery", (30, 4000))
def test_reynolds_number_agrees_and_laminar_flow_ends_where_the_library_says(bore_mm, delivery):
    document = {"sections": [{"id": "S", "bore_mm": bore_mm}], "ambient": {"hottest_c": 50}, "pump": {"delivery_cm3_min": delivery}}
    speed = delivery / 60e6 / (pi / 4 * (bore_mm / 1000) ** 2)
    expected = fluids.Reynolds(V=speed, D=bore_mm / 1000, nu=viscosity_at(50, 32, 5.4) * 1e-6)
    assert reynolds(document, (32, 5.4, False, ""))["value"] == pytest.approx(expected, rel=1e-12)
    assert LAMINAR_TO == fluids.friction.LAMINAR_TRANSITION_PIPE


@pytest.mark.parametrize("bore_mm", (4, 6, 10, 16, 25))
@pytest.mark.parametrize("viscosity", (0.02, 0.3, 5.0))
def test_pressure_drop_of_oil_agrees_with_laminar_friction(bore_mm, viscosity):
    density, length, bore = 900, 12, bore_mm / 1000
    for flow in numpy.geomspace(1e-8, 2e-6, 12):
        assert 4 * density * flow / (pi * bore * viscosity) < 2000  # laminar
        expected = fluids.one_phase_dP(m=density * flow, rho=density, mu=viscosity, D=bore, L=length)
        assert pressure_drop(flow, bore, length, 0, viscosity, 1) == pytest.approx(expected, rel=1e-9)


def _flow_by_integration(drop, bore, length, yield_pa, consistency, index):
    """Flow [m³/s] as the integral of the shear rate over the wall's stress, (pi R³ / tau_w³) ∫ tau² rate(tau) dtau."""
    wall = drop * bore / (4 * length)
    inner, _ = quad(lambda stress: stress ** 2 * ((stress - yield_pa) / consistency) ** (1 / index), yield_pa, wall,
                    epsabs=0, epsrel=1e-11)
    return pi * (bore / 2) ** 3 / wall ** 3 * inner


@pytest.mark.parametrize("index", (0.3, 0.5, 0.75, 1.0, 1.3))
@pytest.mark.parametrize("yield_pa", (0, 20, 400, 1800))
def test_flow_of_grease_agrees_with_integration(index, yield_pa):
    bore, length, consistency = 0.008, 15, 20
    start = 4 * yield_pa * length / bore
    for excess in numpy.geomspace(1e3, 2e7, 12):
        expected = _flow_by_integration(start + excess, bore, length, yield_pa, consistency, index)
        assert flow_rate(start + excess, bore, length, yield_pa, consistency, index) == pytest.approx(expected, rel=1e-7)


def test_wire_gauges_agree_with_the_printed_table():
    """The table is in inches, to four digits behind the point."""
    for number in range(37):
        table = fluids.piping.t_from_gauge(number, SI=False, schedule="AWG")
        assert awg_diameter(number) / 25.4 == pytest.approx(table, abs=0.00005), number


def test_atmosphere_and_ice_point_are_the_defined_ones():
    assert ATMOSPHERE_PA == constants.atm
    assert KELVIN == constants.zero_Celsius
