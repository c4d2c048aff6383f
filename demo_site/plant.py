"""Brackwater Sawmill: an invented sawmill in a cold valley. Every name and every number here is invented.

The numbers are plausible for the trade; nothing is taken from a real plant, machine or product.
"""
from .parts import FIRM, LOG_YARD, PLANER, SAW_HALL, SITE, SOFT, film, made, pump, rolling, stated, switch
from .plant_kinds import resaw, stacker, trimmer

__all__ = ["SITE", "systems"]


def head_rig():
    """The fine one: soft grease, wide pipe, devices that fit the needs."""
    small, large = (0.1, 0.6, 0.05), (0.3, 1.2, 0.05)
    return made(1, "Head rig and edger", SAW_HALL, SOFT, [
        (None, 6, 16, "steel", large, [("Head rig, left guide", stated(0.075))]),
        (None, 3, 16, "steel", large, [("Head rig, right guide", stated(0.075))]),
        (None, 5, 16, "steel", small, [("Edger infeed bearing", stated(0.045))]),
        (None, 2, 16, "steel", small, [("Edger arbor, drive side", stated(0.05))]),
        (None, 2, 16, "steel", small, [("Edger arbor, free side", stated(0.05))]),
        (None, 4, 16, "steel", small, [("Edger outfeed bearing", film(50, 60))])],
        [switch("PS1", "N6")], pump(60, 4))


def sorter_chain():
    """The one whose line cannot vent on the coldest morning: firm grease, long narrow pipe in the yard."""
    dose = (0.2, 0.8, 0.05)
    return made(2, "Sorter chain", LOG_YARD, FIRM, [
        (None, 8, 12, "steel", dose, [("Chain drive shaft, near", stated(0.06)), ("Chain drive shaft, far", stated(0.06))]),
        (None, 9, 12, "steel", dose, [("Tray 1, carrier roller", stated(0.05))]),
        (None, 9, 12, "steel", dose, [("Tray 2, carrier roller", stated(0.05))]),
        (None, 7, 10, "hose", dose, [("Return shaft, near", stated(0.055)), ("Return shaft, far", stated(0.055))]),
        ("N2", 4, 10, "hose", dose, [("Tensioner", stated(0.05))])],
        [switch("PS1", "N4")], pump(80, 6))


def planer_feed():
    """The one that over-feeds half of its points: devices of one size on bearings of two sizes."""
    fixed, cutter_head = (0.4, 0.4, 0), rolling(60, 130, 31, 1800, contamination=0.4, vibration=0.6, design=1)
    return made(3, "Planer feed rolls", PLANER, SOFT, [
        (None, 4, 14, "steel", fixed, [("Top roll 1, drive side", stated(0.052))]),
        (None, 2, 14, "steel", fixed, [("Top roll 1, free side", stated(0.052))]),
        (None, 2, 14, "steel", fixed, [("Bottom roll 1, drive side", stated(0.08))]),
        (None, 2, 14, "steel", fixed, [("Bottom roll 1, free side", rolling(50, 110, 27, 900, contamination=0.4, design=1))]),
        (None, 3, 14, "steel", fixed, [("Cutter head, drive side", cutter_head)]),
        (None, 2, 14, "steel", fixed, [("Cutter head, free side", cutter_head)])],
        [switch("PS1", "N6")], pump(60, 4),
        ambient={"coldest_c": -8, "usual_c": 14, "hottest_c": 34})


def debarker():
    """The one with two switches, set so that they trip in the wrong order."""
    dose = (0.2, 0.9, 0.05)
    return made(4, "Debarker ring", LOG_YARD, SOFT, [
        (None, 3, 16, "steel", None, []),
        (None, 6, 16, "steel", dose, [("Ring bearing, infeed", stated(0.08))]),
        (None, 3, 16, "steel", dose, [("Ring bearing, outfeed", stated(0.08))]),
        (None, 4, 16, "hose", dose, [("Feed roll, left", stated(0.06))]),
        (None, 3, 16, "hose", dose, [("Feed roll, right", stated(0.06))])],
        [switch("PS1", "N1", 130), switch("PS2", "N5", 95)], pump(70, 5))


def systems():
    """All systems of the plant."""
    return [head_rig(), sorter_chain(), planer_feed(), debarker(), trimmer(), stacker(), resaw()]
