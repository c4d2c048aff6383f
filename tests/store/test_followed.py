"""The last answer to each item, with since when it has been the same and when it last was well, on server and phone alike."""
import json
import random
import subprocess

import pytest

from webapp.phone_engine import node_command
from webapp.store import followed, revisions

from .conftest import a_revision, new_id

FOLLOWED = "static/app/followed.js"


def a_round(system, at, **answers):
    """A signed round with these answers to its items."""
    items = [dict({"id": key, "ask": key, "at": at}, **(answer if isinstance(answer, dict) else {"answer": answer}))
             for key, answer in answers.items()]
    body = {"format": "round/1", "system": system, "made_at": at, "items": items, "signed": {"by": "Vera", "at": at}}
    return a_revision(kind="round", body=body, made_at=at)


def keep(store, *rounds):
    with store.writing() as connection:
        for one in rounds:
            revisions.add(connection, one, "accepted")


def last(store, system):
    with store.reading() as connection:
        return {key: row["answer"] for key, row in followed.last_answers(connection, [system])[system].items()}


def test_an_answer_counts_since_it_was_first_given_and_keeps_when_it_last_was_well(store):
    system = new_id()
    keep(store, a_round(system, "2026-11-06T08:00:00+01:00", a="ok"), a_round(system, "2026-11-13T08:00:00+01:00", a="not ok"),
         a_round(system, "2026-11-20T08:00:00+01:00", a="not ok"))
    assert {name: last(store, system)["a"][name] for name in ("answer", "since", "ok_at")} == {
        "answer": "not ok", "since": "2026-11-13T07:00:00+00:00", "ok_at": "2026-11-06T07:00:00+00:00"}


def test_a_round_that_comes_late_only_adds_when_it_was_well(store):
    system = new_id()
    keep(store, a_round(system, "2026-11-20T08:00:00+01:00", a="not ok"), a_round(system, "2026-11-06T08:00:00+01:00", a="ok"))
    found = last(store, system)["a"]
    assert (found["answer"], found["since"], found["ok_at"]) == ("not ok", "2026-11-20T07:00:00+00:00", "2026-11-06T07:00:00+00:00")


def test_a_correction_of_the_same_round_counts_alone(store):
    system = new_id()
    first = a_round(system, "2026-11-20T08:00:00+01:00", a="ok", b="not done")
    again = dict(a_round(system, "2026-11-20T08:00:00+01:00", a="not ok"), document=first["document"])
    keep(store, first, again)
    assert last(store, system)["a"]["ok_at"] is None and "b" not in last(store, system)


def test_the_lowest_reading_before_the_last_is_kept_and_a_correction_takes_back_its_own_alone(store):
    system = new_id()
    def read(day, value):
        return a_round(system, "2026-11-%02dT08:00:00+01:00" % day, a={"answer": "reading", "value": value})

    cold, typo = read(6, -20.0), read(13, -50.0)
    keep(store, cold, typo)
    assert last(store, system)["a"]["lowest"] == {"value": -20.0, "at": "2026-11-06T08:00:00+01:00"}
    keep(store, dict(read(13, -5.0), document=typo["document"]), read(20, -6.0), read(1, -21.0))
    found = last(store, system)["a"]
    assert (found["value"], found["lowest"]) == (-6.0, {"value": -21.0, "at": "2026-11-01T08:00:00+01:00"})


def test_a_reading_above_its_limit_was_not_well(store):
    system = new_id()
    keep(store, a_round(system, "2026-11-20T08:00:00Z", a={"answer": "reading", "value": 9.0, "high": 8.0},
                        b={"answer": "reading", "value": 8.0}))
    found = last(store, system)
    assert found["a"]["ok_at"] is None and found["b"]["ok_at"] == "2026-11-20T08:00:00+00:00"


@pytest.mark.parametrize("seed", range(3))
def test_server_and_phone_keep_the_same(store, seed):
    rng, system = random.Random(seed), new_id()
    def answer():
        reading = {"answer": "reading", "value": rng.randrange(9), "high": rng.choice([None, 5.0])}
        return rng.choice(["ok", "not ok", "not applicable", "not done", reading])

    def moment(number):
        return "2026-%02d-%02dT08:%02d:00+0%d:00" % (rng.randint(1, 12), rng.randint(1, 28), number, rng.randint(0, 3))

    rounds = [a_round(system, moment(number), **{key: answer() for key in "abcdef"}) for number in range(12)]
    for one in rounds[::3]:
        rounds.append(dict(a_round(system, one["made_at"], **{key: answer() for key in "abcdef"}), document=one["document"]))
    keep(store, *rounds)
    script = """import { answersAfter } from './%s'; let last;
        for (const [body, id] of %s) last = answersAfter(last, body, id);
        console.log(JSON.stringify(last));""" % (FOLLOWED, json.dumps([[one["body"], one["document"]] for one in rounds]))
    printed = subprocess.run([node_command(), "--input-type=module", "-e", script], capture_output=True, text=True, check=True).stdout
    there, here = json.loads(printed), last(store, system)
    for key in "abcdef":
        assert [there[key].get(name) for name in ("answer", "at", "lowest")] == [here[key].get(name) for name in ("answer", "at", "lowest")]
        for name in ("since", "ok_at"):
            assert (there[key][name] or "")[:19] == (here[key][name] or "")[:19]


def test_the_last_few_of_each_system(store):
    first, second = new_id(), new_id()
    filled = [{"format": "refill/1", "system": system, "refill_l": day, "made_at": "2026-11-%02dT08:00:00Z" % day}
              for system, days in ((first, (3, 1, 2)), (second, (4,))) for day in days]
    keep(store, a_revision(first), a_revision(second), *[a_revision(kind="refill", body=body) for body in filled])
    with store.reading() as connection:
        found = revisions.last_few_of_each(connection, "refill", most=2)
        assert {system: [row["body"]["refill_l"] for row in rows] for system, rows in found.items()} == {first: [2, 3], second: [4]}
        assert revisions.last_few_of_each(connection, "refill", ["South works"], most=2) == {}
