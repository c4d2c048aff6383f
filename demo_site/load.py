"""Writes the invented plant into a store: people, systems, one signed test run, one signed round."""
import uuid

from webapp.engine.checklist import checklist
from webapp.engine.present import present
from webapp.engine.worked import work
from webapp.store import people, revisions

from . import plant

PASSWORD = "brackwater"
NAMES = (people.TECHNICIAN, people.SUPERVISOR, people.ADMINISTRATOR)
_PHONE = "b5ac0000-0000-4000-8000-0000000000f0"
_RUNS = (81.2, 80.6, 80.9)
_VENTS = (6.1, 5.8, 6.0)
_DAY = "2026-11-23T"


def _fixed_id(name):
    return str(uuid.uuid5(uuid.NAMESPACE_URL, "brackwater:" + name))


def _revision(document, kind, body, made_at, person, parent=None):
    return {"id": _fixed_id("%s:%s" % (document, made_at)), "document": document, "kind": kind, "site": plant.SITE,
            "parent": parent, "also": None, "made_at": made_at, "made_by": person, "phone": _PHONE, "deleted": False,
            "reason": None, "body": body}


def _test_run(system, revision):
    runs = [{"id": str(number), "started_at": _DAY + "09:%02d:00+01:00" % (10 * number), "build_s": build, "vent_s": vent,
             "counts": True} for number, (build, vent) in enumerate(zip(_RUNS, _VENTS), 1)]
    return {"format": "test-run/1", "id": _fixed_id("test-run"), "system": system["id"], "system_revision": revision,
            "made_at": _DAY + "09:05:00+01:00", "made_by": "technician", "phone": _PHONE, "at_c": 7,
            "cautions_read_at": _DAY + "09:06:00+01:00", "runs": runs, "note": "Line bled at the edger before the runs.",
            "signed": {"by": "technician", "at": _DAY + "09:45:00+01:00"}}


def _answered(item, number, system):
    """A plausible answer to one item of the round: all is well but one wet fitting."""
    row = {"id": item["key"], "where": item["where"], "ask": item["says"], "unit": item["unit"], "low": item["low"],
           "high": item["high"], "at": _DAY + "13:%02d:00+01:00" % (number % 60), "answer": item["answer"]}
    if item["answer"] == "reading":
        row["value"] = {"l": 3.1, "A": 4.1, "bar": system["switches"][0]["trips_bar"] if item["component"] == "switch" else 1,
                        "s": 80.8}[item["unit"]]
    if item["key"] == "point_line:P4":
        row.update(answer="not ok", note="Fitting weeps, tightened; look again next round.")
    return row


def _round(system, revision):
    items = present(checklist(system, work(system, False)))["items"]
    return {"format": "round/1", "id": _fixed_id("round"), "system": system["id"], "system_revision": revision,
            "made_at": _DAY + "13:00:00+01:00", "made_by": "technician", "phone": _PHONE,
            "items": [_answered(item, number, system) for number, item in enumerate(items)],
            "signed": {"by": "technician", "at": _DAY + "13:40:00+01:00"}}


def load(store):
    """Fill an empty store; a store that holds something is left as it is."""
    with store.writing() as connection:
        if revisions.count(connection) or people.everybody(connection):
            return
        who = {name: people.add(connection, name, PASSWORD, name, [plant.SITE], True) for name in NAMES}
        people.seen_phone(connection, _PHONE, who["technician"])
        for system in plant.systems():
            first = _revision(system["id"], "system", system, "2026-11-20T10:00:00+01:00", who["supervisor"])
            revisions.add(connection, first, "accepted")
            if system["name"] == "Head rig and edger":
                _history(connection, system, first["id"], who["technician"])


def _history(connection, system, revision, person):
    """The fine system has been commissioned and walked."""
    record = _test_run(system, revision)
    revisions.add(connection, _revision(record["id"], "test-run", record, _DAY + "09:45:00+01:00", person), "accepted")
    measured = dict(system, measured={"build_s": list(_RUNS), "vent_s": list(_VENTS), "at_c": 7}, baseline_run=record["id"])
    revisions.add(connection, _revision(system["id"], "system", measured, _DAY + "09:46:00+01:00", person, revision), "accepted")
    walked = _round(measured, revision)
    revisions.add(connection, _revision(walked["id"], "round", walked, _DAY + "13:40:00+01:00", person), "accepted")
    people.sent_by(connection, _PHONE, 3, "round")
