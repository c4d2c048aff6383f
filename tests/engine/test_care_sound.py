"""Whatever the system and whatever is known of it: care answers, says so in sentences, and never contradicts itself."""
import random

import pytest

from webapp.engine.bridge import ask

from .cared import a_defect, answered
from .mutated import mutated
from .sound import complaints
from .test_refills import a_refill
from .whole_systems import whole_system

WHAT = {"round", "items", "test run", "defect", "refill", "season"}


def about(document, seed):
    """Something known of a system, with gaps and slips as records have them."""
    rng = random.Random(seed)

    def at():
        return rng.choice(["2026-1%d-%02dT08:00:00+01:00" % (rng.randint(0, 1), rng.randint(1, 28)), "2026-11-20", "soon", "", None])

    answers = answered(document, "2026-11-20T08:00:00+01:00")
    for key in rng.sample(sorted(answers), len(answers) // 2):
        answers[key].update(answer=rng.choice(["ok", "not ok", "not applicable", "reading", "text"]), at=at(), since=at(), ok_at=at())
    for key in rng.sample(sorted(answers), len(answers) // 4):
        del answers[key]
    places = [thing["id"] for name in ("devices", "sections", "points") for thing in document[name]] + ["pump", None, "gone"]
    worked = ask({"do": "work", "document": document, "simulate": False})
    return {"answers": answers, "round_at": at(), "run_at": at(), "system_at": at(), "worked": worked,
            "defects": [a_defect(rng.choice(["danger", "failing", None]), made_at=at(), due=at(), place=rng.choice(places))
                        for _ in range(3)],
            "refills": [a_refill(at(), rng.choice([0.2, 3, None]), level_after_l=rng.choice([None, 2])) for _ in range(4)],
            "runs": [{"made_at": at(), "runs": [{"build_s": rng.choice([None, 12.0]), "counts": True}],
                      "seen": [{"point": rng.choice(document["points"])["id"], "fed": rng.random() < 0.5}]}],
            "checklist": rng.choice([None, {"round_every_d": rng.choice([None, 3]), "walked_by": rng.choice([None, "Vera"]), "items": []}])}


@pytest.mark.parametrize("start", range(70000, 70060, 10))
def test_care_is_sound_for_every_kind_of_system(start):
    for seed in range(start, start + 10):
        document = whole_system(seed, 6)
        out = ask({"do": "care", "document": document, "now": "2026-11-23T12:00:00+01:00", "known": about(document, seed),
                   "day": "2026-12-24", "units": ("metric", "us")[seed % 2]})
        assert complaints(out) == [], seed
        fed, refill = out["fed"], out["refill"]
        assert fed["unconfirmed"] == len([row for row in fed["points"] if row["because"]]) <= fed["of"] == len(document["points"])
        assert {entry["what"] for entry in out["due"]} <= WHAT
        assert all(entry["says"]["says"] and entry["when"]["says"] and len(entry["due"]) == 10 for entry in out["due"])
        assert ("days_to_low" in refill) == ("fill" in refill) and (refill["low_on"] or "9999") <= (refill["empty_on"] or "9999")


@pytest.mark.parametrize("start", range(71000, 71400, 100))
def test_a_system_with_slips_of_the_finger_is_answered_with_findings_or_worked(start):
    answered_with = set()
    for seed in range(start, start + 100):
        document = mutated(seed)
        out = ask({"do": "care", "document": document, "now": "2026-11-23T12:00:00Z", "known": {}, "units": "metric"})
        answered_with.add("findings" if "findings" in out else "fed")
        assert "findings" in out or out["fed"]["unconfirmed"] == len(document["points"])
    assert answered_with == {"findings", "fed"}
