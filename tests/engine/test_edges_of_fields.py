"""Every number of the catalogue at the ends of its range, and next to nothing: findings or finite figures, as everywhere."""
import pytest

from webapp.engine.bridge import ask
from webapp.engine.document.catalogue import RANGE_FIELDS, SYSTEM

from .sound import complaints
from .whole_systems import whole_system

# the first eight in which together every group of fields is there
SEEDS = range(104, 112)
RANGES = ("controller.pause", "controller.time_limit", "controller.vent")
FIELDS = [(entry["path"], entry) for entry in SYSTEM if entry["kind"] in ("number", "whole")] + [
    (place + "." + entry["path"], entry) for place in RANGES for entry in RANGE_FIELDS]


def holders(document, path):
    """(groups of the document that may hold the field, its name)."""
    *parents, last = path.split(".")
    things = [document]
    for parent in parents:
        inner = [thing.get(parent.rstrip("[]")) for thing in things]
        things = [one for part in inner for one in (part if isinstance(part, list) else [part]) if isinstance(one, dict)]
    return things, last


@pytest.mark.parametrize("path, entry", FIELDS, ids=[path for path, _ in FIELDS])
def test_the_ends_of_a_range_are_worked_or_told(path, entry):
    put = 0
    for end in [entry["low"], entry["high"]] + ([5e-324, 1e-11] if entry["low"] <= 0 and entry["kind"] == "number" else []):
        for seed in SEEDS:
            document = whole_system(seed, 6)
            things, name = holders(document, path)
            for thing in things if seed % 2 else things[:1]:
                thing[name] = int(end) if entry["kind"] == "whole" else end
                put += 1
            answer = ask({"do": "work", "document": document, "simulate": False})
            assert complaints(answer) == [], (end, seed)
            assert "settings" in answer or any(one["severity"] == "stop" for one in answer["findings"]), (end, seed)
    assert put
