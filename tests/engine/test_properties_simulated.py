"""What must always hold when a line moves: properties over simulated events of generated systems, each with its why."""
import copy
import random

import pytest

from webapp.engine.bridge import ask
from webapp.engine.events.faults import read
from webapp.engine.events.simulate import simulate
from webapp.engine.systems.worked import doses_from, work

from .sound import complaints
from .systems import random_system
from .whole_systems import whole_system

LIMIT_S = 3600
# steps end where something happens: the same event by other steps
_STEPS = 0.02
_BIT = 1e-6


def least_doses(document):
    """Every device gives its least; by kind as simulate takes it."""
    feeds = [(point["device"], point.get("side")) for point in document["points"]]
    if document["kind"] == "progressive":
        return {}

    def of(side):
        return {device["id"]: device["output_min_cm3"] * feeds.count((device["id"], side)) for device in document["devices"]}
    return {"A": of("A"), "B": of("B")} if document["kind"] == "dual-line" else of(None)


def run(document, *faults, doses=None, at_c=None):
    found, findings = read(document, list(faults))
    assert findings == [], faults
    return simulate(document, doses or least_doses(document), document["ambient"]["usual_c"] if at_c is None else at_c,
                    limit_s=LIMIT_S, faults=found)


def build_s(trace):
    """Until the switch, or the last device of a time-only system; endless where never."""
    seconds = (trace.get("fed_s") or trace["trip_s"])[0]
    return float("inf") if seconds is None else seconds


def sound(kind, count=8, start=40000):
    """(document, its trace, a generator of random numbers) of systems whose cycle is completed on a good day."""
    for seed in range(start, start + 60 * count):
        document = random_system(seed, 6, kind)
        document["switches"] = document.get("switches") or []
        trace = run(document)
        if trace["completed"] and build_s(trace) < LIMIT_S / 4:
            count -= 1
            yield document, trace, random.Random(seed)
        if not count:
            return
    raise AssertionError("too few sound systems")


KINDS = ("single-line", "dual-line", "time-only", "progressive")
BY_PRESSURE = KINDS[:2]


def never_sooner(kind, change):
    """Asserts that the change makes no build-up shorter, and some longer."""
    longer = 0
    for document, trace, rng in sound(kind):
        other = copy.deepcopy(document)
        faults = change(other, rng, trace) or ()
        after = build_s(run(other, *faults))
        assert after >= build_s(trace) * (1 - _STEPS), (document["name"], faults)
        longer += after > build_s(trace) * (1 + _STEPS)
    assert longer


@pytest.mark.parametrize("kind", KINDS)
def test_a_worn_pump_never_builds_up_sooner(kind):
    """The same volume comes later; friction, which is less then, never gives back what the flow lacks."""
    never_sooner(kind, lambda document, rng, trace: ("pump=%.2f" % rng.uniform(0.3, 0.8),))


@pytest.mark.parametrize("kind", KINDS)
def test_more_air_never_builds_up_sooner(kind):
    """Air must be pressed small before the pressure rises."""
    never_sooner(kind, lambda document, rng, trace: ("air=%.3f" % rng.uniform(0.06, 0.3),))


@pytest.mark.parametrize("kind", KINDS)
def test_a_leak_never_builds_up_sooner(kind):
    """What runs out is missing."""
    def leak(document, rng, trace):
        return "leak=%s:%.4f" % (rng.choice(document["sections"])["to"], document["pump"]["delivery_cm3_min"] / 400),
    never_sooner(kind, leak)


@pytest.mark.parametrize("kind", KINDS)
def test_a_hose_that_swells_never_builds_up_sooner(kind):
    """What the wall gives way by must be filled."""
    def swelling(document, rng, trace):
        for section in document["sections"]:
            section["expansion_cm3_per_m_per_100bar"] = 3
    never_sooner(kind, swelling)


@pytest.mark.parametrize("kind", BY_PRESSURE)
def test_a_higher_trip_pressure_never_trips_sooner(kind):
    """On the way to the higher pressure the line passes the lower."""
    def higher(document, rng, trace):
        document["pump"]["relief_bar"] += 30
        document["switches"][0]["trips_bar"] += 25
    never_sooner(kind, higher)


@pytest.mark.parametrize("kind", BY_PRESSURE)
def test_a_switch_farther_along_the_line_never_trips_earlier(kind):
    """What lies beyond a place is filled through it alone: its highest pressure so far cannot be above that of the place."""
    compared = 0
    for document, _, _ in sound(kind):
        above = {section["to"]: section["from"] for section in document["sections"]}
        way = [document["sections"][-1]["to"]]
        while way[-1] in above:
            way.append(above[way[-1]])
        times = []
        for node in way[::-1]:
            document["switches"] = [dict(document["switches"][0], at=node)]
            times.append(build_s(run(document)))
        assert all(far >= near * (1 - _STEPS / 4) for near, far in zip(times, times[1:])), (document["name"], times)
        compared += times[-1] > times[0]
    assert compared


@pytest.mark.parametrize("kind", ["single-line", "time-only"])
@pytest.mark.parametrize("fault", ["leak", "device", "blocked"])
def test_two_identical_faults_are_no_better_than_one(kind, fault):
    """Twice the opening lets out more; a pipe shut twice is shut, a device that stands still stands still."""
    for document, trace, rng in sound(kind, 5):
        typed = {"leak": "leak=%s:%.4f" % (rng.choice(document["sections"])["to"], document["pump"]["delivery_cm3_min"] / 500),
                 "device": "device=" + rng.choice(document["devices"])["id"],
                 "blocked": "blocked=" + document["sections"][-1]["id"]}[fault]
        once, twice = build_s(run(document, typed)), build_s(run(document, typed, typed))
        assert twice >= once * (1 - _STEPS) if fault == "leak" else twice == once, (document["name"], typed)


@pytest.mark.parametrize("kind", KINDS[:3])
def test_where_all_is_said_to_have_reset_no_place_keeps_more_than_its_reset_pressure(kind):
    """A device that is held above its reset pressure is not ready for its next dose."""
    for document, trace, _ in sound(kind):
        for name in ("pressure_bar", "pressure_b_bar"):
            for thing in document["devices"] + [one for one in document["switches"] if name == "pressure_bar"]:
                if name in trace:
                    assert trace[name][thing["at"]][-1] <= thing["resets_bar"] * (1 + _BIT), (document["name"], thing["id"])


def thin(kind, seed):
    """A system with an oil so thin, and a pump so slow, that friction is nothing: the same pressure everywhere."""
    document = random_system(seed, 6, kind)
    document["lubricant"] = {"name": "invented oil", "nlgi": "oil", "v40_mm2_s": 10, "v100_mm2_s": 2.7, "bulk_modulus_mpa": 1400,
                             "air_fraction": 0.02}
    document["ambient"] = {"coldest_c": 30, "usual_c": 40, "hottest_c": 50}
    document["pump"]["delivery_cm3_min"] = 10
    document["controller"]["time_limit"] = {"min_s": 10, "max_s": 20000, "step_s": 10}
    document.pop("measured", None)
    return document


@pytest.mark.parametrize("kind, volume, time", [("single-line", "volume", "time_usual"), ("dual-line", "volume_a", "time_usual_a"),
                                                ("dual-line", "volume_b", "time_usual_b")])
def test_without_friction_the_pump_has_given_doses_compression_and_swelling(kind, volume, time):
    """Nothing is lost: the delivery until the trip is the doses, what lubricant and air give way by, and what the walls do."""
    for seed in range(41000, 41006):
        worked = work(thin(kind, seed))
        given = worked["build"][time]["value"] * 10 / 60
        assert given == pytest.approx(worked["build"][volume]["value"], rel=0.01), seed


@pytest.mark.parametrize("rate", [0.01, 0.05])
def test_without_friction_a_leak_takes_its_rate_times_the_pressure(rate):
    """The balance with a leak: what runs out is the rate times the pressure over the time, whatever the place."""
    for seed in range(41000, 41004):
        document = thin("single-line", seed)
        node, doses = document["sections"][-1]["to"], doses_from(document, work(document, False))
        whole, leaking = run(document, doses=doses, at_c=40), run(document, "leak=%s:%s" % (node, rate), doses=doses, at_c=40)
        off = leaking["trip_s"][0]
        if off is None:
            continue
        times, bars = leaking["time_s"], leaking["pressure_bar"][node]
        lost = sum(rate / 60 * (a + b) / 2 * (min(end, off) - min(start, off))
                   for a, b, start, end in zip(bars, bars[1:], times, times[1:]))
        assert (off - whole["trip_s"][0]) * 10 / 60 == pytest.approx(lost, rel=0.05, abs=0.05), seed


def test_every_block_turns_in_proportion_to_what_it_receives():
    """A block is full when its feeding outlet has given its volume; nothing is kept on the way."""
    for document, trace, _ in sound("progressive", 12):
        through = trace["delivered_cm3"]
        sums = {block["id"]: sum(outlet["output_cm3"] for outlet in block["outlets"]) for block in document["devices"]}
        for block in document["devices"]:
            above = block.get("hangs_from")
            if above:
                feeding, = [one for one in document["devices"] if one["id"] == above["block"]]
                gives = sum(outlet["output_cm3"] for outlet in feeding["outlets"]
                            if above["outlet"] in (outlet["id"], outlet.get("joined_to")))
                assert through[block["id"]] == pytest.approx(through[above["block"]] / sums[above["block"]] * gives), block["id"]


def test_a_time_only_run_is_never_shorter_than_the_coldest_feeding():
    """Nothing confirms the last device: the run must outlast it on the coldest day, or a finding says so."""
    for seed in range(42000, 42020):
        worked = ask({"do": "work", "document": whole_system(seed * 4 + 3, 6)})
        coldest, run_s = worked["build"]["time_coldest"]["value"], worked["interval"].get("run_time", {}).get("value")
        stopped = any(entry["severity"] == "stop" for entry in worked["findings"])
        assert stopped or (coldest is not None and run_s >= coldest), seed
        assert complaints(worked) == [], seed


def test_a_limit_is_never_shorter_than_the_coldest_build_up():
    """A limit that ends a sound build-up calls somebody out for nothing, and starves what was not fed yet."""
    for seed in range(43000, 43024):
        document = whole_system(seed, 6)
        document.pop("measured", None)
        worked = ask({"do": "work", "document": document})
        limit = worked["build"].get("time_limit") or worked["build"].get("window")
        coldest = [one["value"] for name, one in worked["build"].items() if name.startswith("time_coldest")]
        stopped = any(entry["severity"] == "stop" for entry in worked["findings"])
        assert not limit or stopped or limit["value"] >= max(coldest), seed


@pytest.mark.parametrize("kind", KINDS)
def test_names_and_their_order_change_no_trace(kind):
    """What happens on a line does not know how its devices are listed; by other sums, within the last bits that grow."""
    for document, trace, rng in sound(kind, 4):
        for group in ("devices", "points"):
            rng.shuffle(document[group])
        assert build_s(run(document)) == pytest.approx(build_s(trace), rel=1e-3), document["name"]
