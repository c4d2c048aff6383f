"""What is in a reservoir and until when it lasts, by the last level that somebody read, the doses and the duty; what to carry."""
from collections import OrderedDict
from math import floor

from ..basics.adding import added_up
from ..basics.dates import date_of, day_of, days_of, offset_of
from ..basics.figure import figure, given
from ..basics.findings import finding
from ..document.check import is_number
from ..systems.reservoir import GEOMETRY, days_a_week

LEVEL = "reservoir_level:pump"
# a use measured over less than this says more of the marks on the reservoir than of the use
_FEWEST_D = 7.0
# beyond this a date says no more than: not for years
_FARTHEST_D = 3650.0


def refill(document, now, known, day=None, reach_d=7):
    """Figures and dates of one reservoir at `now`, texts not filled in.

    known    of the system: "worked" (for the use a day), "refills" [the last few], "answers" {item's key: last answer}
    day      the date on which somebody could fill it, today where None; reach_d: how long until somebody is there again [d]
    Returns use, measured, level, days_to_low, days_to_empty, fill (figures, where they can be known), low_on, empty_on, level_on
    (dates or None), needed (low level comes before somebody is there again), findings.
    """
    out = OrderedDict((("lubricant", lubricant_of(document)), ("needed", False), ("low_on", None), ("empty_on", None),
                       ("level_on", None), ("findings", [])))
    moment, answers = days_of(now), known.get("answers") or {}
    here = moment + offset_of(now)
    per_day = ((known.get("worked") or {}).get("reservoir") or {}).get("per_day") or {}
    if not per_day.get("value", 0) > 0:
        return out
    fills = _fills(known.get("refills") or [], moment)
    out["use"], measured = _expected(document, per_day), _measured(fills)
    if measured:
        out["measured"] = measured
    read = _level(document, fills, answers, moment)
    if read is None:
        out["findings"].append(finding("note", "pump.reservoir_l", "refill.no_level"))
        return out
    # the larger of the two: rather a day early than a day without lubricant
    rate = max(out["use"]["value"], measured["value"] if measured else 0.0)
    _lasts(out, document["pump"], moment, here, read, given(rate, "cm³/day", "larger of doses and measured use", out["use"]["estimate"]))
    day = floor(here) if day is None else day_of(day)
    out["fill"] = _fill(document["pump"], out["level"], rate, max(0.0, day - here))
    out["needed"] = floor(here + out["days_to_low"]["value"]) <= day + reach_d
    return out


def _lasts(out, pump, moment, here, read, use):
    """Adds level, days to low level and to empty, with their dates. here: the moment by the clock of `now`, as dates are told."""
    at, litres, read_on, estimate = read
    since = ("days", given(moment - at, "days", "since it was read"))
    row = [("read", given(litres, "l", "level read", estimate)), ("use", use)]
    out["level_on"] = date_of(read_on)
    out["level"] = figure(max(0.0, litres - use["value"] * (moment - at) / 1000), "l", "max(0, read - use * days / 1000)",
                          row + [since], GEOMETRY)
    rest = pump.get("not_drawn_l") or 0
    # a switch that acts below what can be drawn acts too late
    low = max(pump.get("low_level_l") or 0, rest)
    for name, left, means in (("low", low, "low level"), ("empty", rest, "cannot be drawn")):
        days = max(0.0, litres - left) * 1000 / use["value"] - (moment - at)
        out["days_to_" + name] = figure(days, "days", "max(0, read - left) * 1000 / use - days",
                                        row + [("left", given(left, "l", means)), since], GEOMETRY)
        out[name + "_on"] = date_of(here + days) if days < _FARTHEST_D else None


def _fill(pump, level, rate, later):
    """What goes in on a day that is `later` days from now [l]."""
    return figure(max(0.0, pump["reservoir_l"] - max(0.0, level["value"] - rate * later / 1000)), "l",
                  "max(0, reservoir - max(0, level - use * later / 1000))", [
                      ("reservoir", given(pump["reservoir_l"], "l", "reservoir")),
                      ("level", given(level["value"], "l", "level now", level["estimate"])),
                      ("use", given(rate, "cm³/day", "larger of doses and measured use")), ("later", given(later, "days", "until then"))],
                  GEOMETRY)


def lubricant_of(document):
    """What is to be carried for a system: the lubricant's name and code, as on the drum."""
    lubricant = document["lubricant"]
    name, code = (lubricant.get("name") or "").strip(), (lubricant.get("code") or "").strip()
    return ", ".join([part for part in (name, code if code.lower() not in name.lower() else "") if part]) or "NLGI " + lubricant["nlgi"]


def carry(rows):
    """[{"lubricant", "litres" (a figure), "systems"}] to take along for rows of {"refill", "name"}, by lubricant."""
    sums = {}
    for row in rows:
        fill = row["refill"].get("fill")
        if row["refill"]["needed"] and fill:
            sums.setdefault(row["refill"]["lubricant"], []).append((row["name"], fill["value"]))
    return [OrderedDict((("lubricant", name), ("systems", [system for system, _ in sums[name]]),
                         ("litres", figure(added_up([part for _, part in sums[name]]), "l", "sum(parts)", [
                             ("parts", given([part for _, part in sums[name]], "l", "of each system"))], GEOMETRY))))
            for name in sorted(sums)]


def _fills(refills, moment):
    """[(day, record)] of refills up to the moment, by time."""
    rows = []
    for number, record in enumerate(refills):
        day = days_of(record.get("made_at"))
        if day is not None and day <= moment and is_number(record.get("refill_l")):
            rows.append((day, number, record))
    return [(day, record) for day, _, record in sorted(rows, key=lambda row: row[:2])]


def _level(document, fills, answers, moment):
    """(moment, litres, its day, is it an estimate) of the last level that was read, in a round or at a
    refill, with what was filled in since.

    None where none was read: a refill alone does not say what was there before it.
    """
    most, item = document["pump"]["reservoir_l"], answers.get(LEVEL) or {}
    day, value, read = days_of(item.get("at")), item.get("value"), []
    if item.get("answer") == "reading" and is_number(value) and day is not None and day <= moment:
        read.append((day, value * most / 100 if item.get("unit") == "%" else value, day_of(item["at"])))
    for day, record in fills:
        before, after = record.get("level_before_l"), record.get("level_after_l")
        if is_number(after) or is_number(before):
            read.append((day, after if is_number(after) else before + record["refill_l"], day_of(record["made_at"])))
    if not read:
        return None
    moment, litres, read_on = max(read)
    since = [record["refill_l"] for at, record in fills if at > moment]
    return moment, min(most, litres + added_up(since)), read_on, bool(since)


def _expected(document, per_day):
    """What the doses take on a day of the calendar [cm³/day]."""
    week = days_a_week(document)
    return figure(per_day["value"] * week / 7, "cm³/day", "per_day * week / 7", [
        ("per_day", given(per_day["value"], "cm³/day", "use on a working day", per_day.get("estimate") or False)),
        ("week", given(week, "count", "working days a week"))], GEOMETRY)


def _measured(fills):
    """What was really used on a day of the calendar, by the refills [cm³/day]; None where they say nothing."""
    if len(fills) < 2 or fills[-1][0] - fills[0][0] < _FEWEST_D:
        return None
    litres = [record["refill_l"] for _, record in fills[1:]]
    marks = [record.get("level_after_l") for record in (fills[0][1], fills[-1][1])]
    fell = marks[0] - marks[1] if is_number(marks[0]) and is_number(marks[1]) else 0.0
    days = fills[-1][0] - fills[0][0]
    return figure(max(0.0, added_up(litres) + fell) * 1000 / days, "cm³/day", "max(0, sum(litres) + fell) * 1000 / days", [
        ("litres", given(litres, "l", "filled in after the first refill")),
        ("fell", given(fell, "l", "level after the first less after the last")),
        ("days", given(days, "days", "from the first refill to the last"))], GEOMETRY)
