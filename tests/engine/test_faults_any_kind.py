"""Any faults on any kind of system: never an exception, volumes balance, both machines alike."""
import json
import random

import pytest

from webapp.engine import bridge
from webapp.engine.events.faults import read
from webapp.engine.basics.kinds import fitting
from webapp.engine.events.simulate import simulate
from webapp.engine.systems.worked import doses_from, work
from webapp.phone_engine import PhoneEngine

from .systems import any_system
from .test_parity import differences

SIZES = {"leak": (0, 0.001, 0.05, 1, 10000), "air": (0, 0.001, 0.2, 0.5), "pump": (0, 0.01, 0.5, 1),
         "vent": ("stuck", 0, 0.01, 1), "switch": ("stuck", 5, 60, 300), "relief": (1, 20, 80, 400), "empty": (0, 0.001, 0.02, 1)}


def typed_faults(rng, document):
    """One to four faults, of any size that can be typed."""
    switches = [switch["id"] for switch in document["switches"]]
    places = {"leak": ["pump"] + [section["to"] for section in document["sections"]], "switch": switches, "contact": switches,
              "blocked": [section["id"] for section in document["sections"]], "device": [one["id"] for one in document["devices"]]}
    typed = []
    for name in rng.sample(sorted(set(places) | set(SIZES)), rng.randint(1, 4)):
        parts = [rng.choice(places[name])] if places.get(name) else [] if name not in places else None
        if parts is not None:
            typed.append("%s=%s" % (name, ":".join(parts + ([str(rng.choice(SIZES[name]))] if name in SIZES else []))))
    return typed


def case(seed):
    """(document as its kind has it, typed faults) of one seed."""
    document = fitting(any_system(seed, 8))
    return document, typed_faults(random.Random(seed), document)


@pytest.mark.parametrize("start", range(20000, 20060, 10))
def test_whatever_is_wrong_the_volumes_balance(start):
    for seed in range(start, start + 10):
        document, typed = case(seed)
        worked, rng = work(document, False), random.Random(seed)
        faults, findings = read(document, typed)
        assert all(entry["with"]["name"] == "switch" for entry in findings), typed  # a cycle switch has no pressure
        at_c = rng.choice(sorted(document["ambient"].values()))
        trace = simulate(document, doses_from(document, worked), at_c, rng.choice((1, 2)),
                         rng.choice((None, 30)), {"vent": rng.choice((None, 20)), "time_limit": 40}, faults)
        assert trace["balance_error"] < 0.005, (seed, typed)
        assert (trace["why"] is None) == trace["completed"]
        assert [entry["at_s"] for entry in trace["events"]] == sorted(entry["at_s"] for entry in trace["events"])


def test_both_machines_simulate_the_same():
    with PhoneEngine() as phone:
        for seed in range(20100, 20124):
            document, typed = case(seed)
            text = json.dumps({"do": "simulate", "document": document, "faults": typed})
            here, there = json.loads(bridge.answer(text)), json.loads(phone.ask(text))
            assert [trace.pop("balance_error", 0) < 0.005 for trace in (here, there)] == [True, True]
            assert differences(here, there) == [], (seed, typed)
