"""Free air in a line against sources that count it more closely than the engine's formula does.

The engine takes the whole pipe as full of liquid and adds the air; the sources take the air's share off the liquid.
"""
import pytest

from tests.published.pipe_cases import ABSOLUTE_100, MODULUS, SWELLING, WITH_AIR, line_of
from tests.published.test_printed_figures import printed
from webapp.engine.line import build
from webapp.engine.line.grid import ATMOSPHERE_PA, Grid
from webapp.engine.line.line import volume

LIQUID_MPA = 1500


@pytest.mark.parametrize("air, cm3, source, status", WITH_AIR)
def test_volume_to_press_in_is_the_printed_one_and_the_liquid_in_the_air_s_place(air, cm3, source, status):
    document = line_of([(50, 10, SWELLING)], ABSOLUTE_100, bulk_modulus_mpa=LIQUID_MPA, air_fraction=float(air))
    line_cm3 = volume(document)["value"]
    in_the_air_s_place = float(air) * line_cm3 * ABSOLUTE_100 / (10 * LIQUID_MPA)
    assert build.volume(document, {}, line_cm3)["value"] - in_the_air_s_place == printed(cm3)


@pytest.mark.parametrize("air, bar, modulus_gpa, source, status", MODULUS)
def test_stiffness_in_the_simulation_is_the_printed_one_within_the_share_of_air(air, bar, modulus_gpa, source, status):
    document = line_of([(50, 10, 0)], bulk_modulus_mpa=LIQUID_MPA, air_fraction=air)
    grid = Grid(document, 25)
    gauge, step = bar * 1e5 - ATMOSPHERE_PA, 100.0
    more, less = [grid.stored([gauge + change] * len(grid.parent)) for change in (step, -step)]
    stiffness = volume(document)["value"] * 1e-6 * 2 * step / (more - less)
    assert stiffness / 1e9 == pytest.approx(modulus_gpa, rel=air)
