"""A plant's checklists at the desk: given out and taken in as YAML, kept as revisions like every other document."""
import json

import yaml

from .documents import NoDocument, parse
from .engine.basics.findings import ordered
from .engine.bridge import ask
from .engine.document.check import check
from .engine.words.present import present
from .receive import from_desk, refusal
from .store import revisions

FORMAT = "checklist/1"
_HEAD = ("round_every_d", "walked_by", "note")
_NAMES = ("format", "system", "items") + _HEAD
_OF_AN_ITEM = ("id", "where", "ask", "answer", "unit", "every", "limits", "low", "high", "photo", "left_out", "own", "component", "place")
# what the make-up settles of its own items
_SETTLED = ("answer", "unit")
_ABOUT = """# Checklist of %s. Items stand in the order of the walk; move them, change ask, every (round, month, year, cold), photo,
# or limits: fixed with low and high; left_out: true for what is not asked here. What the plant adds has own: true and an id of its own.
"""


def checklist_id(system):
    """Id of a system's checklist, the same on every phone and here: its first digit turned, marked as made (version 8)."""
    system = system.lower()
    return "%x%s8%s" % (int(system[0], 16) ^ 8, system[1:14], system[15:])


def held(connection, system):
    """The newest revision of a system's checklist, or None where the plant has not shaped it."""
    row = revisions.document(connection, checklist_id(system))
    return None if row is None or row["deleted"] else revisions.newest(connection, row["document"])


def shaped(system, plan, units="metric"):
    """The items of a system's list as the plant's `plan` (a body, or None) shapes them, with the limits that it works."""
    worked = ask({"do": "work", "document": system, "simulate": False})
    return ask({"do": "checklist", "document": system, "plan": plan, "worked": worked, "units": units})


def give_out(identity, system, plan):
    """The list as YAML text that `take_in` reads."""
    listed = shaped(system, plan)
    body = {"format": FORMAT, "system": identity, "round_every_d": listed["round_every_d"]}
    body.update({name: plan[name] for name in _HEAD[1:] if plan and plan.get(name)})
    body["items"] = [_given(item) for item in listed["items"]]
    return _ABOUT % " ".join((system.get("name") or identity).split()) + yaml.safe_dump(
        body, sort_keys=False, allow_unicode=True, width=140)


def _given(item):
    entry = {"id": item["key"], "where": item["where"], "ask": item["says"], "answer": item["answer"], "every": item["every"]}
    if item["unit"]:
        entry["unit"] = item["unit"]
    if item.get("limits") == "fixed" or item.get("own"):
        entry.update({name: item[name] for name in ("limits", "low", "high") if item.get(name) is not None})
    if item["answer"] != "reading":
        entry["photo"] = item["photo"]
    entry.update({name: True for name in ("left_out", "own") if item.get(name)})
    if item.get("own"):
        entry.update({name: item[name] for name in ("component", "place") if item[name]})
    return entry


def take_in(text, identity, system):
    """The body of a checklist written as YAML. Raises NoDocument, which says which item is wrong and how."""
    given = parse(text, True)
    if not isinstance(given, dict) or not str(given.get("format", FORMAT)).startswith("checklist/"):
        raise NoDocument("It is no checklist: begin with format: %s." % FORMAT)
    _known(given, _NAMES, "The list")
    if given.get("system", identity) != identity:
        raise NoDocument("It is the checklist of another system, %s." % str(given["system"])[:40])
    body = dict(given, system=identity)
    found = present({"findings": ordered(check(body))})["findings"]
    if found:
        raise NoDocument(_where(body, found[0]["where"]) + " ".join((found[0]["says"], found[0]["do"])).strip())
    made = {item["key"]: item for item in shaped(system, None)["items"]}
    return dict({"format": FORMAT, "id": checklist_id(identity), "system": identity}, **{
        name: body[name] for name in _HEAD if body.get(name) is not None},
        items=[_kept(number, entry, made) for number, entry in enumerate(body["items"], 1)])


def _where(body, place):
    """Which item a finding's place is about."""
    if not place.startswith("items["):
        return ""
    number = int(place[6:place.index("]")])
    entry = body["items"][number]
    return "Item %d%s: " % (number + 1, " (%s)" % str(entry.get("id"))[:60] if isinstance(entry, dict) and entry.get("id") else "")


def _known(group, names, where):
    for name in group:
        if name not in names:
            shown = json.dumps(name, ensure_ascii=False)[:60]
            raise NoDocument("%s has %s, which means nothing here. Use %s." % (where, shown, ", ".join(names)))


def _kept(number, entry, made):
    """What is kept of an item: of the plant's own all, of the make-up's what differs, so that all else follows the system."""
    where = "Item %d (%s)" % (number, entry["id"][:60])
    _known(entry, _OF_AN_ITEM, where)
    item = made.get(entry["id"])
    if entry.get("own"):
        if item:
            raise NoDocument("%s: the system's make-up has an item of this id. Give the plant's own another." % where)
        return {name: entry[name] for name in _OF_AN_ITEM if entry.get(name) not in (None, False)}
    if item is None:
        raise NoDocument("%s: this system has nothing that it is about. Take it out, or write own: true." % where)
    for name in _SETTLED:
        if entry.get(name) not in (None, item[name]):
            raise NoDocument("%s: %s is settled by the system's make-up as %s. Leave it so, or add an item of your own." % (
                where, name, item[name] or "none"))
    if entry.get("limits") != "fixed" and (entry.get("low") is not None or entry.get("high") is not None):
        raise NoDocument("%s: it has low or high, but its limits are worked. Write limits: fixed." % where)
    kept = {"id": entry["id"]}
    kept.update({name: entry[name] for name, of in (("ask", "says"), ("every", "every"), ("photo", "photo"))
                 if entry.get(name) not in (None, item[of])})
    if entry.get("limits") == "fixed":
        kept.update({name: entry[name] for name in ("limits", "low", "high") if entry.get(name) is not None})
    if entry.get("left_out"):
        kept["left_out"] = True
    return kept


def keep(connection, person, system, body, at):
    """Store a checklist that was taken in, at a time (RFC 3339), as its newest revision. Raises NoDocument.

    system: the newest revision of its system
    """
    found = revisions.newest(connection, body["id"]) if revisions.document(connection, body["id"]) else None
    body = dict(body, system_revision=system["id"], made_at=at, made_by=person["name"])
    reason = "taken in from YAML" if held(connection, system["document"]) else None
    wrong = refusal(from_desk(connection, person, body, at, found, reason))
    if wrong:
        raise NoDocument(wrong)
