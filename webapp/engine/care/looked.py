"""What rounds and test runs say of each item by which points are fed, in order of time: well, not well, or nothing."""
from ..basics.dates import days_of
from ..basics.kinds import DUAL, PROGRESSIVE, TIMED
from ..document.check import is_number

EVER, END = -1e6, 1e9
GOOD, NOTHING, BAD = 1, 0, -1
# readings that must not be above a limit for points to be fed
_CYCLES = ("timed_cycle:whole", "timed_line_a:whole", "timed_line_b:whole", "timed_turn:whole")
_PRESSURE_LEFT = "vent_falls:pump"
# items that say whether points are fed, whatever their place; a plant's rounds have many more
_WATCHED = ("pump_runs", "controller_faults", "vent_falls", "timed_cycle", "timed_line_a", "timed_line_b", "timed_turn", "device_moves",
            "device_moves_twice", "block_moves", "point_line", "point_film")


def looked(document, known, moment, limit_s):
    """{item's key: [(moment, its place among all, GOOD, NOTHING or BAD, when as it was written, item, its limit)]} until `moment` [days].

    known    as of fed.fed: "answers", "rounds", "runs"
    limit_s  longest time of a cycle under the controller [s], or None
    """
    rows = []
    for key, item in sorted((known.get("answers") or {}).items()):
        # a last answer brings along when it last was well, and since when it reads as it does
        if item.get("ok_at"):
            rows.append((item["ok_at"], dict(item, id=key, answer="ok")))
        rows += [(item[name], dict(item, id=key)) for name in ("since", "at") if item.get(name)]
    for record in known.get("rounds") or []:
        rows += [(item.get("at") or record.get("made_at"), item) for item in record.get("items") or []]
    for run in known.get("runs") or []:
        rows += [(run.get("made_at"), item) for item in _of_run(document, run)]
    log, days = {}, {}  # what was answered in one go has one time
    for number, (at, item) in enumerate(rows):
        key = item["id"]
        if key.split(":")[0] not in _WATCHED or item.get("answer", "not done") == "not done":
            continue
        if at not in days:
            days[at] = days_of(at)
        day = days[at]
        if day is not None and day <= moment:
            limit = limit_s if key in _CYCLES else item.get("high") if key == _PRESSURE_LEFT else None
            log.setdefault(key, []).append((day, number, _state(item, limit), at, item, limit))
    for found in log.values():
        found.sort(key=lambda row: row[:2])
    return log


def _state(item, limit):
    answer, value = item["answer"], item.get("value")
    if answer == "reading":
        return NOTHING if not is_number(value) else BAD if limit is not None and value > limit * (1 + 1e-9) else GOOD
    return {"ok": GOOD, "text": GOOD, "not ok": BAD}.get(answer, NOTHING)


def _of_run(document, run):
    """A signed test run as answers: each cycle that counts was completed, and what was seen at the points."""
    kind, out = document["kind"], []
    names = {DUAL: (("build_s", "timed_line_a"), ("build_b_s", "timed_line_b")), TIMED: (),
             PROGRESSIVE: (("build_s", "timed_turn"), ("cycle_s", "timed_turn"))}.get(kind, (("build_s", "timed_cycle"),))
    for name, key in names:
        seconds = [timed[name] for timed in run.get("runs") or [] if timed.get("counts") is not False and is_number(timed.get(name))]
        if seconds:
            out.append({"id": key + ":whole", "answer": "reading", "value": max(seconds), "unit": "s", "where": "Test run", "ask": "cycle"})
    device_of = {point["id"]: point["device"] for point in document["points"]}
    moves = {PROGRESSIVE: "block_moves", DUAL: "device_moves_twice"}.get(kind, "device_moves")
    for seen in run.get("seen") or []:
        if seen["point"] in device_of:
            answer = {"answer": "ok" if seen["fed"] else "not ok", "where": "Test run", "ask": "fresh lubricant at " + seen["point"]}
            out.append(dict(answer, id="point_film:" + seen["point"]))
            if seen["fed"]:
                out.append(dict(answer, id="%s:%s" % (moves, device_of[seen["point"]])))
    return out
