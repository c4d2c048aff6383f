"""One temperature: what closed forms decide the simulation says too, what is near a limit is simulated, on seeded systems of all kinds."""
import json

import pytest

from demo_site import plant

from tests.engine.systems import KINDS, any_system, plain_progressive, plain_system
from webapp.engine.basics.kinds import fitting
from webapp.engine.document.check import check
from webapp.engine.systems.worked import job_of, work
from webapp.engine.words.present import present
from webapp.engine.year.margins import CLEAR, MISSED, Margins
from webapp.engine.year.tonight import CHECK, CLOSED, SIMULATED, Simulated, tonight
from webapp.phone_engine import ONLY_ON_SERVER, PhoneEngine, bundle

SEEDS = range(4000, 4080)
# the simulation's cells and steps may go past a bound of the line itself by so much
STEPS = 1.01
MILD_C = 5
_PROBE = """
import json
from .year.tonight import tonight
def answer(text):
    asked = json.loads(text)
    return json.dumps(tonight(asked["document"], asked["at_c"]))
"""


def looked_at(document, at_c):
    """(limits missed for sure, limits kept for sure or None, limits by simulation)."""
    document = fitting(document)
    job = job_of(document, False)
    job.choose_interval()
    margins = Margins(document, job, at_c)
    missed = margins.missed()
    return missed, None if missed else margins.kept(), Simulated(document, work(document, True, True), at_c).limits()


def works(document):
    return not any(entry["severity"] == "stop" for entry in check(document))


@pytest.fixture(scope="module")
def cases():
    """[(kind, at_c, missed, kept, simulated)] of the seeded systems that can be worked, in frost and at their own coldest."""
    documents = [document for document in (any_system(seed) for seed in SEEDS) if works(document)]
    return [(document["kind"], at_c, *looked_at(document, at_c))
            for document in documents for at_c in sorted({-12, document["ambient"]["coldest_c"]})]


def test_what_closed_forms_decide_the_simulation_says_too(cases):
    for case in cases:
        _, _, missed, kept, simulated = case
        # a device that doses over and over keeps the line below a relief pressure that it would reach: its build-up never ends
        assert all(simulated.get(limit, simulated.get("time_limit", 0.0)) >= 1 for limit in missed), case
        assert kept is None or max(simulated.values()) < 1, case


def test_no_system_that_works_uses_more_of_a_limit_than_the_bound_says(cases):
    for kind, at_c, _, kept, simulated in cases:
        for limit in set(kept or {}) & set(simulated):
            assert simulated[limit] <= kept[limit] * STEPS, (kind, at_c, limit)


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_is_decided_both_ways_and_left_open(cases, kind):
    """Or else the two tests above would hold of nothing."""
    ways = {"misses" if missed else "open" if kept is None else "works" for of, _, missed, kept, _ in cases if of == kind}
    assert ways == {"misses", "open", "works"} if kind != "progressive" else ways >= {"open", "works"}


def test_nothing_between_the_shares_is_decided(cases):
    for _, _, missed, kept, _ in cases:
        assert all(share >= 1 for share in missed.values()) and (kept is None or max(kept.values()) <= CLEAR)


@pytest.mark.parametrize("make", [plain_system, plain_progressive])
def test_near_a_limit_it_is_simulated(make):
    """The relief pressure is moved past what the pump needs: far above closed forms decide, close to it the simulation does."""
    document = make()
    job = job_of(fitting(document), False)
    job.choose_interval()
    margins = Margins(fitting(document), job, MILD_C)
    margins.missed()
    most, least = margins.halves[0].needs
    by = {}
    for relief in (most / CLEAR * 1.01, most / CLEAR * 0.99, most, least, least / MISSED * 1.01, least / MISSED * 0.99):
        answer = tonight(make(pump=dict(document["pump"], relief_bar=relief)), MILD_C)
        by[relief] = answer["by"], answer["works"]
    assert list(by.values()) == [(CLOSED, True)] + [(SIMULATED, True)] * 2 + list(by.values())[3:5] + [(CLOSED, False)]
    assert {how for how, _ in list(by.values())[3:5]} == {SIMULATED}


def test_a_document_that_the_check_stops_is_not_judged():
    answer = present(tonight(plain_system(sections=[]), -12))
    assert (answer["works"], answer["by"]) == (None, CHECK) and answer["findings"][0]["says"]
    assert tonight("no document", -12)["by"] == CHECK


def frozen(**changes):
    return present(tonight(plain_system(**changes), -60))


def test_what_is_missed_is_said_with_what_to_do():
    answer = frozen()
    assert answer["works"] is False and answer["limits"]["reset"] > 1
    assert "stay locked in at Point 0" in answer["findings"][0]["says"] and "It resets down to" in answer["findings"][0]["do"]


def test_the_limit_on_the_sheet_is_missed_below_the_coldest_that_was_entered():
    """A hose swells more in frost, where the pump has to press harder, than on the day that the sheet is made for with no margin."""
    hose = [{"id": "S0", "from": "pump", "to": "N0", "length_m": 30, "bore_mm": 10, "wall": "hose", "expansion_cm3_per_m_per_100bar": 2}]
    soft = dict(plain_system()["lubricant"], yield_pa=20)
    controller = dict(plain_system()["controller"], time_limit={"min_s": 1, "max_s": 3600, "step_s": 1})
    answer = present(tonight(plain_system(sections=hose, lubricant=soft, controller=controller, choices={"margin": 1}), -30))
    said = answer["findings"][0]
    assert (answer["by"], [entry["id"] for entry in answer["findings"]]) == (SIMULATED, ["tonight.as_set"])
    assert "the limit on the settings sheet" in said["says"] and said["do"].startswith("Set the limit to")


def test_a_limit_that_the_controller_does_not_take_is_not_advised():
    resaw, = [system for system in plant.systems() if system["kind"] == "time-only"]
    assert [entry["id"] for entry in tonight(resaw, -18)["findings"]] == ["tonight.time_limit"]


@pytest.mark.parametrize("seed, identifier", [(7, "tonight.late"), (63, "tonight.relief"), (589, "tonight.never"), (0, "tonight.idle")])
def test_other_limits_are_said_too(seed, identifier):
    answer = present(tonight(any_system(seed), -12))
    assert answer["findings"][0]["id"] == identifier and answer["findings"][0]["says"].startswith("At −12 °C ")


def test_the_phones_interpreter_says_the_same():
    """Though none of its pages asks for it yet."""
    files = dict(bundle()["files"], **{"engine/year/" + path.name: path.read_text(encoding="utf-8") for path in ONLY_ON_SERVER})
    files["engine/probe.py"] = _PROBE
    with PhoneEngine({"files": files, "entry": "engine.probe"}) as phone:
        for seed in range(4000, 4012):
            there = json.loads(phone.ask(json.dumps({"document": any_system(seed), "at_c": -12})))
            here = tonight(any_system(seed), -12)
            assert (there["works"], there["by"]) == (here["works"], here["by"])
            assert there["limits"] == pytest.approx(here["limits"], rel=1e-6)
