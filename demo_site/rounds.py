"""The rounds of two years as a phone makes them: readings every week, the rest in turn, yearly items when due."""
from webapp.engine.systems.checklist import checklist
from webapp.engine.systems.worked import work
from webapp.engine.words.present import present

from .drawings import photo

STATEMENT = "I walked this round and noted what I saw."
# what every round asks beside its readings; everything else is asked in turn, so many weeks for pipes and points, for all others
_EVERY_WEEK, _LINE, _LINE_WEEKS, _OTHER_WEEKS = "controller_faults:controller", ("pipe", "point"), 10, 4
_A_YEAR, _YEARLY_WEEK = 52, 8


def items_of(system):
    """The checklist of a system, with its sentences."""
    return present(checklist(system, work(system, False)))["items"]


def due(items, week, told):
    """The items that a week's round asks, those of a story (their keys) among them."""
    return [item for number, item in enumerate(items) if item["key"] in told or _asked(item, number / len(items), week)]


def _asked(item, along, week):
    """`along`: where the item stands in the checklist, from 0 to 1, which is the week of its turn."""
    if item["every"] in ("year", "cold"):
        return week % _A_YEAR == _YEARLY_WEEK
    if item["every"] == "round" and (item["answer"] == "reading" or item["key"] == _EVERY_WEEK):
        return True
    turn = _LINE_WEEKS if item["component"] in _LINE and item["every"] == "round" else _OTHER_WEEKS
    return week % turn == int(along * turn)


def answered(item, at, by, value=None, said=None):
    """One item as answered: a reading, ok, or what a story says: (answer, note, a photo where there is one). Limits only where it has some."""
    row = {"id": item["key"], "where": item["where"], "ask": item["says"], "answer": item["answer"], "at": at, "by": by,
           "component": item["component"], "place": item["place"], "every": item["every"]}
    if item["answer"] == "reading":
        row.update({name: item[name] for name in ("unit", "low", "high") if item[name] is not None}, value=value)
    if item["answer"] == "text":
        row["note"] = "None stored."
    if said:
        row["answer"], row["note"] = said[:2]
        if said[2:]:
            row["photos"] = [photo(said[2], at, by)]
    elif value is not None and not (item["low"] or value) <= value <= (item["high"] or value):
        row["note"] = "Measured twice: it is so in this weather."
    return row


def value_of(item, week, system):
    """What a week's reading of an item is, None where the item asks for none."""
    if item["answer"] != "reading":
        return None
    name, middle = item["key"].partition(":")[0], round(((item["low"] or 0) + (item["high"] or 0)) / 2)
    if name in ("timed_cycle", "timed_line_a", "timed_turn", "timed_pump"):
        return week["build_s"]
    return {"reservoir_level": week["level_l"], "vent_falls": week["residual_bar"], "line_temperature": week["at_c"],
            "timed_line_b": round(week["build_s"] * 1.01, 1),
            "pump_current": round(system["pump"]["current_a"] - 0.002 * week["at_c"], 2),
            "pump_voltage": round(system["pump"]["supply_v"] * 0.98, 1), "point_warmth": round(36 + 0.4 * week["at_c"], 1),
            "end_line_a": middle, "end_line_b": middle,
            "switch_trips": middle}[name]


def round_of(system, items, week, made_at, identity, phone, told):
    """A signed round/1. `told`: {item's key: (answer, note, a photo where there is one)} of what was found."""
    by = "technician"
    rows = [answered(item, made_at, by, value_of(item, week, system), told.get(item["key"])) for item in due(items, week["week"], told)]
    return {"format": "round/1", "id": identity, "system": system["id"], "made_at": made_at, "made_by": by, "phone": phone, "items": rows,
            "signed": {"by": by, "at": made_at, "role": "technician", "statement": STATEMENT}}
