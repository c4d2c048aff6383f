"""`python -m tests.benchmarks.draws [DRAWS] [SYSTEMS] [KIND]`: how many of seeded draws of the whole simulation a stated 80 % range
holds: build-ups of every kind, and until all has reset where a switch ends the build-up."""
import random
import sys

from tests.engine.systems import random_system
from webapp.engine.basics.kinds import BY_PRESSURE, KINDS, fitting
from webapp.engine.year import build_ups
from webapp.engine.year.sensitivity import sensitivity
from webapp.engine.events.simulate import moments, simulate
from webapp.engine.year.uncertainty import moved_by, uncertain
from webapp.engine.systems.worked import doses_from, work

FEWEST, MOST = 0.70, 0.90


def bare(seed, points=10, kind="single-line"):
    """A generated system; of every third one nothing is known of the lubricant but its grade."""
    document = random_system(seed, points, kind)
    if seed % 3 == 0:
        document["lubricant"] = {name: value for name, value in document["lubricant"].items()
                                 if name in ("nlgi", "v40_mm2_s", "v100_mm2_s")}
    return document


def drawn(document, at_c, draws, seed):
    """{figure: times [s]} of whole simulations with every estimate drawn from its spread; None where it never comes."""
    document = fitting(document)
    rng, inputs, doses = random.Random(seed), uncertain(document), doses_from(document, work(document))
    names = ["build.time_" + side for side in build_ups.sides(document)]
    out = {name: [] for name in names + ["vent.reset_"]}
    for _ in range(draws):
        moved = moved_by(document, inputs, [rng.gauss(0, 1) for _ in inputs])
        trace = simulate(build_ups.waiting(moved), doses, at_c)
        for name, end in zip(names, build_ups.times(moved, trace), strict=True):
            out[name].append(end)
        if document["kind"] in BY_PRESSURE:
            moment = moments(trace)
            out["vent.reset_"].append(None if moment["ready"] is None else moment["ready"] - moment["open"])
    return out


def held(times, low, high):
    """Share of drawn times that lie in a range; an end that is None never comes."""
    inside = [time for time in times if (time is None and high is None)
              or (time is not None and low is not None and time >= low and (high is None or time <= high))]
    return len(inside) / len(times)


def shares(document, draws, seed):
    """{path of a figure: (share held, low, high, share that never comes)} of a document's build-ups and resets."""
    out, known = {}, {}
    for row in sensitivity(document).get("ranges", []):
        if row["of"].startswith(("build.", "vent.")):
            when = "usual" if "usual" in row["of"] else "coldest"
            if when not in known:
                known[when] = drawn(document, document["ambient"][when + "_c"], draws, seed)
            times = known[when][row["of"].replace(when, "")]
            low, high = (end["value"] if end else None for end in (row["low"], row["high"]))
            out[row["of"]] = held(times, low, high), low, high, times.count(None) / draws
    return out


def main(draws=2000, systems=12, kind=None):
    """Print the table, and how many of the ranges keep the bar; where nothing ever comes there is no range to hold anything."""
    for name in [kind] if kind else KINDS:
        kept, told = {}, {}
        for seed in range(int(systems)):
            for of, (share, low, high, never) in shares(bare(seed, kind=name), int(draws), seed).items():
                room, judged = of.partition(".")[0], low is not None
                told[room] = told.get(room, 0) + judged
                kept[room] = kept.get(room, 0) + (judged and FEWEST <= share <= MOST)
                print("%s %3d %-22s %s to %s s, never %4.1f %%: holds %4.1f %%" % (name, seed, of, low, high, 100 * never, 100 * share),
                      flush=True)
        for room in told:
            print("%s, %s: %d of %d ranges hold %d to %d %% of %d draws" % (
                name, room, kept[room], told[room], 100 * FEWEST, 100 * MOST, int(draws)))


if __name__ == "__main__":
    main(*sys.argv[1:])
