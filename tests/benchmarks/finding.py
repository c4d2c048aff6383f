"""Fault finding on seeded cases, all invented: how often the true cause is first, and how soon it is found.

Time to find: the stated minutes of the checks up to and with the true cause's, each taken to find what is there. Compared with a fixed
order: the same rule (likely, quick, safe first) by the weights of the trade alone, as somebody works who takes no readings.

    python -m tests.benchmarks.finding [CASES [KIND [FIRST]]]

The cases from seed 0 on judge; whoever works at the expectations takes others, from another FIRST seed on.
"""
import sys
from collections import OrderedDict
from time import process_time

from webapp.engine.causes.diagnose import Case, finish, worth
from webapp.engine.causes.prior import CAUSES, prior

from webapp.engine.basics.kinds import KINDS, SINGLE

from ..engine.seeded_faults import case, faults_of

CASES = 400


def _minutes(order, name):
    return sum(CAUSES[one].minutes for one in order[:order.index(name) + 1])


def found(seed, kind=SINGLE):
    """(true cause, its place in the order from 0, by likelihood alone, minutes in this order, in the fixed order) of a case."""
    document, worked, readings, name, _ = case(seed, kind)
    causes = finish(Case(document, readings, worked))["causes"]
    order = [entry["fault"] for entry in causes]
    likely = [entry["fault"] for entry in sorted(causes, key=lambda entry: -entry["likelihood"])]
    shares = prior(document, [])
    fixed = sorted(shares, key=lambda one: -worth(one, shares[one]))
    return name, order.index(name), likely.index(name), _minutes(order, name), _minutes(fixed, name)


def figures(rows):
    """Shares first and among the first three, in the order of checks and by likelihood; minutes to find, here and in the fixed order."""
    count = float(len(rows))
    return OrderedDict((
        ("first", sum(row[1] == 0 for row in rows) / count), ("three", sum(row[1] < 3 for row in rows) / count),
        ("first by likelihood", sum(row[2] == 0 for row in rows) / count),
        ("three by likelihood", sum(row[2] < 3 for row in rows) / count),
        ("minutes", sum(row[3] for row in rows) / count), ("minutes in the fixed order", sum(row[4] for row in rows) / count)))


def table(count=CASES, kind=SINGLE, first=0):
    """Lines of the benchmark for one kind of system."""
    start = process_time()
    rows = [found(seed, kind) for seed in range(first, first + count)]
    got = figures(rows)
    yield "Fault finding, %s, %d seeded cases from %d on, %.0f s of one core" % (kind, count, first, process_time() - start)
    yield "  true cause first in the order of checks        %5.1f %%   >= 60" % (100 * got["first"])
    yield "  among the first three                          %5.1f %%   >= 90" % (100 * got["three"])
    yield "  likeliest; among the three likeliest           %5.1f %%; %.1f %%" % (
        100 * got["first by likelihood"], 100 * got["three by likelihood"])
    yield "  minutes to find it, in the fixed order, ratio  %5.1f; %.1f; %.2f   <= 0.50" % (
        got["minutes"], got["minutes in the fixed order"], got["minutes"] / got["minutes in the fixed order"])
    for name in faults_of(kind):
        of = [row for row in rows if row[0] == name]
        if of:
            yield "    %-8s first %3.0f %%, three %3.0f %%" % (name, 100 * figures(of)["first"], 100 * figures(of)["three"])


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else CASES
    first = int(sys.argv[3]) if len(sys.argv) > 3 else 0
    for kind in sys.argv[2:3] or KINDS:
        for line in table(count, kind, first):
            print(line, flush=True)


if __name__ == "__main__":
    main()
