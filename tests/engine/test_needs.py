"""Bearings by two factor sets and two rules, their limits, and what is worked only when it is asked for."""
import subprocess
import sys

import pytest

from webapp.engine.bridge import ask
from webapp.engine.basics.listing import OF_A_POINT, groups

from .systems import plain_system, random_system

BEARING = {"method": "rolling", "bore_mm": 50, "outer_mm": 110, "width_mm": 27, "speed_rpm": 1500, "factors": {"design": 10}}


def worked(need, lubricant=None):
    document = plain_system()
    document["points"][0]["need"] = need
    document["lubricant"].update(lubricant or {})
    return ask({"do": "work", "document": document, "simulate": False})


def point(need, lubricant=None):
    return worked(need, lubricant)["points"][0]


def ids(result):
    return [entry["id"] for entry in result["findings"]]


# ---- two factor sets, never mixed

def test_the_figures_say_which_set_was_used():
    a, b = point(BEARING), point(dict(BEARING, variant="B"))
    assert "factors_a" in a and "factors_b" not in a and "factor set A" in a["need"]["source"]
    assert "factors_b" in b and "factors_a" not in b and "factor set B" in b["need"]["source"]
    assert "bearing.set_a" in ids(worked(BEARING)) and "bearing.set_b" in ids(worked(dict(BEARING, variant="B")))


def test_what_belongs_to_one_set_leaves_the_other_alone():
    conditions = {"shaft": "vertical", "judgement": 0.5, "outer_ring_turns": True}
    assert point(dict(BEARING, conditions=conditions, running_c=100))["need"]["value"] == point(BEARING)["need"]["value"]
    factors = {"design": 10, "temperature": 0.2, "position": 0.3, "vibration": 0.3, "moisture": 0.1, "contamination": 0.2}
    set_b = dict(BEARING, variant="B")
    assert point(dict(set_b, factors=factors))["need"]["value"] == point(set_b)["need"]["value"]


def test_bearings_by_both_sets_in_one_system_are_warned_of():
    document = plain_system()
    document["points"] = [{"id": "P%s" % variant, "name": variant, "device": "D0", "need": dict(BEARING, variant=variant)} for variant in "AB"]
    assert "bearing.two_sets" in ids(ask({"do": "work", "document": document, "simulate": False}))
    assert "bearing.two_sets" not in ids(worked(BEARING))


def test_the_need_is_quantity_over_interval():
    for need in (BEARING, dict(BEARING, variant="B", running_c=92, quantity="monthly", conditions={"outer_ring_turns": True})):
        figures = point(need, {"density_kg_m3": 920})
        assert figures["need"]["value"] == pytest.approx(
            figures["regrease_quantity"]["value"] / 0.92 / figures["regrease_interval"]["value"], rel=1e-12)


def test_a_remembered_quantity_makes_estimates():
    assert point(dict(BEARING, quantity="weekly"))["need"]["estimate"] and not point(BEARING)["need"]["estimate"]


# ---- the speed limit

@pytest.mark.parametrize("need, limit", [(dict(BEARING, speed_rpm=9900), 9899.5), (dict(BEARING, speed_rpm=9898), None),
                                         (dict(BEARING, variant="B", speed_rpm=7300, conditions={"outer_ring_turns": True}), 9899.5),
                                         (dict(BEARING, variant="A", speed_rpm=7300, conditions={"outer_ring_turns": True}), None)])
def test_a_speed_beyond_the_formula_is_refused_and_the_limit_named(need, limit):
    stops = [entry for entry in worked(need)["findings"] if entry["id"] == "check.speed"]
    assert [round(entry["with"]["highest"]["value"], 1) for entry in stops] == ([limit] if limit else [])
    assert limit or point(need)["speed_limit"]["value"] == pytest.approx(9899.5, abs=0.05)


def test_a_fast_bearing_is_noted_with_its_speed_factor():
    entry, = [one for one in worked(dict(BEARING, speed_rpm=2000))["findings"] if one["id"] == "bearing.fast"]
    assert entry["severity"] == "note" and "160000 mm/min" in entry["says"]
    assert "bearing.fast" not in ids(worked(BEARING))
    turned = dict(BEARING, variant="B", conditions={"outer_ring_turns": True})
    assert point(turned)["speed_factor"]["value"] == 165000


# ---- the other rule

def test_the_film_rule_stands_beside_a_bearing_by_size_and_speed():
    figures = point(BEARING, {"density_kg_m3": 1000})
    assert figures["other_rule"]["shown"] == "0.0159 cm³/h"
    assert figures["other_ratio"]["value"] == pytest.approx(figures["other_rule"]["value"] / figures["need"]["value"])
    assert 11 < figures["other_ratio"]["value"] < 13
    assert point(dict(BEARING, rows=2))["other_rule"]["value"] == pytest.approx(2 * figures["other_rule"]["value"])


def test_oil_is_renewed_four_times_as_often():
    oil = {"nlgi": "oil", "v40_mm2_s": 68, "v100_mm2_s": 8.7}
    assert point(BEARING, oil)["other_rule"]["value"] == pytest.approx(4 * point(BEARING)["other_rule"]["value"])
    film = {"method": "film", "shaft_mm": 50, "length_mm": 60}
    assert point(film, oil)["need"]["value"] == pytest.approx(4 * point(film)["need"]["value"])


def test_size_and_speed_stand_beside_a_film_where_they_are_known():
    film = dict(BEARING, method="film", area_cm2=25)
    assert point(film)["other_rule"]["value"] == point(BEARING)["need"]["value"]
    for spoilt in ({"bore_mm": "50"}, {"outer_mm": 40}, {"speed_rpm": 20000}, {"width_mm": None}, {"bore_mm": True}, {"speed_rpm": 1e300}):
        assert "other_rule" not in point(dict(film, **spoilt)), spoilt
    assert "other_rule" not in point({"method": "stated", "cm3_per_h": 0.1})


# ---- the oil film

def test_the_viscosity_ratio_is_worked_where_the_oil_is_known_and_falls_with_the_temperature():
    oil = {"v40_mm2_s": 150, "v100_mm2_s": 14.5}
    assert "kappa" not in point(BEARING)
    cool, warm = (point(dict(BEARING, running_c=t), oil)["kappa"] for t in (50, 90))
    assert cool["value"] > 2 * warm["value"] and cool["estimate"] and "from memory" in cool["source"]
    assert point(BEARING, oil)["kappa"]["inputs"]["t"]["value"] == 70


def test_a_thin_film_is_noted_and_names_the_worst_bearing():
    result = worked(dict(BEARING, running_c=110), {"v40_mm2_s": 68, "v100_mm2_s": 8.7})
    entry, = [one for one in result["findings"] if one["id"] == "bearing.thin_oil"]
    assert entry["severity"] == "note" and entry["with"]["worst"] == "Point 0"
    assert entry["with"]["value"]["value"] == result["points"][0]["kappa"]["value"] < 1


def test_a_bearing_hotter_than_the_lubricant_stands_is_warned_of():
    assert "bearing.hot" in ids(worked(dict(BEARING, running_c=130), {"hottest_c": 120}))
    assert "bearing.hot" in ids(worked(dict(BEARING, running_c=130), {"code": "KP1K-30"}))
    assert "bearing.hot" not in ids(worked(dict(BEARING, running_c=110), {"hottest_c": 120}))


# ---- chains

def test_a_chain_is_fed_by_the_film_of_its_joints_and_dripping_is_told_apart():
    chain = {"method": "film", "pin_mm": 9, "bush_mm": 16, "links": 120}
    result = worked(chain)
    assert "chain.drip" in ids(result) and "no published rule" in result["points"][0]["need"]["source"]
    assert point(dict(chain, links=240))["need"]["value"] == pytest.approx(2 * point(chain)["need"]["value"])


def listed():
    """Names of the figures of a point and of the lubricant."""
    return {name for name, _ in OF_A_POINT} | {name for key, _, names in groups("single-line") if key == "lubricant" for name, _ in names}


# ---- lists, and what is left until it is asked for

def test_every_listed_figure_of_lubricant_and_points_occurs_in_some_invented_system():
    wanted = listed()
    for seed in range(200):
        result = ask({"do": "work", "document": random_system(seed, 12), "simulate": False})
        for figures in [result["lubricant"]] + result["points"]:
            wanted -= {name for name, entry in figures.items() if entry}
    assert wanted == set()


def test_every_figure_of_lubricant_and_points_is_listed():
    for seed in range(60):
        result = ask({"do": "work", "document": random_system(seed, 12), "simulate": False})
        for figures in [result["lubricant"]] + result["points"]:
            assert set(figures) - {"id", "name"} <= listed()


def test_the_foot_of_the_form_waits_for_none_of_it():
    code = ("import sys\nfrom tests.engine.systems import plain_system\nfrom webapp.engine.bridge import ask\n"
            "ask({'do': 'outline', 'document': plain_system()})\nprint(' '.join(sys.modules))\n"
            "ask({'do': 'work', 'document': plain_system(), 'simulate': False})\nprint(' '.join(sys.modules))")
    first, second = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.splitlines()
    late = {"webapp.engine." + name for name in ("feeding.bearing", "feeding.lubricant_figures", "feeding.lubricant_findings",
                                                 "lubricants.grease_code", "lubricants.mixing", "lubricants.generic_greases")}
    assert late & set(first.split()) == set() and late <= set(second.split())
