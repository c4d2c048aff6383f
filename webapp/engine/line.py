"""The line at rest and in steady flow: its volume, the greatest pressure drop, and what stays locked in after venting."""
from math import log, pi

from .figure import figure, given
from .flow import FORCE_BALANCE, HERSCHEL_BULKLEY, flow_rate, pressure_drop, yield_drop
from .lubricant import DEFAULTS, lubricant_at
from .tree import Tree

PA_PER_BAR = 1e5
_FLOW_FIELDS = ("yield_pa", "consistency_pa_sn", "flow_index", "stiffening_per_k", "reference_c")


def _is_estimate(state):
    return any(field in state["estimates"] for field in _FLOW_FIELDS)


def _lengths_and_bores(sections):
    return [("lengths", given([section["length_m"] for section in sections], "m", "length of each pipe")),
            ("bores", given([section["bore_mm"] for section in sections], "mm", "bore of each pipe"))]


def volume(document):
    """Volume of the whole line [cm³]."""
    sections = document["sections"]
    value = sum([pi / 4 * section["bore_mm"] ** 2 * section["length_m"] for section in sections])
    return figure(value, "cm³", "sum(pi / 4 * bores ** 2 * lengths)", _lengths_and_bores(sections), "geometry")


def _drops(sections, delivery, state):
    """Node -> drop [Pa] along the pipe that feeds it. It grows with the length, so each bore is worked only once."""
    per_metre = {}
    for section in sections:
        bore = section["bore_mm"]
        if bore not in per_metre:
            per_metre[bore] = pressure_drop(delivery, bore / 1000, 1, state["yield_pa"], state["consistency_pa_sn"],
                                            state["flow_index"])
    return {section["to"]: per_metre[section["bore_mm"]] * section["length_m"] for section in sections}


def _flow_error(sections, drops, delivery, state):
    """Greatest relative difference between the delivery and the flow that the found drops drive."""
    worst = 0.0
    for section, drop in zip(sections, drops):
        flow = flow_rate(drop, section["bore_mm"] / 1000, section["length_m"], state["yield_pa"],
                         state["consistency_pa_sn"], state["flow_index"])
        worst = max(worst, abs(flow / delivery - 1))
    return worst


def drop(document, t_c):
    """Pressure from the pump to the device with the greatest drop [bar], the whole delivery flowing all the way.

    The figure has `at`, the node. Source: HERSCHEL_BULKLEY.
    """
    tree, state = Tree(document), lubricant_at(document["lubricant"], t_c)
    delivery = document["pump"]["delivery_cm3_min"] / 60e6
    each = _drops(document["sections"], delivery, state)
    total = {}
    for node in tree.order:
        total[node] = total[tree.section[node]["from"]] + each[node] if node in each else 0.0
    worst = max([device["at"] for device in document["devices"]], key=lambda node: total[node])
    sections = tree.way(worst)
    drops = [each[section["to"]] for section in sections]
    out = figure(total[worst] / PA_PER_BAR, "bar", "sum(drops)", [
        ("drops", given([value / PA_PER_BAR for value in drops], "bar", "drop along each pipe on the way"))]
        + _lengths_and_bores(sections) + [
        ("delivery", given(document["pump"]["delivery_cm3_min"], "cm³/min", "the pump's whole delivery")),
        ("tau_y", given(state["yield_pa"], "Pa", "yield at the temperature", _is_estimate(state))),
        ("K", given(state["consistency_pa_sn"], "Pa·sⁿ", "consistency at the temperature", _is_estimate(state))),
        ("n", given(state["flow_index"], "1", "flow index", _is_estimate(state))),
        ("t", given(t_c, "°C", "temperature"))],
        HERSCHEL_BULKLEY, method="iterated",
        residual={"says": "flow through each pipe at its drop, against the delivery",
                  "value": _flow_error(sections, drops, delivery, state), "limit": 1e-6})
    out["at"] = worst
    return out


def locked_pressures(document, t_c):
    """Node -> most pressure that can stay locked in there after venting [bar]."""
    tree, state = Tree(document), lubricant_at(document["lubricant"], t_c)
    locked = {}
    for node in tree.order:
        section = tree.section.get(node)
        locked[node] = 0.0 if section is None else locked[section["from"]] + yield_drop(
            section["length_m"], section["bore_mm"] / 1000, state["yield_pa"]) / PA_PER_BAR
    return locked


def residual(document, t_c):
    """Pressure left at the worst node after venting to rest [bar]; the figure has `at`, the node. Source: FORCE_BALANCE."""
    locked, state = locked_pressures(document, t_c), lubricant_at(document["lubricant"], t_c)
    tree = Tree(document)
    worst = max(tree.order, key=lambda node: (locked[node], tree.distance[node]))
    out = figure(locked[worst], "bar", "4 * tau_y * sum(lengths / (bores / 1000)) / 1e5", [
        ("tau_y", given(state["yield_pa"], "Pa", "yield at the temperature", _is_estimate(state)))]
        + _lengths_and_bores(tree.way(worst)) + [("t", given(t_c, "°C", "temperature"))], FORCE_BALANCE)
    out["at"] = worst
    return out


def lowest_venting_temperature(document, locked_bar, allowed_bar, t_c):
    """Temperature [°C] at which what is locked in (locked_bar at t_c) falls to allowed_bar; None where nothing stiffens.

    From the yield's growth with cold, exp(stiffening · (reference − t)).
    """
    stiffening = document["lubricant"].get("stiffening_per_k")
    if stiffening is None:
        stiffening = DEFAULTS["stiffening_per_k"]
    if not stiffening > 0 or not locked_bar > 0 or not allowed_bar > 0:
        return None
    return t_c + log(locked_bar / allowed_bar) / stiffening
