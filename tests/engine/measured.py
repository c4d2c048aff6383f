"""Seeded readings, all invented: what the simulator answers for a line that is not as entered, with a stopwatch and a gauge."""
import math
import random

from webapp.engine.lubricants.lubricant import DEFAULTS, OIL, lubricant_at
from webapp.engine.events.simulate import moments, simulate
from webapp.engine.line.tree import PUMP, Tree

from .histories import doses_of, systems

STOPWATCH_S, GAUGE_BAR, CUP = 0.3, 0.3, 0.02


def case(seed):
    """(document, readings, truth by the fit's names) of a seed; None where its switch never trips."""
    rng = random.Random(seed)
    document = systems()[seed % len(systems())]
    there, truth = _hidden(document, rng)
    leak = {"leaks": [(rng.choice([section["to"] for section in document["sections"]]), 0, truth["leak"])]}
    readings = []
    for _ in range(rng.randint(1, 2)):
        at_c = document["ambient"]["usual_c"] + rng.uniform(-10, 10)
        readings.append(_reading(document, there, leak, at_c, rng))
    return (document, readings, truth) if all(readings) else None


def _hidden(document, rng):
    """The line as it is, and what the fit should find."""
    lubricant = document["lubricant"]
    reference = DEFAULTS["reference_c"] if lubricant.get("reference_c") is None else lubricant["reference_c"]
    stiffening = DEFAULTS["stiffening_per_k"] if lubricant.get("stiffening_per_k") is None else lubricant["stiffening_per_k"]
    state, delivery = lubricant_at(lubricant, reference), document["pump"]["delivery_cm3_min"] * math.exp(rng.gauss(0, 0.12))
    truth = {"air_fraction": max(0.002, state["air_fraction"]) * math.exp(rng.gauss(0, 0.5)), "delivery": delivery,
             "yield_pa": state["yield_pa"] * math.exp(rng.gauss(0, 0.4)),
             "leak": rng.choice([0, 0.2]) * rng.random() * delivery / document["switches"][0]["trips_bar"]}
    there = dict(lubricant, air_fraction=truth["air_fraction"])
    if lubricant["nlgi"] != OIL:
        there.update(yield_pa=truth["yield_pa"], flow_index=state["flow_index"], reference_c=reference,
                     consistency_pa_sn=state["consistency_pa_sn"] * math.exp(rng.gauss(0, 0.2)),
                     stiffening_per_k=stiffening * math.exp(rng.gauss(0, 0.15)))
    return dict(document, lubricant=there, pump=dict(document["pump"], delivery_cm3_min=delivery)), truth


def _reading(document, there, leak, at_c, rng):
    """Readings at one temperature: build-up always, each of the others often."""
    doses = doses_of(document)
    trace = simulate(there, doses, at_c, faults=leak)
    moment, tripped = moments(trace), trace["trip_s"][0]
    if tripped is None:
        return None
    reading = {"at_c": at_c, "build_s": [tripped + rng.gauss(0, STOPWATCH_S) for _ in range(3)]}
    if rng.random() < 0.7 and moment["ready"] is not None:
        vent = moment["ready"] - moment["open"]
        reading["vent_s"] = [max(0.1, vent + rng.gauss(0, STOPWATCH_S)) for _ in range(3)]
    if rng.random() < 0.7 and there["lubricant"]["nlgi"] != OIL:
        reading["residual_bar"] = [_residual(there, at_c, rng)]
    if rng.random() < 0.5:
        reading["delivery_cm3_min"] = there["pump"]["delivery_cm3_min"] * rng.gauss(1, CUP)
    if rng.random() < 0.4:
        reading["held"] = held(there, at_c, leak, doses)
        reading["held"]["bar"] += rng.gauss(0, GAUGE_BAR)
    return reading


def held(there, at_c, faults, doses):
    """Pressure at the pump about a minute after it stopped, the vent held shut: the last sample of that minute."""
    trace = simulate(there, doses, at_c, faults=dict(faults, vent=0.0))
    stopped = trace["trip_s"][0]
    samples = zip(trace["time_s"], trace["pressure_bar"][PUMP], strict=True)
    at, bar = [sample for sample in samples if sample[0] <= stopped + 60][-1]
    return {"after_s": at - stopped, "bar": bar}


def _residual(there, at_c, rng):
    """What stays at the far end: the yield's force balance, which the simulation's rest state is tested against."""
    tree = Tree(there)
    far = max(tree.order, key=lambda node: (tree.distance[node], node))
    ways = sum(section["length_m"] / section["bore_mm"] * 1000 for section in tree.way(far))
    left = 4 * lubricant_at(there["lubricant"], at_c)["yield_pa"] * ways / 1e5
    return {"at": far, "bar": max(0.0, left + rng.gauss(0, GAUGE_BAR))}
