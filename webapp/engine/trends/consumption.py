"""What was filled in against the doses given: a reservoir that falls too slowly or too fast, with how sure that is."""
from collections import OrderedDict
from math import sqrt

from ..document.check import is_number
from ..basics.adding import added_up
from ..basics.dates import day_of, day_text, days_of
from ..basics.figure import COMMON_PRACTICE, figure, given
from ..basics.findings import finding

# standard deviations, estimates from memory: filling to the same mark [share of the reservoir], reading what was poured in,
# the hours a machine really ran, what devices give over what they are set to
MARK, POURED, HOURS, DOSES = 0.02, 0.02, 0.08, 0.03
# how many deviations make a finding, and a difference too small to look for
SURE, WORTH = 2.5, 0.1
BALANCE = "volume balance; " + COMMON_PRACTICE + " for its uncertainty"


def consumption(document, refills, worked):
    """({"whole", "last", "intervals"}, findings): each with figures used, expected, share, low, high.

    refills  [{"at" (ISO 8601), "refill_l"}]: each fills to the same mark, so the first only begins the count; `cycles` where the
             controller counts them: how many since the refill before
    worked   the worked document, for the use a day and the cycles of an event
    """
    rows = _rows(refills)
    if len(rows) < 2 or not worked["reservoir"]["per_day"]["value"] > 0:
        return OrderedDict(), [finding("note", "consumption", "consumption.few")]
    spans = [rows[number:number + 2] for number in range(len(rows) - 1)]
    out = OrderedDict((("whole", _span(document, rows, worked)), ("last", _span(document, spans[-1], worked))))
    out["intervals"] = [_plain(span, _span(document, span, worked)) for span in spans]
    findings = _judge("whole", out["whole"], rows) or _judge("last", out["last"], spans[-1])
    return out, findings


def _rows(refills):
    """Refills by date; those of the same half day are one."""
    rows, out = [], []
    for number, refill in enumerate(refills):
        day, litres = days_of(refill.get("at")), refill.get("refill_l")
        if day is not None and is_number(litres) and 0 < litres < 1e5:
            rows.append((day, number, refill))
    for day, _, refill in sorted(rows, key=lambda row: row[:2]):
        if out and day < out[-1]["day"] + 0.5:
            out[-1]["refill_l"] += refill["refill_l"]
        else:
            out.append({"at": refill["at"], "day": day, "refill_l": refill["refill_l"], "cycles": refill.get("cycles")})
    return out


def _span(document, rows, worked):
    """Figures of what was used from the first refill to the last."""
    litres = [row["refill_l"] for row in rows[1:]]
    used = figure(added_up(litres), "l", "sum(litres)", [("litres", given(litres, "l", "filled in after the first refill"))], BALANCE)
    expected, hours = _expected(document, rows, worked)
    share = used["value"] / expected["value"]
    unsure = sqrt((2 * (MARK * document["pump"]["reservoir_l"]) ** 2 + added_up([(POURED * part) ** 2 for part in litres]))
                  / used["value"] ** 2 + hours ** 2 + DOSES ** 2)
    inputs = [("used", given(used["value"], "l", "filled in")), ("expected", given(expected["value"], "l", "doses given"))]
    about = [("share", given(share, "ratio", "filled in over given")), ("sure", given(SURE, "count", "deviations")),
             ("mark", given(MARK, "ratio", "deviation of filling to the mark", True)),
             ("reservoir", given(document["pump"]["reservoir_l"], "l", "reservoir")),
             ("poured", given(POURED, "ratio", "deviation of each amount", True)), ("litres", given(litres, "l", "amounts")),
             ("used", inputs[0][1]), ("hours", given(hours, "ratio", "deviation of the cycles counted or expected", True)),
             ("doses", given(DOSES, "ratio", "deviation of the devices from their setting", True))]
    wide = ("share %s sure * share * sqrt((2 * (mark * reservoir) ** 2 + sum((poured * litres) ** 2)) / used ** 2"
            " + hours ** 2 + doses ** 2)")
    return OrderedDict((("used", used), ("expected", expected),
                        ("share", figure(share, "ratio", "used / expected", inputs, BALANCE)),
                        ("low", figure(share - SURE * share * unsure, "ratio", wide % "-", about, BALANCE)),
                        ("high", figure(share + SURE * share * unsure, "ratio", wide % "+", about, BALANCE))))


def _expected(document, rows, worked):
    """(figure [l] of the doses given between the refills, deviation of how often they were given)."""
    counted = [row["cycles"] for row in rows[1:]]
    duty, per_day = document["duty"], worked["reservoir"]["per_day"]
    if all([is_number(cycles) and cycles > 0 for cycles in counted]):
        cm3 = per_day["inputs"]["event"]["value"] / worked["interval"]["cycles_per_event"]["value"]
        given_l = figure(added_up(counted) * cm3 / 1000, "l", "sum(cycles) * dose / 1000", [
            ("cycles", given(counted, "count", "cycles counted")), ("dose", given(cm3, "cm³", "all doses of a cycle"))], BALANCE)
        return given_l, 0.0
    gated = bool(duty.get("only_while_machine_runs"))
    days, week = rows[-1]["day"] - rows[0]["day"], duty["days_per_week"] if gated else 7
    given_l = figure(days * week / 7 * per_day["value"] / 1000, "l", "days * week / 7 * per_day / 1000", [
        ("days", given(days, "days", "between the refills")), ("week", given(week, "days", "working days a week")),
        ("per_day", given(per_day["value"], "cm³/day", "use on a working day", per_day["estimate"]))], BALANCE)
    return given_l, HOURS if gated else 0.0


def _plain(span, figures):
    return OrderedDict((("since", span[0]["at"]), ("at", span[-1]["at"])) + tuple(
        [(name, figures[name]["value"]) for name in ("used", "expected", "share", "low", "high")]))


def _judge(name, figures, rows):
    low, high, share = [figures[part]["value"] for part in ("low", "high", "share")]
    if low <= 1 <= high or abs(share - 1) < WORTH:
        return []
    return [finding("warn", "consumption." + name, "consumption.less" if share < 1 else "consumption.more", [
        ("used", given(figures["used"]["value"], "l", "filled in")),
        ("expected", given(figures["expected"]["value"], "l", "given")),
        ("since", day_text(day_of(rows[0]["at"]))), ("percent", given(100 * abs(share - 1), "%", "difference"))])]
