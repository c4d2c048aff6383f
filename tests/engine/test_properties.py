"""What must always hold, whatever the system: properties over seeded generated systems of every kind, worked without the simulation.

Each docstring says why it must be so. What needs the line to move is in test_properties_simulated.py, what is about names,
order and units in test_properties_names.py. Left out, because untrue: that another point never lowers a device's dose (a hungry
point shortens the event for all), and that every fault makes the build-up longer (a blocked pipe, a stuck device, a switch that
trips low make it shorter).
"""
import copy
import random

import pytest

from webapp.engine.bridge import ask
from webapp.engine.causes.prior import CAUSES, prior
from webapp.engine.lubricants.oil import v100_of_index, viscosity_at

from .properties import BITS, never_falls, never_rises, pairs, value, work
from .systems import any_system, plain_system, random_system
from .whole_systems import whole_system

DROPS = ("line.drop_usual", "line.drop_coldest")
RESTS = ("line.residual_usual", "line.residual_coldest")
BUILDS = ("build.time_frictionless", "build.time_frictionless_a", "build.time_frictionless_b", "build.cycle_time")


# ---- the line

def _longer(document, rng):
    rng.choice(document["sections"])["length_m"] *= rng.uniform(1.1, 4)


def test_more_length_never_lowers_drop_rest_or_volume():
    """Each metre of pipe adds wall, and the same flow shears along all of it."""
    never_falls(_longer, DROPS + RESTS + ("line.volume", "build.time_frictionless"))


def test_a_wider_bore_never_raises_drop_or_rest():
    """The same flow through a wider pipe is slower and has less wall for each cross-section."""
    def wider(document, rng):
        rng.choice(document["sections"])["bore_mm"] *= rng.uniform(1.05, 2)
    never_rises(wider, DROPS + RESTS)


def test_colder_never_lowers_drop_or_rest():
    """Yield and consistency of a grease and the viscosity of an oil grow with falling temperature."""
    def colder(document, rng):
        for ambient in [document["ambient"]] + [section["ambient"] for section in document["sections"] if "ambient" in section]:
            ambient["coldest_c"] = max(-60, ambient["coldest_c"] - 12)
    never_falls(colder, ("line.drop_coldest", "line.residual_coldest"))


def test_a_higher_yield_never_lowers_rest_or_drop():
    """What the wall can hold before it slips is the yield; a flow must overcome it first."""
    def stiffer(document, rng):
        if document["lubricant"]["nlgi"] == "oil" or "yield_pa" not in document["lubricant"]:
            return False
        document["lubricant"]["yield_pa"] *= rng.uniform(1.1, 3)
    never_falls(stiffer, DROPS + RESTS)


def test_consistency_raises_the_drop_alone():
    """A rest pressure is held by the yield; consistency only resists flow."""
    def thicker(document, rng):
        if document["lubricant"]["nlgi"] == "oil" or "consistency_pa_sn" not in document["lubricant"]:
            return False
        document["lubricant"]["consistency_pa_sn"] *= 1.7
    never_falls(thicker, DROPS)
    for before, after, _ in pairs(thicker, 20):
        assert [value(before, path) for path in RESTS] == [value(after, path) for path in RESTS]


def test_more_delivery_never_lowers_the_drop_and_never_lengthens_the_build_up():
    """A faster flow shears more; the same volume comes sooner."""
    def stronger(document, rng):
        document["pump"]["delivery_cm3_min"] *= rng.uniform(1.1, 3)
    never_falls(stronger, DROPS)
    # the dose of a shorter cycle may be another: where the interval stays as it is
    never_rises(stronger, BUILDS, make=lambda seed: one_dose(whole_system(seed)))


def one_dose(document):
    """Devices of one output each: no dose follows from the interval."""
    for device in document["devices"]:
        if "output_min_cm3" in device:
            device["output_max_cm3"] = device["output_min_cm3"]
    return document


@pytest.mark.parametrize("field, factor", [("air_fraction", 1.8), ("bulk_modulus_mpa", 0.6)])
def test_a_softer_lubricant_never_shortens_the_build_up(field, factor):
    """Free air and the liquid's own softness are volume that the pump must press in."""
    def softer(document, rng):
        if document["lubricant"].get(field) is None or document["kind"] == "progressive":
            return False
        document["lubricant"][field] *= factor
    never_falls(softer, BUILDS, make=lambda seed: one_dose(whole_system(seed)))


def test_a_hose_that_swells_more_never_shortens_the_build_up():
    """What the wall gives way by must be filled."""
    def swelling(document, rng):
        section = rng.choice(document["sections"])
        section["expansion_cm3_per_m_per_100bar"] = section.get("expansion_cm3_per_m_per_100bar", 0) + 0.7
    never_falls(swelling, BUILDS, make=lambda seed: one_dose(whole_system(seed)))


def test_a_higher_trip_pressure_never_shortens_the_build_up():
    """On the way to the higher pressure the line passes the lower."""
    def higher(document, rng):
        if document["kind"] not in ("single-line", "dual-line"):
            return False
        document["switches"][0]["trips_bar"] += 15
    never_falls(higher, BUILDS, make=lambda seed: one_dose(whole_system(seed)))


def test_a_higher_viscosity_index_is_less_steep():
    """That is what the index says: of two oils alike at 40 °C the one of higher index thickens and thins less."""
    for index in range(20, 240, 20):
        for v40 in (32, 100, 320):
            low, high = (viscosities_of(v40, one) for one in (index, index + 15))
            for cold, warm in ((-10, 20), (20, 40), (40, 80), (-10, 110)):
                assert high(cold) / high(warm) < low(cold) / low(warm), (index, v40, cold, warm)


def viscosities_of(v40, index):
    v100 = v100_of_index(v40, index)
    return lambda t_c: viscosity_at(t_c, v40, v100)


# ---- needs, doses, interval

def waste(worked):
    return worked["interval"]["pause"]["inputs"]["waste"]["value"]


def needed(worked):
    return sum(point["need"]["value"] for point in worked["points"])


def is_fed(worked):
    return not any(entry["id"] == "feed.short" for entry in worked["findings"])


@pytest.mark.parametrize("seed", range(31000, 31004))
def test_the_settings_cover_every_need_unless_a_finding_says_so(seed):
    """A point that gets less than it needs starves; the sheet must say which."""
    for one in range(seed, seed + 800, 4):
        document = whole_system(one)
        worked = ask({"do": "work", "document": document, "simulate": one % 40 < 4})
        short = {entry["where"] for entry in worked["findings"] if entry["id"] == "feed.short"}
        for point in worked["points"]:
            starved = point["rate"]["value"] < point["need"]["value"] * (1 - 1e-6)
            assert starved == ("points." + point["id"] in short), (one, point["id"])


def test_a_finer_step_of_the_pause_never_wastes_more():
    """Every pause of the coarse controller can be entered into the fine one; within the stated tie of 0.5 % of the need."""
    def finer(document, rng):
        document["controller"]["pause"] = {"min_s": 600, "max_s": 360000, "step_s": 120}

    def coarse(seed):
        document = whole_system(seed)
        document["controller"]["pause"] = {"min_s": 600, "max_s": 360000, "step_s": 600}
        return document
    for before, after, seed in pairs(finer, make=coarse):
        if is_fed(before):
            assert is_fed(after) and waste(after) <= waste(before) + 0.005 * needed(before) + 1e-9, seed


def test_more_cycles_to_choose_from_never_waste_more():
    """Whoever may make three cycles may still make one; within the stated tie."""
    def more(document, rng):
        document["controller"]["cycles_max"] = document["controller"].get("cycles_max", 1) + 2
        document.get("choices", {}).pop("cycles_per_event", None)
    for before, after, seed in pairs(more):
        if is_fed(before):
            assert is_fed(after) and waste(after) <= waste(before) + 0.005 * needed(before) + 1e-9, seed


def test_another_point_never_lowers_what_is_consumed():
    """It adds its need and takes no freedom from the others' events; within the tie and the pause's step."""
    def more(document, rng):
        point = rng.choice(document["points"])
        if document["kind"] == "progressive":
            return False
        document["points"].append(dict(copy.deepcopy(point), id="another", name="Another"))
    for before, after, seed in pairs(more):
        if is_fed(before) and is_fed(after):
            assert value(after, "reservoir.per_day") >= 0.99 * value(before, "reservoir.per_day"), seed


def test_twice_the_needs_halve_the_interval():
    """Doses stay as they are and must come twice as often; within the steps of the pause, where nothing else holds the event."""
    def hungry(document, rng):
        for point in document["points"]:
            point["need"] = {"method": "stated", "cm3_per_h": 2 * point["need"]["cm3_per_h"]}
    for before, after, seed in pairs(hungry, make=free_to_choose):
        one, other = (worked["interval"]["event"]["value"] for worked in (before, after))
        assert other == pytest.approx(one / 2, abs=2), seed
        assert [point["dose"]["value"] for point in after["points"]] == pytest.approx(
            [point["dose"]["value"] for point in before["points"]], rel=0.01), seed


def free_to_choose(seed):
    """One device of one dose a point, pauses by the second, an event as long as it likes; needs by the hour from 0.01 cm³."""
    rng = random.Random(seed)
    dose = rng.choice([0.2, 0.5, 1.0])
    document = plain_system(choices={"longest_event_h": 500})
    document["controller"].update(pause={"min_s": 1, "max_s": 5e6, "step_s": 1}, cycles_max=rng.choice([1, 2]))
    document["devices"] = [dict(document["devices"][0], id="D%d" % number, output_min_cm3=dose, output_max_cm3=dose)
                           for number in range(rng.randint(1, 5))]
    document["points"] = [{"id": device["id"], "name": device["id"], "device": device["id"], "need": {
        "method": "stated", "cm3_per_h": rng.uniform(0.01, 0.1)}} for device in document["devices"]]
    return document


def test_a_larger_need_never_lengthens_the_event_of_a_fed_system():
    """A device that gives all it can must come no later to a point that needs more."""
    def hungry(document, rng):
        for point in document["points"]:
            point["need"]["cm3_per_h"] *= 1.3
    never_rises(hungry, ("interval.event",), make=free_to_choose)


def test_a_larger_margin_never_shortens_a_limit():
    """The limit is the longest time with the margin on it."""
    def careful(document, rng):
        if "measured" not in document:
            return False
        document.setdefault("choices", {})["margin"] = document.get("choices", {}).get("margin", 1.5) + 0.5
    never_falls(careful, ("build.time_limit", "build.window"))


# ---- bearings

def bearing(**more):
    return plain_system(points=[{"id": "P0", "name": "Point 0", "device": "D0", "need": dict(
        {"method": "rolling", "bore_mm": 60, "outer_mm": 110, "width_mm": 28, "speed_rpm": 900}, **more)}])


def relubricated(**more):
    """(interval [h], need [cm³/h]) of a bearing."""
    point = work(bearing(**more))["points"][0]
    return point["regrease_interval"]["value"], point["need"]["value"]


@pytest.mark.parametrize("variant", ["A", "B"])
def test_a_slower_bearing_never_waits_shorter_and_never_needs_more(variant):
    """The published interval falls with the speed; the quantity for each time does not know it."""
    got = [relubricated(variant=variant, speed_rpm=speed) for speed in (5, 60, 300, 900, 1800, 4000)]
    assert [hours for hours, _ in got] == sorted([hours for hours, _ in got], reverse=True)
    assert [need for _, need in got] == sorted(need for _, need in got)


def test_a_hotter_bearing_never_waits_longer():
    """Heat ages the lubricant: set B halves the interval for each 15 K."""
    got = [relubricated(variant="B", running_c=running)[0] for running in (20, 45, 60, 70, 85, 100, 130)]
    assert got == sorted(got, reverse=True) and got[-1] < got[0] / 4


@pytest.mark.parametrize("factor", ["temperature", "contamination", "moisture", "vibration", "position", "design"])
def test_a_harsher_place_never_lengthens_a_bearing_s_interval(factor):
    """Each factor stands for conditions that shorten it: smaller is harsher."""
    got = [relubricated(factors={factor: share})[0] for share in (0.1, 0.3, 0.7, 1)]
    assert got == sorted(got) and got[0] < got[-1]


# ---- reservoir and wiring

def test_the_reservoir_never_lasts_longer_with_more_duty():
    """More hours a day at the same rate use more."""
    def busier(document, rng):
        duty = document["duty"]
        if duty["hours_per_day"] > 20 or not duty["only_while_machine_runs"]:
            return False
        duty["hours_per_day"] += 3
    never_rises(busier, ("reservoir.days_to_empty", "reservoir.days_to_low"))


def test_a_larger_reservoir_never_lasts_shorter_and_low_comes_before_empty():
    """It holds more at the same use; the low-level switch acts while something is left."""
    def larger(document, rng):
        document["pump"]["reservoir_l"] += 1
    never_falls(larger, ("reservoir.days_to_empty", "reservoir.days_to_low"))
    for before, _, seed in pairs(larger):
        low = value(before, "reservoir.days_to_low")
        assert low is None or low <= value(before, "reservoir.days_to_empty") * (1 + BITS), seed


VOLTS = ("electrical.voltage_drop", "electrical.voltage_drop_start_percent")


def test_a_longer_cable_never_loses_less():
    """Resistance is in proportion to length."""
    def longer(document, rng):
        if "wiring" not in document:
            return False
        document["wiring"]["cable_m"] += 7
    never_falls(longer, VOLTS)


def test_a_thicker_conductor_never_loses_more():
    """Resistance falls with the cross-section."""
    def thicker(document, rng):
        wiring = document.get("wiring", {})
        if "conductor_mm2" not in wiring:
            return False
        wiring["conductor_mm2"] = 6
    never_rises(thicker, VOLTS)


def test_a_hotter_conductor_never_loses_less():
    """Copper's resistance grows with its temperature."""
    def hotter(document, rng):
        if "wiring" not in document:
            return False
        document["wiring"]["conductor_c"] = document["wiring"].get("conductor_c", 60) + 30
    never_falls(hotter, VOLTS)


# ---- progressive and dual-line

def test_what_leaves_a_progressive_system_is_what_went_in():
    """Nothing is kept in a block: what the first takes in a cycle comes out of all outlets that feed no other block."""
    for seed in range(33001, 33401, 4):
        document = random_system(seed, 12, "progressive")
        worked = work(document)
        out = sum(point["dose"]["value"] for point in worked["points"])
        assert out == pytest.approx(worked["blocks"][0]["volume"]["value"], rel=BITS), seed


def test_a_larger_outlet_never_slows_the_blocks_that_hang_on_it():
    """A block turns as often as its feeding outlet fills it."""
    for seed in range(33001, 33201, 4):
        document = random_system(seed, 12, "progressive")
        hanging = [block for block in document["devices"] if "hangs_from" in block]
        if not hanging:
            continue
        above = hanging[0]["hangs_from"]
        block, = [one for one in document["devices"] if one["id"] == above["block"]]
        outlet, = [one for one in block["outlets"] if one["id"] == above["outlet"]]
        turns = {}
        for scale in (1, 1.5):
            outlet["output_cm3"] *= scale
            turns[scale] = {one["id"]: one["turns"]["value"] for one in work(document)["blocks"]}[hanging[0]["id"]]
        assert turns[1.5] > turns[1], seed


def test_lines_a_and_b_that_change_places_change_their_figures():
    """The two lines are alike: only what hangs on them differs."""
    def swapped(document, rng):
        for point in document["points"]:
            point["side"] = "B" if point["side"] == "A" else "A"
        document.pop("measured", None)
    for before, after, seed in pairs(swapped, 30, "dual-line"):
        for name in ("volume_", "time_frictionless_"):
            assert value(before, "build.%sa" % name) == pytest.approx(value(after, "build.%sb" % name), rel=0.05), seed
        assert needed(before) == pytest.approx(needed(after))


# ---- fault finding

def test_closed_defects_never_lower_the_share_of_their_own_cause():
    """What has happened here before is likelier to be it again."""
    for seed in range(8):
        document = any_system(seed, 8)
        document.setdefault("switches", [])
        before = prior(document, [])
        for name in before:
            typed = "leak=pump:1" if name == "return" else name
            assert before[name] < prior(document, [typed])[name] < prior(document, [typed] * 5)[name] < 1
        assert set(before) <= set(CAUSES)
