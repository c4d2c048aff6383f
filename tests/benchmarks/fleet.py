"""`python -m tests.benchmarks.fleet [SYSTEMS] [TEMPERATURE]`: a fleet check over generated systems of all kinds: a table, no test.

CPU time is user and system time of all processes: what the check costs, whoever else is at the machine.
"""
import resource
import sys
from time import perf_counter

from webapp.fleet import Check, counted, sorted_out

from ..engine.systems import any_system
from .machine import machine

SYSTEMS, AT_C = 10_000, -12.0
_BAR_S = 120.0


def _cpu():
    return sum(usage.ru_utime + usage.ru_stime for usage in map(resource.getrusage, (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)))


def lines(count, at_c):
    """Lines of the table."""
    check = Check({str(seed): any_system(seed) for seed in range(count)}, at_c)
    cpu, start = _cpu(), perf_counter()
    check.run()
    wall, cpu = perf_counter() - start, _cpu() - cpu
    groups, by = sorted_out(check.verdicts), counted(check.verdicts)
    yield "%d generated systems of four kinds at %g °C: %d will not work, %d will, %d cannot be judged" % (
        count, at_c, len(groups["fails"]), len(groups["works"]), len(groups["apart"]))
    yield "  decided by closed forms %d (%.0f %%), simulated %d" % (by["closed"], 100 * by["closed"] / count, by["simulated"])
    yield "  from start to answer %.1f s; CPU time of all processes %.1f s, %.1f ms a system" % (wall, cpu, 1000 * cpu / count)
    bar = _BAR_S * count / SYSTEMS
    yield "  bar for so many: %.0f s from start to answer   %s" % (bar, "kept" if wall <= bar else "missed")


def main():
    print(machine(), flush=True)
    for line in lines(int(sys.argv[1]) if len(sys.argv) > 1 else SYSTEMS, float(sys.argv[2]) if len(sys.argv) > 2 else AT_C):
        print(line, flush=True)


if __name__ == "__main__":
    main()
