"""The simulation against what can be solved by hand, the order of its method, and what a cycle leaves for the next.

Common to the exponentials: oil-like lubricant in a thin pipe that stores nothing, a swelling hose at its end (compliance C), and
R = 128 µ L / (pi D⁴) between the two (Hagen-Poiseuille, handbook of any fluid mechanics).
"""
from math import log, log2, pi

import pytest

from webapp.engine.events import cycle, stepping
from webapp.engine.line import grid
from webapp.engine.events.faults import read
from webapp.engine.line.line import locked_pressures
from webapp.engine.events.simulate import moments, simulate
from webapp.engine.line.warmth import shut_in_pressure

from .systems import plain_system

VISCOSITY, LENGTH, BORE, SWELLING = 1.0, 5.0, 0.003, 100.0
R = 128 * VISCOSITY * LENGTH / (pi * BORE ** 4)
C = SWELLING * 1e-6 * 0.5 / 100e5


def hose_at_the_end(**changes):
    """Five metres of thin pipe, then half a metre of hose that swells by 50 cm³ at 100 bar."""
    document = plain_system(**changes)
    document["lubricant"].update(yield_pa=0, consistency_pa_sn=VISCOSITY, flow_index=1, stiffening_per_k=0, air_fraction=0,
                                 bulk_modulus_mpa=10000)
    document["sections"] = [{"id": "S0", "from": "pump", "to": "N1", "length_m": LENGTH, "bore_mm": BORE * 1000},
                            {"id": "S1", "from": "N1", "to": "N0", "length_m": 0.5, "bore_mm": 10,
                             "expansion_cm3_per_m_per_100bar": SWELLING}]
    document["pump"].update(relief_bar=400)
    for switch in document["switches"]:
        switch.update(trips_bar=100, resets_bar=20)
    return document


def refined(monkeypatch, times):
    """Pieces and steps so many times as fine; less than 1: coarser steps alone."""
    monkeypatch.undo()
    monkeypatch.setattr(grid, "PIECES_ON_LONGEST_WAY", grid.PIECES_ON_LONGEST_WAY * max(times, 1))
    for name, even in (("_BAR_A_STEP", 0), ("_BAR_A_STEP_OF_VENT", 0), ("_BEND_BAR", 0), ("_STRAIGHT_BAR", 0), ("FIRST_STEP_S", 0),
                       ("_GROWTH", 1), ("_VENT_GROWTH", 1)):
        monkeypatch.setattr(stepping, name, even + (getattr(stepping, name) - even) / times)
    monkeypatch.setattr(cycle, "FIRST_STEP_S", stepping.FIRST_STEP_S)


def return_time(document):
    """From opening the vent until the switch is back at rest [s]."""
    moment = moments(simulate(document, {}, 20))
    return moment["returned"] - moment["open"]


def orders(found):
    """The order of the method from what it finds at once, twice, four times ... as fine: log2 of how its changes shrink."""
    changes = [coarse - fine for coarse, fine in zip(found, found[1:])]
    return [log2(coarse / fine) for coarse, fine in zip(changes, changes[1:])]


def test_a_vented_compliance_falls_exponentially_and_the_error_is_of_second_order(monkeypatch):
    wanted, found = R * C * log(100 / 20), []
    for times in (1 / 4, 1 / 2, 1, 8):
        refined(monkeypatch, times)
        found.append(return_time(hose_at_the_end()))
    # what is left in the finest is the thin pipe's own volume
    assert found[2:] == [pytest.approx(wanted, rel=0.002)] * 2
    errors = [abs(one - found[-1]) for one in found[:-1]]
    assert 1.9 < log2(errors[0] / errors[1]) and 1.9 < log2(errors[1] / errors[2])


def test_a_grease_with_a_yield_vents_in_the_same_time_by_coarse_and_fine_steps(monkeypatch):
    document, found = plain_system(), []
    document["sections"][0].update(length_m=40, bore_mm=8)
    for times in (1, 8):
        refined(monkeypatch, times)
        found.append(return_time(document))
    assert found[0] == pytest.approx(found[1], rel=0.005)


def test_a_leak_at_a_compliance_lets_the_pressure_rise_exponentially_to_its_balance(monkeypatch):
    document, found = hose_at_the_end(), []
    leak = 60 / 150  # at 150 bar all of the pump's 60 cm³/min
    wanted = C / (leak / 60e6 / 1e5) * log(1 / (1 - 100 / 150))
    faults = read(document, ["leak=N0:%s" % leak])[0]
    for times in (1, 2, 4, 8):
        refined(monkeypatch, times)
        found.append(simulate(document, {}, 20, faults=faults)["trip_s"][0])
    assert 0 < found[0] / wanted - 1 < 0.015 and 0 < found[2] / wanted - 1 < 0.005
    assert orders(found) == [pytest.approx(1, abs=0.1)] * 2


def test_a_pump_at_its_relief_pressure_fills_a_compliance_exponentially_and_the_error_is_of_first_order(monkeypatch):
    document, found = hose_at_the_end(kind="time-only", switches=[]), []
    document["pump"].update(delivery_cm3_min=600, relief_bar=150)
    document["devices"][0].update(fires_bar=100, stroke_s=1)
    wanted = R * C * log(1 / (1 - 100 / 150))
    for times in (1, 2, 4, 8):
        refined(monkeypatch, times)
        found.append(simulate(document, {"D0": 0.001}, 20, limit_s=60)["fed_s"][0] - 1)
    assert 0 < found[0] / wanted - 1 < 0.015
    assert orders(found) == [pytest.approx(1, abs=0.1)] * 2
    assert 2 * found[3] - found[2] == pytest.approx(wanted, rel=0.002)


def test_without_friction_the_trip_time_is_volume_over_delivery():
    document = hose_at_the_end()
    document["lubricant"]["consistency_pa_sn"] = 0.001
    line = pi / 4 * (BORE ** 2 * LENGTH + 0.010 ** 2 * 0.5) * 100e5 / 10e9
    assert simulate(document, {}, 20)["trip_s"][0] == pytest.approx((C * 100e5 + line) / 1e-6, rel=1e-3)


def test_a_grease_comes_to_rest_where_its_yield_holds_the_pressure():
    """4 tau L / D along the way: what is left lies within the yield drop of one piece of it."""
    document = plain_system()
    document["lubricant"].update(yield_pa=400, stiffening_per_k=0, consistency_pa_sn=2)
    document["switches"][0]["resets_bar"] = document["devices"][0]["resets_bar"] = 1
    trace, locked = simulate(document, {"D0": 0.5}, 20), locked_pressures(document, 20)["N0"]
    assert not trace["completed"] and "does not reset" in trace["why"]
    assert locked == pytest.approx(19.2) and trace["pressure_bar"]["N0"][-1] == pytest.approx(locked, abs=locked / 12)


def test_a_shut_line_that_is_warmed_holds_in_its_cells_what_it_has_expanded_by():
    """At the pressure worked by hand the cells and walls have room for expansion x warming x volume, no more and no less."""
    document, expansion, warming = hose_at_the_end(), 7e-4, 10
    cells = grid.Grid(document, 20)
    volume = sum(cells.room)
    gained = shut_in_pressure(10e9, expansion, warming, C / volume)
    assert 0 < gained < 1e5 * 105 and cells.stored([gained] * len(cells.parent)) == pytest.approx(expansion * warming * volume)


def test_a_pressure_below_the_yield_goes_nowhere():
    document = plain_system()
    document["lubricant"].update(yield_pa=3000, stiffening_per_k=0)
    trace = simulate(document, {}, 20, limit_s=2)
    assert max(trace["pressure_bar"]["pump"]) > 5 and max(trace["pressure_bar"]["N0"]) == 0


def test_what_a_cycle_leaves_is_what_the_next_starts_from():
    """The second build-up is shorter by what is still pressed in: volume left over delivery."""
    document = plain_system()
    document["lubricant"].update(yield_pa=200, stiffening_per_k=0, consistency_pa_sn=0.5)
    document["switches"][0]["resets_bar"] = document["devices"][0]["resets_bar"] = 15
    trace = simulate(document, {"D0": 0.5}, 20, cycles=2)
    shut = [entry["at_s"] for entry in trace["events"] if entry["what"] == "vent shut"][0]
    number = min(range(len(trace["time_s"])), key=lambda one: abs(trace["time_s"][one] - shut))
    left = trace["pressure_bar"]["N0"][number]
    ends = grid.Grid(document, 20)
    pressed = sum(ends.stored_in(cell, 1e5 * left * cell / 12) for cell in range(13))
    first, second = trace["trip_s"]
    assert first - second == pytest.approx(pressed / 1e-6, rel=0.1)
