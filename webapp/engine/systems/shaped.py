"""What a plant makes of the checklist of its system's make-up, and what of it is due today.

How often things are looked at is common practice with no published source.
"""
from collections import OrderedDict

from .checklist import COLD, EVERY_ROUND, ROUND_EVERY_D, checklist
from .cold import due_since
from ..basics.adding import added_up
from ..basics.dates import date_of, day_of

# days from one answer to the next; common practice, no published source
DAYS = {"month": 30, "year": 365}


def asked(document, worked, plan, last, today):
    """{"items", "round_every_d"}: the checklist as the plant shaped it, each item with `was_not_ok`, `due_from` and `due`.

    plan      a checked `checklist/1` document, or None; last: {key: its last answer in signed rounds, with `at`}, or None: nothing marked
    today     date or time; without it there is no `due`
    due_from  date from which on the item is due; "" always, None only in a round that reads a temperature below `below_c` [°C]
    """
    every_d = (plan or {}).get("round_every_d") or ROUND_EVERY_D
    items = shaped(checklist(document, worked, every_d)["items"], plan)
    if last is not None:
        _mark(items, last, every_d)
        now = day_of(today)
        for item in items if now is not None else []:
            item["due"] = item["due_from"] is not None and item["due_from"] <= date_of(now)
    return {"items": items, "round_every_d": every_d}


def shaped(items, plan):
    """The items in the plan's order and with its changes, those that are left out marked `left_out`.

    What the plan does not know stands where the walk would meet it: behind the item that comes before it in the make-up. What the
    system no longer has falls out; what the plant added stays.
    """
    entries = (plan or {}).get("items") or []
    made, planned = {item["key"]: item for item in items}, {entry["id"] for entry in entries}
    behind, at = {None: []}, None
    for item in items:
        if item["key"] in planned:
            at = item["key"]
        else:
            behind.setdefault(at, []).append(item)
    out = behind[None]
    for entry in entries:
        if entry.get("own"):
            out.append(_own(entry))
        elif entry["id"] in made:
            out.append(_changed(made[entry["id"]], entry))
        out += behind.get(entry["id"], [])
    return out


def _own(entry):
    limits = [entry.get(name) for name in ("low", "high")]
    return OrderedDict((
        ("key", entry["id"]), ("component", entry.get("component")), ("place", entry.get("place")),
        ("where", entry.get("where") or "Whole system"), ("answer", entry.get("answer") or "ok"), ("unit", entry.get("unit")),
        ("low", limits[0]), ("high", limits[1]), ("every", entry.get("every") or EVERY_ROUND),
        ("limit", "fixed by the plant" if limits != [None, None] else None), ("photo", bool(entry.get("photo"))), ("in_turn", False),
        ("own", True), ("left_out", bool(entry.get("left_out"))), ("says", entry["ask"])))


def _changed(item, entry):
    for name in ("every", "photo", "left_out"):
        if entry.get(name) is not None:
            item[name] = entry[name]
    if entry.get("limits") == "fixed":
        item.update(low=entry.get("low"), high=entry.get("high"), limit="fixed by the plant", limits="fixed")
    if entry.get("ask"):
        item["says"] = entry["ask"]
        del item["id"], item["with"]
    return item


def _mark(items, last, every_d):
    in_turn = []
    for number, item in enumerate(items):
        before = last.get(item["key"])
        at = day_of(before["at"]) if before else None
        every = item["every"]
        item["was_not_ok"] = _was_not_ok(before)
        if every == EVERY_ROUND or at is None or item["was_not_ok"]:
            item["due_from"] = ""
        elif every == COLD:
            since, below_c = due_since(at, last)
            item.update(due_from=None if since is None else date_of(since), below_c=below_c)
        else:
            # by the next round it would be too old
            item["due_from"] = date_of(at + DAYS[every] - every_d + 1)
            if item["in_turn"] and not item.get("left_out"):
                in_turn.append((at, number, DAYS[every]))
    for _, number, _ in sorted(in_turn)[:_in_a_round(in_turn, every_d)]:
        items[number]["due_from"] = ""


def _in_a_round(in_turn, every_d):
    """How many of those that come in turn each round must take, so that all have come in their time."""
    return int(added_up([every_d / days for _, _, days in in_turn]) + 0.999)


def _was_not_ok(before):
    if not before:
        return False
    value, low, high = [before.get(name) for name in ("value", "low", "high")]
    return before.get("answer") == "not ok" or (value is not None and (
        (low is not None and value < low) or (high is not None and value > high)))
