"""Season sheet, ranges and design help worked on both machines: the same numbers and texts."""
import json

import pytest

from webapp.engine import bridge
from webapp.engine.systems.worked import work
from webapp.phone_engine import PhoneEngine, bundle

from .systems import any_system, random_system
from .test_parity import differences

SEEDS = (40, 41, 42, 43, 44, 45, 47, 48, 50)


@pytest.fixture(scope="module")
def phone():
    with PhoneEngine() as engine:
        yield engine


def without_balance(answer):
    """The answer without its simulations' balance: a difference of large numbers, all but nothing on both machines."""
    stack = [answer]
    while stack:
        thing = stack.pop()
        if isinstance(thing, dict):
            if thing.get("method") == "simulated":
                assert thing["residual"].pop("value") < 0.005
            stack += thing.values()
        elif isinstance(thing, list):
            stack += thing
    return answer


def both(phone, request):
    text = json.dumps(request)
    return [without_balance(json.loads(machine(text))) for machine in (bridge.answer, phone.ask)]


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("seed", SEEDS)
def test_the_season_sheet_and_its_picture_are_alike(phone, seed, units):
    document = any_system(seed, 8)
    here, there = both(phone, {"do": "season", "document": document, "units": units})
    assert "sets" in here and differences(here, there) == []
    drawn, there = both(phone, {"do": "season_picture", "document": document, "season": here, "width": 328, "units": units})
    assert differences(drawn, there) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_lists_change_at_the_sheet_s_temperature_or_have_one_set_for_the_year(phone, seed):
    document = any_system(seed, 8)
    worked = work(document, keep_traces=True)
    here, there = both(phone, {"do": "season_sets", "document": document, "worked": worked, "detail": False})
    assert differences(here, there) == []
    sheet = json.loads(bridge.answer(json.dumps({"do": "season", "document": document, "worked": worked, "detail": False})))
    change = sheet.get("change_at")
    assert (here["change_at"] or {}).get("value") == (change or {}).get("value")
    assert [one["season"] for one in here["sets"]] == ([one["season"] for one in sheet["sets"]] if change else [])


@pytest.mark.parametrize("seed", SEEDS)
def test_ranges_and_what_moves_the_answer_are_alike(phone, seed):
    here, there = both(phone, {"do": "sensitivity", "document": any_system(seed, 8)})
    assert here["moves"] and differences(here, there) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_design_help_is_alike(phone, seed):
    here, there = both(phone, {"do": "design_help", "document": any_system(seed, 8)})
    assert here["as_is"] and differences(here, there) == []


def test_the_form_s_first_figure_needs_none_of_it():
    probe = "import sys\nfrom .bridge import answer as first\ndef answer(text):\n    first(text)\n    return ' '.join(sorted(sys.modules))\n"
    late = {"season", "season_picture", "sensitivity", "prediction_range", "uncertainty", "outlook", "design_help", "design_changes",
            "sentences_season", "build_ups", "venting_time"}
    with PhoneEngine({"files": dict(bundle()["files"], **{"engine/probe.py": probe}), "entry": "engine.probe"}) as fresh:
        loaded = {name.rpartition(".")[2] for name in fresh.ask(json.dumps({"do": "outline", "document": random_system(40)})).split()}
    assert "worked" in loaded and not late & loaded
