"""What goes into the controller: every setting with its group, value and reason."""
from collections import OrderedDict

from .figure import given

TIMING, SENSING, PROTECTION, SIGNALS = "Timing", "Sensing", "Protection", "Signals"
OPEN, CLOSED = "normally open", "normally closed"


def _setting(document, group, name, value, unit, reason, values=None):
    wording = (document["controller"].get("wording") or {}).get(name, "")
    return OrderedDict((("group", group), ("name", name), ("label_id", "setting." + name), ("value", value),
                        ("unit", unit), ("reason_id", reason), ("with", OrderedDict(values or [])), ("wording", wording)))


def _timing(document, worked):
    interval, build = worked["interval"], worked["build"]
    cycles = interval["cycles_per_event"]["value"]
    settings = [
        _setting(document, TIMING, "pause", interval["pause"]["value"], "s", "reason.pause", [
            ("event", given(interval["event"]["value"], "s", "event")), ("point", worked["leading_point"])]),
        _setting(document, TIMING, "cycles", cycles, "count", "reason.cycles" if cycles == 1 else "reason.cycles_many")]
    limit = build.get("time_limit")
    values = [("limit", given(limit["value"] if limit else None, "s", "limit"))]
    if limit:
        values += [("longest", limit["inputs"]["longest"]), ("margin", limit["inputs"]["margin"]),
                   ("step", limit["inputs"]["step"])]
        reason = "reason.limit_measured" if worked["measured"] else "reason.limit_predicted"
    else:
        reason = "reason.waits"
    settings.append(_setting(document, TIMING, "time_limit", limit["value"] if limit else None, "s", reason, values))
    vent = worked["vent"].get("time")
    if vent is None:
        reason, values = "reason.waits", []
    elif "reset" in vent["inputs"]:
        reason, values = "reason.vent_long", [("reset", vent["inputs"]["reset"])]
    else:
        reason, values = "reason.vent_short", []
    settings.append(_setting(document, TIMING, "vent", vent["value"] if vent else None, "s", reason, values))
    return settings


def _second_limit(document, worked):
    limit = worked["build"].get("time_limit_second")
    if limit is None:
        return _setting(document, TIMING, "time_limit_second", None, "s", "reason.waits")
    return _setting(document, TIMING, "time_limit_second", limit["value"], "s", "reason.limit_second",
                    [("longest", limit["inputs"]["longest"])])


def _switches(document):
    two = len(document["switches"]) == 2
    settings = []
    for number, switch in enumerate(document["switches"], 1):
        settings.append(_setting(document, SENSING, "switch_%d_at_rest" % number, switch["contact"], "text",
                                 "reason.rest", [("trips", given(switch["trips_bar"], "bar", "trip pressure"))]))
    settings.append(_setting(document, SENSING, "second_switch", "used" if two else "not used", "text",
                             "reason.second_used" if two else "reason.second_unused"))
    return settings


def _protection(document, worked):
    from .signals import low_reason, unfitted_reason  # late, as below: no figure needs it while somebody types
    low = document.get("low_level") or {}
    if not low.get("fitted"):
        return [_setting(document, PROTECTION, "low_level", "not fitted", "text", *unfitted_reason(worked))]
    settings = [_setting(document, PROTECTION, "low_level", "fitted", "text", "reason.low_fitted"),
                _setting(document, PROTECTION, "low_level_at_rest", low.get("contact") or OPEN, "text", "reason.low_rest")]
    action = low.get("on_low") or "stop pump"
    settings.append(_setting(document, PROTECTION, "on_low_level", action, "text",
                             *low_reason(document, worked, action == "stop pump")))
    return settings


def _signals(document, worked):
    from .signals import alarm_reason, machine_reason
    contact = document.get("machine_contact") or {}
    used = bool(contact.get("used"))
    settings = [_setting(document, SIGNALS, "machine_contact", "used" if used else "not used", "text",
                         *machine_reason(document, worked))]
    if used:
        settings.append(_setting(document, SIGNALS, "machine_contact_at_rest", contact.get("contact") or OPEN, "text",
                                 "reason.machine_rest"))
    settings.append(_setting(document, SIGNALS, "alarm_output", document.get("alarm_output") or "steady", "text",
                             *alarm_reason(worked)))
    return settings


def settings_of(document, worked):
    """All settings of a single-line controller, in the order in which they are usually thought through."""
    settings = _timing(document, worked)
    if len(document["switches"]) == 2:
        settings.insert(3, _second_limit(document, worked))
    return settings + _switches(document) + _protection(document, worked) + _signals(document, worked)
