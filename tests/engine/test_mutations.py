"""20,000 documents, sound ones and ones gone wrong: findings that name the place or figures with their working; never an
exception, a hang or nonsense. Without the simulation, which test_parity.py runs."""
import json
import random
import time

import pytest

from webapp.engine.bridge import ask
from webapp.engine.document.catalogue import SYSTEM
from webapp.engine.events.faults import FORMS, read

from .mutated import WRONG, mutated
from .sound import complaints
from .systems import KINDS, random_system
from .whole_systems import whole_faults, whole_system

COUNT, CHUNK = 10000, 500
LONGEST_S = 1.0
UNITS = ("metric", "us")


def worked(document, seed):
    """The worked document, in metric and US units in turn; fails where it takes too long."""
    begun = time.process_time()
    answer = ask({"do": "work", "document": document, "units": UNITS[seed // 8 % 2], "simulate": False})
    assert time.process_time() - begun < LONGEST_S, seed
    return answer


@pytest.mark.parametrize("start", range(0, COUNT, CHUNK))
def test_sound_documents_are_worked_with_figures_that_show_their_working(start):
    for seed in range(start, start + CHUNK):
        answer = worked(whole_system(seed), seed)
        assert (seed, complaints(answer)) == (seed, []) and len(answer["settings"]) > 5, seed


@pytest.mark.parametrize("start", range(0, COUNT, CHUNK))
def test_mutated_documents_end_in_findings_or_figures_that_show_their_working(start):
    figures = 0
    for seed in range(start, start + CHUNK):
        answer = worked(mutated(seed), seed)
        assert (seed, complaints(answer)) == (seed, [])
        stops = [entry for entry in answer["findings"] if entry["severity"] == "stop"]
        figures += "settings" in answer
        assert "settings" in answer or (stops and json.dumps(answer, allow_nan=False)), seed
    assert CHUNK / 5 < figures < CHUNK / 2


def test_the_generator_uses_every_field_of_the_catalogue_and_every_kind():
    seen, kinds = set(), set()
    for seed in range(400):
        document = whole_system(seed)
        kinds.add(document["kind"])
        stack = [("", document)]
        while stack:
            path, thing = stack.pop()
            seen.add(path)
            if isinstance(thing, dict):
                stack += [(path + "." + name if path else name, part) for name, part in thing.items()]
            elif isinstance(thing, list):
                stack += [(path + "[]", part) for part in thing]
    assert [entry["path"] for entry in SYSTEM if entry["path"] not in seen] == [] and kinds == set(KINDS)


def test_the_generator_types_every_fault_and_the_engine_reads_them():
    names = set()
    for seed in range(400):
        document = whole_system(seed)
        faults = whole_faults(seed, document)
        names.update(fault.partition("=")[0] for fault in faults)
        assert read(dict(document, switches=document.get("switches") or []), faults)[1] == [], faults
    assert names == {name for name, _ in FORMS}


def test_mistyped_faults_end_in_findings_with_their_place():
    rng = random.Random(5)
    for seed in range(2000):
        document = whole_system(seed, 6)
        fault = rng.choice(whole_faults(seed, document) + [rng.choice(WRONG)])
        if isinstance(fault, str) and fault:
            cut = rng.randrange(len(fault))
            fault = fault[:cut] + rng.choice(["", "=", ":", "/B", "nan", "-1e999", "٣", "\0"]) + fault[cut + rng.randint(0, 3):]
        faults, found = read(dict(document, switches=document.get("switches") or []), [fault])
        assert found or faults, fault
        assert all(entry["where"] == "faults" for entry in found)


@pytest.mark.parametrize("thing", [None, 5, "text", [], [[]], {}, True, {"format": []}, {"format": "system/2"}, {"format": "system/1"}],
                         ids=repr)
def test_what_is_no_system_at_all_is_said(thing):
    answer = worked(thing, 0)
    assert answer["findings"][0]["severity"] == "stop" and "settings" not in answer and complaints(answer) == []


def test_a_finding_names_the_place():
    document = random_system(1)
    document["pump"]["delivery_cm3_min"] = -3
    assert [entry["where"] for entry in ask({"do": "check", "document": document})["findings"]] == ["pump.delivery_cm3_min"]


def test_complaints_are_seen():
    answer = worked(whole_system(0), 0)
    drop, stop = answer["line"]["drop_usual"], {"severity": "stop", "where": "", "id": "x", "says": " ", "do": "", "with": {}}
    drop.update(value=float("nan"), source="", shown="nan bar")
    drop["residual"]["value"] = 1
    answer["findings"].append(stop)
    assert len(complaints(answer)) == 6
