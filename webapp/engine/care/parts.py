"""The parts of a system along its line, as one walks: where a defect can be, and which points each part concerns."""
from collections import OrderedDict

from ..basics.kinds import PROGRESSIVE, fitting
from ..line.tree import PUMP, Tree
from ..systems.line_findings import place_name

WHOLE = "whole"


def parts(document):
    """{"parts": [...]} of a checked system: component and place as in the checklist, `where` for a reader, ids of the points concerned.

    What the whole line hangs on concerns all points; a pipe those beyond it; a device its own. Blocks of a progressive system move one
    another: where one stands, all stand.
    """
    document = fitting(document)
    every = [point["id"] for point in document["points"]]
    tree = Tree(document)
    out = [_part("pump", PUMP, "Pump", every), _part("reservoir", PUMP, "Reservoir", every)]
    if document["kind"] != PROGRESSIVE:
        out.append(_part("vent valve", PUMP, "Vent valve", every))
    for node in tree.order:
        if node != PUMP:
            section = tree.section[node]
            where = "%s %s" % ("Hose" if section.get("wall") == "hose" else "Pipe", section["id"])
            out.append(_part("pipe", section["id"], where, _beyond(document, tree, node, every)))
        out += _at(document, node, every)
    return {"parts": out + [_part("controller", "controller", "Controller", every), _part(WHOLE, WHOLE, "Whole system", every)]}


def _part(component, place, where, points):
    return OrderedDict((("component", component), ("place", place), ("where", where), ("points", points)))


def _fed_by(document, devices):
    return [point["id"] for point in document["points"] if point["device"] in devices]


def _beyond(document, tree, node, every):
    if document["kind"] == PROGRESSIVE:
        return every
    nodes, stack = [], [node]
    while stack:
        nodes.append(stack.pop())
        stack += tree.children[nodes[-1]]
    return _fed_by(document, [device["id"] for device in document["devices"] if device["at"] in nodes])


def _at(document, node, every):
    """Devices with their points, and switches, at a node."""
    out, block = [], document["kind"] == PROGRESSIVE
    for device in document["devices"]:
        if device["at"] == node:
            own = _fed_by(document, [device["id"]])
            where = "%s %s" % ("Block" if block else "Device", device["id"])
            name = place_name(document, "device", device)
            out.append(_part("device", device["id"], "%s, %s" % (where, name) if own else where, every if block else own))
            out += [_part("point", point["id"], point["name"], [point["id"]]) for point in document["points"] if point["id"] in own]
    return out + [_part("switch", switch["id"], "Switch " + switch["id"], every) for switch in document["switches"] if switch["at"] == node]
