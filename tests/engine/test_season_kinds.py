"""The year of the kinds that are not single-line: what limits each in the cold, settings by season, what it is not asked."""
import pytest

from demo_site import plant
from webapp.engine.bridge import ask
from webapp.engine.events.simulate import simulate
from webapp.engine.line import build, line
from webapp.engine.systems.worked import work
from webapp.engine.year import build_ups, season
from webapp.engine.year.outlook import Outlook

from .systems import plain_progressive, plain_system
from .test_season import found, long_line, sheet, slow_in_the_cold

THICK_OIL = slow_in_the_cold()["lubricant"]


def dual(document):
    document["kind"] = "dual-line"
    document["points"] = [dict(document["points"][0], id="P" + side, side=side) for side in "AB"]
    return document


def timed(document):
    document.update(kind="time-only", switches=[])
    return document


def blocks(relief=250, most_s=3600, **lubricant):
    """Two blocks at the end of sixty metres of pipe."""
    document = plain_progressive(ambient={"coldest_c": -5, "usual_c": 20, "hottest_c": 40})
    document["sections"][0].update(length_m=60, bore_mm=12)
    document["pump"].update(relief_bar=relief, delivery_cm3_min=40)
    document["controller"]["time_limit"]["max_s"] = most_s
    document["lubricant"].update(lubricant)
    return document


def oiled(document, relief=900, most_s=3600, resets=30):
    document["lubricant"], document["sections"][0]["bore_mm"] = dict(THICK_OIL), 8
    document["pump"]["relief_bar"] = relief
    document["controller"]["time_limit"]["max_s"] = most_s
    for thing in document["devices"] + document["switches"]:
        if "resets_bar" in thing:
            thing["resets_bar"] = resets
    return document


def tight(document, relief):
    document["pump"]["relief_bar"] = relief
    return document


CASES = {
    "dual-line, no changeover": (lambda: tight(dual(long_line()), 150), "relief"),
    "dual-line, time": (lambda: oiled(dual(long_line()), most_s=90), "time_limit"),
    "dual-line, reset": (lambda: dual(long_line()), "reset"),
    "progressive, relief": (lambda: blocks(relief=80), "relief"),
    "progressive, window": (lambda: oiled(blocks(), most_s=90), "time_limit"),
    "time-only, relief": (lambda: tight(timed(long_line()), 110), "relief"),
    "time-only, run time": (lambda: oiled(timed(long_line()), most_s=100), "time_limit"),
    "time-only, reset": (lambda: timed(long_line()), "reset")}


@pytest.mark.parametrize("name", CASES)
def test_below_the_lowest_temperature_the_named_limit_stops_it_and_above_it_works(name):
    make, limit = CASES[name]
    document = make()
    answer, outlook = sheet(document), Outlook(document, work(document))
    assert answer["lowest"]["meets"] == limit
    works_to = (answer["lowest"].get("reaches") or answer["lowest"]["works_to"])["value"]
    here, below = outlook.at(works_to), outlook.at(works_to - season.WITHIN_K)
    assert here["limit"] is None and below["limit"] == limit
    # held against the traces themselves
    relief, most_s = document["pump"]["relief_bar"], document["controller"]["time_limit"]["max_s"]
    if limit == "relief":
        assert build_ups.slowest(document, below["trace"])[0] is None and max(below["trace"]["pressure_bar"]["pump"]) >= relief
    elif limit == "time_limit":
        assert here["build"] <= most_s and (below["build"] is None or below["build"] > most_s)
    else:
        assert here["reset"] <= outlook.resets_in and (below["reset"] is None or below["reset"] > outlook.resets_in)


@pytest.mark.parametrize("name, word", [("dual-line, no changeover", "the lines change over"), ("progressive, relief", "the cycle switch signals"),
                                        ("time-only, relief", "the last device is fed"), ("progressive, window", "monitoring time"),
                                        ("time-only, run time", "run time"), ("dual-line, time", "time limit")])
def test_the_sentence_names_what_the_kind_waits_for(name, word):
    document = CASES[name][0]()
    entries = found(document, "season.stops_") + found(document, "season.never_") + found(document, "season.as_set")
    assert any(word in entry["says"] for entry in entries)


def test_a_line_that_does_not_vent_has_no_reset_and_shows_the_pump_s_pressure_and_what_stays():
    document = blocks()
    answer = sheet(document)
    trace = simulate(document, {}, -5)
    row = next(one for one in answer["temperatures"] if one["at"]["value"] == -5)
    assert "reset" not in answer["lowest"] and "residual" not in row and "reset" not in row
    assert row["peak"]["value"] == max(trace["pressure_bar"]["pump"])
    assert row["rest"]["value"] == pytest.approx(40 + line.residual(document, -5)["value"])
    # after the pump has stopped no more may stay than the simulation had while it ran
    assert row["rest"]["value"] < row["peak"]["value"]
    assert all("vent" not in one and "time_limit" not in one and "window" in one for one in answer["sets"])


def test_settings_of_the_year_are_those_of_the_settings_sheet_where_one_set_serves():
    for document, section, name in ((blocks(), "build", "window"), (dual(plain_system()), "build", "time_limit"),
                                    (timed(plain_system()), "interval", "run_time")):
        one, = sheet(document)["sets"]
        assert one[name]["value"] == work(document)[section][name]["value"]


@pytest.mark.parametrize("make, name, told", [
    (lambda: oiled(blocks()), "window", "season.two_late"), (lambda: oiled(timed(long_line())), "run_time", "season.two_run")])
def test_a_winter_s_wait_that_is_late_in_summer_gives_two_sets(make, name, told):
    document = make()
    document["ambient"]["coldest_c"] = -7
    answer, outlook = sheet(document), Outlook(document, work(document))
    summer, winter = answer["sets"]
    assert [entry["id"] for entry in answer["findings"] if entry["id"].startswith("season.two")] == [told]
    assert winter[name]["value"] > season.LATE * outlook.at(40)["build"] and summer[name]["value"] < winter[name]["value"]
    for one in answer["sets"]:
        slowest = outlook.at(one["from"]["value"])["build"]
        assert one[name]["value"] == build.limit(document, slowest, "", True)[0]["value"] >= 1.5 * slowest


def test_a_controller_that_cannot_wait_as_long_as_a_dual_line_s_winter_asks_gives_two_sets_too():
    document = oiled(dual(long_line()), most_s=130)
    answer, outlook = sheet(document), Outlook(document, work(document))
    summer, winter = answer["sets"]
    assert winter["time_limit"]["value"] == 130 and found(document, "season.two_not_taken")
    assert outlook.at(summer["from"]["value"])["build"] * 1.5 <= summer["time_limit"]["value"] <= 130


def test_the_slower_half_counts_in_a_dual_line_system_and_each_half_s_runs():
    document = dual(plain_system())
    document["points"][1]["need"] = {"method": "stated", "cm3_per_h": 0.02}
    document["points"] += [dict(document["points"][0], id="PC")]
    trips = work(document, True, True)["traces"]["coldest"]["trip_s"]
    row = sheet(document)["temperatures"][0]
    at_coldest = next(one for one in sheet(document)["temperatures"] if one["at"]["value"] == 5)
    assert trips[0] != trips[1] and at_coldest["build"]["value"] == max(trips) and row["build"]["value"] > 0
    usual = work(document, True, True)["traces"]["usual"]["trip_s"]
    document["measured"] = {"build_s": [usual[0]], "build_b_s": [1.3 * usual[1]], "at_c": 20}
    assert Outlook(document, work(document)).factor == pytest.approx(1.3, rel=0.02)


def test_runs_that_were_seen_never_shorten_a_run_that_nothing_confirms():
    document = timed(plain_system())
    predicted = work(document)["build"]["time_usual"]["value"]
    for share, factor in ((0.5, 1.0), (1.5, 1.5)):
        document["measured"] = {"build_s": [predicted * share], "at_c": 20}
        assert Outlook(document, work(document)).factor == pytest.approx(factor, rel=0.02)


def test_a_second_half_that_waits_for_the_first_side_to_reset_is_a_matter_of_reset():
    # the stacker's devices move in the second half only once their first sides, vented meanwhile, have reset
    document = next(one for one in plant.systems() if one["kind"] == "dual-line")
    outlook = Outlook(document, work(document))
    below = outlook.at(sheet(document)["lowest"]["works_to"]["value"] - season.WITHIN_K)
    assert below["limit"] == "reset" and "other side has not reset" in below["trace"]["why"]


def test_a_device_that_its_line_s_pressure_does_not_reach_is_idle_not_locked():
    document = dual(long_line(yield_pa=60))
    document["switches"][0].update(at="pump", trips_bar=75)
    outlook = Outlook(document, work(document))
    assert outlook.at(-5)["limit"] == "idle"


@pytest.mark.parametrize("make", [lambda: long_line(), lambda: dual(long_line()), lambda: timed(long_line()), lambda: blocks()])
def test_a_pipe_with_temperatures_of_its_own_is_told_and_stops_the_line_sooner(make):
    document = make()
    before = sheet(document)["lowest"]
    document["sections"][0]["ambient"] = {"coldest_c": -15, "usual_c": 5, "hottest_c": 30}
    after = sheet(document)["lowest"]
    assert "pipe" not in before and after["pipe"]["at"] == "S0"
    assert after["pipe"]["value"] < after["works_to"]["value"]
    note, = found(document, "season.own_ambient")
    assert "S0" in note["says"] and after["pipe"]["shown"] in note["says"]
    if before.get("reset"):
        assert after["reset"]["value"] > before["reset"]["value"]
        assert build_ups.share(document, after["reset"]["value"])[0] == pytest.approx(1, abs=1e-6)
        assert after["works_to"]["value"] > before["works_to"]["value"]


def test_the_lubricant_is_held_against_the_coldest_and_the_hottest_pipe():
    document = plain_system()
    document["lubricant"].update(coldest_c=0, hottest_c=60)
    ids = [entry["id"] for entry in work(document)["findings"]]
    assert "lubricant.coldest_c" not in ids and "lubricant.hottest_c" not in ids
    document["sections"][0]["ambient"] = {"coldest_c": -3, "usual_c": 20, "hottest_c": 70}
    told = {entry["id"]: entry for entry in ask({"do": "work", "document": document})["findings"]}
    assert "−3 °C" in told["lubricant.coldest_c"]["says"] and "70 °C" in told["lubricant.hottest_c"]["says"]


def test_an_oil_flows_fastest_in_the_hottest_pipe():
    document = plain_system(lubricant={"nlgi": "oil", "v40_mm2_s": 68, "v100_mm2_s": 8.5})
    before = work(document)["lubricant"]["reynolds_hottest"]
    document["sections"].append({"id": "S1", "from": "N0", "to": "N1", "length_m": 2, "bore_mm": 12,
                                 "ambient": {"coldest_c": 40, "usual_c": 60, "hottest_c": 90}})
    after = work(document)["lubricant"]["reynolds_hottest"]
    assert after["at"] == "S1" and after["value"] > before["value"] and after["inputs"]["t"]["value"] == 90
