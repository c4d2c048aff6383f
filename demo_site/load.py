"""Writes the invented plant into a store: people, systems, one signed test run, one signed round."""
import uuid
from datetime import date, timedelta

from webapp.engine.systems.checklist import checklist
from webapp.engine.systems.predict import build_up
from webapp.engine.words.present import present
from webapp.engine.systems.worked import work
from webapp.store import people, revisions

from . import plant

PASSWORD = "brackwater"
NAMES = (people.TECHNICIAN, people.SUPERVISOR, people.ADMINISTRATOR)
_PHONE = "b5ac0000-0000-4000-8000-0000000000f0"
_RUNS = (81.2, 80.6, 80.9)
_VENTS = (6.1, 5.8, 6.0)
_DAY = "2026-11-23T"
# the planer's weekly timed cycles since its baseline: temperature at the line, stopwatch against the prediction [s] and, in
# the last weeks, by how much longer the pump takes than it did. All invented
_WEEKS = (
    (17, 0.2, 0), (19, -0.3, 0), (22, 0.1, 0), (25, 0.4, 0), (24, -0.2, 0), (27, -0.1, 0), (29, 0.3, 0), (26, 0, 0),
    (28, -0.4, 0), (25, 0.2, 0), (23, 0.1, 0), (24, -0.2, 0), (20, 0.3, 0), (18, -0.1, 0), (19, 0, 0), (15, 0.2, 0),
    (14, -0.3, 0), (11, 0.1, 0), (12, 0.3, 0), (8, -0.2, 0.02), (9, 0.1, 0.04), (5, 0, 0.06), (6, 0.2, 0.08), (3, -0.1, 0.1),
    (2, 0.2, 0.12))

# its refills every four weeks: how far each lies from what the doses took, a hand at the filler and hours that vary
_REFILLS = (0, 0.03, -0.04, 0.02, 0.05, -0.02, 0.01)


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
        row["value"] = {"l": 3.1, "A": 4.1, "V": 23.6, "°C": 7 if item["component"] == "whole" else 41,
                        "bar": system["switches"][0]["trips_bar"] if item["component"] == "switch" else 1,
                        "s": 80.8}[item["unit"]]
    if item["answer"] == "text":
        row["note"] = "None stored."
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
            elif system["name"] == "Planer feed rolls":
                _weekly(connection, system, first["id"], who["technician"])
                _refill(connection, system, first["id"], who["technician"])


def _history(connection, system, revision, person):
    """The fine system has been commissioned and walked."""
    record = _test_run(system, revision)
    revisions.add(connection, _revision(record["id"], "test-run", record, _DAY + "09:45:00+01:00", person), "accepted")
    measured = dict(system, measured={"build_s": list(_RUNS), "vent_s": list(_VENTS), "at_c": 7}, baseline_run=record["id"])
    revisions.add(connection, _revision(system["id"], "system", measured, _DAY + "09:46:00+01:00", person, revision), "accepted")
    walked = _round(measured, revision)
    revisions.add(connection, _revision(walked["id"], "round", walked, _DAY + "13:40:00+01:00", person), "accepted")
    people.sent_by(connection, _PHONE, 3, "round")


def _weekly(connection, system, revision, person):
    """The planer has a baseline from spring and a timed cycle every week since: its pump wears."""
    usual = round(build_up(system, [system["ambient"]["usual_c"]])[0], 1)
    begin = date(2026, 5, 25)
    record = _test_run(system, revision)
    record.update(id=_fixed_id("planer:test-run"), made_at="%sT09:05:00+02:00" % begin, at_c=14,
                  note="Baseline after the spring overhaul.")
    record["runs"] = [dict(run, started_at="%sT09:1%d:00+02:00" % (begin, number), build_s=usual + off)
                      for number, (run, off) in enumerate(zip(record["runs"], (0.2, -0.1, 0.0)))]
    record["signed"] = {"by": "technician", "at": "%sT09:45:00+02:00" % begin}
    revisions.add(connection, _revision(record["id"], "test-run", record, record["made_at"], person), "accepted")
    builds = [run["build_s"] for run in record["runs"]]
    measured = dict(system, measured={"build_s": builds, "at_c": 14}, baseline_run=record["id"])
    kept = _revision(system["id"], "system", measured, "2026-11-20T10:05:00+01:00", person, revision)
    revisions.add(connection, kept, "accepted")
    timed = [item for item in present(checklist(measured, work(measured, False)))["items"] if item["component"] == "whole" and item["unit"]]
    for week, ((at_c, off, longer), seconds) in enumerate(zip(_WEEKS, build_up(system, [row[0] for row in _WEEKS])), 1):
        made_at = "%sT07:30:00+01:00" % (begin + timedelta(weeks=week))
        walked = {"format": "round/1", "id": _fixed_id("planer:round:%d" % week), "system": system["id"],
                  "system_revision": revision, "made_at": made_at, "made_by": "technician", "phone": _PHONE,
                  "items": [_reading(item, {"s": round(seconds * (1 + longer) + off, 1), "°C": at_c}[item["unit"]], made_at)
                            for item in timed], "signed": {"by": "technician", "at": made_at}}
        revisions.add(connection, _revision(walked["id"], "round", walked, made_at, person), "accepted")


def _refill(connection, system, revision, person):
    """The planer's reservoir filled to its mark every four weeks."""
    a_month = work(system, False)["reservoir"]["per_day"]["value"] * system["duty"]["days_per_week"] * 4 / 1000
    for number, off in enumerate(_REFILLS):
        made_at = "%sT07:50:00+02:00" % (date(2026, 5, 25) + timedelta(weeks=4 * number))
        record = {"format": "refill/1", "id": _fixed_id("planer:refill:%d" % number), "system": system["id"],
                  "system_revision": revision, "made_at": made_at, "made_by": "technician", "phone": _PHONE,
                  "refill_l": round(a_month * (1 + off), 2), "batch": "B-26-%02d" % (number + 4)}
        revisions.add(connection, _revision(record["id"], "refill", record, made_at, person), "accepted")


def _reading(item, value, at):
    return {"id": item["key"], "where": item["where"], "ask": item["says"], "unit": item["unit"], "low": item["low"],
            "high": item["high"], "answer": "reading", "value": value, "at": at}
