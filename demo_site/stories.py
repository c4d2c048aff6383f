"""What happened in two invented years beside the weekly rounds: defects, cases, adjustments, notes. Every word is invented.

A story's time is its week and the system's weekday; `told` is what a round found, by week: {item's key: (answer, note, photo)}.
"""
from .drawings import photo
from .two_years import BLOCKED, LEAK, OVERHAUL, WRONG_GREASE, at, day_of

TECHNICIAN, SUPERVISOR = "technician", "supervisor"
_CLOSED = "What is said here was done, and I looked at it myself."
_COLD_RESIDUAL = 25

TOLD = {
    1: {48: {"reservoir_label:pump": ("not ok", "Label washed off; the lubricant is known from the drum beside it.")},
        101: {"pipe_sound:S6": ("not ok", "Pipe to the edger outfeed rubs at its clamp.")}},
    2: {BLOCKED[-1]: {"device_moves:D5": ("not ok", "Indicator stands still in three cycles."),
                      "point_film:P7": ("not ok", "Dry: no fresh film at the tensioner.")}},
    4: {LEAK[-1]: {"pipe_sound:S5": ("not ok", "Hose wet along its last half metre, lubricant on the floor below.", "wet hose")}},
    5: {35: {"point_line:P1": ("not ok", "Feed line is attached. The guard in front of it is missing.")},
        102: {"reservoir_label:pump": ("not ok", "Label cannot be read any more.", "label")}},
    6: {WRONG_GREASE[-1]: {"reservoir_label:pump": ("not ok", "The drum beside the reservoir holds NLGI 00, the label asks for NLGI 1.")}}}


def told(number, week):
    """What the round of a week found that is not ok; the sorter's controller shows faults while its line cannot vent."""
    out = dict(TOLD.get(number, {}).get(week["week"], {}))
    if number == 2 and week["residual_bar"] > _COLD_RESIDUAL:
        out["controller_faults:controller"] = ("not ok", "Pressure switch did not return in the vent; cleared, it came back at noon.")
    return out


def _by(who, when, **more):
    return dict({"by": who, "at": when, "role": who, "statement": _CLOSED}, **more)


def _defect(week, where, what, severity, due_week, closed=None, **more):
    """(kind, week, clock, person, body) of a defect; `closed`: (week, how, evidence, text or test run)."""
    body = {"where": where, "what": what, "severity": severity, "due_week": due_week, "closing": closed}
    return "defect", week, "08:10", TECHNICIAN, dict(body, **more)


def _note(week, text, who=TECHNICIAN):
    return "note", week, "08:20", who, {"text": text}


# number of the system -> its records; what the names of others need (ids, dates) is put in by records()
STORIES = {
    1: [_defect(48, "Reservoir", "The label that names the lubricant is washed off.", "untidy", 49,
                (49, "New label, riveted.", "reading", "Label read from 2 m away."), from_item="reservoir_label:pump"),
        _note(30, "Edger stands for two weeks from Monday: count hours before you judge the level."),
        _note(102, "Pipe S6 to the edger outfeed renewed where it had rubbed; line bled, new baseline on Monday.")],
    2: [("fault-case", BLOCKED[-1], "08:00", TECHNICIAN, {
        "symptom": "Tensioner dry, indicator D5 stands still.", "readings": {"format": "readings/1", "dry_points": ["P7"]},
        "tried": [{"cause": "device=D5", "answer": "not found", "name": "Outlet of D5 opened, isolated and without pressure"},
                  {"cause": "blocked=S5", "answer": "found", "name": "Indicators of the branch, then the hose along its way"}],
        "cause": "blocked=S5", "with_defect": 1,
        "closing": (BLOCKED[-1], "Hose S5 was crushed under a board; renewed and led behind the frame.")}),
        _defect(BLOCKED[-1], "Hose S5, branch to the tensioner", "The branch is blocked: the tensioner gets no lubricant.", "starving",
                BLOCKED[-1],
                (BLOCKED[-1] + 1, "Hose renewed, led behind the frame, clamped.", "reading", "D5 moved in 3 of 3 cycles."),
                place="S5", points=["P7"], cause="blocked=S5", from_item="device_moves:D5", photographed="crushed hose"),
        ("adjustment", 49, "08:30", TECHNICIAN, {
            "setting": "Time limit", "of_sheet": "time_limit", "from": "1 min 45 s", "to": ("3 min", 180),
            "why": "First frost: faults every morning."}),
        _defect(101, "Whole system", "On cold mornings the line does not vent far enough for its devices to reset.", "failing", 104,
                owner=SUPERVISOR)],
    3: [_defect(70, "Pump", "Timed cycles take longer each week, at any temperature: the pump gives less than it did.", "failing", 71,
                (OVERHAUL, "Pump overhauled: new elements and inlet screen.", "test run", "test-run:3:%d" % OVERHAUL), place="pump",
                points=["P1", "P2", "P3", "P4", "P5", "P6"], cause="pump=0.85", owner=SUPERVISOR),
        ("set-aside", 37, "08:40", SUPERVISOR, {"finding": "trend.outside", "says": "The last reading lies outside its limits.",
                                                "why": "Measured again at once with the hall's doors shut: as always."}),
        _note(12, "The planer's gauge at the far end sticks: tap it before reading.")],
    4: [_defect(LEAK[-1], "Hose S5, at the right feed roll",
                "The hose seeps: the timed cycle grew week by week, the reservoir falls faster.",
                "failing", LEAK[-1] + 1, (LEAK[-1] + 1, "Hose and both fittings renewed.", "test run", "test-run:4:%d" % (LEAK[-1] + 1)),
                place="S5", points=["P4"], cause="leak=N5:0.15", from_item="pipe_sound:S5", photographed="wet hose"),
        ("fault-case", LEAK[-1], "08:00", TECHNICIAN, {
            "symptom": "Build-up longer from week to week, more filled in than the doses add up to.",
            "readings": {"format": "readings/1", "at_c": 3},
            "tried": [{"cause": "leak=N5:0.15", "answer": "found", "name": "Looked along the line, pump running, no hand near it"}],
            "cause": "leak=N5:0.15", "with_defect": 0, "closing": (LEAK[-1] + 1, "Hose S5 renewed.")})],
    5: [_defect(35, "Chain shaft, drive side", "The guard over the chain's drive is missing where one looks at the block.", "danger", 35,
                (35, "Machine stopped at once; guard found and put back with four bolts; machine released.", "photo", "guard back"),
                owner=SUPERVISOR, from_item="point_line:P1", photographed="guard missing"),
        _defect(102, "Reservoir", "The label that names the lubricant cannot be read.", "untidy", 104, from_item="reservoir_label:pump",
                added=(103, "label", "what is left of it after cleaning"))],
    6: [_defect(WRONG_GREASE[-1], "Reservoir", "A softer grease (NLGI 00) was filled in than the sheet names.", "failing",
                WRONG_GREASE[-1] + 1,
                (WRONG_GREASE[-1] + 1, "Reservoir emptied and filled anew; line pressed through until firm grease came at every device.",
                 "reading", "Timed cycle 110 s, as before the refill."), place="pump", from_item="reservoir_label:pump"),
        _note(WRONG_GREASE[-1],
              "Wrong drum: the last refill was NLGI 00, much softer than the sheet's. Emptied and filled anew next week."),
        ("adjustment", WRONG_GREASE[-1], "08:30", TECHNICIAN, {
            "setting": "Pause", "of_sheet": "pause", "from": None, "to": ("2 h", 7200), "why": "Pressing the wrong grease through.",
            "settling": (WRONG_GREASE[-1] + 1, "set back")}),
        ("adjustment", 48, "08:30", TECHNICIAN, {"setting": "Time limit", "of_sheet": "time_limit", "from": "2 min 30 s", "to": None,
                                                 "why": "Winter: as the sheet says.", "settling": (48, "sheet follows")})],
    7: [_defect(98, "Controller", "Run time cannot be set as long as the coldest morning asks.", "failing", 99, owner=SUPERVISOR,
                points=["P1", "P2", "P3", "P4"]),
        _note(60, "Nothing confirms a cycle here: look at all four points on every round, not at one.")]}


def records(number, system, identity, sheet):
    """[(kind, week, when, person, body without its head)] of a system.

    identity(name) gives an id, sheet {setting's name: (text, value, unit)} what the settings sheet says
    """
    out = []
    for place, (kind, week, clock, who, told_body) in enumerate(STORIES.get(number, [])):
        body, when = dict(told_body), at(day_of(week, number), clock)
        _close(body, number, identity)
        if "with_defect" in body:
            body["defect"] = identity("defect:%d:%d" % (number, body.pop("with_defect")))
        if "photographed" in body:
            body["photos"] = [photo(body.pop("photographed"), when, who)]
        if "added" in body:
            later, name, word = body.pop("added")
            then = at(day_of(later, number), "10:20")
            body["changes"] = [{"id": identity("change:%d:%d" % (number, place)), "at": then, "by": who, "what": "photos added: " + word,
                                "photos": [photo(name, then, who)]}]
        if "due_week" in body:
            body["due"] = day_of(body.pop("due_week"), number).isoformat()
        if "from_item" in body:
            body["from_record"] = identity("round:%d:%d" % (number, week))
        if kind == "adjustment":
            _adjusted(body, sheet, number)
        if kind == "fault-case":
            body["tried"] = [dict(row, at=when) for row in body["tried"]]
        if kind == "set-aside":
            body["of"] = at(day_of(week, number), "07:30")
        out.append((kind, when, who, dict(body, id=identity("%s:%d:%d" % (kind, number, place)))))
    return out


def _close(body, number, identity):
    closing = body.pop("closing", None)
    if not closing:
        return
    week, how, *evidence = closing
    body["closed"] = _by(SUPERVISOR if body.get("owner") else TECHNICIAN, at(day_of(week, number), "09:50"), how=how)
    if evidence:
        kind, what = evidence
        made = {"reading": ("reading", what), "test run": ("test_run", identity(what)), "photo": ("photos", None)}[kind]
        body["closed"].update({"evidence": kind, made[0]: made[1] or [photo(what, body["closed"]["at"], body["closed"]["by"])]})


def _adjusted(body, sheet, number):
    """What the sheet says beside it; a text that is None is the sheet's."""
    body["name"] = body.pop("of_sheet")
    says, value, body["unit"] = sheet[body["name"]]
    body["sheet"] = says
    body["to"], body["value"] = body["to"] or (says, value)
    body["from"] = body["from"] or says
    if "settling" in body:
        week, how = body.pop("settling")
        body["settled"] = _by(SUPERVISOR, at(day_of(week, number), "14:00"), how=how)
