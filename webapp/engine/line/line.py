"""The line at rest and in steady flow: its volume, the greatest pressure drop, and what stays locked in after venting."""
from math import log, pi

from ..basics.adding import added_up
from ..basics.figure import figure, given
from .flow import FORCE_BALANCE, HERSCHEL_BULKLEY, flow_rate, pressure_drop, yield_drop
from ..lubricants.lubricant import DEFAULTS, lubricant_at
from .tree import Tree
from .warmth import section_c

PA_PER_BAR = 1e5
# ambients of pipes lie no further apart than this [K]
_REACH_K = 400.0
# no lubricant is asked for below or above
_COLDEST_C, _HOTTEST_C = -273.15, 1000.0
_YIELD_INPUT = ("tau_y", "yield_pa", "Pa", "yield at the temperature")
_FLOW_INPUTS = (_YIELD_INPUT, ("K", "consistency_pa_sn", "Pa·sⁿ", "consistency at the temperature"),
                ("n", "flow_index", "1", "flow index"))
_FLOW_FIELDS = ("yield_pa", "consistency_pa_sn", "flow_index", "stiffening_per_k", "reference_c")


def _is_estimate(state):
    return any(field in state["estimates"] for field in _FLOW_FIELDS)


def _lengths_and_bores(sections):
    return [("lengths", given([section["length_m"] for section in sections], "m", "length of each pipe")),
            ("bores", given([section["bore_mm"] for section in sections], "mm", "bore of each pipe"))]


def volume(document):
    """Volume of the whole line [cm³]."""
    sections = document["sections"]
    value = added_up([pi / 4 * section["bore_mm"] ** 2 * section["length_m"] for section in sections])
    return figure(value, "cm³", "sum(pi / 4 * bores ** 2 * lengths)", _lengths_and_bores(sections), "geometry")


def _states(document, sections, t_c):
    """(temperature [°C], lubricant at it) of each section when the system's ambient is t_c."""
    known = {}
    temperatures = [section_c(document, section, t_c) for section in sections]
    for own_c in temperatures:
        if own_c not in known:
            known[own_c] = lubricant_at(document["lubricant"], own_c)
    return [(own_c, known[own_c]) for own_c in temperatures]


def _flow_inputs(states, t_c, names):
    """Inputs that hold the lubricant's state: one number each where all pipes are as warm as the system, else one a pipe."""
    own = any([own_c != t_c for own_c, _ in states])
    estimate = _is_estimate(states[0][1])
    out = []
    for name, key, unit, means in names:
        values = [state[key] for _, state in states]
        out.append((name, given(values if own else values[0], unit, means, estimate)))
    if own:
        return out + [("t", given([own_c for own_c, _ in states], "°C", "temperature of each pipe"))]
    return out + [("t", given(t_c, "°C", "temperature"))]


def _drops(sections, delivery, states):
    """Node -> drop [Pa] along the pipe that feeds it. It grows with the length, so each bore is worked only once."""
    per_metre, out = {}, {}
    for section, (own_c, state) in zip(sections, states):
        bore = section["bore_mm"]
        if (bore, own_c) not in per_metre:
            per_metre[(bore, own_c)] = pressure_drop(delivery, bore / 1000, 1, state["yield_pa"], state["consistency_pa_sn"],
                                                     state["flow_index"])
        out[section["to"]] = per_metre[(bore, own_c)] * section["length_m"]
    return out


def _flow_error(sections, drops, delivery, states):
    """Greatest relative difference between the delivery and the flow that the found drops drive."""
    worst = 0.0
    for section, drop, (_, state) in zip(sections, drops, states):
        flow = flow_rate(drop, section["bore_mm"] / 1000, section["length_m"], state["yield_pa"],
                         state["consistency_pa_sn"], state["flow_index"])
        worst = max(worst, abs(flow / delivery - 1))
    return worst


def drops_to(document, t_c):
    """Node -> pressure [bar] from the pump to it, the whole delivery flowing there, at the system's ambient t_c [°C]."""
    each = _drops(document["sections"], document["pump"]["delivery_cm3_min"] / 60e6, _states(document, document["sections"], t_c))
    tree, total = Tree(document), {}
    for node in tree.order:
        total[node] = total[tree.section[node]["from"]] + each[node] / PA_PER_BAR if node in each else 0.0
    return total


def drop(document, t_c):
    """Pressure from the pump to the device with the greatest drop [bar], the whole delivery flowing all the way.

    t_c is the system's ambient; a section with an ambient of its own is as warm as warmth.section_c says. The figure has
    `at`, the node. Source: HERSCHEL_BULKLEY.
    """
    tree, delivery = Tree(document), document["pump"]["delivery_cm3_min"] / 60e6
    each = _drops(document["sections"], delivery, _states(document, document["sections"], t_c))
    total = {}
    for node in tree.order:
        total[node] = total[tree.section[node]["from"]] + each[node] if node in each else 0.0
    worst = max([device["at"] for device in document["devices"]], key=lambda node: total[node])
    sections = tree.way(worst)
    states = _states(document, sections, t_c) or [(t_c, lubricant_at(document["lubricant"], t_c))]
    drops = [each[section["to"]] for section in sections]
    out = figure(total[worst] / PA_PER_BAR, "bar", "sum(drops)", [
        ("drops", given([value / PA_PER_BAR for value in drops], "bar", "drop along each pipe on the way"))]
        + _lengths_and_bores(sections) + [
        ("delivery", given(document["pump"]["delivery_cm3_min"], "cm³/min", "the pump's whole delivery"))]
        + _flow_inputs(states, t_c, _FLOW_INPUTS),
        HERSCHEL_BULKLEY, method="iterated",
        residual={"says": "flow through each pipe at its drop, against the delivery",
                  "value": _flow_error(sections, drops, delivery, states), "limit": 1e-6})
    out["at"] = worst
    return out


def locked_pressures(document, t_c):
    """Node -> most pressure that can stay locked in there after venting [bar], at the system's ambient t_c [°C]."""
    tree, locked = Tree(document), {}
    states = {section["to"]: state for section, (_, state) in zip(
        document["sections"], _states(document, document["sections"], t_c))}
    for node in tree.order:
        section = tree.section.get(node)
        locked[node] = 0.0 if section is None else locked[section["from"]] + yield_drop(
            section["length_m"], section["bore_mm"] / 1000, states[node]["yield_pa"]) / PA_PER_BAR
    return locked


def residual(document, t_c):
    """Pressure left at the worst node after venting to rest [bar]; the figure has `at`, the node. Source: FORCE_BALANCE."""
    locked, tree = locked_pressures(document, t_c), Tree(document)
    worst = max(tree.order, key=lambda node: (locked[node], tree.distance[node]))
    sections = tree.way(worst)
    tau_y, t = _flow_inputs(_states(document, sections, t_c), t_c, [_YIELD_INPUT])
    own = isinstance(t[1]["value"], list)
    formula = "4 * %s / (bores / 1000)) / 1e5" % ("sum(tau_y * lengths" if own else "tau_y * sum(lengths")
    out = figure(locked[worst], "bar", formula, [tau_y] + _lengths_and_bores(sections) + [t], FORCE_BALANCE)
    out["at"] = worst
    return out


def lowest_venting_temperature(document, locked_bar, allowed_bar, t_c):
    """Temperature [°C] at which what is locked in (locked_bar at t_c) falls to allowed_bar; None where nothing stiffens, or so
    little that no temperature does it.

    From the yield's growth with cold, exp(stiffening · (reference − t)).
    """
    stiffening = document["lubricant"].get("stiffening_per_k")
    if stiffening is None:
        stiffening = DEFAULTS["stiffening_per_k"]
    if not stiffening > 0 or not locked_bar > 0 or not allowed_bar > 0:
        return None
    reached = t_c + log(locked_bar / allowed_bar) / stiffening
    return reached if _COLDEST_C < reached < _HOTTEST_C else None


def vents_down_to(document, node, allowed_bar, t_c):
    """The system's ambient [°C] at which what is locked in at a node falls to allowed_bar; None where nothing stiffens.

    From lowest_venting_temperature; by halving where pipes on the way are not as warm as the system.
    """
    first = lowest_venting_temperature(document, locked_pressures(document, t_c)[node], allowed_bar, t_c)
    if first is None or not any([section.get("ambient") for section in document["sections"]]):
        return first
    low, high = first - _REACH_K, first + _REACH_K
    while high - low > 1e-6:
        middle = (low + high) / 2
        if locked_pressures(document, middle)[node] > allowed_bar:
            low = middle
        else:
            high = middle
    return high
