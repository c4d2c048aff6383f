"""The same system worked on both machines: every number alike to a relative 1e-9, every text the same."""
import json
import sys

import pytest

from webapp.engine import bridge
from webapp.phone_engine import PhoneEngine

from .mutated import mutated
from .sound import complaints
from .systems import any_system, random_system
from .whole_systems import whole_faults, whole_system

# name of a test's chunks -> (first seed, a chunk, systems, systems with --all-cases)
CHUNKS = {"plain": (10000, 100, 1500, 5000), "simulated": (20000, 10, 100, 300), "faulted": (20000, 10, 40, 80)}


def pytest_generate_tests(metafunc):
    for name in set(CHUNKS) & set(metafunc.fixturenames):
        first, chunk, few, every = CHUNKS[name]
        count = every if metafunc.config.getoption("--all-cases") else few
        metafunc.parametrize(name, [range(start, start + chunk) for start in range(first, first + count, chunk)],
                             ids=lambda seeds: str(seeds.start))


@pytest.fixture(scope="module")
def phone():
    with PhoneEngine() as engine:
        yield engine


def differences(here, there, path=""):
    """Where two JSON values differ: another shape, another text, or numbers further apart than a relative 1e-9."""
    if isinstance(here, dict) and isinstance(there, dict):
        if sorted(here) != sorted(there):
            return [(path, sorted(here), sorted(there))]
        return [one for name in here for one in differences(here[name], there[name], path + "." + name)]
    if isinstance(here, list) and isinstance(there, list):
        if len(here) != len(there):
            return [(path, len(here), len(there))]
        return [one for number, (a, b) in enumerate(zip(here, there, strict=True))
                for one in differences(a, b, "%s[%d]" % (path, number))]
    if _is_number(here) and _is_number(there):
        # how well a halving closes is nothing but the last bits, which differ
        alike = abs(here - there) <= 1e-9 * max(abs(here), abs(there)) + (1e-12 if path.endswith(".residual.value") else 1e-15)
    else:
        alike = type(here) is type(there) and here == there
    return [] if alike else [(path, here, there)]


def _is_number(value):
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def both(phone, request):
    text = json.dumps(request)
    return json.loads(bridge.answer(text)), json.loads(phone.ask(text))


def without_balance(worked):
    """The worked document without its simulations' balance: a difference of large numbers, all but nothing on both machines."""
    for part in ("build", "vent"):
        for entry in worked.get(part, {}).values():
            if entry["method"] == "simulated":
                assert entry["residual"].pop("value") < 0.005
    return worked


def as_sent(thing):
    """A document as a browser sends it: JSON knows no endless number, null stands for it."""
    if isinstance(thing, dict):
        return {name: as_sent(part) for name, part in thing.items()}
    if isinstance(thing, list):
        return [as_sent(part) for part in thing]
    endless = _is_number(thing) and not abs(thing) <= sys.float_info.max
    return None if endless else thing


def document_of(seed):
    """Three in ten have gone wrong."""
    return as_sent(mutated(seed)) if seed // 8 % 10 < 3 else whole_system(seed)


def test_systems_are_worked_alike_without_simulation(phone, plain):
    for seed in plain:
        here, there = both(phone, {"do": "work", "document": document_of(seed), "units": ("metric", "us")[seed // 4 % 2],
                                   "simulate": False})
        assert differences(here, there) == [], seed


def test_systems_are_worked_alike_with_simulation(phone, simulated):
    for seed in simulated:
        here, there = both(phone, {"do": "work", "document": whole_system(seed), "units": "metric", "simulate": True})
        assert complaints(here) == [], seed
        assert differences(without_balance(here), without_balance(there)) == [], seed


def test_faults_of_every_kind_do_alike(phone, faulted):
    for seed in faulted:
        document = whole_system(seed, 6)
        here, there = both(phone, {"do": "simulate", "document": document, "faults": whole_faults(seed, document), "limit_s": 900})
        balances = [trace.pop("balance_error", 0) for trace in (here, there)]
        assert (seed, complaints(here), differences(here, there)) == (seed, [], []) and max(balances) < 0.005, seed


@pytest.mark.parametrize("seed", range(12200, 12220))
def test_pictures_lists_and_checks_are_alike(phone, seed):
    document = any_system(seed, 10)
    worked, _ = both(phone, {"do": "work", "document": document, "simulate": False})
    for request in ({"do": "diagram", "worked": worked, "width": 360, "across": False}, {"do": "checklist", "worked": worked},
                    {"do": "check"}, {"do": "verdict", "record": {"runs": [{"build_s": 30}, {"build_s": 31}], "at_c": 20}}):
        here, there = both(phone, dict(request, document=document, units="us"))
        assert differences(here, there) == [], request["do"]


def test_traces_are_alike(phone):
    document = random_system(12231, 6)
    here, there = both(phone, {"do": "simulate", "document": document, "at_c": 10, "cycles": 1})
    balances = [trace.pop("balance_error") for trace in (here, there)]
    assert differences(here, there) == [] and max(balances) < 0.005


@pytest.mark.parametrize("faults", [["leak=pump:0.02", "air=0.03", "empty=0.02"], ["pump=0.5", "vent=0.1", "blocked=S2"],
                                    ["contact=W1"], ["relief=60", "leak=N1"]])
def test_faulted_traces_are_alike(phone, faults):
    here, there = both(phone, {"do": "simulate", "document": random_system(12231, 6), "faults": faults, "limit_s": 900})
    balances = [trace.pop("balance_error", 0) for trace in (here, there)]
    assert differences(here, there) == [] and max(balances) < 0.005


def test_the_comparison_sees_a_difference():
    assert differences({"a": [1.0, "x"]}, {"a": [1.0 + 1e-8, "x"]}) and differences("a", "b") and differences(True, 1)
    assert not differences([1.0], [1.0 + 1e-12])
