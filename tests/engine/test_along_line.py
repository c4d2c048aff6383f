"""The table behind the slider: moments are the trace's, marks follow events, words are in the reader's units, on both machines."""
import json

import pytest

from demo_site import plant
from tests.engine.systems import any_system, random_system
from tests.engine.test_parity import both, differences
from webapp.engine.bridge import ask
from webapp.engine.basics.kinds import fitting
from webapp.engine.pictures.along_line import MOMENTS, _at
from webapp.engine.pictures.trace_picture import spans, what_of
from webapp.phone_engine import PhoneEngine

WIDTH = 328
SYSTEMS = {system["kind"]: system for system in plant.systems() if system["name"] != "Sorter chain"}


def worked(document, units="metric"):
    """(traces at usual and coldest temperature, their along_line)."""
    out = ask({"do": "work", "document": document, "units": units, "keep_traces": True})
    traces = [out["traces"]["usual"], out["traces"]["coldest"]]
    return traces, ask({"do": "along_line", "document": document, "traces": traces, "width": WIDTH, "panels": 2, "units": units})


@pytest.fixture(scope="module")
def tables():
    return {kind: worked(document) for kind, document in SYSTEMS.items()}


@pytest.mark.parametrize("kind", SYSTEMS)
def test_the_table_is_whole_and_small(tables, kind):
    _, along = tables[kind]
    for table in along["traces"]:
        assert len(table["hair"]) == MOMENTS and table["hair"] == sorted(table["hair"])
        assert [len(table[name]) for name in ("y", "on", "says")] == [MOMENTS] * 3
        assert {len(row) for row in table["y"]} == {len(along["x"])} and {len(row) for row in table["on"]} == {len(along["things"])}
    assert len(json.dumps(along)) < 60_000


@pytest.mark.parametrize("kind", SYSTEMS)
def test_every_node_is_on_a_curve_and_every_curve_begins_where_one_has_passed(tables, kind):
    _, along = tables[kind]
    seen = set()
    for curve in along["curves"]:
        assert curve["columns"][0] in seen or along["x"][curve["columns"][0]] == along["x"][0]
        assert [along["x"][k] for k in curve["columns"]] == sorted(along["x"][k] for k in curve["columns"])
        seen.update(curve["columns"])
    assert seen == set(range(len(along["x"])))
    lines = 2 if kind == "dual-line" else 1
    assert len(along["things"]) == lines * (len(SYSTEMS[kind]["devices"]) + (len(SYSTEMS[kind]["switches"]) if kind != "time-only" else 0))


@pytest.mark.parametrize("kind", SYSTEMS)
def test_marks_turn_when_the_trace_tells_it(tables, kind):
    traces, along = tables[kind]
    span_s, _ = spans(traces, what_of(fitting(SYSTEMS[kind]), "metric"))
    sides = len(along["things"]) // (2 if kind == "dual-line" else 1)
    step = span_s / (MOMENTS - 1)
    for trace, table in zip(traces, along["traces"], strict=True):
        first, last = table["hair"][0], table["hair"][-1]
        seconds_of = [(x - first) / (last - first) * span_s for x in table["hair"]]
        for place, (_, symbol, name, _) in enumerate(along["things"]):
            line = "AB"[place // sides] if kind == "dual-line" else None
            told = [event["at_s"] for event in trace["events"] if event["where"] == name and event.get("line") == line
                    and event["what"] in ("device dosed", "switch tripped") and event["at_s"] < span_s - step]
            flags = "".join(row[place] for row in table["on"])
            if symbol == "device":
                assert "10" not in flags  # what has moved has moved
            if told:
                assert seconds_of[flags.index("1")] == pytest.approx(told[0] + step / 2, abs=step * 1.2)
            else:
                assert "1" not in flags[:-1]


def test_the_pressure_of_a_moment_is_the_trace_s_and_the_trip_is_one_of_them():
    document = plant.head_rig()
    (trace, _), along = worked(document)
    trip = trace["trip_s"][0]
    place = next(k for k, says in enumerate(along["traces"][0]["says"]) if "Tripped: PS1." in says)
    pump = trace["pressure_bar"]["pump"][trace["time_s"].index(trip)]
    assert ": %d bar at the pump" % int(pump + 0.5) in along["traces"][0]["says"][place]
    low, high = along["traces"][0]["y"][0][0], along["traces"][0]["y"][place][0]
    other = along["traces"][0]["y"][place][-1]
    far = trace["pressure_bar"][document["sections"][-1]["to"]][trace["time_s"].index(trip)]
    assert (low - other) / (low - high) == pytest.approx(far / pump, abs=0.02)


def test_between_samples_pressure_goes_in_a_straight_line():
    assert _at([0, 2, 4], [[0, 10, 30], [5, 5, 1]], 3) == [20, 3]
    assert _at([0, 2, 4], [[0, 10, 30]], 9) == [30] and _at([0, 2, 4], [[0, 10, 30]], 0) == [0]


@pytest.mark.parametrize("kind", SYSTEMS)
def test_words_are_in_the_reader_s_units(kind):
    _, along = worked(SYSTEMS[kind], "us")
    assert all(" psi at the pump" in says and " bar" not in says for table in along["traces"] for says in table["says"])
    assert " bar" not in along["svg"] and "ft from the pump" in along["svg"]


def test_a_branch_has_a_curve_of_its_own():
    document = next(system for system in (random_system(seed, 12) for seed in range(50))
                    if len({section["from"] for section in system["sections"]}) < len(system["sections"]))
    _, along = worked(document)
    assert len(along["curves"]) > 1


def test_both_machines_make_the_same_table_and_the_same_pictures():
    with PhoneEngine() as phone:
        for seed in range(21000, 21012):
            document = any_system(seed, 8)
            out = ask({"do": "work", "document": document, "keep_traces": True})
            if "traces" not in out:
                continue
            traces = [out["traces"]["usual"], out["traces"]["coldest"]]
            for request in ({"do": "along_line", "panels": 1, "names": ["one", "other"]}, {"do": "compared_picture"}):
                here, there = both(phone, dict(request, document=document, traces=traces, width=WIDTH, units="us"))
                assert differences(here, there) == [], (seed, request["do"])


@pytest.mark.parametrize("kind", SYSTEMS)
def test_two_traces_in_one_picture_name_both(kind):
    document = SYSTEMS[kind]
    healthy = ask({"do": "simulate", "document": document})
    faulted = ask({"do": "simulate", "document": document, "faults": ["pump=0.5"]})
    made = ask({"do": "compared_picture", "document": document, "traces": [healthy, faulted], "width": WIDTH})
    assert "healthy: " in made["svg"] and "with the faults: " in made["svg"] and made["svg"].count("trace-healthy") == 2
    assert made["says"].startswith("Healthy: At ") and " With the faults: At " in made["says"]
