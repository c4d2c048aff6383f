"""What is due at a system: rounds and their items, its test run, defects, a refill, the settings of the other season. By whole days."""
from collections import OrderedDict
from math import floor

from ..basics.dates import date_of, day_of, day_text, days_of
from ..basics.figure import given
from ..basics.findings import finding
from ..document.check import is_number
from ..systems.checklist import COLD, ROUND_EVERY_D
from ..systems.cold import WARMTH, due_since
from ..systems.shaped import DAYS
from .defects import WITHIN_D

OVERDUE, TODAY, COMING = "overdue", "today", "coming"
# the setting that differs by season, one for a kind of system: its name, and as a person writes it
_LIMITS = OrderedDict((("time_limit", "time limit"), ("window", "monitoring time"), ("run_time", "run time")))
# a temperature read longer ago says nothing of tonight
_WARMTH_D = 14


def due(document, now, known, forecast=None):
    """Entries {what, due (date), state, days (until it; negative: since), item, who, says, also, when}, the longest overdue first.

    known     of the system, each part may be missing: "checklist", "items" [{key, every, left_out}], "answers" {item's key: last answer},
              "round_at", "run_at", "system_at" (times of its last signed round and test run, of its newest revision),
              "defects" [open ones], "season" {"change_at" (figure), "sets"}, "settings_entry" (the last signed), "adjustments"
    forecast  the system's refill (refills.refill)
    who: the owner of a defect, else who walks the system's rounds; "" where nobody is named. also: what a round asks besides
    """
    today = day_of(now)
    checklist = known.get("checklist") or {}
    next_round = _next_round(known, checklist, today)
    early, also = _items(known, checklist, today, next_round)
    rows = [("round", next_round, finding("warn", "rounds", "due.round"), None)] + early
    if not known.get("run_at"):
        begun = day_of(known.get("system_at"))
        rows.append(("test run", today if begun is None else begun, finding("warn", "measured", "due.test_run"), None))
    for defect in known.get("defects") or []:
        if not defect.get("closed"):
            says = finding("warn", "defects", "due.defect", [("what", defect.get("what") or "")])
            rows.append(("defect", _of_defect(defect, today, next_round), says, defect.get("id")))
    if forecast and forecast["low_on"]:
        values = [("fill", forecast["fill"]), ("lubricant", forecast["lubricant"])]
        rows.append(("refill", day_of(forecast["low_on"]), finding("warn", "pump.reservoir_l", "due.refill", values), None))
    rows += _season(known, today)
    owners = {defect.get("id"): defect.get("owner") for defect in known.get("defects") or []}
    entries = [_entry(today, number, *row) for number, row in enumerate(rows)]
    for _, _, entry in entries:
        entry["also"] = also if entry["what"] == "round" else []
        entry["who"] = (owners.get(entry["item"]) if entry["what"] == "defect" else checklist.get("walked_by")) or ""
    return [entry for _, _, entry in sorted(entries, key=lambda one: one[:2])]


def round_days(checklist):
    """Days from one round to the next."""
    return (checklist or {}).get("round_every_d") or ROUND_EVERY_D


def _entry(today, number, what, day, says, item):
    day = int(floor(day))
    days = int(day - today)
    state = OVERDUE if days < 0 else TODAY if days == 0 else COMING
    when = finding("note", what, "due." + state, [("on", day_text(day)), ("days", given(abs(days), "days", "days"))])
    return day, number, OrderedDict((("what", what), ("due", date_of(day)), ("state", state), ("days", days), ("item", item),
                                     ("says", says), ("when", when)))


def _next_round(known, checklist, today):
    """The day of the next round: counted from the last one, else from the test run or from when the system was entered."""
    for name in ("round_at", "run_at", "system_at"):
        begun = day_of(known.get(name))
        if begun is not None:
            return begun + round_days(checklist)
    return today


def _items(known, checklist, today, next_round):
    """(rows of items that were due before the next round, findings of those that it asks), together by how often they are asked.

    A round asks what is due before the one after it.
    """
    answers, of_kind = known.get("answers") or {}, {}
    horizon = max(next_round, today) + round_days(checklist)
    for item in known.get("items") or []:
        every = item.get("every")
        if every != COLD and every not in DAYS or item.get("left_out"):
            continue
        last = day_of((answers.get(item["key"]) or {}).get("at"))
        day = next_round if last is None else due_since(last, answers)[0] if every == COLD else last + DAYS[every]
        if day is not None:
            of_kind.setdefault(every, []).append(day)
    rows, also = [], []
    for every in sorted(of_kind):
        early = [day for day in of_kind[every] if day < next_round]
        asked = [day for day in of_kind[every] if next_round <= day < horizon]
        if early:
            rows.append(("items", min(early), _count(every, early), every))
        if asked:
            also.append(_count(every, asked))
    return rows, also


def _count(every, days):
    return finding("warn", "rounds", "due.items_" + every, [("count", given(len(days), "count", "items"))])


def _warmth(answers, today):
    """Temperature at the line as it was last read [°C]; None where that is too long ago."""
    item = answers.get(WARMTH) or {}
    read = day_of(item.get("at"))
    fresh = read is not None and today - read <= _WARMTH_D
    return item["value"] if fresh and item.get("answer") == "reading" and is_number(item.get("value")) else None


def _of_defect(defect, today, next_round):
    """The day it is due: as it says, else by its consequence."""
    day = day_of(defect.get("due"))
    if day is not None:
        return day
    made, within = day_of(defect.get("made_at")), WITHIN_D.get(defect.get("severity"))
    return next_round if within is None else (today if made is None else made) + within


def _season(known, today):
    """The settings of the other season, where the temperature has passed the change and the controller holds the wrong ones."""
    season, answers = known.get("season") or {}, known.get("answers") or {}
    change, at_c = (season.get("change_at") or {}).get("value"), _warmth(answers, today)
    if change is None or at_c is None:
        return []
    wanted = "winter" if at_c < change else "summer"
    limits = {one["season"]: limit["value"] for one in season["sets"] for limit in [_limit_of(one)] if limit}
    entered = _entered(known)
    if wanted not in limits or entered is not None and abs(entered - limits[wanted]) <= 0.01 * limits[wanted]:
        return []
    says = finding("warn", "controller.time_limit", "due." + wanted, [
        ("t", given(at_c, "°C", "read")), ("change", given(change, "°C", "change")), ("limit", given(limits[wanted], "s", "time limit"))])
    return [("season", day_of(answers[WARMTH]["at"]), says, wanted)]


def _limit_of(settings):
    for name in _LIMITS:
        if settings.get(name):
            return settings[name]
    return None


def _entered(known):
    """The longest time that the controller holds [s], by the last settings entry or adjustment; None where none says it."""
    entry, rows = known.get("settings_entry") or {}, []
    rows += [(days_of(entry.get("made_at")) or 0.0, one["shown"]) for one in entry.get("entries") or [] if one["name"] in _LIMITS]
    rows += [(days_of(one.get("made_at")) or 0.0, one["to"]) for one in known.get("adjustments") or []
             if one["setting"].strip().lower() in _LIMITS.values()]
    return seconds_of(max(rows)[1]) if rows else None


def seconds_of(text):
    """A time as a settings entry shows it ("95 s", "1.5 min", "2 min 5 s") in seconds; None where it is none."""
    parts, total = (text or "").split(), 0.0
    if not parts or len(parts) % 2:
        return None
    for number, unit in zip(parts[::2], parts[1::2]):
        try:
            total += float(number) * {"s": 1, "min": 60, "h": 3600}[unit]
        except (ValueError, KeyError):
            return None
    return total
