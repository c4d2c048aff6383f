"""The checklist of a round, made from a system's make-up and ordered as one walks: pump station, down the line, controller.

What is looked at is common practice with no published source; plants change it.
"""
from collections import OrderedDict

from ..basics.figure import COMMON_PRACTICE
from ..basics.kinds import DUAL, PROGRESSIVE, TIMED, fitting
from .line_findings import place_name
from .reservoir import days_a_week
from ..line.tree import PUMP, Tree

EVERY_ROUND, MONTHLY, YEARLY, COLD = "round", "month", "year", "cold"
OK, READING, TEXT = "ok", "reading", "text"
# days between rounds where the plant has not said
ROUND_EVERY_D = 7
# what a photo shows better than words, where it is not ok
_PHOTO = ("reservoir_closed", "reservoir_lubricant", "pump_runs", "pump_relief", "pipe_sound", "hose_away", "device_dry", "block_dry",
          "block_indicators", "point_line", "point_film", "switch_cable")
TEMPERATURE = "line_temperature"
# not all in one round: in turn, each at least once in its time
_IN_TURN = ("device_moves", "device_moves_twice", "block_moves")


def _item(identifier, component, place, where, every=EVERY_ROUND, answer=OK, unit=None, low=None, high=None, limit=None):
    return OrderedDict((("key", "%s:%s" % (identifier, place)), ("component", component), ("place", place), ("where", where),
                        ("answer", answer), ("unit", unit), ("low", low), ("high", high), ("every", every), ("limit", limit),
                        ("photo", identifier in _PHOTO), ("in_turn", identifier in _IN_TURN),
                        ("source", COMMON_PRACTICE), ("id", "care." + identifier), ("with", {})))


def _near(value, part):
    return value * (1 - part), value * (1 + part)


def _level(document, worked, round_every_d):
    """The reservoir's level: what is used until the next round must lie above the low level."""
    pump = document["pump"]
    low, limit = pump.get("low_level_l") or 0, "low level to full"
    per_day = ((worked or {}).get("reservoir") or {}).get("per_day")
    if per_day:
        used = per_day["value"] * days_a_week(document) / 7 * round_every_d / 1000
        low, limit = min(low + used, pump["reservoir_l"]), "low level and the use until the next round, to full"
    return _item("reservoir_level", "reservoir", PUMP, "Reservoir", answer=READING, unit="l", low=low,
                 high=pump["reservoir_l"], limit=limit)


def _station(document, worked, round_every_d):
    pump = document["pump"]
    items = [
        _level(document, worked, round_every_d),
        _item("reservoir_closed", "reservoir", PUMP, "Reservoir"),
        _item("reservoir_lubricant", "reservoir", PUMP, "Reservoir"),
        _item("reservoir_label", "reservoir", PUMP, "Reservoir", MONTHLY),
        _item("pump_runs", "pump", PUMP, "Pump"),
        _item("pump_voltage", "pump", PUMP, "Pump", YEARLY, READING, "V", pump["supply_v"] * 0.9,
              limit="nine tenths of the supply at least"),
        _item("pump_current", "pump", PUMP, "Pump", MONTHLY, READING, "A", *_near(pump["current_a"], 0.2),
              limit="system's figure, a fifth either way"),
        _item("pump_relief", "pump", PUMP, "Pump", MONTHLY)]
    if (document.get("low_level") or {}).get("fitted"):
        items.append(_item("low_level_acts", "reservoir", PUMP, "Reservoir", YEARLY))
    if document["kind"] == PROGRESSIVE:
        return items
    lowest = min([thing["resets_bar"] for thing in document["devices"] + document["switches"]])
    items.append(_item("vent_falls", "vent valve", PUMP, "Vent valve", EVERY_ROUND, READING, "bar", 0, lowest,
                       "lowest reset pressure of devices and switches"))
    items.append(_item("vent_tight", "vent valve", PUMP, "Vent valve", MONTHLY))
    return items


def _at_node(document, node, section):
    where = "%s %s" % ("Hose" if section.get("wall") == "hose" else "Pipe", section["id"])
    items = [_item("pipe_sound", "pipe", section["id"], where)]
    if section.get("wall") == "hose":
        items.append(_item("hose_away", "pipe", section["id"], where, MONTHLY))
    for device in document["devices"]:
        if device["at"] == node:
            items += _device(document, device)
    for switch in document["switches"]:
        if switch["at"] == node:
            items += _switch(document, switch)
    return items


def _device(document, device):
    block = document["kind"] == PROGRESSIVE
    where = "%s %s, %s" % ("Block" if block else "Device", device["id"], place_name(document, "device", device))
    moves = "device_moves_twice" if document["kind"] == DUAL else "device_moves"
    items = [_item("block_moves" if block else moves, "device", device["id"], where, MONTHLY),
             _item("block_dry" if block else "device_dry", "device", device["id"], where, MONTHLY)]
    if block:
        items.append(_item("block_indicators", "device", device["id"], where))
    for point in document["points"]:
        if point["device"] == device["id"]:
            items.append(_item("point_line", "point", point["id"], point["name"]))
            items.append(_item("point_film", "point", point["id"], point["name"]))
            items.append(_item("point_warmth", "point", point["id"], point["name"], MONTHLY, READING, "°C",
                               limit="no limit known here: the baseline of a similar load plus 15 K"))
    return items


def _switch(document, switch):
    where = "Switch " + switch["id"]
    if document["kind"] == PROGRESSIVE:
        return [_item("switch_cable", "switch", switch["id"], where, MONTHLY), _item("switch_counts", "switch", switch["id"], where)]
    low, high = _near(switch["trips_bar"], 0.1)
    ends = [_item(name, "switch", switch["id"], where, EVERY_ROUND, READING, "bar", low, high, "changeover pressure, a tenth either way")
            for name in ("end_line_a", "end_line_b")] if document["kind"] == DUAL and switch is document["switches"][0] else []
    return ends + [
        _item("switch_cable", "switch", switch["id"], where, MONTHLY),
        _item("switch_trips", "switch", switch["id"], where, YEARLY, READING, "bar", low, high, "set value, a tenth either way")]


def _controller(document, worked):
    items = [_item("controller_settings", "controller", "controller", "Controller", MONTHLY),
             _item("controller_faults", "controller", "controller", "Controller", answer=TEXT),
             _item("alarm_heard", "controller", "controller", "Controller", YEARLY),
             _item(TEMPERATURE, "whole", "whole", "Whole system", EVERY_ROUND, READING, "°C"),
             _item("season", "whole", "whole", "Whole system", COLD)]
    return items + _timed(document, worked)


def _timed(document, worked):
    """One timed cycle, as the kind allows to time it."""
    measured, worked = document.get("measured") or {}, worked or {}
    build = worked.get("build") or {}
    if document["kind"] == PROGRESSIVE:
        return [_timing("timed_turn", *_near_figure(build.get("cycle_time"), "cycle of the first block, a fifth either way"))]
    if document["kind"] == TIMED:
        return [_timing("timed_pump", *_near_figure((worked.get("interval") or {}).get("run_time"), "run time, a fifth either way"))]
    if document["kind"] == DUAL:
        runs = measured.get("build_s") or []
        return [_timing("timed_line_a", *_build_limits(runs, build, "time_frictionless_a")),
                _timing("timed_line_b", *_build_limits(measured.get("build_b_s") or runs, build, "time_frictionless_b"))]
    return [_timing("timed_cycle", *_build_limits(measured.get("build_s") or [], build, "time_frictionless"))]


def _timing(identifier, low, high, limit):
    return _item(identifier, "whole", "whole", "Whole system", EVERY_ROUND, READING, "s", low, high, limit)


def _near_figure(figure, limit):
    return _near(figure["value"], 0.2) + (limit,) if figure else (None, None, None)


def _build_limits(runs, build, predicted):
    """Limits of a timed build-up: a fifth either way of the baseline, or from prediction to the time limit."""
    if runs:
        return min(runs) * 0.8, max(runs) * 1.2, "baseline, a fifth either way"
    limit = build.get("time_limit")
    if limit is None:
        return None, None, None
    return build[predicted]["value"] * 0.8, limit["value"], "prediction to time limit; no baseline yet"


def checklist(document, worked=None, round_every_d=ROUND_EVERY_D):
    """{"items": [...]} for a checked system; `worked` gives the timed cycle its limits where no baseline exists, and says
    with `round_every_d` what the reservoir must hold until the next round.

    An item: key (stable), component, place (id), where and `says` for a reader, answer ("ok", "text" or "reading" with unit,
    low, high and what the limit is), every, photo (asked for when not ok), in_turn.
    """
    document = fitting(document)
    tree = Tree(document)
    items = _station(document, worked, round_every_d)
    for node in tree.order:
        if node == PUMP:
            for device in document["devices"]:
                items += _device(document, device) if device["at"] == PUMP else []
            for switch in document["switches"]:
                items += _switch(document, switch) if switch["at"] == PUMP else []
        else:
            items += _at_node(document, node, tree.section[node])
    return {"items": items + _controller(document, worked)}
