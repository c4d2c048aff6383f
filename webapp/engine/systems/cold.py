"""The one rule for items of the cold, in rounds and in lists alike: once when the coldest day so far comes.

Such an item is due when it was never answered, and again when a temperature was read at the line that is colder than all that signed
rounds hold from before, on a later day than its answer. Common practice, no published source. Settings by season follow the season sheet.
"""
from .checklist import TEMPERATURE
from ..basics.dates import day_of
from ..document.check import is_number

WARMTH = TEMPERATURE + ":whole"


def coldest(last):
    """{"value" [°C], "at"} of the coldest reading at the line that signed rounds hold, or None; last: {item's key: its last answer}.

    An answer brings along in `lowest` the coldest of the rounds before it.
    """
    item = last.get(WARMTH) or {}
    lowest = item.get("lowest") if isinstance(item.get("lowest"), dict) else None
    if item.get("answer") == "reading" and is_number(item.get("value")) and (lowest is None or item["value"] < lowest["value"]):
        return {"value": item["value"], "at": item.get("at")}
    return lowest


def due_since(answered_on, last):
    """(day since which an item of the cold is due, None where it is not; temperature below which a round asks it [°C], or None).

    answered_on   the day of its last answer
    """
    found = coldest(last)
    if found is None:
        return None, None
    came = day_of(found["at"])
    return (came if came is not None and came > answered_on else None), found["value"]
