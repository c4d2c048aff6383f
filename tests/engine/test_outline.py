"""What stands at the foot of the form while somebody types is what the whole working says, on both machines."""
import json
import subprocess
import sys

import pytest

from tests.engine.systems import any_system, random_system
from webapp.engine.bridge import answer, ask
from webapp.phone_engine import PhoneEngine


@pytest.mark.parametrize("units", ["metric", "us"])
def test_it_gives_the_same_figures_as_the_whole_working(units):
    for seed in range(60):
        request = {"document": any_system(seed), "units": units, "simulate": False}
        outline, worked = ask(dict(request, do="outline")), ask(dict(request, do="work"))
        assert (seed, outline["interval"]["pause"]) == (seed, worked["interval"]["pause"])
        name, = outline["build"]
        assert (seed, outline["build"][name]) == (seed, worked["build"][name])


def test_a_document_that_cannot_be_worked_gives_its_findings():
    document = random_system(1)
    document["pump"]["delivery_cm3_min"] = None
    found = ask({"do": "outline", "document": document})
    assert "interval" not in found and [entry["where"] for entry in found["findings"]] == ["pump.delivery_cm3_min"]


def test_the_phone_says_the_same():
    with PhoneEngine() as phone:
        for seed in range(60):
            text = json.dumps({"do": "outline", "document": any_system(seed), "detail": False})
            here, there = json.loads(answer(text)), json.loads(phone.ask(text))
            assert (seed, here["interval"]["pause"]["shown"]) == (seed, there["interval"]["pause"]["shown"])
            name, = here["build"]
            assert here["build"][name]["value"] == pytest.approx(there["build"][name]["value"], rel=1e-9)


def test_the_foot_of_the_form_does_not_wait_for_wiring_reservoir_and_signals():
    code = ("import json, sys\nfrom webapp.engine.bridge import ask\n"
            "assert 'interval' in ask({'do': 'outline', 'document': json.loads(sys.stdin.read())})\nprint(' '.join(sys.modules))")
    loaded = subprocess.run([sys.executable, "-c", code], input=json.dumps(random_system(1)), capture_output=True, text=True,
                            check=True).stdout.split()
    late = {"webapp.engine." + name for name in ("systems.around", "systems.reservoir", "wiring.electrical", "wiring.conductors",
                                                 "wiring.signals", "words.sentences_wiring")}
    assert "webapp.engine.systems.worked" in loaded and late & set(loaded) == set()
