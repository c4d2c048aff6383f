"""What builds up in a system of each kind: until when, to which pressure, how much of it, its figures. The rest of the room asks here."""
from collections import OrderedDict

from ..basics.figure import LINE_MODEL, figure, given
from ..basics.kinds import DUAL, PROGRESSIVE, SIDES, TIMED
from ..line import build, line
from ..line.flow import FORCE_BALANCE
from ..line.tree import PUMP

_LIMITS = {PROGRESSIVE: ("build", "window"), TIMED: ("interval", "run_time")}


def limit_name(document):
    """What the controller calls its longest wait: time_limit, window or run_time."""
    return _LIMITS.get(document["kind"], ("build", "time_limit"))[1]


def words(document):
    """What sentences call the end of a build-up and the controller's longest wait."""
    return [("goal", {"words": ["word.goal." + document["kind"]]}), ("name", {"words": ["word." + limit_name(document)]})]


def sheet_limit(document, worked):
    """That wait as recommended by the worked document [s]; None where there is none."""
    section, name = _LIMITS.get(document["kind"], ("build", "time_limit"))
    return (worked[section].get(name) or {}).get("value")


def sides(document):
    """What is added to the name of a figure for each build-up of a cycle."""
    return ["_" + side.lower() for side in SIDES] if document["kind"] == DUAL else [""]


def ends(trace):
    """When each build-up of a trace that was begun came to its end [s]; None for one that never did.

    A pump that ran until all were fed and was stopped before had a device in the middle of its stroke: that is no end.
    """
    if "fed_s" not in trace:
        return trace["trip_s"]
    return trace["fed_s"] if any([event["what"] == "vent open" for event in trace["events"]]) else [None]


def times(document, trace):
    """When each build-up of a cycle came to its end [s], None for one that never did or was not begun."""
    found = ends(trace)
    return [found[number] if number < len(found) else None for number in range(len(sides(document)))]


def slowest(document, trace):
    """(the longest of them [s], its number); (None, the first that never ends)."""
    found = times(document, trace)
    if None in found:
        return None, found.index(None)
    return max(found), found.index(max(found))


def waiting(document):
    """The document as it is simulated to learn how long a build-up takes: a pump that runs a set time runs until all are fed."""
    if document["kind"] != TIMED:
        return document
    from ..systems import kind_timed
    return kind_timed.waiting(document)


def told(document, trace, number=0):
    """The figure of one build-up."""
    if document["kind"] == TIMED:
        from ..systems.kind_timed import time_fed
        return time_fed(document, trace)
    if document["kind"] == PROGRESSIVE:
        from ..systems.kind_progressive import time_counted
        return time_counted(document, trace)
    return build.time_simulated(document, trace, number)


def wanted_bar(document):
    """Pressure at which a build-up ends [bar]: the switch's, that of the last device, that of the first block."""
    if document["kind"] == PROGRESSIVE:
        from ..events.blocks import roots
        return roots(document)[0]["fires_bar"]
    if document["kind"] == TIMED:
        from ..systems.kind_timed import highest_fires
        return highest_fires(document)
    return document["switches"][0]["trips_bar"]


def far_node(document):
    """The node up to which a build-up's drop counts: the device with the greatest, the first block."""
    if document["kind"] == PROGRESSIVE:
        from ..events.blocks import roots
        return roots(document)[0]["at"]
    return line.drop(document, document["ambient"]["usual_c"])["at"]


def volumes(document, doses, line_cm3):
    """What each build-up of a cycle presses in or moves without friction [cm³]."""
    at = wanted_bar(document), ""
    if document["kind"] == PROGRESSIVE:
        from ..events.blocks import roots, sums, turns
        turned = turns(document)[document["switches"][0]["counts"]]
        through = {block["id"]: 0.0 for block in document["devices"]}
        through[roots(document)[0]["id"]] = sums(document)[roots(document)[0]["id"]] / turned
        return [build.volume(document, through, line_cm3, at)["value"]]
    each = [doses[side] for side in SIDES] if document["kind"] == DUAL else [doses]
    return [build.volume(document, one, line_cm3, at)["value"] for one in each]


def of_devices(document, doses):
    """Doses of the devices that a part of the document still has."""
    names = [device["id"] for device in document["devices"]]
    if document["kind"] == DUAL:
        return {side: {name: doses[side][name] for name in names} for side in SIDES}
    return {name: doses[name] for name in names} if doses else {}


def share(document, at_c):
    """(how much of what may be is used at a temperature, at which node): what stays locked in over the reset pressure; of a
    progressive system, which does not vent, what moves its blocks over the pump's relief pressure."""
    if document["kind"] == PROGRESSIVE:
        drop = line.drop(document, at_c)
        needed = drop["value"] + max([block["fires_bar"] for block in document["devices"]])
        return needed / document["pump"]["relief_bar"], drop["at"]
    locked = line.locked_pressures(document, at_c)
    return max([(locked[thing["at"]] / thing["resets_bar"], thing["at"]) for thing in document["devices"] + document["switches"]])


def at_rest(document, trace, moment):
    """Figures of what follows a build-up: left after venting and until all has reset; of a line that does not vent the greatest
    pressure at its pump and what stays in it."""
    at_c = trace["at_c"]
    if document["kind"] != PROGRESSIVE:
        return OrderedDict((("residual", line.residual(document, at_c)), ("reset", build.reset_time(trace, moment))))
    fires, node = wanted_bar(document), far_node(document)
    peak = figure(max(trace["pressure_bar"][PUMP]), "bar", "greatest pressure at the pump in the line model", [
        ("fires", given(fires, "bar", "pressure at which the first block moves")),
        ("relief", given(document["pump"]["relief_bar"], "bar", "relief pressure of the pump")),
        ("t", given(at_c, "°C", "temperature"))], LINE_MODEL, method="simulated", residual=build.balance(trace))
    stays = figure(fires + line.locked_pressures(document, at_c)[node], "bar", "fires + locked", [
        ("fires", given(fires, "bar", "below it the first block holds")),
        ("locked", given(line.locked_pressures(document, at_c)[node], "bar", "may stay along the pipe to it",
                         line.residual(document, at_c)["estimate"])),
        ("t", given(at_c, "°C", "temperature"))], FORCE_BALANCE)
    return OrderedDict((("peak", peak), ("rest", stays)))
