"""Checklists at the desk: who may shape one, YAML out and in, and each fault named with its item."""
import io

import pytest
import yaml

from click.testing import CliRunner
from tests.web.conftest import a_revision, a_system, new_id
from webapp import checklists
from webapp.__main__ import main
from webapp.documents import NoDocument
from webapp.engine.document.check import check

OWN = {"id": "own:gate", "own": True, "where": "Gate 3", "ask": "Gate locked: yes?", "answer": "ok", "every": "month", "photo": True}
DEPTH = {"id": "own:depth", "own": True, "where": "Sump", "ask": "Depth", "answer": "reading", "unit": "mm", "high": 40, "every": "cold"}


def a_plan(system, *items, **more):
    return dict({"format": "checklist/1", "id": checklists.checklist_id(system["id"]), "system": system["id"], "items": list(items)}, **more)


def out(system, plan=None):
    return checklists.give_out(system["id"], system, plan)


def taken(system, change):
    """The refusal of a list that was given out and then changed by `change(values)`."""
    values = yaml.safe_load(out(system))
    change(values)
    with pytest.raises(NoDocument) as refused:
        checklists.take_in(yaml.safe_dump(values, sort_keys=False), system["id"], system)
    return str(refused.value)


def test_the_id_is_the_system_s_own_and_never_another_s():
    assert checklists.checklist_id("b5ac0000-0000-4000-8000-000000000001") == "35ac0000-0000-8000-8000-000000000001"
    ids = [new_id() for _ in range(200)]
    made = {checklists.checklist_id(one) for one in ids}
    assert len(made) == 200 and not made & set(ids) and checklists.checklist_id(ids[0].upper()) in made


def test_a_list_nobody_shaped_goes_out_and_comes_in_as_nothing_changed():
    system = a_system()
    body = checklists.take_in(out(system), system["id"], system)
    assert all(set(entry) == {"id"} for entry in body["items"]) and check(body) == []
    assert out(system, body) == out(system)


def test_a_shaped_list_comes_back_as_it_went():
    system = a_system()
    ids = [item["key"] for item in checklists.shaped(system, None)["items"]]
    items = [{"id": key} for key in ids]
    items[2].update(ask="Look: foam?", every="month", photo=False)
    index = ids.index("pump_current:pump")
    items[index].update(limits="fixed", low=3.0, high=4.5)
    items[4]["left_out"] = True
    items = items[::-1][:5] + [OWN, DEPTH] + items[::-1][5:]
    plan = a_plan(system, *items, round_every_d=14, walked_by="Night shift", note="From the\nplant manager")
    assert check(plan) == []
    text = out(system, plan)
    assert checklists.take_in(text, system["id"], system) == plan
    assert out(system, checklists.take_in(text, system["id"], system)) == text


@pytest.mark.parametrize("change, words", [
    (lambda v: v["items"][3].update(every="weekly"), ("Item 4 (", "weekly", "round, month, year, cold")),
    (lambda v: v["items"][0].update(limits="fixed", low="much"), ("Item 1 (reservoir_level:pump)", "Lower limit", "a number")),
    (lambda v: v["items"][0].update(limits="fixed", low=5, high=1), ("Item 1 (", "Limits")),
    (lambda v: v["items"][0].update(low=1), ("Item 1 (", "limits: fixed")),
    (lambda v: v["items"][0].update(unit="bar"), ("Item 1 (", "unit is settled")),
    (lambda v: v["items"][1].update(answer="text"), ("Item 2 (", "answer is settled")),
    (lambda v: v["items"][5].update(evry="round"), ("Item 6 (", '"evry"')),
    (lambda v: v["items"][5].pop("id"), ("Item 6", "Item")),
    (lambda v: v["items"].append({"id": "point_film:P99"}), ("(point_film:P99)", "own: true")),
    (lambda v: v["items"].append(dict(OWN, id="pump_runs:pump")), ("pump_runs:pump", "twice")),
    (lambda v: v["items"].append(dict(OWN, ask="  ")), ("own:gate", "What is asked")),
    (lambda v: v["items"].append(dict(DEPTH, unit="fathom")), ("own:depth", "Unit", "fathom")),
    (lambda v: v["items"].append("a word"), ("a group of fields",)),
    (lambda v: v.update(round_every_d=0), ("A round every",)),
    (lambda v: v.update(round_evry_d=7), ('"round_evry_d"',)),
    (lambda v: v.update(system=new_id()), ("another system",)),
    (lambda v: v.update(format="checklist/9"), ("checklist/9",)),
    (lambda v: v.update(format="system/1"), ("It is no checklist",)),
    (lambda v: v.update(items=[]), ("Items",)),
])
def test_what_is_wrong_is_said_with_its_item(change, words):
    said = taken(a_system(), change)
    assert all(word in said for word in words) and "\n" not in said, said


@pytest.mark.parametrize("text", ["", "- a\n- b", "items: [", "format: checklist/1\nitems: *x", "\0"])
def test_what_is_no_list_is_refused_with_a_sentence(text):
    system = a_system()
    with pytest.raises(NoDocument):
        checklists.take_in(text, system["id"], system)


def upload(browser, system, text):
    return browser.http.post("/plant/%s/checklist" % system["id"], content_type="multipart/form-data", data={
        "csrf_token": browser.token(), "file": (io.BytesIO(text.encode()), "list.yaml")})


def test_a_supervisor_takes_a_list_in_and_phones_get_it(hand):
    system = a_system()
    hand("technician").send(a_revision(system))
    desk = hand("supervisor")
    values = yaml.safe_load(desk.get("/plant/%s/checklist.yaml" % system["id"]).get_data(as_text=True))
    values["items"].insert(1, OWN)
    for days in (10, 12):
        values["round_every_d"] = days
        assert upload(desk, system, yaml.safe_dump(values)).status_code == 302
    last = hand("technician").feed()["revisions"][-1]
    assert (last["kind"], last["document"], last["body"]["round_every_d"]) == ("checklist", checklists.checklist_id(system["id"]), 12)
    assert last["parent"] and last["body"]["made_by"] == "supervisor" and last["body"]["items"][1]["id"] == "own:gate"
    text = desk.get("/plant/%s/checklist" % system["id"]).get_data(as_text=True)
    assert "Gate locked: yes?" in text and "A round every 12" in text


def test_a_bad_file_changes_nothing(hand):
    system = a_system()
    hand("technician").send(a_revision(system))
    reply = upload(hand("supervisor"), system, "format: checklist/1\nitems:\n- id: nothing:here\n")
    assert reply.status_code == 422 and "Item 1 (nothing:here)" in reply.get_data(as_text=True)
    assert len(hand("technician").feed()["revisions"]) == 1


@pytest.mark.parametrize("name, state", [("technician", "refused"), ("supervisor", "accepted"), ("administrator", "accepted")])
def test_a_technician_s_checklist_is_refused_with_a_sentence(hand, name, state):
    system = a_system()
    sender = hand(name)
    result = sender.send(a_revision(system), a_revision(a_plan(system, {"id": "pump_runs:pump", "every": "month"})))[1]
    assert result["state"] == state and ("supervisors" in (result["says"] or "")) == (state == "refused")


def test_the_command_gives_out_and_takes_in(hand, database, tmp_path):
    system = a_system()
    hand("technician").send(a_revision(system))

    def run(*arguments, given=None):
        return CliRunner().invoke(main, ("checklist",) + arguments, input=given, env={"DATABASE_URL": database})

    text = run(system["id"]).stdout
    assert text == out(system)
    changed = text.replace("round_every_d: 7", "round_every_d: 21")
    assert run(system["id"], "-", "--by", "supervisor", given=changed).exit_code == 0
    assert run(system["id"]).stdout == changed
    for arguments, words in ((("nothing",), "look its id up"), ((system["id"], "-"), "--by NAME"), ((system["id"], "-", "--by", "technician"), "is a technician"),
                             ((system["id"], "-", "--by", "nobody"), "nobody"), ((system["id"], str(tmp_path / "no.yaml"), "--by", "supervisor"), "cannot be read")):
        result = run(*arguments, given=changed)
        assert result.exit_code == 1 and words in result.stderr and result.stderr.count("\n") == 1
    assert run(system["id"], "-", "--by", "supervisor", given="items: {").stderr.startswith("Error: ")


def test_the_store_is_free_while_the_command_reads_its_file(hand, database, store, monkeypatch):
    system = a_system()
    hand("technician").send(a_revision(system))

    def slowly(_):
        with store.writing():  # somebody sends meanwhile: a second writer would wait until it gives up
            return out(system)

    monkeypatch.setattr("webapp.commands.checklist.read_text", slowly)
    result = CliRunner().invoke(main, ("checklist", system["id"], "-", "--by", "supervisor"), env={"DATABASE_URL": database})
    assert (result.exit_code, result.output) == (0, "")


def test_the_command_says_in_one_sentence_that_there_is_no_such_database():
    result = CliRunner().invoke(main, ("checklist", "x"), env={"DATABASE_URL": "nowhere"})
    assert result.exit_code == 1 and "no address of a database" in result.stderr and result.stderr.count("\n") == 1
