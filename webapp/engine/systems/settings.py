"""What goes into the controller: every setting with its group, value and reason."""
from collections import OrderedDict

from ..basics.figure import given

TIMING, SENSING, PROTECTION, SIGNALS = "Timing", "Sensing", "Protection", "Signals"
OPEN, CLOSED = "normally open", "normally closed"


def setting(document, group, name, value, unit, reason, values=None):
    """One setting; `reason` is a sentence's id, `values` fills it."""
    wording = (document["controller"].get("wording") or {}).get(name, "")
    return OrderedDict((("group", group), ("name", name), ("label_id", "setting." + name), ("value", value),
                        ("unit", unit), ("reason_id", reason), ("with", OrderedDict(values or [])), ("wording", wording)))


def interval(document, worked):
    """Pause and cycles per event."""
    figures = worked["interval"]
    cycles = figures["cycles_per_event"]["value"]
    return [
        setting(document, TIMING, "pause", figures["pause"]["value"], "s", "reason.pause", [
            ("event", given(figures["event"]["value"], "s", "event")), ("point", worked["leading_point"])]),
        setting(document, TIMING, "cycles", cycles, "count", "reason.cycles" if cycles == 1 else "reason.cycles_many")]


def limit(document, worked, reasons=("reason.limit_measured", "reason.limit_predicted")):
    """The time limit of the build-up; `reasons`: measured, predicted."""
    return _longest(document, worked, "time_limit", worked["build"].get("time_limit"), reasons)


def window(document, worked):
    """How long to wait for the cycle switch."""
    return _longest(document, worked, "window", worked["build"].get("window"),
                    ("reason.window_measured", "reason.window_predicted"))


def run_time(document, worked):
    """How long the pump runs."""
    return _longest(document, worked, "run_time", worked["interval"].get("run_time"), ("reason.run_time", "reason.run_time"))


def _longest(document, worked, name, figure, reasons):
    """A setting that is a longest time with its margin."""
    values = [("limit", given(figure["value"] if figure else None, "s", "limit"))]
    if figure:
        values += [(part, figure["inputs"][part]) for part in ("longest", "margin", "step")]
        reason = reasons[0] if worked["measured"] else reasons[1]
        if figure["value"] < figure["inputs"]["longest"]["value"] * figure["inputs"]["margin"]["value"]:
            reason = "reason.capped"
    else:
        reason = "reason.waits"
    return setting(document, TIMING, name, figure["value"] if figure else None, "s", reason, values)


def vent(document, worked):
    """How long the vent stays open."""
    figure = worked["vent"].get("time")
    if figure is None:
        reason, values = "reason.waits", []
    elif "reset" in figure["inputs"]:
        reason, values = "reason.vent_long", [("reset", figure["inputs"]["reset"])]
    else:
        reason, values = "reason.vent_short", []
    return setting(document, TIMING, "vent", figure["value"] if figure else None, "s", reason, values)


def second_limit(document, worked):
    """The time limit of the second switch."""
    figure = worked["build"].get("time_limit_second")
    if figure is None:
        return setting(document, TIMING, "time_limit_second", None, "s", "reason.waits")
    return setting(document, TIMING, "time_limit_second", figure["value"], "s", "reason.limit_second",
                   [("longest", figure["inputs"]["longest"])])


def switches(document):
    """Each switch at rest, and whether a second is used."""
    two = len(document["switches"]) == 2
    settings = []
    for number, switch in enumerate(document["switches"], 1):
        settings.append(setting(document, SENSING, "switch_%d_at_rest" % number, switch["contact"], "text",
                                "reason.rest", [("trips", given(switch["trips_bar"], "bar", "trip pressure"))]))
    settings.append(setting(document, SENSING, "second_switch", "used" if two else "not used", "text",
                            "reason.second_used" if two else "reason.second_unused"))
    return settings


def changeover(document):
    """The switch at the end of the lines, at rest."""
    switch = document["switches"][0]
    return setting(document, SENSING, "changeover_at_rest", switch["contact"], "text", "reason.changeover",
                   [("trips", given(switch["trips_bar"], "bar", "trip pressure"))])


def cycle_switch(document):
    """The cycle switch at rest."""
    switch = document["switches"][0]
    return setting(document, SENSING, "cycle_switch_at_rest", switch["contact"], "text", "reason.cycle_switch",
                   [("block", switch["counts"])])


def unconfirmed(document):
    """That nothing is confirmed, where a switch would stand."""
    return setting(document, SENSING, "confirmation", "none", "text", "reason.unconfirmed")


def protection(document, worked):
    """What a low reservoir does."""
    from ..wiring.signals import low_reason, unfitted_reason
    low = document.get("low_level") or {}
    if not low.get("fitted"):
        return [setting(document, PROTECTION, "low_level", "not fitted", "text", *unfitted_reason(worked))]
    action = low.get("on_low") or "stop pump"
    return [setting(document, PROTECTION, "low_level", "fitted", "text", "reason.low_fitted"),
            setting(document, PROTECTION, "low_level_at_rest", low.get("contact") or OPEN, "text", "reason.low_rest"),
            setting(document, PROTECTION, "on_low_level", action, "text", *low_reason(document, worked, action == "stop pump"))]


def signals(document, worked):
    """Machine contact and alarm output."""
    from ..wiring.signals import alarm_reason, machine_reason
    contact = document.get("machine_contact") or {}
    used = bool(contact.get("used"))
    settings = [setting(document, SIGNALS, "machine_contact", "used" if used else "not used", "text",
                        *machine_reason(document, worked))]
    if used:
        settings.append(setting(document, SIGNALS, "machine_contact_at_rest", contact.get("contact") or OPEN, "text",
                                "reason.machine_rest"))
    settings.append(setting(document, SIGNALS, "alarm_output", document.get("alarm_output") or "steady", "text",
                            *alarm_reason(worked)))
    return settings
