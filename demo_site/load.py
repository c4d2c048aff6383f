"""Writes the invented plant into a store: people, systems and two years of their records, in the order of time."""
import uuid
from datetime import date

from webapp.engine.systems.predict import build_up
from webapp.engine.systems.worked import work
from webapp.engine.words.present import present
from webapp.store import people, photos as rows, revisions

from . import plant, stories
from .drawings import DRAWINGS, drawn
from .parts import SOFT
from .rounds import STATEMENT, answered, items_of, round_of
from .two_years import LEAK, OVERHAUL, WRONG_GREASE, at, day_of, weeks

PASSWORD = "brackwater"
NAMES = (people.TECHNICIAN, people.SUPERVISOR, people.ADMINISTRATOR)
_PHONE = "b5ac0000-0000-4000-8000-0000000000f0"
_REGISTERED = "2024-11-25T10:00:00+01:00"
_COMMISSIONED = date(2024, 11, 28)
# the head rig's newest baseline, after work on its line, and the whole round of that day
_NEWEST = date(2026, 11, 23)
_RUNS, _VENTS = (81.2, 80.6, 80.9), (6.1, 5.8, 6.0)
# runs of a baseline against the prediction [s]
_OFF = (0.2, -0.1, 0.0)
# system -> [(week or None when it was commissioned, temperature, note)] of its baselines; the others have none yet
_NEW = "Baseline of the new line."
_BASELINES = {1: [(None, 2, _NEW)], 3: [(None, 6, _NEW), (OVERHAUL, 14, "Baseline after the spring overhaul.")],
              4: [(None, 1, _NEW), (LEAK[-1] + 1, 1, "Baseline after hose S5 was renewed.")]}
# (system, week) of the rounds that were counter-signed and corrected
_COUNTERSIGNED, _CORRECTED = (1, 100), (2, 90)


def _fixed_id(name):
    return str(uuid.uuid5(uuid.NAMESPACE_URL, "brackwater:" + name))


def _made(kind, body, made_at, by=people.TECHNICIAN, parent=None, reason=None):
    """One revision, but for the person's id and what the last revision of the system was."""
    return {"id": _fixed_id("%s:%s" % (body["id"], made_at)), "document": body["id"], "kind": kind, "site": plant.SITE, "parent": parent,
            "also": None, "made_at": made_at, "made_by": by, "phone": _PHONE, "deleted": False, "reason": reason, "body": body}


def _run(system, day, at_c, note, seconds, identity):
    """A signed test run of three."""
    runs = [{"id": str(place), "started_at": at(day, "09:%02d" % (10 * place)), "build_s": build, "vent_s": vent, "counts": True}
            for place, (build, vent) in enumerate(zip(seconds, _VENTS), 1)]
    return {"format": "test-run/1", "id": identity, "system": system["id"],
            "made_at": at(day, "09:05"), "made_by": "technician", "phone": _PHONE, "at_c": at_c, "cautions_read_at": at(day, "09:06"),
            "runs": runs, "note": note, "signed": {"by": "technician", "at": at(day, "09:45")}}


def _baselines(system, number):
    """Test runs that are baselines, and the system's revisions that hold them."""
    out = []
    for week, at_c, note in _BASELINES.get(number, []):
        day = _COMMISSIONED if week is None else day_of(week, number)
        usual = build_up(system, [at_c])[0]
        identity = _fixed_id("test-run:%d:%s" % (number, week))
        out.append((_run(system, day, at_c, note, [round(usual + off, 1) for off in _OFF], identity), day))
    if number == 1:
        out.append((_run(system, _NEWEST, 7, "Line bled at the edger before the runs.", _RUNS, _fixed_id("test-run")), _NEWEST))
    made = []
    for record, day in out:
        builds, vents = [[run[name] for run in record["runs"]] for name in ("build_s", "vent_s")]
        measured = {"build_s": builds, "at_c": record["at_c"]}
        if day == _NEWEST:
            measured["vent_s"] = vents
        held = dict(system, measured=measured, baseline_run=record["id"])
        made += [_made("test-run", record, at(day, "09:45")), _made("system", held, at(day, "09:46"))]
    return made


def _whole_round(system, items):
    """The head rig's newest round, with every item: all is well but one wet fitting."""
    wet = {"point_line:P4": ("not ok", "Fitting weeps, tightened; look again next round.")}
    of_component = {"switch": system["switches"][0]["trips_bar"], "point": 41}
    values = {"l": 3.1, "A": 4.1, "V": 23.6, "°C": 7, "bar": 1, "s": 80.8}
    rows = []
    for place, item in enumerate(items):
        value = None
        if item["answer"] == "reading":
            value = of_component.get(item["component"], values[item["unit"]])
        rows.append(answered(item, at(_NEWEST, "13:%02d" % (place % 60)), "technician", value, wet.get(item["key"])))
    return {"format": "round/1", "id": _fixed_id("round"), "system": system["id"], "made_at": at(_NEWEST, "13:00"),
            "made_by": "technician", "phone": _PHONE, "items": rows,
            "signed": {"by": "technician", "at": at(_NEWEST, "13:40"), "role": "technician", "statement": STATEMENT}}


def _rounds(system, number, rows, items):
    """Weekly rounds; one is counter-signed by the supervisor, one corrected by who made it."""
    out = []
    for row in rows:
        week = row["week"]
        made_at = at(day_of(week, number), "07:30")
        body = round_of(system, items, row, made_at, _fixed_id("round:%d:%d" % (number, week)), _PHONE, stories.told(number, row))
        first = _made("round", body, made_at)
        if (number, week) == _CORRECTED:
            wrong = [dict(item, value=10 * item["value"], note="Read twice.") if item["id"] == "reservoir_level:pump" else item
                     for item in body["items"]]
            first["body"] = dict(body, items=wrong)
            out += [first, _made("round", body, at(day_of(week, number), "11:15"), parent=first["id"],
                                 reason="The level was typed without its decimal point.")]
            continue
        out.append(first)
        if (number, week) == _COUNTERSIGNED:
            when = at(day_of(week, number), "15:30")
            seen = {"by": "supervisor", "at": when, "role": "supervisor", "statement": "Seen, with the technician."}
            body = dict(body, countersigned=seen)
            out.append(_made("round", body, when, people.SUPERVISOR, first["id"]))
    return out


def _refills(system, number, rows):
    """What was filled in; once out of the wrong drum."""
    out = []
    for row in rows:
        if not row["refill_l"]:
            continue
        week, wrong = row["week"], number == 6 and row["week"] == WRONG_GREASE[0] - 1
        made_at = at(day_of(week, number), "07:50")
        body = {"id": _fixed_id("refill:%d:%d" % (number, week)), "refill_l": row["refill_l"],
                "batch": "B-%d-%02d" % (24 + (week + 4) // 52, week % 52 + 1),
                "lubricant": SOFT["name"] if wrong else system["lubricant"]["name"]}
        out.append(_headed("refill", body, system, made_at))
    return out


def _headed(kind, body, system, made_at, by=people.TECHNICIAN):
    head = {"format": kind + "/1", "system": system["id"], "made_at": made_at, "made_by": by, "phone": _PHONE}
    return _made(kind, dict(head, **body), made_at, by)


def _sheet(system):
    """What the settings sheet says, by the setting's name."""
    return {one["name"]: (one["shown"], one["value"], one["unit"]) for one in present(work(system, True))["settings"]}


def history(system, number):
    """All revisions of one system and of its records, the oldest first; `made_by` is a name."""
    rows, items = weeks(system, number), items_of(system)
    made = [_made("system", system, _REGISTERED, people.SUPERVISOR)]
    made += _baselines(system, number) + _rounds(system, number, rows, items) + _refills(system, number, rows)
    if number == 1:
        made.append(_made("round", _whole_round(system, items), at(_NEWEST, "13:40")))
    for kind, made_at, by, body in stories.records(number, system, _fixed_id, _sheet(system)):
        made.append(_headed(kind, body, system, made_at, by))
    return _followed(sorted(made, key=lambda one: (one["made_at"][:10], one["made_at"], one["id"])), system["id"])


def _followed(made, system):
    """The same with each revision of the system after its last one, and records naming the revision they were made on."""
    last = None
    for one in made:
        if one["kind"] == "system":
            one["parent"], last = last, one["id"]
        else:
            one["body"] = dict(one["body"], system_revision=last)
    return made


def load(store, photos):
    """Fill an empty store and its folder of photos; a store that holds something is left as it is."""
    with store.writing() as connection:
        if revisions.count(connection) or people.everybody(connection):
            return
        who = {name: people.add(connection, name, PASSWORD, name, [plant.SITE], True) for name in NAMES}
        people.seen_phone(connection, _PHONE, who["technician"])
        made = [one for number, system in enumerate(plant.systems(), 1) for one in history(system, number)]
        made.sort(key=lambda one: (one["made_at"][:10], one["made_at"], one["id"]))
        for one in made:
            revisions.add(connection, dict(one, made_by=who[one["made_by"]]), "accepted")
        people.sent_by(connection, _PHONE, sum(one["made_by"] == "technician" for one in made), "round")
        for name in DRAWINGS:
            _photo(connection, photos, *drawn(name))


def _photo(connection, photos, sha256, picture):
    """A drawing as a phone has sent it: its row, and its file made anew."""
    photos.append(sha256, 0, picture)
    rows.received(connection, sha256, len(picture))
    rows.completed(connection, sha256, photos.keep(sha256, picture))
    photos.forget_pieces(sha256)
