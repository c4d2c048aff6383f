"""The line over the year: how cold it may get and why, settings by season, the picture."""
import json
import xml.etree.ElementTree as ElementTree

import pytest

from demo_site import plant
from webapp.engine.line import build
from webapp.engine.year import season
from webapp.engine.bridge import ask
from webapp.engine.year.outlook import Outlook
from webapp.engine.events.simulate import simulate
from webapp.engine.systems.worked import work

from .formula import evaluate
from .sound import figures_in
from .systems import any_system, plain_system, random_system
from .test_pictures import TEXT_HEIGHT, WIDTH, texts

SEEDS = range(40)


def sheet(document, **more):
    return ask(dict({"do": "season", "document": document}, **more))


def found(document, prefix):
    return [entry for entry in sheet(document)["findings"] if entry["id"].startswith(prefix)]


def long_line(**lubricant):
    """Sixty metres of narrow pipe with a grease that stiffens much: friction counts."""
    document = plain_system(ambient={"coldest_c": -5, "usual_c": 20, "hottest_c": 40})
    document["sections"][0].update(length_m=60, bore_mm=12)
    document["devices"][0].update(fires_bar=70, resets_bar=50)
    document["switches"][0].update(trips_bar=110, resets_bar=50)
    document["pump"].update(relief_bar=250, delivery_cm3_min=40)
    document["lubricant"].update(lubricant)
    return document


def slow_in_the_cold():
    """An oil so thick in the cold that the build-up takes many times as long as in summer."""
    document = long_line()
    document["lubricant"] = {"nlgi": "oil", "v40_mm2_s": 2200, "v100_mm2_s": 90, "density_kg_m3": 900, "air_fraction": 0.01,
                             "bulk_modulus_mpa": 1400}
    document["switches"][0]["resets_bar"] = document["devices"][0]["resets_bar"] = 30
    document["sections"][0].update(bore_mm=8)
    document["pump"]["relief_bar"] = 900
    return document


def test_the_lowest_temperature_is_where_the_line_stops_venting():
    document = long_line()
    lowest = sheet(document)["lowest"]
    assert lowest["meets"] == "reset"
    assert 0 <= lowest["works_to"]["value"] - lowest["reset"]["value"] < 2 * season.WITHIN_K


@pytest.mark.parametrize("change, limit", [
    (lambda document: document["pump"].update(relief_bar=150), "relief"),
    (lambda document: document["controller"].update(time_limit={"min_s": 10, "max_s": 180, "step_s": 10}), "time_limit"),
    (lambda document: document["devices"][0].update(resets_bar=20), "reset")])
def test_below_the_lowest_temperature_the_named_limit_stops_it_and_above_it_works(change, limit):
    document = slow_in_the_cold() if limit == "time_limit" else long_line()
    change(document)
    answer = sheet(document)
    lowest, outlook = answer["lowest"], Outlook(document, work(document))
    assert lowest["meets"] == limit
    works_to = (lowest.get("reaches") or lowest["works_to"])["value"]
    assert outlook.at(works_to)["limit"] is None and outlook.at(works_to - season.WITHIN_K)["limit"] == limit


def test_the_lowest_temperature_may_lie_below_what_was_entered_but_not_below_the_bound():
    document = plain_system()
    document["lubricant"].update(yield_pa=20, consistency_pa_sn=5)
    lowest = sheet(document)["lowest"]
    assert lowest["meets"] is None and lowest["works_to"]["value"] == document["ambient"]["coldest_c"] - season.SEARCH_BELOW_K
    assert [entry["severity"] for entry in found(document, "season.to_bound")] == ["note"]
    assert "reset" not in lowest  # it would lie far below what anybody looks at


def test_a_system_that_works_nowhere_says_what_stops_it():
    document = long_line(yield_pa=4000, stiffening_per_k=0)
    assert sheet(document)["lowest"]["works_to"]["value"] is None
    entry, = found(document, "season.never_")
    assert (entry["severity"], entry["id"]) == ("stop", "season.never_relief") and "250 bar" in entry["says"]


def test_too_cold_as_entered_is_a_stop_and_colder_than_needed_a_note():
    assert [entry["severity"] for entry in found(plant.sorter_chain(), "season.stops_")] == ["stop"]
    assert [entry["severity"] for entry in found(plain_system(), "season.stops_")] == ["note"]


def test_one_set_of_settings_serves_where_the_build_up_hardly_changes():
    answer = sheet(plain_system())
    assert [one["season"] for one in answer["sets"]] == ["all year"] and answer["change_at"] is None
    assert answer["sets"][0]["time_limit"]["value"] == work(plain_system())["build"]["time_limit"]["value"]


def test_a_list_simulates_no_winter_where_one_set_serves_for_sure(monkeypatch):
    worked = work(plain_system(), keep_traces=True)
    monkeypatch.setattr(season, "season", None)
    assert season.season_sets(plain_system(), worked) == {"sets": [], "change_at": None}


def test_a_winter_limit_that_hides_a_summer_fault_gives_two_sets():
    document = slow_in_the_cold()
    answer = sheet(document)
    listed = season.season_sets(document, work(document, keep_traces=True))
    assert (listed["change_at"]["value"], len(listed["sets"])) == (answer["change_at"]["value"], 2)
    summer, winter = answer["sets"]
    change, outlook = answer["change_at"]["value"], Outlook(document, work(document))
    assert winter["to"]["value"] == summer["from"]["value"] == change == int(change)
    assert winter["time_limit"]["value"] > season.LATE * outlook.at(document["ambient"]["hottest_c"])["build"]
    for one in answer["sets"]:
        slowest = outlook.at(one["from"]["value"])["build"]
        assert one["time_limit"]["value"] == build.limit(document, slowest, "", True)[0]["value"] >= 1.5 * slowest
    entry, = found(document, "season.two_late")
    assert winter["time_limit"]["shown"] in entry["do"] and summer["time_limit"]["shown"] in entry["do"]


def test_neither_season_s_limit_is_much_later_than_the_other_s():
    document = slow_in_the_cold()
    # a device that doses again in frost makes steps in the build-up, between which the limits cannot be balanced
    document["devices"][0]["resets_bar"] = 5
    document["controller"]["time_limit"]["step_s"] = 1
    document["choices"], document["ambient"]["coldest_c"] = {"margin": 1.6}, -9
    summer, winter = sheet(document)["sets"]
    outlook = Outlook(document, work(document))
    lateness = [one["time_limit"]["value"] / outlook.at(one["to"]["value"])["build"] for one in (summer, winter)]
    assert max(lateness) < 1.15 * min(lateness)


def test_a_controller_that_cannot_take_the_winter_limit_gives_two_sets_too():
    document = slow_in_the_cold()
    slowest = Outlook(document, work(document)).at(-5)["build"]
    document["controller"]["time_limit"] = {"min_s": 10, "max_s": 10 * int(slowest * 1.2 / 10), "step_s": 10}
    answer = sheet(document)
    summer, winter = answer["sets"]
    assert winter["time_limit"]["value"] == document["controller"]["time_limit"]["max_s"]
    assert Outlook(document, work(document)).at(summer["from"]["value"])["build"] * 1.5 <= summer["time_limit"]["value"]
    assert found(document, "season.two_not_taken") and found(document, "limit.out_of_range")


def test_a_limit_from_mild_runs_is_said_to_be_short_in_the_cold():
    document = slow_in_the_cold()
    quick = simulate(document, {"D0": 1.0}, 20)["trip_s"][0]
    document["measured"] = {"build_s": [round(quick, 1)], "at_c": 20}
    lowest = sheet(document)["lowest"]
    assert lowest["meets"] == "time_limit" and -5 < lowest["works_to"]["value"] < 20
    assert lowest["reaches"]["value"] < lowest["works_to"]["value"]
    assert [entry["severity"] for entry in found(document, "season.as_set")] == ["warn"]


def test_measured_runs_scale_the_prediction():
    document = plain_system()
    at_usual = next(row for row in sheet(document)["temperatures"] if row["at"]["value"] == 20)["build"]["value"]
    document["measured"] = {"build_s": [at_usual * 1.2], "at_c": 20}
    answer = sheet(document)
    assert next(row for row in answer["temperatures"] if row["at"]["value"] == 20)["build"]["value"] == pytest.approx(1.2 * at_usual, rel=0.02)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_figure_shows_its_working_and_cold_never_lowers_drop_or_residual(seed):
    answer = sheet(any_system(seed, 12))
    compared = 0
    for path, entry in figures_in(answer):
        if entry["method"] in ("iterated", "simulated"):
            assert 0 <= entry["residual"]["value"] <= entry["residual"]["limit"], path
        else:
            inputs = {name: one["value"] for name, one in entry["inputs"].items()}
            assert float(evaluate(entry["formula"], inputs)) == pytest.approx(entry["value"], rel=1e-6, abs=1e-9), path
            compared += 1
        assert entry["shown"].strip() and (entry["shown"] == "not known") == (entry["value"] is None), path
    assert compared >= 6
    for name in ("drop", "residual" if "residual" in answer["temperatures"][0] else "rest"):
        falling = [row[name]["value"] for row in answer["temperatures"]]
        assert all(cold >= warm for cold, warm in zip(falling, falling[1:], strict=False))
    assert all(entry["says"] and "{" not in entry["says"] + entry["do"] for entry in answer["findings"])


def test_the_worked_document_at_hand_saves_simulations_and_changes_nothing():
    document = plant.sorter_chain()
    worked = ask({"do": "work", "document": document, "keep_traces": True})
    assert sheet(document, worked=json.loads(json.dumps(worked))) == sheet(document)


def test_a_document_with_a_fault_gives_findings_and_no_figures():
    document = plain_system()
    document["sections"] = []
    answer = sheet(document)
    assert answer["findings"] and "sets" not in answer


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_picture_is_well_formed_says_what_it_shows_and_its_labels_are_apart(units):
    for document in [*plant.systems(), slow_in_the_cold(), *(any_system(seed, 12) for seed in range(16))]:
        answer = sheet(document, units=units)
        picture = ask({"do": "season_picture", "document": document, "season": answer, "width": WIDTH, "units": units})
        root = ElementTree.fromstring(picture["svg"])
        assert root.get("role") == "img" and picture["says"].endswith(".")
        placed = list(texts(picture))
        assert [text for left, right, _, text in placed if left < -1 or right > WIDTH + 4] == []
        over = [(one[3], other[3]) for number, one in enumerate(placed) for other in placed[number + 1:]
                if abs(one[2] - other[2]) < TEXT_HEIGHT and one[0] < other[1] - 2 and other[0] < one[1] - 2]
        assert over == [], document["name"]


@pytest.mark.parametrize("seed", [1, 48, 89, 146])
def test_a_grease_without_a_yield_is_worked_down_to_the_bound(seed):
    document = random_system(seed, 6)
    document["lubricant"]["yield_pa"] = 0
    answer = sheet(document)
    assert answer["findings"] and all(row["residual"]["value"] == 0 for row in answer["temperatures"])


def test_a_grease_that_shears_away_at_the_least_touch_is_worked_to_the_bound():
    document = random_system(310, 6)
    document["lubricant"]["flow_index"], document["ambient"]["hottest_c"] = 0.15, 250
    assert sheet(document)["temperatures"]
