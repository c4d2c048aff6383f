"""What readings say of a line, which unknowns they tell apart and which they cannot."""
import numpy as np
import pytest
from scipy.optimize import least_squares

from demo_site import plant
from webapp.engine.bridge import ask
from webapp.engine.trends.least_squares import Fit
from webapp.engine.systems.predict import build_up
from webapp.engine.events.simulate import moments, simulate

from .formula import evaluate
from .histories import doses_of
from .measured import case, held
from .systems import random_system
from .sound import figures_in

CLOSE = {"air_fraction": 0.2, "yield_pa": 0.1, "delivery": 0.1}
CASES = range(40)


def fitted(document, *readings):
    return ask({"do": "fit", "document": document, "readings": list(readings)})


def by_name(out):
    return {one["name"]: one for one in out["unknowns"]}


def warned(out):
    return [finding["id"] for finding in out["findings"] if finding["severity"] == "warn"]


def read(document, at_c=8, **faults):
    """What the simulator answers, without noise."""
    trace = simulate(document, doses_of(document), at_c, faults=faults)
    moment = moments(trace)
    return {"at_c": at_c, "build_s": trace["trip_s"], "vent_s": [moment["ready"] - moment["open"]]}


def sag(document, **faults):
    return held(document, 8, faults, doses_of(document))


def test_what_is_called_determined_is_right_in_nine_of_ten_seeded_cases(capsys):
    near = {name: [] for name in CLOSE}
    for document, readings, truth in filter(None, map(case, CASES)):
        for name, one in by_name(fitted(document, *readings)).items():
            if one["determined"] and name in CLOSE:
                near[name].append(abs(one["value"]["value"] / truth[name] - 1) <= CLOSE[name])
    with capsys.disabled():
        print("\n" + "; ".join("%s: %d of %d determined cases within %d %%" % (name, sum(ones), len(ones), 100 * CLOSE[name])
                               for name, ones in near.items()))
    for name, ones in near.items():
        assert len(ones) >= 10 and sum(ones) >= 0.9 * len(ones), name


def test_build_ups_alone_cannot_tell_air_from_delivery():
    found = by_name(fitted(plant.head_rig(), {"build_s": [80, 80.2, 79.9], "at_c": 8}))
    assert not found["air_fraction"]["determined"] and "delivery" in found["air_fraction"]["tied_to"]
    assert not found["delivery"]["determined"] and "air_fraction" in found["delivery"]["tied_to"]


def test_a_delivery_caught_in_a_cup_tells_them_apart():
    document = plant.head_rig()
    found = by_name(fitted(document, dict(read(document), delivery_cm3_min=60, held=sag(document))))
    assert found["delivery"]["determined"] and found["air_fraction"]["determined"]
    assert found["air_fraction"]["value"]["value"] == pytest.approx(0.01, rel=0.05)
    assert found["leak"]["value"]["value"] == pytest.approx(0, abs=0.01)


def test_a_residual_tells_the_yield_and_nothing_else():
    document = plant.sorter_chain()
    left = ask({"do": "work", "document": document, "simulate": False})["line"]["residual_usual"]["value"]
    found = by_name(fitted(document, {"residual_bar": [{"at": "N4", "bar": left}], "at_c": 18}))
    assert found["yield_pa"]["value"]["value"] == pytest.approx(document["lubricant"]["yield_pa"], rel=0.4)
    assert not found["air_fraction"]["determined"] and not found["air_fraction"]["tied_to"]
    assert not found["delivery"]["determined"]


@pytest.mark.parametrize("make", [plant.head_rig, plant.sorter_chain])
def test_a_leak_is_found_by_the_pressure_that_sags(make):
    document = make()
    rate = 0.15 * document["pump"]["delivery_cm3_min"] / 110
    leak = {"leaks": [("N3", 0, rate)]}
    reading = dict(read(document, **leak), delivery_cm3_min=document["pump"]["delivery_cm3_min"])
    assert not by_name(fitted(document, reading))["leak"]["determined"]
    out = fitted(document, dict(reading, held=sag(document, **leak)))
    assert by_name(out)["leak"]["value"]["value"] == pytest.approx(rate, rel=0.2)
    assert warned(out)[0].startswith("fit.leak") and "by hand" in ask({"do": "fit", "document": document, "readings": [reading]})[
        "findings"][-1]["do"]


def test_a_worn_pump_is_told():
    document = plant.head_rig()
    out = fitted(document, dict(read(document, pump=0.8), delivery_cm3_min=48, held=sag(document, pump=0.8)))
    assert by_name(out)["delivery"]["value"]["value"] == pytest.approx(48, rel=0.03) and "fit.delivery.known" in warned(out)


def test_readings_that_no_such_line_gives_determine_nothing():
    document = plant.head_rig()
    out = fitted(document, dict(read(document), delivery_cm3_min=60, held={"after_s": 60, "bar": 250}))
    assert warned(out) == ["fit.poor"] and not any(one["determined"] for one in out["unknowns"])


def test_oil_has_no_yield():
    document = plant.head_rig()
    document["lubricant"] = {"name": "invented oil", "nlgi": "oil", "v40_mm2_s": 150, "v100_mm2_s": 14}
    assert list(by_name(fitted(document, read(document)))) == ["air_fraction", "delivery", "leak"]


@pytest.mark.parametrize("kind", ["progressive", "dual-line", "time-only"])
def test_the_other_kinds_are_fitted_to_what_their_stopwatch_shows(kind):
    document = random_system(2, 8, kind)
    usual = document["ambient"]["usual_c"]
    seconds = build_up(document, [usual])[0]
    reading = {"build_s": [seconds], "at_c": usual, "delivery_cm3_min": document["pump"]["delivery_cm3_min"],
               "held": {"after_s": 60, "bar": 900}}  # read on a single line alone
    found = by_name(fitted(document, reading))
    assert found["delivery"]["determined"] and found["air_fraction"]["low"]["value"] < found["air_fraction"]["high"]["value"]
    assert found["delivery"]["value"]["value"] == pytest.approx(document["pump"]["delivery_cm3_min"], rel=0.02)


@pytest.mark.parametrize("readings", [[], [{}], [{"build_s": [0, "80", None]}], [5],
                                      [{"residual_bar": [{"at": "nowhere", "bar": 3}, {}]}]])
def test_readings_that_hold_nothing_say_nothing(readings):
    out = fitted(plant.head_rig(), *readings)
    assert [finding["id"] for finding in out["findings"]] == ["fit.nothing"] and "unknowns" not in out


def test_a_document_that_cannot_be_worked_gives_its_findings():
    assert fitted({"format": "system/1"}, {"build_s": [80]})["findings"]


@pytest.mark.parametrize("units", ["metric", "us"])
def test_what_readings_leave_open_shows_its_working(units):
    out = ask({"do": "fit", "document": plant.sorter_chain(), "readings": [read(plant.sorter_chain())], "units": units})
    for path, entry in figures_in(out):
        assert entry["shown"].strip() and entry["source"], path
        if entry["method"] == "iterated":
            assert 0 <= entry["residual"]["value"] <= entry["residual"]["limit"], path
        else:
            inputs = {name: one["value"] for name, one in entry["inputs"].items()}
            assert float(evaluate(entry["formula"], inputs)) == pytest.approx(entry["value"], rel=1e-9, abs=1e-12), path
    assert all(finding["says"] and "{" not in finding["says"] for finding in out["findings"])


def _bent(z):
    """Misfits of three readings of two unknowns, bent enough to need several rounds."""
    a, b = 1.5 * np.exp(0.6 * z[0]), 2 + 0.8 * z[1]
    return [float(value) for value in ((a * b - 4.2) / 0.1, (a + b - 4.4) / 0.2, (a / b - 0.7) / 0.05)]


def test_the_least_squares_are_those_of_an_independent_solver():
    found = Fit(_bent, [None, None])
    other = least_squares(lambda z: np.concatenate([_bent(z), z]), [0, 0])
    assert found.z == pytest.approx(list(other.x), abs=0.01)
    left = np.sqrt(np.diag(np.linalg.inv(other.jac.T @ other.jac)))
    assert found.deviations() == pytest.approx(list(left), rel=0.1)


def test_an_unknown_that_would_leave_its_range_stays_at_its_end():
    found = Fit(lambda z: [(z[0] + 2) / 0.1, (z[1] - z[0] - 1) / 0.1], [0.0, None])
    assert found.z[0] == 0 and found.z[1] == pytest.approx(1, abs=0.02)


def test_unknowns_of_which_only_the_sum_is_known_are_tied():
    found = Fit(lambda z: [(z[0] + z[1] - 1) / 0.01], [None, None])
    assert found.correlation(0, 1) == pytest.approx(-1, abs=0.01) and found.deviations() == pytest.approx([0.707] * 2, abs=0.01)
