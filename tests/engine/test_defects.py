"""Defects in the order in which to see to them, the parts of a line that they are at, adjustments held against the settings sheet."""
import pytest

from demo_site import plant
from webapp.engine.bridge import ask
from webapp.engine.document.check import check
from webapp.phone_engine import PhoneEngine

from .systems import any_system
from .test_parity import both, differences

TODAY = "2026-11-26"


def a_defect(document, severity, due=None, **more):
    return dict({"document": document, "made_at": "2026-11-20T08:00:00+01:00", "severity": severity, "due": due}, **more)


def standing(*defects, today=TODAY):
    return ask({"do": "defects", "defects": list(defects), "today": today})


def order(*defects):
    return [row["document"] for row in standing(*defects)["open"]]


def of(answer, document):
    return next(row for row in answer["open"] if row["document"] == document)


# ---- the four words

def test_due_follows_from_the_consequence():
    due = {one["severity"]: one["due"] for one in ask({"do": "severities", "today": TODAY})["severities"]}
    assert due == {"danger": TODAY, "starving": TODAY, "failing": "2026-12-03", "untidy": "2026-12-03"}


@pytest.mark.parametrize("next_round, due", [("2026-11-30", "2026-11-30"), ("2026-11-01", TODAY), ("soon", "2026-12-03")])
def test_untidy_waits_for_the_next_round(next_round, due):
    assert ask({"do": "severities", "today": TODAY, "next_round": next_round})["severities"][3]["due"] == due


def test_each_word_says_what_it_means_and_what_to_do():
    words = ask({"do": "severities", "today": TODAY})["severities"]
    assert [one["severity"] for one in words] == ["danger", "starving", "failing", "untidy"]
    assert all(one["means"]["says"] and one["means"]["do"] for one in words)


# ---- which come first

def test_overdue_and_dangerous_come_first_then_the_worst_then_the_earliest():
    assert order(a_defect("untidy", "untidy", "2026-12-01"), a_defect("late untidy", "untidy", "2026-11-25"),
                 a_defect("failing 2", "failing", "2026-12-03"), a_defect("failing 1", "failing", "2026-12-02"),
                 a_defect("starving", "starving", "2026-11-26"), a_defect("danger", "danger", "2026-12-24")) == [
                     "danger", "late untidy", "starving", "failing 1", "failing 2", "untidy"]


def test_a_defect_is_overdue_from_the_day_after_it_was_due():
    answer = standing(a_defect("yesterday", "failing", "2026-11-25"), a_defect("today", "failing", TODAY),
                      a_defect("3", "untidy", "2026-11-23"))
    assert [of(answer, one)["overdue"] for one in ("yesterday", "today", "3")] == [True, False, True] and answer["overdue"] == 2
    assert [of(answer, one)["when"]["says"] for one in ("yesterday", "today", "3")] == [
        "Overdue since yesterday.", "Due today.", "Overdue by 3 days."]


def test_closed_ones_are_not_counted():
    answer = standing(a_defect("a", "danger", closed={"by": "somebody"}), a_defect("b", "untidy", "2026-12-09"))
    assert [row["document"] for row in answer["open"]] == ["b"] and (answer["overdue"], answer["danger"]) == (0, 0)


def test_without_a_day_it_is_due_when_its_consequence_says():
    assert of(standing(a_defect("a", "failing")), "a")["due"] == "2026-11-27"
    assert of(standing(a_defect("a", "failing", "at Christmas")), "a")["due"] == "2026-11-27"


@pytest.mark.parametrize("broken", [{}, {"severity": "awful"}, {"severity": "untidy", "due": "9999-99-99", "made_at": "never"}])
def test_what_is_not_whole_is_still_shown(broken):
    assert len(standing(dict(broken, document="a"))["open"]) == 1


# ---- where

def test_a_part_concerns_the_points_that_hang_on_it():
    system = plant.sorter_chain()
    parts = {(one["component"], one["place"]): one for one in ask({"do": "parts", "document": system})["parts"]}
    every = [point["id"] for point in system["points"]]
    last = system["sections"][-1]
    assert parts["pump", "pump"]["points"] == parts["switch", system["switches"][0]["id"]]["points"] == every
    at_end = [device["id"] for device in system["devices"] if device["at"] == last["to"]]
    assert parts["pipe", last["id"]]["points"] == [point["id"] for point in system["points"] if point["device"] in at_end]
    device = system["devices"][0]["id"]
    assert parts["device", device]["points"] == [point["id"] for point in system["points"] if point["device"] == device]
    assert parts["point", every[0]]["points"] == every[:1] and parts["point", every[0]]["where"] == system["points"][0]["name"]


def test_blocks_stand_together():
    system = plant.trimmer()
    parts = ask({"do": "parts", "document": system})["parts"]
    every = [point["id"] for point in system["points"]]
    assert all(one["points"] == every for one in parts if one["component"] in ("device", "pipe"))
    assert not [one for one in parts if one["component"] == "vent valve"]


@pytest.mark.parametrize("seed", range(13000, 13012))
def test_every_item_of_a_round_is_at_a_part(seed):
    system = any_system(seed, 8)
    parts = {(one["component"], one["place"]) for one in ask({"do": "parts", "document": system})["parts"]}
    items = ask({"do": "checklist", "document": system})["items"]
    assert {(item["component"], item["place"]) for item in items} - parts == set()


# ---- adjustments

@pytest.fixture(scope="module")
def settings():
    return ask({"do": "work", "document": plant.head_rig(), "simulate": True})["settings"]


def named(settings, name):
    return next(one for one in settings if one["name"] == name)


def an_adjustment(settings, name="pause", document="a", at="2026-11-20T08:00:00+01:00", **more):
    setting = named(settings, name)
    return dict({"document": document, "made_at": at, "setting": setting["label"], "name": name, "to": setting["shown"],
                 "value": setting["value"], "unit": setting["unit"]}, **more)


def held(settings, *adjustments, units="metric"):
    return ask({"do": "adjusted", "adjustments": list(adjustments), "settings": settings, "units": units})


def test_what_stands_as_on_the_sheet_does_not_differ(settings):
    assert [row["differs"] for row in held(settings, an_adjustment(settings))["adjustments"]] == [False]
    # by its words alone, as a person would write it
    words = an_adjustment(settings, to=named(settings, "pause")["shown"].upper())
    del words["value"], words["unit"], words["name"]
    assert held(settings, words)["differing"] == 0


def test_what_differs_says_both_and_what_to_do(settings):
    row, = held(settings, an_adjustment(settings, value=1234.0, to="1234 s"))["adjustments"]
    sheet = named(settings, "pause")["shown"]
    assert row["differs"] and row["finding"]["says"] == "Pause is 20 min 34 s at the controller; the settings sheet says %s." % sheet
    assert "exception" in row["finding"]["do"]


def test_a_text_that_differs_is_seen(settings):
    name = next(one["name"] for one in settings if one["unit"] == "text" and one["value"] == "normally open")
    assert held(settings, an_adjustment(settings, name, value=None, to="Normally  open"))["differing"] == 0
    assert held(settings, an_adjustment(settings, name, value=None, to="normally closed"))["differing"] == 1


def test_only_the_last_one_of_a_setting_stands(settings):
    away = an_adjustment(settings, document="away", value=1234.0)
    back = an_adjustment(settings, document="back", at="2026-11-21T08:00:00+01:00")
    answer = held(settings, away, back)
    assert [(row["document"], row["stands"]) for row in answer["adjustments"]] == [("back", True), ("away", False)]
    assert answer["differing"] == 0
    assert held(settings, dict(away, made_at="2026-11-22T08:00:00+01:00"), back)["differing"] == 1


@pytest.mark.parametrize("entered_at, names, differs", [
    ("2026-11-21T08:00:00+01:00", ("pause", "vent"), 0), ("2026-11-19T08:00:00+01:00", ("pause",), 1),
    ("2026-11-21T08:00:00+01:00", ("vent",), 1)])
def test_what_was_entered_from_the_sheet_since_stands_instead(settings, entered_at, names, differs):
    entry = {"made_at": entered_at, "entries": [{"name": name, "shown": "as on the sheet"} for name in names]}
    answer = ask({"do": "adjusted", "adjustments": [an_adjustment(settings, value=1234.0)], "settings": settings, "entered": [entry]})
    assert answer["differing"] == differs


def test_settled_as(settings):
    def row(how):
        return held(settings, an_adjustment(settings, value=1234.0, settled={"how": how, "statement": "Wet season."}))["adjustments"][0]

    assert row("set back")["finding"] is None
    assert not row("stays as an exception")["differs"] and "Wet season." in row("stays as an exception")["finding"]["do"]
    followed = row("sheet follows")
    assert followed["differs"] and "still says" in followed["finding"]["says"]
    assert not held(settings, an_adjustment(settings, settled={"how": "sheet follows"}))["differing"]


def test_a_setting_that_the_sheet_does_not_have_is_shown_until_it_is_settled(settings):
    strange = {"document": "a", "made_at": "2026-11-20T08:00:00Z", "setting": "Menu page 7", "to": "on"}
    assert held(settings, strange)["differing"] == 1
    assert held(settings, dict(strange, settled={"how": "set back"}))["differing"] == 0


# ---- what the check of the records refuses

HEAD = {"id": "b5ac0000-0000-4000-8000-000000000101", "system": "b5ac0000-0000-4000-8000-000000000001", "made_by": "somebody",
        "made_at": "2026-11-20T08:00:00+01:00"}
RAISED = dict(HEAD, format="defect/1", where="Pump", what="It leaks", severity="failing", due="2026-11-27")
CLOSED = {"by": "somebody", "at": "2026-11-21T08:00:00+01:00", "how": "New seal"}


def stops(document):
    return [one["id"] for one in check(document) if one["severity"] == "stop"]


@pytest.mark.parametrize("evidence, holds", [
    ({"evidence": "reading", "reading": "Pressure 84 bar"}, True), ({"evidence": "reading", "reading": "all well"}, False),
    ({"evidence": "reading"}, False), ({"evidence": "test run"}, False), ({"evidence": "photo", "photos": []}, False),
    ({"evidence": "test run", "test_run": "b5ac0000-0000-4000-8000-000000000102"}, True),
    ({"evidence": "photo", "photos": [{"sha256": "ab" * 32, "width": 100, "height": 100}]}, True)])
def test_closing_needs_evidence(evidence, holds):
    assert stops(RAISED) == []
    assert stops(dict(RAISED, closed=dict(CLOSED, **evidence))) == ([] if holds else ["check.no_evidence"])


def test_it_is_due_on_a_day():
    assert stops(dict(RAISED, due="next week")) == ["check.no_day"]


def test_an_exception_needs_a_reason():
    made = dict(HEAD, format="adjustment/1", setting="Pause", to="30 min", why="Wet")
    settled = {"by": "supervisor", "at": HEAD["made_at"], "how": "stays as an exception"}
    assert stops(dict(made, settled=settled)) == ["check.missing"]
    assert stops(dict(made, settled=dict(settled, statement="Wet season"))) == []


# ---- causes learnt

def test_causes_have_a_name_each_and_only_those_that_the_kind_has():
    causes = ask({"do": "causes", "document": plant.head_rig()})["causes"]
    assert len({one["name"] for one in causes}) == len(causes)
    assert not [one for one in causes if "  " in one["name"] or "{" in one["name"]]
    assert "vent" not in [one["cause"] for one in ask({"do": "causes", "document": plant.trimmer()})["causes"]]


# ---- both machines

def test_both_machines_say_the_same(settings):
    words = ("danger", "starving", "failing", "untidy")
    defects = [a_defect("d%d" % number, words[number % 4], "2026-%02d-%02d" % (1 + number % 12, 1 + number % 28)) for number in range(40)]
    defects += [{"document": "x"}, a_defect("y", "awful", "no day")]
    adjustments = [an_adjustment(settings, one["name"], one["name"], value=1234.5 if one["unit"] == "s" else one["value"]) for one in settings]
    requests = [{"do": "defects", "defects": defects, "today": TODAY},
                {"do": "severities", "today": "2028-02-27", "next_round": "2028-03-01"},
                {"do": "adjusted", "adjustments": adjustments, "settings": settings}]
    for seed in range(13100, 13106):
        requests += [{"do": one, "document": any_system(seed, 8)} for one in ("parts", "causes")]
    with PhoneEngine() as phone:
        for request in requests:
            here, there = both(phone, dict(request, units="us"))
            assert differences(here, there) == [], request["do"]
