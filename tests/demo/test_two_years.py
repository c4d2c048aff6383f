"""The demo's two invented years: sound, the same each time, small enough to pull, and each story told by its records."""
import json
from datetime import date

import pytest

from demo_site import load, plant
from demo_site.drawings import DRAWINGS, drawn
from tests.demo.newest import newest, revisions_of
from webapp.engine.bridge import ask
from webapp.engine.document.check import check
from webapp.photos import PhotoFolder
from webapp.store import Store, photos, revisions
from webapp.store.followed import photos_in

HEAD_RIG, SORTER, PLANER, DEBARKER, TRIM, STACKER, RESAW = range(1, 8)
EVERY = [one for number in range(1, 8) for one in revisions_of(number)]
# what a phone pulls when somebody signs in
MOST_BYTES = 3_000_000


def of(number, kind):
    return newest(plant.systems()[number - 1], number)[1][kind]


def every(kind):
    return [body for number in range(1, 8) for body in of(number, kind)]


def trend(number, until="9999"):
    """What is called by the records made until a day."""
    system, records = newest(plant.systems()[number - 1], number)
    known = {kind: [body for body in bodies if body["made_at"][:10] <= until] for kind, bodies in records.items()}
    return ask({"do": "over_time", "document": system, "records": known})


def calls(number, until="9999"):
    return [one["id"] for one in trend(number, until)["trend"]["findings"] if one["severity"] != "note"]


def test_every_record_passes_the_check_and_names_what_is_there():
    assert [(one["kind"], one["body"]["id"], check(one["body"])[:1]) for one in EVERY
            if [found for found in check(one["body"]) if found["severity"] == "stop"]] == []
    known, documents = {one["id"] for one in EVERY}, {one["document"] for one in EVERY}
    assert len(known) == len(EVERY)
    for one in EVERY:
        body = one["body"]
        named = [body.get("from_record"), body.get("baseline_run"), (body.get("closed") or {}).get("test_run")]
        assert {name for name in named if name} <= documents and {one["parent"], body.get("system_revision")} - {None} <= known


def test_two_loads_give_the_same_and_the_store_holds_it(tmp_path):
    again = [one for number, system in enumerate(plant.systems(), 1) for one in load.history(system, number)]
    assert json.dumps(again) == json.dumps(EVERY)
    store = Store("sqlite:///%s" % (tmp_path / "plant.sqlite"))
    store.migrate()
    folder = PhotoFolder(tmp_path / "photos")
    load.load(store, folder)
    load.load(store, folder)
    with store.reading() as connection:
        complete = photos.all_complete(connection)
        assert revisions.count(connection) == len(EVERY)
        held = revisions.newest_of_kind(connection, "round", systems=[plant.planer_feed()["id"]])
    store.close()
    named = {sha256 for one in EVERY for sha256 in photos_in(one["body"])}
    assert named == set(complete) == {drawn(name)[0] for name in DRAWINGS} and folder.missing(named) == []
    assert [one["body"] for one in held] == sorted(of(PLANER, "round"), key=lambda body: body["made_at"])


def test_it_is_small_enough_to_be_pulled(capsys):
    size = sum(len(json.dumps(one["body"], ensure_ascii=False).encode()) for one in EVERY)
    with capsys.disabled():
        print("\ndemo: %d revisions, bodies of %.2f MB" % (len(EVERY), size / 1e6))
    assert size < MOST_BYTES


@pytest.mark.parametrize("number", range(1, 8))
def test_every_system_is_walked_each_week_of_two_years(number):
    days = sorted(date.fromisoformat(body["made_at"][:10]) for body in of(number, "round"))
    assert days[0] < date(2024, 12, 9) and date(2026, 11, 16) <= days[-1] <= date(2026, 11, 24) and len(days) >= 103
    assert max((b - a).days for a, b in zip(days, days[1:])) <= 9
    assert all(body["signed"]["statement"] for body in of(number, "round"))
    asked = {item["id"] for body in of(number, "round") for item in body["items"]}
    assert asked == {item["key"] for item in ask({"do": "checklist", "document": plant.systems()[number - 1]})["items"]}


def test_summers_are_warm_and_winters_cold():
    read = {body["made_at"][:7]: item["value"] for body in of(STACKER, "round") for item in body["items"] if item["id"] == "line_temperature:whole"}
    assert read["2025-01"] < -5 and read["2026-01"] < -5 and read["2025-07"] > 15 and read["2026-07"] > 15


def test_the_slow_leak_is_called_before_its_defect_and_is_over_with_the_test_run_that_closes_it():
    defect = [one for one in of(DEBARKER, "defect") if one["cause"].startswith("leak")][0]
    raised = defect["made_at"][:10]
    system = dict(newest(None, DEBARKER)[0])
    before = dict(newest(None, DEBARKER)[1])
    first = [one for one in before["test-run"] if one["made_at"] < defect["made_at"]]
    known = {kind: [body for body in bodies if body["made_at"][:10] < raised] for kind, bodies in before.items()}
    out = ask({"do": "over_time", "document": dict(system, baseline_run=first[0]["id"]), "records": known})
    assert "trend.build_up.rises" in [one["id"] for one in out["trend"]["findings"]]
    assert defect["severity"] == "failing" and defect["closed"]["evidence"] == "test run"
    assert defect["closed"]["test_run"] == system["baseline_run"] and calls(DEBARKER) == []


def test_the_blocked_branch_is_seen_dry_found_and_closed_with_its_cause():
    defect = [one for one in of(SORTER, "defect") if one["severity"] == "starving"][0]
    case, = of(SORTER, "fault-case")
    walked = [one for one in of(SORTER, "round") if one["id"] == defect["from_record"]][0]
    assert [item["id"] for item in walked["items"] if item["answer"] == "not ok"] == ["device_moves:D5", "point_film:P7"]
    assert defect["cause"] == case["cause"] == "blocked=S5" and case["closed"] and defect["closed"]["reading"] and case["defect"] == defect["id"]
    found = ask({"do": "diagnose", "document": newest(None, SORTER)[0], "readings": case["readings"], "closed": [case["cause"]]})
    assert "blocked=S5" in [one["cause"] for one in found["causes"]]


def test_the_wrong_refill_names_another_lubricant_and_leaves_note_adjustment_and_defect():
    names = [one["lubricant"] for one in of(STACKER, "refill")]
    wrong = [name for name in names if name != plant.systems()[STACKER - 1]["lubricant"]["name"]]
    assert len(wrong) == 1 and [one["severity"] for one in of(STACKER, "defect")] == ["failing"]
    assert any("Wrong drum" in one["text"] for one in of(STACKER, "note"))
    assert [one["settled"]["how"] for one in of(STACKER, "adjustment") if "wrong grease" in one["why"]] == ["set back"]
    falls = [one for one in trend(STACKER)["trend"]["build_up"]["calls"] if not one["rises"]]
    assert len(falls) == 1 and falls[0]["over"]


def test_one_adjustment_for_winter_follows_the_sheet_and_one_differs_and_is_not_settled():
    follows = [one for one in every("adjustment") if one["to"] == one["sheet"]]
    differs = [one for one in every("adjustment") if one["to"] != one["sheet"] and not one.get("settled")]
    assert len(follows) == len(differs) == 1 and follows[0]["settled"]["how"] == "sheet follows"


def test_defects_of_every_severity_some_open_and_one_overdue():
    defects = every("defect")
    still = [one for one in defects if not one.get("closed")]
    assert {one["severity"] for one in defects} == {"danger", "starving", "failing", "untidy"}
    assert len(still) == 3 and len([one for one in still if one["due"] < "2026-11-20"]) == 1


def test_a_round_was_countersigned_and_one_corrected_with_its_reason():
    assert len([one for one in every("round") if one.get("countersigned")]) == 1
    corrected = [one for one in EVERY if one["kind"] == "round" and one["reason"]]
    assert len(corrected) == 1 and "decimal point" in corrected[0]["reason"] and corrected[0]["parent"]


def test_the_planer_s_pump_wears_again_and_nobody_has_set_it_aside():
    assert calls(PLANER) == ["trend.build_up.rises", "trend.meets"]
    assert [one["finding"] for one in of(PLANER, "set-aside")] == ["trend.outside"]


@pytest.mark.parametrize("number", [HEAD_RIG, SORTER, TRIM, STACKER, RESAW])
def test_where_nothing_is_wrong_nothing_is_called(number):
    assert calls(number) == []
