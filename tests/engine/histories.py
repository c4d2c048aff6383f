"""Seeded histories of rounds, all invented: what the simulator answers for a plant that is not quite as entered, read by hand.

The plant behind a history differs from its document as documents do: its lubricant is stiffer or softer, stiffens otherwise in
the cold, holds more or less air, its pump gives a little more or less, and its build-up has a slope of its own over temperature
that the line model knows nothing of. A stopwatch adds 0.3 s, a thermometer 1 K and whole degrees.
"""
import math
import random
from datetime import date, timedelta
from functools import lru_cache

from demo_site import plant
from webapp.engine.lubricants.lubricant import OIL, lubricant_at
from webapp.engine.events.simulate import simulate
from webapp.engine.systems.worked import doses_from, work

from .systems import plain_system, random_system

STOPWATCH_S, THERMOMETER_K = 0.3, 1.0
TWO_YEARS = 104


@lru_cache(maxsize=1)
def systems():
    """Systems that build up over their whole ambient range: the demo plant's and generated ones."""
    documents = [plant.head_rig(), plant.sorter_chain(), plant.planer_feed(), plain_system()]
    documents += [random_system(seed, 10) for seed in range(5, 30)]
    return [document for document in documents
            if all(build_up(document, document["ambient"][name]) for name in ("coldest_c", "usual_c", "hottest_c"))]


def build_up(document, at_c, doses=None):
    """Simulated build-up [s]; None where the switch never trips."""
    return simulate(document, doses or doses_of(document), at_c)["trip_s"][0]


def doses_of(document):
    return doses_from(document, work(document, False))


def hidden(document, rng):
    """The plant as it is, which its document only estimates."""
    lubricant = dict(document["lubricant"])
    state = lubricant_at(lubricant, 20)
    lubricant["air_fraction"] = max(0.001, state["air_fraction"] * math.exp(rng.gauss(0, 0.4)))
    if lubricant["nlgi"] != OIL:
        stiff = math.exp(rng.gauss(0, 0.3))
        lubricant.update(reference_c=20, yield_pa=state["yield_pa"] * stiff, stiffening_per_k=0.028 * rng.uniform(0.6, 1.4),
                         consistency_pa_sn=state["consistency_pa_sn"] * stiff * math.exp(rng.gauss(0, 0.2)))
    pump = dict(document["pump"], delivery_cm3_min=document["pump"]["delivery_cm3_min"] * math.exp(rng.gauss(0, 0.05)))
    return dict(document, lubricant=lubricant, pump=pump)


def temperatures(document, rng, count):
    """One a week, in whole degrees: winter and summer as far apart as the ambient allows, and weather on top."""
    coldest, hottest = document["ambient"]["coldest_c"], document["ambient"]["hottest_c"]
    begins, weather, out = rng.uniform(0, 2 * math.pi), 0.0, []
    for week in range(count):
        weather = 0.5 * weather + rng.gauss(0, 3)
        season = math.cos(2 * math.pi * week / 52 + begins)
        out.append(round((coldest + hottest) / 2 + 0.35 * (hottest - coldest) * season + weather))
    return out


def history(document, seed, count=TWO_YEARS, onset=None, growth=0.02):
    """Readings of `count` weekly rounds; from round `onset` on the pump gives less and less, `growth` longer a week."""
    rng = random.Random(seed)
    there, doses, slope = hidden(document, rng), doses_of(document), rng.gauss(0, 0.0005)
    known, readings = {}, []
    for week, at_c in enumerate(temperatures(document, rng, count)):
        longer = 1 + growth * max(0, week - onset) if onset is not None else 1
        if (longer, at_c) not in known:
            worn = dict(there, pump=dict(there["pump"], delivery_cm3_min=there["pump"]["delivery_cm3_min"] / longer))
            known[longer, at_c] = build_up(worn, at_c, doses)
        if known[longer, at_c] is None:
            return None
        seconds = known[longer, at_c] * math.exp(slope * (at_c - 15))
        readings.append({"at": (date(2024, 1, 8) + timedelta(weeks=week)).isoformat(),
                         "build_s": max(0.1, round(seconds + rng.gauss(0, STOPWATCH_S), 1)),
                         "at_c": round(at_c + rng.gauss(0, THERMOMETER_K))})
    return readings


def seeded(first, count, faulty=False):
    """`count` of (document, readings, onset), each of another system and seed; one whose switch never trips is passed over."""
    out, seed = [], first
    while len(out) < count:
        document = systems()[seed % len(systems())]
        onset = random.Random(seed).randint(20, 96) if faulty else None
        readings = history(document, seed, TWO_YEARS if onset is None else onset + 7, onset)
        if readings:
            out.append((document, readings, onset))
        seed += 1
    return out
