"""The line model on CPython: all that `calculate` works out, against scipy's stiff solver on the same line to the same error.

The error is that of the time to the trip, at the usual and the coldest temperature, against the solver at a tight tolerance.
The solver gets the loosest tolerance that errs no more than the engine does, and works only the two build-ups: no vent, no
needs, no settings, no texts.
"""
import importlib.util
from pathlib import Path
from time import perf_counter

from webapp.engine.bridge import ask
from webapp.engine.systems.worked import doses_from

from .forty import forty

_EXACT = 1e-8
_TOLERANCES = (1e-1, 1e-2, 1e-3, 1e-4, 1e-5, 1e-6)
_PASSES = 5


def _reference():
    """The independent line model of the engine's tests: that folder is no package."""
    path = Path(__file__).parent.parent / "engine" / "reference_line.py"
    spec = importlib.util.spec_from_file_location("reference_line", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.Run


def _timed(job):
    """(seconds, the result)."""
    start = perf_counter()
    result = job()
    return perf_counter() - start, result


def _error(times, exact):
    return max(abs(time / right - 1) for time, right in zip(times, exact))


def against_scipy():
    """(engine [s], solver [s], engine's error, solver's error)."""
    document, run = forty(), _reference()
    passes = [_timed(lambda: ask({"do": "work", "document": document})) for _ in range(_PASSES)]
    worked, doses = passes[0][1], doses_from(document, passes[0][1])
    answer = [worked["build"]["time_usual"]["value"], worked["build"]["time_coldest"]["value"]]

    def solved(rtol):
        return [run(document, doses, document["ambient"][when], rtol=rtol).trip_time() for when in ("usual_c", "coldest_c")]

    exact = solved(_EXACT)
    for rtol in _TOLERANCES:
        theirs, times = _timed(lambda: solved(rtol))
        if _error(times, exact) <= _error(answer, exact):
            break
    return min(seconds for seconds, _ in passes), theirs, _error(answer, exact), _error(times, exact)
