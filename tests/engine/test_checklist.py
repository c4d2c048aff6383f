"""The checklist of a round comes from the system's make-up and its limits from the baseline."""
import copy

from demo_site import plant
from webapp.engine.bridge import ask


def items(system):
    return ask({"do": "checklist", "document": system, "worked": ask({"do": "work", "document": system, "simulate": False})})["items"]


def of(component, listed):
    return [item for item in listed if item["component"] == component]


def test_every_part_of_the_system_is_looked_at():
    system = plant.sorter_chain()
    listed = items(system)
    looked_at = {item["place"] for item in listed}
    for group in ("sections", "devices", "points", "switches"):
        assert {thing["id"] for thing in system[group]} <= looked_at, group
    assert of("reservoir", listed) and of("pump", listed) and of("controller", listed)


def test_no_two_items_share_a_key_and_all_have_words():
    listed = items(plant.debarker())
    assert len({item["key"] for item in listed}) == len(listed)
    assert all(item["says"] and item["where"] for item in listed)


def test_the_walk_begins_at_the_reservoir_and_ends_with_a_timed_cycle():
    listed = items(plant.head_rig())
    assert [listed[0]["component"], listed[-1]["unit"]] == ["reservoir", "s"]


def test_the_timed_cycle_gets_its_limits_from_the_baseline():
    system = copy.deepcopy(plant.head_rig())
    before = items(system)[-1]
    system["measured"] = {"build_s": [80.0, 81.0, 82.0], "vent_s": [6.0, 6.0, 6.0]}
    after = items(system)[-1]
    assert (after["low"], after["high"]) != (before["low"], before["high"])
    assert after["low"] < 81.0 < after["high"]


def test_a_hose_is_looked_at_for_more_than_a_pipe():
    system = copy.deepcopy(plant.head_rig())
    steel = len(of("pipe", items(system)))
    system["sections"][0].update(wall="hose", expansion_cm3_per_m_per_100bar=0.5)
    assert len(of("pipe", items(system))) > steel
