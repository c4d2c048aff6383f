"""`python -m tests.benchmarks.draws [DRAWS] [SYSTEMS]`: how many of seeded draws of the whole simulation a stated 80 % range holds."""
import random
import sys

from tests.engine.systems import random_system
from webapp.engine.year.sensitivity import sensitivity
from webapp.engine.events.simulate import simulate
from webapp.engine.year.uncertainty import moved_by, uncertain
from webapp.engine.systems.worked import doses_from, work

FEWEST, MOST = 0.70, 0.90


def bare(seed, points=10):
    """A generated system; of every third one nothing is known of the lubricant but its grade."""
    document = random_system(seed, points)
    if seed % 3 == 0:
        document["lubricant"] = {name: value for name, value in document["lubricant"].items()
                                 if name in ("nlgi", "v40_mm2_s", "v100_mm2_s")}
    return document


def drawn(document, at_c, draws, seed):
    """Build-ups [s] of whole simulations with every estimate drawn from its spread; None where the switch never trips."""
    rng, inputs, doses = random.Random(seed), uncertain(document), doses_from(document, work(document))
    return [simulate(moved_by(document, inputs, [rng.gauss(0, 1) for _ in inputs]), doses, at_c)["trip_s"][0] for _ in range(draws)]


def held(times, low, high):
    """Share of drawn build-ups that lie in a range; an end that is None never comes."""
    inside = [time for time in times if (time is None and high is None)
              or (time is not None and low is not None and time >= low and (high is None or time <= high))]
    return len(inside) / len(times)


def shares(document, draws, seed):
    """{temperature: (share held, low, high, share that never trips)} of a document's build-ups."""
    out = {}
    for row in sensitivity(document).get("ranges", []):
        section, _, when = row["of"].rpartition("time_")
        if section == "build.":
            times = drawn(document, document["ambient"][when + "_c"], draws, seed)
            low, high = (end["value"] if end else None for end in (row["low"], row["high"]))
            out[when] = held(times, low, high), low, high, times.count(None) / draws
    return out


def main(draws=2000, systems=12):
    """Print the table, and how many of the ranges keep the bar; where nothing ever trips there is no range to hold anything."""
    kept = told = 0
    for seed in range(int(systems)):
        for when, (share, low, high, never) in shares(bare(seed), int(draws), seed).items():
            judged = low is not None
            told, kept = told + judged, kept + (judged and FEWEST <= share <= MOST)
            print("%3d %-8s %s to %s s, never %4.1f %%: holds %4.1f %%" % (seed, when, low, high, 100 * never, 100 * share), flush=True)
    print("%d of %d ranges hold %d to %d %% of %d draws" % (kept, told, 100 * FEWEST, 100 * MOST, int(draws)))


if __name__ == "__main__":
    main(*sys.argv[1:])
