"""The engine against what sources print, on the server and under the phone's interpreter.

The rows stand in the modules of cases, each with its source and how sure that is.
"""
import json
from decimal import Decimal
from importlib import import_module

import pytest

from tests.published import chart_cases, grease_cases, needs_cases, oil_cases, pipe_cases, typed_cases, wiring_cases
from tests.published.case import STATUSES
from webapp.engine.basics.figure import InputError
from webapp.engine.lubricants.lubricant import lubricant_at
from webapp.phone_engine import PhoneEngine, bundle
from webapp.units import read

MODULES = (needs_cases, oil_cases, grease_cases, pipe_cases, wiring_cases, chart_cases)
PRINTED = [case for module in MODULES for case in module.PRINTED]
SAYS = [case for module in MODULES for case in getattr(module, "SAYS", ())]
REFUSED = [case for module in MODULES for case in getattr(module, "REFUSED", ())]
SOURCES = ([(case.source, case.status) for case in PRINTED + SAYS + REFUSED]
           + [case[-2:] for case in pipe_cases.WITH_AIR + pipe_cases.MODULUS + typed_cases.CASES])
NAME = {"ids": lambda case: case.id}

# makes any function of the engine answer a line of JSON, on the phone as here
_ASKED_BY_NAME = """
import json
def answer(text):
    asked = json.loads(text)
    module, function = asked["call"].rsplit(".", 1)
    there = __import__("engine." + module, None, None, [function])
    return json.dumps(getattr(there, function)(**asked["inputs"]))
"""


def _inside(answer, at):
    for step in at:
        answer = answer[step]
    return answer


def _here(case):
    module, function = case.call.rsplit(".", 1)
    return getattr(import_module("webapp.engine." + module), function)(**case.inputs)


def printed(text):
    """What a printed figure allows: half of its last digit either way."""
    figure = Decimal(text)
    return pytest.approx(float(figure), rel=1e-12, abs=0.5 * 10.0 ** figure.as_tuple().exponent)


@pytest.fixture(scope="module")
def phone():
    program = {"files": {**bundle()["files"], "asked_by_name.py": _ASKED_BY_NAME}, "entry": "asked_by_name"}
    with PhoneEngine(program) as engine:
        yield lambda case: json.loads(engine.ask(json.dumps({"call": case.call, "inputs": case.inputs})))


@pytest.mark.parametrize("case", PRINTED, **NAME)
def test_the_engine_gives_the_printed_figure(case):
    assert _inside(_here(case), case.at) == printed(case.printed)


@pytest.mark.parametrize("case", SAYS, **NAME)
def test_the_engine_says_what_the_source_says(case):
    assert _inside(_here(case), case.at) == case.says


@pytest.mark.parametrize("case", REFUSED, **NAME)
def test_the_engine_refuses_where_the_source_has_no_answer(case):
    with pytest.raises(InputError) as refusal:
        _here(case)
    assert refusal.value.field == case.field


@pytest.mark.xdist_group("published on the phone")
@pytest.mark.parametrize("case", PRINTED, **NAME)
def test_the_phone_gives_the_printed_figure(case, phone):
    assert _inside(phone(case), case.at) == printed(case.printed)


@pytest.mark.xdist_group("published on the phone")
@pytest.mark.parametrize("case", SAYS, **NAME)
def test_the_phone_says_what_the_source_says(case, phone):
    assert _inside(phone(case), case.at) == case.says


@pytest.mark.parametrize("typed, unit, figure, source, status", typed_cases.CASES, ids=[case[0] for case in typed_cases.CASES])
def test_what_is_typed_in_one_unit_is_the_figure_printed_in_the_other(typed, unit, figure, source, status):
    assert read(typed, unit) == printed(figure)


@pytest.mark.parametrize("nlgi", grease_cases.YIELDS)
def test_a_grade_s_default_yield_is_of_the_remembered_order(nlgi):
    least, most = grease_cases.YIELDS[nlgi]
    assert least < lubricant_at({"nlgi": nlgi}, 25)["yield_pa"] < most


@pytest.mark.parametrize("source, status", sorted(set(SOURCES)))
def test_every_source_is_named_and_weighed(source, status):
    assert len(source) > 4
    assert status in STATUSES


def test_no_two_cases_have_one_name():
    names = [case.id for case in PRINTED + SAYS + REFUSED]
    assert len(names) == len(set(names))
