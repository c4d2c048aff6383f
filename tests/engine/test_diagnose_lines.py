"""Fault finding on a dual-line system: readings of both lines, and causes that are on one of them."""
import json

import pytest

from demo_site.plant_kinds import stacker
from webapp.engine import bridge
from webapp.engine.causes.diagnose import HEALTHY, Case, finish, predict
from webapp.engine.causes.expected import from_trace, halves_of
from webapp.engine.causes.path import Path
from webapp.engine.causes.prior import name_of, prior
from webapp.engine.events.faults import read
from webapp.engine.events.simulate import simulate
from webapp.phone_engine import PhoneEngine

from .seeded_faults import case, faults_of
from .systems import plain_system
from .test_diagnose import asked, likelihood, order

DOCUMENT = stacker()
LIMIT_S = 175


@pytest.fixture(scope="module")
def worked():
    return json.loads(bridge.answer(json.dumps({"do": "work", "document": DOCUMENT})))


@pytest.fixture(scope="module")
def usual(worked):
    """(A's build-up, B's) on a good day [s]."""
    return [worked["build"]["time_usual_" + side]["value"] for side in "ab"]


def trace_of(worked, *typed):
    one = Case(DOCUMENT, {}, worked)
    return simulate(DOCUMENT, one.doses, 15, 1, 1.3 * LIMIT_S, None, read(DOCUMENT, typed)[0])


# ---- what is expected

def test_each_half_is_read_from_its_own_start_to_its_own_end(worked):
    trace = trace_of(worked)
    (first, start, end), (second, begun, over) = halves_of(DOCUMENT, trace, LIMIT_S)
    assert (start, end, begun) == (0, trace["trip_s"][0], trace["trip_s"][0]) and over == pytest.approx(sum(trace["trip_s"]))
    assert [first.build_s, second.build_s] == trace["trip_s"] and not first.ran and not second.ran
    changed = trace["time_s"].index(end)
    assert first.pressure == {node: bars[changed] for node, bars in trace["pressure_bar"].items()}
    assert second.pressure["N5"] == pytest.approx(130, abs=1) and trace["pressure_b_bar"]["N5"][changed] == 0


def test_a_second_line_is_stopped_by_a_limit_of_its_own(worked):
    trace = trace_of(worked, "leak=N3/B:3")
    seen = from_trace(DOCUMENT, trace, LIMIT_S)
    assert [half.ran for half in seen.halves] == [False, True] and seen.vent_s is None and seen.residual is None
    assert seen.halves[1].pressure["N3"] < 0.5 * seen.halves[0].pressure["N3"] and all(key.endswith("/B") for key in seen.dry)


def test_where_the_first_never_ends_the_second_never_begins(worked):
    trace = trace_of(worked, "leak=N3:3")
    first, second = halves_of(DOCUMENT, trace, LIMIT_S)
    assert first[0].ran and second[0].build_s is None and not second[0].ran and set(second[0].pressure.values()) == {0}
    assert {key[-2:] for key in from_trace(DOCUMENT, trace, LIMIT_S).dry} == {"/A", "/B"}


@pytest.mark.parametrize("typed, wanted", [
    ("leak=N3/B:0.3", {"line": 1, "leak": ("N3", 0.3)}), ("leak=N3:0.3", {"line": 0, "leak": ("N3", 0.3)}), ("pump=0.7", {"flow": 0.7}),
    ("blocked=S4/B", {"line": 1, "shut": ("N4", "N5")}), ("blocked=S4", {"line": 0, "shut": ("N4", "N5")}), ("empty=0.25", {"left": 250}),
    ("vent=stuck", {"starved": True}), ("relief=90", {"relief": 90}), ("device=D3", {"idle": ("D3",)})])
def test_the_closed_form_says_of_both_lines_what_the_simulation_says(worked, typed, wanted):
    one = Case(DOCUMENT, {}, worked)
    path = Path(DOCUMENT, one.doses, one.at_c, predict(one, HEALTHY), LIMIT_S)
    closed, simulated = path.predict(**wanted), from_trace(DOCUMENT, one.trace(typed), LIMIT_S)
    for here, there in zip(closed.halves, simulated.halves, strict=True):
        assert here.ran == there.ran
        assert here.ran or (here.build_s or 0) == pytest.approx(there.build_s or 0, rel=0.08)
        assert here.pressure["pump"] == pytest.approx(there.pressure["pump"], rel=0.08, abs=3)
    assert closed.dry == simulated.dry


# ---- the order

def test_a_line_b_that_never_changes_over_gets_an_order_that_names_it(usual):
    answer = asked(DOCUMENT, {"ran_into_limit": True, "limit_line": "B", "build_s": usual[0], "build_b_s": LIMIT_S, "low_level": False,
                              "pressure_b_bar": {"pump": 40}})
    first = answer["causes"][0]
    assert first["fault"] in ("leak", "return") and first["cause"].endswith("/B") and first["line"] == "B"
    assert "of line B" in first["name"] and "of line B" in first["check"] and "the limit passed on line B" in first["because"]
    assert all(entry["line"] == "B" for entry in answer["causes"] if entry["fault"] in ("leak", "return", "blocked"))


@pytest.mark.parametrize("slow, line", [((1, 1.4), "B"), ((1.4, 1), "A")])
def test_what_slows_one_line_is_on_that_line(usual, slow, line):
    answer = asked(DOCUMENT, {"ran_into_limit": False, "build_s": slow[0] * usual[0], "build_b_s": slow[1] * usual[1]})
    assert {entry["fault"]: entry.get("line") for entry in answer["causes"][:2]} == {"leak": line, "return": line}
    assert likelihood(answer, "pump") < 0.02 and likelihood(answer, "air") < 0.02


def test_what_slows_both_lines_alike_is_on_none_of_them(usual):
    both, alone = (asked(DOCUMENT, dict({"ran_into_limit": False, "build_s": 1.3 * usual[0]}, **more))
                   for more in ({"build_b_s": 1.3 * usual[1]}, {}))
    assert likelihood(both, "leak") < 0.02 < 0.2 < likelihood(alone, "leak")
    assert order(both)[0] in ("pump", "air", "switch=PS1", "supply", "cold") and likelihood(both, "pump") > 1.5 * likelihood(alone, "pump")


def test_lines_are_compared_with_one_another_rather_than_with_a_prediction_that_errs_for_both(usual):
    """As late as 12 % after line A tells more than 12 % after a prediction that line A meets late as well."""
    def of_b(a, b):
        answer = asked(DOCUMENT, {"ran_into_limit": False, "build_s": a * usual[0], "build_b_s": b * usual[1]})
        return sum(entry["likelihood"] for entry in answer["causes"] if entry.get("line") == "B" and entry["fault"] in ("leak", "return"))
    assert of_b(0.95, 1.07) > 1.3 * of_b(1, 1.07) > 1.3 * 1.3 * of_b(1.05, 1.07)


def test_a_blocked_branch_of_line_b_starves_its_points_alone(usual):
    beyond = [point["id"] for point in DOCUMENT["points"] if point["side"] == "B" and point["device"] in ("D4", "D5")]
    answer = asked(DOCUMENT, {"ran_into_limit": True, "limit_line": "B", "dry_points": beyond, "pressure_b_bar": {"pump": 238, "N5": 0}})
    assert order(answer)[0] == "blocked=S4/B" and answer["causes"][0]["places"][0]["line"] == "B"


def test_a_line_b_at_the_relief_pressure_all_along_has_a_switch_of_its_own_that_does_not_trip(usual):
    answer = asked(DOCUMENT, {"ran_into_limit": True, "limit_line": "B", "build_s": usual[0], "pressure_b_bar": {"pump": 239, "N5": 237},
                              "dry_points": []})
    first = answer["causes"][0]
    assert (first["cause"], first["line"]) == ("switch=PS1/B", "B") and "Switch PS1 of line B" in first["name"]
    both = asked(DOCUMENT, {"ran_into_limit": False, "build_s": 0.6 * usual[0], "build_b_s": 0.6 * usual[1], "pressure_bar": {"N5": 66}})
    assert order(both)[0] == "switch=PS1" and "line" not in both["causes"][0]


def test_the_line_of_seeded_faults_is_named():
    """Of leaks, vent valves that do not close and blocked pipes, on either line, as drawn."""
    named = []
    for seed in range(48):
        if faults_of("dual-line")[seed % len(faults_of("dual-line"))] in ("leak", "return", "blocked"):
            document, worked, readings, name, typed = case(seed, "dual-line")
            entry = [entry for entry in finish(Case(document, readings, worked))["causes"] if entry["fault"] == name][0]
            named.append(("B" if "/B" in typed else "A", entry["line"]))
    assert {true for true, _ in named} == {"A", "B"} and sum(true == said for true, said in named) >= len(named) - 1, named


def test_a_check_on_one_line_says_nothing_of_the_other_s_vent_valve(usual):
    readings = {"ran_into_limit": False, "build_s": usual[0], "build_b_s": 1.4 * usual[1]}
    plain, other, same = (asked(DOCUMENT, readings, tried=tried) for tried in (
        [], [{"cause": "leak=pump", "answer": "not found"}], [{"cause": "leak=pump/B", "answer": "not found"}]))
    assert likelihood(other, "leak=pump/B") == pytest.approx(likelihood(plain, "leak=pump/B"), rel=0.05)
    assert likelihood(same, "leak=pump/B") < 0.3 * likelihood(plain, "leak=pump/B")


def test_a_cause_on_line_b_is_one_of_the_table():
    assert [name_of(cause) for cause in ("leak=pump/B", "leak=N3/B", "blocked=S2/B")] == ["return", "leak", "blocked"]
    assert prior(DOCUMENT, ["leak=pump/B"])["return"] > prior(DOCUMENT, [])["return"]


# ---- readings that are none

@pytest.mark.parametrize("document, readings, place, says", [
    (plain_system(), {"build_b_s": 30}, "readings.build_b_s", "two lines"),
    (plain_system(), {"pressure_b_bar": {"pump": 30}}, "readings.pressure_b_bar", "two lines"),
    (plain_system(), {"ran_into_limit": True, "limit_line": "B"}, "readings.limit_line", "two lines"),
    (DOCUMENT, {"build_b_s": [30, "x"]}, "readings.build_b_s[1]", "no number"),
    (DOCUMENT, {"pressure_b_bar": {"N9": 3}}, "readings.pressure_b_bar.N9", "places"),
    (DOCUMENT, {"ran_into_limit": True, "limit_line": "C"}, "readings.limit_line", "no line"),
    (DOCUMENT, {"ran_into_limit": True, "limit_line": ["A"]}, "readings.limit_line", "no line"),
    (DOCUMENT, {"limit_line": "A"}, "readings.limit_line", "not that its time limit passed")])
def test_readings_of_a_line_that_are_none_are_found_with_their_place(document, readings, place, says):
    found = asked(document, readings)["findings"]
    assert [(entry["where"], entry["severity"]) for entry in found] == [(place, "stop")] and says in found[0]["says"] and found[0]["do"]


@pytest.mark.parametrize("readings", [
    {"build_b_s": 120}, {"ran_into_limit": True, "build_b_s": 175}, {"ran_into_limit": True, "limit_line": "A", "build_b_s": 120},
    {"pressure_b_bar": {}}, {"ran_into_limit": True, "limit_line": "B"}, {"build_b_s": 0, "build_s": 0}])
def test_whatever_is_read_of_one_line_alone_gives_an_order(readings):
    assert sum(entry["likelihood"] for entry in asked(DOCUMENT, readings)["causes"]) == pytest.approx(1, abs=1e-9)


# ---- the phone

def test_the_phone_gives_the_same_order_for_faults_on_line_b():
    with PhoneEngine() as phone:
        for seed in (0, 1, 4):
            document, worked, readings, _, typed = case(seed, "dual-line")
            assert "/B" in typed
            request = json.dumps({"do": "diagnose", "document": document, "readings": readings, "worked": worked})
            here, there = json.loads(bridge.answer(request)), json.loads(phone.ask(request))
            assert [(entry["cause"], entry["name"], entry["because"]) for entry in here["causes"]] == [
                (entry["cause"], entry["name"], entry["because"]) for entry in there["causes"]]
