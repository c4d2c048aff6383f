"""Control charts: individuals with moving range, EWMA, CUSUM, as the NIST/SEMATECH e-Handbook 6.3.2 works them. Plain numbers."""
from math import sqrt

from ..basics.adding import added_up
from ..basics.figure import InputError

HANDBOOK = "NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2"
# for ranges of two readings: mean range over standard deviation, and the upper limit of a range over the mean range
D2, D4 = 1.128, 3.267
WIDTH = 3
WEIGHT = 0.3


def mean(values):
    """Arithmetic mean of at least one number."""
    return added_up(values) / len(values)


def sample_sd(values):
    """Standard deviation of at least two numbers, by n - 1."""
    centre = mean(values)
    return sqrt(added_up([(value - centre) ** 2 for value in values]) / (len(values) - 1))


def ranges_of(values):
    """Moving ranges: by how much each number differs from the one before."""
    return [abs(b - a) for a, b in zip(values, values[1:])]


def individuals(values):
    """Individuals and moving-range chart of two or more numbers.

    Returns centre, sd (mean range over 1.128), lower and upper (3 sd either way), range_mean, range_upper (3.267 times it).
    Raises InputError for fewer than two. Source: HANDBOOK, 6.3.2.2. Departs from the source: nowhere.
    """
    if len(values) < 2:
        raise InputError("values", "needs at least two readings")
    centre, span = mean(values), mean(ranges_of(values))
    sd = span / D2
    return {"centre": centre, "sd": sd, "lower": centre - WIDTH * sd, "upper": centre + WIDTH * sd, "range_mean": span,
            "range_upper": D4 * span}


def ewma(values, target, sd):
    """Weighted mean that forgets: z = 0.3 x + 0.7 z, from the target on; its limits 3 of its own sd either way.

    Returns values, uppers (they widen from the first reading on), upper and lower (where they settle).
    Source: HANDBOOK, 6.3.2.4. Departs from the source: it shows the settled limits alone.
    """
    z, left, out, uppers = target, 1.0, [], []
    settled = WIDTH * sd * sqrt(WEIGHT / (2 - WEIGHT))
    for value in values:
        z = WEIGHT * value + (1 - WEIGHT) * z
        left *= (1 - WEIGHT) ** 2
        out.append(z)
        uppers.append(target + settled * sqrt(1 - left))
    return {"values": out, "uppers": uppers, "upper": target + settled, "lower": target - settled}


def summed(sums, value, target, slack):
    """The two sums (what lies above, what lies below the target by more than the slack) with one number more."""
    return max(0.0, sums[0] + value - target - slack), max(0.0, sums[1] + target - slack - value)


def cusum(values, target, slack, limit):
    """Sums of what lies above and below the target by more than the slack; a signal where one passes the limit.

    Returns high, low (lists) and signals, the numbers from 0 of all readings beyond the limit.
    Source: HANDBOOK, 6.3.2.3. Departs from the source: nowhere.
    """
    sums, out = (0.0, 0.0), {"high": [], "low": [], "signals": []}
    for number, value in enumerate(values):
        sums = summed(sums, value, target, slack)
        out["high"].append(sums[0])
        out["low"].append(sums[1])
        if max(sums) > limit:
            out["signals"].append(number)
    return out
