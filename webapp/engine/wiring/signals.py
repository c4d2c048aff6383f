"""What machine contact and alarm output mean for the points and for what is connected: figures, findings, reasons of settings."""
from collections import OrderedDict

from ..basics.adding import added_up
from ..basics.figure import COMMON_PRACTICE, figure, given
from ..basics.findings import finding

BY_DUTY = "duty: the longest break between the last shift of a week and the first of the next"
WHILE_STANDING = "time between two feeds at worst: the machine stops just before an event is due"
AT_FLASHES = COMMON_PRACTICE + ": 100 000 operations at the rated load, 60 flashes a minute (from memory)"
ANEW = "begins anew"
# kinds of load at the alarm output, with the rating that each ampere asks for: the surge of a cold filament, the arc of a coil
LED, FILAMENT, COIL = "LED lamp", "filament lamp", "relay or horn"
SURGE = {LED: 1.0, FILAMENT: 10.0, COIL: 2.0}
SURGES = COMMON_PRACTICE + ": a cold filament draws ten times its current, a coil asks for twice the rating"
OPERATIONS, FLASHES_PER_MIN = 100000.0, 60.0
WEEK_H = 168
_HAIR = 1e-9


def signals(document, worked):
    """({figures}, [findings]) from a system and its worked points, interval and reservoir."""
    figures, findings = OrderedDict(), []
    contact = document.get("machine_contact") or {}
    if contact.get("used"):
        findings += _standing_by(document, worked, contact, figures)
    elif document["duty"].get("only_while_machine_runs"):
        findings += _runs_on(document, worked, contact, figures)
    findings += _alarm(document, figures)
    return figures, findings


# ---- machine contact

def _standing(duty, contact):
    """The longest standstill [h], as entered or from the duty."""
    entered = contact.get("longest_stand_h")
    if entered is not None:
        return figure(entered, "h", "entered", [("entered", given(entered, "h", "longest standstill"))], "entered")
    days, hours = duty["days_per_week"], duty["hours_per_day"]
    return figure(24 * (7 - days) + 24 - hours, "h", "24 * (7 - days) + 24 - hours", [
        ("days", given(days, "count", "working days a week", True)), ("hours", given(hours, "h", "hours a day"))], BY_DUTY)


def _worst(worked, hours):
    """(share missing, point, need, fed) of the point that misses the largest share of its need over so many hours, or None."""
    worst = None
    for point in worked["points"]:
        need = point["need"]["value"]
        if need > 0 and hours > 0:
            fed = point["dose"]["value"] * worked["interval"]["cycles_per_event"]["value"]
            share = 1 - fed / (need * hours)
            # of those that miss the same share, which the last bits tell apart, the one that misses most
            if worst is None or share > worst[0] + _HAIR or (share > worst[0] - _HAIR and need > worst[2]):
                worst = share, point, need, fed
    return worst


def _standing_by(document, worked, contact, figures):
    """Standby with the machine: how long no point is fed at worst, and what the worst one then misses."""
    duty, pause = document["duty"], worked["interval"]["pause"]["value"]
    restart = contact.get("on_restart")
    standing = figures["standing"] = _standing(duty, contact)
    given_standing = given(standing["value"], "h", "longest standstill", standing["estimate"])
    pauses = given(2 if restart in (None, ANEW) else 1, "count", "pauses that pass: 2 where the pause begins anew, the safe side",
                   restart is None)
    gap = standing["value"] + pauses["value"] * pause / 3600
    figures["without_feed"] = figure(gap, "h", "standing + pauses * pause / 3600", [
        ("standing", given_standing), ("pauses", pauses), ("pause", given(pause, "s", "pause"))], WHILE_STANDING)
    counted = 0 if duty.get("only_while_machine_runs") else standing["value"]
    values = _shortfall(worked, figures, pauses, given(counted, "h", "standing hours that count as need",
                                                       standing["estimate"] and counted > 0))
    if values is None:
        return []
    return _standing_findings(duty, restart, pause, counted, values + [("standing", given_standing)])


def _shortfall(worked, figures, pauses, counted):
    """What the worst point misses until it is fed again, into the figures; values for a finding, None where nothing is needed."""
    event, pause = worked["interval"]["event"], worked["interval"]["pause"]["value"]
    hours = counted["value"] + (event["value"] + (pauses["value"] - 1) * pause) / 3600
    worst = _worst(worked, hours)
    if worst is None:
        return None
    share, point, need, fed = worst
    missing = max(0, need * hours - fed)
    formula = "max(0, need * (counted + (event + (pauses - 1) * pause) / 3600) - fed)"
    figures["shortfall_of"] = point["name"]
    figures["shortfall"] = figure(missing, "cm³", formula, [
        ("need", given(need, "cm³/h", "need of " + point["name"], point["need"]["estimate"])), ("counted", counted),
        ("event", given(event["value"], "s", "from start to start", event["estimate"])), ("pauses", pauses),
        ("pause", given(pause, "s", "pause")), ("fed", given(fed, "cm³", "given in an event"))],
        "need over that time less one event")
    return [("point", point["name"]), ("short", given(missing, "cm³", "missing")),
            ("percent", given(100 * share, "%", "of its need")), ("running", given(hours, "h", "hours that count"))]


def _standing_findings(duty, restart, pause, counted, values):
    findings, missing = [], dict(values)["short"]["value"]
    if restart in (None, ANEW) and duty["hours_per_day"] < 24 and pause >= duty["hours_per_day"] * 3600:
        findings.append(finding("note" if restart is None else "stop", "machine_contact.on_restart", "machine.never", [
            ("pause", given(pause, "s", "pause")), ("hours", given(duty["hours_per_day"], "h", "hours a day"))]))
    if counted > 0 and missing > 0:
        findings.append(finding("warn", "machine_contact.used", "machine.unfed", values))
    elif restart == ANEW and missing > 0:
        findings.append(finding("warn", "machine_contact.on_restart", "machine.short", values))
    return findings


def _runs_on(document, worked, contact, figures):
    """Needs count per hour of running, and nothing stops the system while the machine stands."""
    duty, pump = document["duty"], document["pump"]
    hours = WEEK_H - duty["hours_per_day"] * duty["days_per_week"]
    rates = [point["rate"]["value"] for point in worked["points"]]
    rate = added_up(rates)
    if not (hours > 0 and rate > 0):
        return []
    figures["standing_feed"] = figure(rate, "cm³/h", "sum(rates)", [
        ("rates", given(rates, "cm³/h", "delivered to each point", worked["points"][0]["rate"]["estimate"]))],
        "delivered in each hour in which the machine stands")
    low = pump.get("low_level_l") or 0
    return [finding("warn" if contact.get("used") is False else "note", "machine_contact.used", "machine.feeds_standing", [
        ("rate", given(rate, "cm³/h", "into standing bearings")),
        ("week", given(rate * hours, "cm³", "a week")),
        ("days", given((pump["reservoir_l"] - low) * 1000 / (24 * rate), "days", "to low level"))])]


# ---- alarm output

def _alarm(document, figures):
    """What the alarm output's contact can drive, and whether it can drive what hangs on it."""
    controller, supply = document["controller"], document["pump"]["supply_v"]
    rating, load, kind = controller.get("alarm_a"), controller.get("alarm_load_a"), controller.get("alarm_load")
    findings = []
    if rating:
        rated = ("rating", given(rating, "A", "alarm contact"))
        voltage = ("supply", given(supply, "V", "supply, the alarm's too"))
        for name, surge in (("alarm_lamp", SURGE[LED]), ("alarm_filament", SURGE[FILAMENT])):
            figures[name] = figure(rating * supply / surge, "W", "rating * supply / surge", [
                rated, voltage, ("surge", given(surge, "ratio", "times the rating asked for"))], SURGES)
        figures["alarm_coil"] = figure(rating / SURGE[COIL], "A", "rating / surge", [
            rated, ("surge", given(SURGE[COIL], "ratio", "times the rating asked for"))], SURGES)
        wanted = (load or 0) * SURGE.get(kind, 1.0)
        if wanted > rating:
            findings.append(finding("warn", "controller.alarm_load_a", "alarm.load", [
                ("rated", given(rating, "A", "alarm contact")), ("load", given(load, "A", "load")), ("kind", kind or "steady"),
                ("wanted", given(wanted, "A", "rating asked for")),
                ("coil", given(figures["alarm_coil"]["value"], "A", "coil"))]))
    if document.get("alarm_output") == "flashing" and kind == COIL:
        life = figures["alarm_life"] = figure(OPERATIONS / (60 * FLASHES_PER_MIN), "h", "operations / (60 * flashes)", [
            ("operations", given(OPERATIONS, "count", "life of a contact at its rating", True)),
            ("flashes", given(FLASHES_PER_MIN, "count", "flashes a minute", True))], AT_FLASHES)
        findings.append(finding("warn", "alarm_output", "alarm.flashing_coil", [("life", given(life["value"], "h", "of alarm"))]))
    return findings


# ---- reasons of settings: (id, [(name, given(...) or text)])

def low_reason(document, worked, stops):
    """Why low level stops the pump or only warns, with what is left."""
    left = [("left", given((document["pump"].get("low_level_l") or 0), "l", "left when the switch acts"))]
    if stops:
        left.append(("event", given(worked["interval"]["event"]["value"], "s", "from start to start")))
    reason, figures = "reason.low_stop" if stops else "reason.low_warn", worked["reservoir"]
    if "cycles_after_low" not in figures:
        return reason, left
    return reason + "_cycles", left + [("cycles", given(figures["cycles_after_low"]["value"], "count", "cycles")),
                                       ("days", given(figures["time_after_low"]["value"], "days", "until air"))]


def unfitted_reason(worked):
    """What no low-level switch means."""
    empty = worked["reservoir"].get("days_to_empty")
    return "reason.low_unfitted", [("empty", given(empty["value"] if empty else None, "days", "until empty"))]


def machine_reason(document, worked):
    """What the machine contact does, or what its absence means."""
    figures, running = worked["signals"], document["duty"].get("only_while_machine_runs")
    if (document.get("machine_contact") or {}).get("used"):
        values = [("standing", given(figures["standing"]["value"], "h", "longest standstill")),
                  ("gap", given(figures["without_feed"]["value"], "h", "without a feed"))]
        short = figures.get("shortfall")
        if not running:
            return "reason.machine_clock", values
        if short is None or short["inputs"]["pauses"]["value"] == 1 or not short["value"] > 0:
            return "reason.machine_used", values
        return "reason.machine_anew", values + [
            ("point", figures["shortfall_of"]), ("short", given(short["value"], "cm³", "missing"))]
    if "standing_feed" in figures:
        return "reason.machine_standing", [("rate", given(figures["standing_feed"]["value"], "cm³/h", "into standing bearings"))]
    return "reason.machine_unused", []


def alarm_reason(worked):
    """What the alarm output can drive."""
    figures = worked["signals"]
    if "alarm_lamp" not in figures:
        return "reason.alarm", []
    return "reason.alarm_rated", [(name, given(figures["alarm_" + name]["value"], unit, name))
                                  for name, unit in (("lamp", "W"), ("filament", "W"), ("coil", "A"))]
