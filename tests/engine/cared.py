"""A system that has been looked after: what its last round and test run said. All invented."""
import copy

from demo_site import plant, plant_kinds
from webapp.engine.bridge import ask
from webapp.engine.systems.checklist import checklist

NOW = "2026-11-23T12:00:00+01:00"
KINDS = {"single-line": plant.head_rig, "progressive": plant_kinds.trimmer, "dual-line": plant_kinds.stacker,
         "time-only": plant_kinds.resaw}


def answered(document, at, **changes):
    """Answers to all items of the round at `at`; changes: item's key with "__" for ":" -> the answer, a dict or a word."""
    out = {}
    for item in checklist(document)["items"]:
        reading = {"answer": "reading", "value": {"s": 20.0, "l": 3.0, "°C": 5.0}.get(item["unit"], 1.0), "unit": item["unit"]}
        out[item["key"]] = dict(reading if item["answer"] == "reading" else {"answer": "ok"}, id=item["key"], at=at, where=item["where"],
                                ask=item["id"], low=item["low"], high=item["high"])
    for name, answer in changes.items():
        out[name.replace("__", ":")].update(answer if isinstance(answer, dict) else {"answer": answer})
    return out


def a_round(document, at, **changes):
    """The same as a signed round."""
    return {"format": "round/1", "system": document["id"], "made_at": at, "items": list(answered(document, at, **changes).values()),
            "signed": {"by": "Vera", "at": at}}


def known(document, at="2026-11-20T08:00:00+01:00", **more):
    """What is known of a system whose last round found all well."""
    worked = ask({"do": "work", "document": document, "simulate": False})
    out = {"answers": answered(document, at), "round_at": at, "run_at": "2026-01-10T10:00:00+01:00",
           "system_at": "2026-01-09T10:00:00+01:00", "worked": {"reservoir": worked["reservoir"], "findings": []},
           "refills": [], "defects": []}
    return dict(out, **copy.deepcopy(more))


def a_defect(severity="starving", **more):
    return dict({"id": "d1", "what": "Hose torn off", "severity": severity, "made_at": "2026-11-21T06:00:00+01:00", "where": "Saw"}, **more)


def care(document, now=NOW, day=None, units="metric", **more):
    return ask({"do": "care", "document": document, "now": now, "known": known(document, **more), "day": day, "units": units})
