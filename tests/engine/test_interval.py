"""The chosen interval against every pause that the controller accepts, tried one by one.

The rule: of all pauses and cycles whose event is not too long and feeds every point, least waste wins; within 0.5 % of the
total need fewer cycles, then the longer event. A dose is need x event / cycles, up to the device's step and within its range.
"""
import numpy as np
import pytest

from webapp.engine.systems.worked import work

from .systems import random_system

HAIR = 1e-9


def accepted_pauses(ranges):
    """Every pause of the controller [s]."""
    entries = [ranges] if isinstance(ranges, dict) else ranges
    return np.unique(np.concatenate([np.arange(one["min_s"], one["max_s"] + one["step_s"] / 2, one["step_s"])
                                     for one in entries]).astype(float))


def devices_with_needs(document, worked):
    """(device, needs of its points [cm³/h]) of every device that feeds points; of a block each outlet, which gives what it gives."""
    if document["kind"] == "progressive":
        return [({"output_min_cm3": figures["dose"]["value"], "output_max_cm3": figures["dose"]["value"]}, [figures["need"]["value"]])
                for figures in worked["points"]]
    needs = {}
    for point, figures in zip(document["points"], worked["points"]):
        needs.setdefault(point["device"], []).append(figures["need"]["value"])
    return [(device, needs[device["id"]]) for device in document["devices"] if device["id"] in needs]


def doses(device, needs, hours, cycles):
    """(doses, is each enough) of a device for many events at once."""
    wanted = np.maximum(device["output_min_cm3"], max(needs) * hours / cycles)
    step = device.get("output_step_cm3") or 0
    given = device["output_min_cm3"] + step * np.ceil((wanted - device["output_min_cm3"]) / step - HAIR) if step else wanted
    return np.minimum(given, device["output_max_cm3"]), wanted <= device["output_max_cm3"] * (1 + HAIR)


def candidates(document, worked):
    """(cycles, event, waste, pause) of every candidate that feeds all points."""
    inputs = worked["interval"]["event"]["inputs"]
    busy = sum(entry["value"] for name, entry in inputs.items() if name not in ("cycles", "pause"))
    choices = document.get("choices", {})
    pauses = accepted_pauses(document["controller"]["pause"])
    chosen = choices.get("cycles_per_event")
    for cycles in [chosen] if chosen else range(1, document["controller"].get("cycles_max", 1) + 1):
        events = cycles * busy + pauses
        fed, waste = events <= choices.get("longest_event_h", 8) * 3600 * (1 + HAIR), np.zeros(len(pauses))
        for device, needs in devices_with_needs(document, worked):
            dose, enough = doses(device, needs, events / 3600, cycles)
            fed &= enough
            waste += len(needs) * dose * cycles / (events / 3600) - sum(needs)
        yield from zip([cycles] * int(fed.sum()), events[fed], waste[fed], pauses[fed])


def best(document, worked):
    """The candidate that the rule picks, or None."""
    tried = list(candidates(document, worked))
    if not tried:
        return None
    total = sum(point["need"]["value"] for point in worked["points"])
    within = min(waste for _, _, waste, _ in tried) + 0.005 * total
    return min(((cycles, -event, pause) for cycles, event, waste, pause in tried if waste <= within * (1 + HAIR) + 1e-12))


def compare(document):
    """Assert that the worked interval is the one that the rule picks; False where no candidate feeds every point."""
    worked = work(document, False)
    wanted = best(document, worked)
    short = [entry for entry in worked["findings"] if entry["id"] == "feed.short"]
    if wanted is None:
        assert short
        return False
    assert not short
    interval = worked["interval"]
    assert interval["cycles_per_event"]["value"] == wanted[0]
    assert interval["pause"]["value"] == pytest.approx(wanted[2], rel=1e-9)
    assert interval["event"]["value"] == pytest.approx(-wanted[1], rel=1e-9)
    return True


@pytest.mark.parametrize("start", range(2000, 2400, 40))
def test_the_chosen_interval_is_the_one_that_trying_all_finds(start):
    fed = [compare(random_system(seed)) for seed in range(start, start + 40)]
    assert sum(fed) >= 30


@pytest.mark.parametrize("kind", ["progressive", "dual-line", "time-only"])
def test_so_it_is_for_the_other_kinds(kind):
    fed = [compare(_hungry_less(random_system(seed, 24, kind))) for seed in range(2400, 2440)]
    assert sum(fed) >= 20


def _hungry_less(document):
    """Blocks give what they give: with a tenth of the needs most systems can be fed."""
    if document["kind"] == "progressive":
        for point in document["points"]:
            if point["need"]["method"] == "stated":
                point["need"]["cm3_per_h"] /= 10
            else:
                point["need"] = {"method": "stated", "cm3_per_h": 0.005}
    return document


@pytest.mark.parametrize("seed", range(2500, 2540))
def test_it_is_found_with_finely_adjustable_devices_too(seed):
    document = random_system(seed, 8)
    for device in document["devices"]:
        device.update(output_max_cm3=device["output_min_cm3"] * 6, output_step_cm3=device["output_min_cm3"] / 300)
    compare(document)


@pytest.mark.parametrize("seed", range(2600, 2640))
def test_doses_are_what_the_event_asks_for(seed):
    document = random_system(seed)
    worked = work(document, False)
    hours, cycles = worked["interval"]["event"]["value"] / 3600, worked["interval"]["cycles_per_event"]["value"]
    dose_of = {point["device"]: figures["dose"]["value"] for point, figures in zip(document["points"], worked["points"])}
    for device, needs in devices_with_needs(document, worked):
        assert dose_of[device["id"]] == pytest.approx(float(doses(device, needs, hours, cycles)[0]), rel=1e-9)


def test_a_need_beyond_every_pause_shows_the_nearest_with_a_stop():
    document = random_system(2000, 6)
    document["points"][0]["need"] = {"method": "stated", "cm3_per_h": 5000}
    worked = work(document, False)
    short = next(entry for entry in worked["findings"] if entry["id"] == "feed.short")
    assert (short["severity"], short["where"]) == ("stop", "points." + document["points"][0]["id"])
    assert worked["interval"]["pause"]["value"] == accepted_pauses(document["controller"]["pause"])[0]


def test_an_event_is_not_longer_than_wanted():
    for seed in range(2700, 2720):
        document = random_system(seed)
        document["choices"] = {"longest_event_h": 2}
        assert work(document, False)["interval"]["event"]["value"] <= 2 * 3600 * (1 + HAIR)


def test_whole_numbers_that_another_program_writes_with_a_point_count_as_whole():
    document = random_system(7)
    document["controller"]["cycles_max"] = 3
    chosen = dict(document, choices={"cycles_per_event": 2})
    pointed = dict(document, controller=dict(document["controller"], cycles_max=3.0))
    assert work(pointed, False) == work(document, False)
    assert work(dict(chosen, choices={"cycles_per_event": 2.0})) == work(chosen)
