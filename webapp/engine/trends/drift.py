"""Tells a drift from the seasons: every reading is judged by a reference that learns from the readings before it.

The reference is a level, a slope and a bend over temperature, each uncertain, worked anew with every reading (recursive
least squares). How far a reading lies from what they foretell, over how sure that is, does not depend on the readings
before while nothing changes (recursive residuals: Brown, Durbin, Evans, J. R. Stat. Soc. B 37 (1975) 149-192, from memory).
So a CUSUM of these numbers calls as rarely in the first winter, when the cold is new to it, as in the second.
"""
from math import sqrt

from ..basics.adding import added_up
from .charts import summed

# so many readings are learnt from before the first call
LEARNING = 10
# in deviations of a reading. Tried on seeded histories of two years: half a call in a hundred healthy ones
SLACK, LIMIT = 0.75, 8.0
# a reading counts at most so many deviations: several must agree before a call
MOST = 4.0
# a call is over when two readings in a row lie nearer than this
BACK = 2.0
# what is known before the first reading, as deviations of a logarithm: nothing of the level; of what the line model leaves
# over 2 % in 10 K and 0.6 % bend. Estimates
_UNKNOWN = (1.0, 0.02, 0.006)
# how far readings scatter beyond their known noise: "not at all" weighs as much as so many readings
_PRIOR_WEIGHT = 6.0


class Reference:
    """What readings should be: terms (1, x, x²) times `parts`; x in tens of K from the reference temperature."""

    def __init__(self, other=None):
        """Nothing known, or a copy of another reference."""
        self.parts, self.squares, self.weight = [0.0, 0.0, 0.0], _PRIOR_WEIGHT, _PRIOR_WEIGHT
        self.variances = [[sd * sd if row == column else 0.0 for column in range(3)] for row, sd in enumerate(_UNKNOWN)]
        if other:
            self.parts, self.squares, self.weight = other.parts[:], other.squares, other.weight
            self.variances = [row[:] for row in other.variances]

    def expected(self, x):
        return self.parts[0] + self.parts[1] * x + self.parts[2] * x * x

    def judge(self, x, y, noise, learn):
        """How many deviations y lies from what is expected at x, at most MOST either way; then learn from it, or not.

        noise: deviation of y that is known beforehand.
        """
        terms = (1.0, x, x * x)
        shared = [added_up([part * term for part, term in zip(row, terms)]) for row in self.variances]
        variance = added_up([part * term for part, term in zip(shared, terms)]) + noise * noise
        wide = sqrt(variance * self.squares / self.weight)
        off = min(MOST, max(-MOST, (y - self.expected(x)) / wide))
        if learn:
            for row in range(3):
                self.parts[row] += shared[row] / variance * off * wide
                for column in range(3):
                    self.variances[row][column] -= shared[row] * shared[column] / variance
            self.squares += off * off * self.squares / self.weight
            self.weight += 1
        return off


class Watch:
    """Goes through readings in order. `offs`, `sums` of each; `calls` [{"at", "since", "rises", "over"}] by numbers of readings.

    `since` is the first reading of the drift, `over` the second one back at the reference, None while the call stands. With a
    call the reference forgets what it learnt from the drift.
    """

    def __init__(self, readings):
        """readings: [(x, y, noise)] as Reference.judge takes them; y without the level of the first."""
        self.reference, self.offs, self.sums, self.calls = Reference(), [], [], []
        self.starts, self._before = [0, 0], []
        for number, reading in enumerate(readings):
            self._take(number, *reading)

    def standing(self):
        """The call that stands, or None."""
        return self.calls[-1] if self.calls and self.calls[-1]["over"] is None else None

    def normal(self):
        """Numbers of the readings that belong to no drift that was called."""
        return [number for number in range(len(self.offs))
                if not any([call["since"] <= number < (len(self.offs) if call["over"] is None else call["over"])
                            for call in self.calls])]

    def _take(self, number, x, y, noise):
        call = self.standing()
        self._before.append(Reference(self.reference))
        self.offs.append(self.reference.judge(x, y, noise, call is None))
        if call:
            self.sums.append((0.0, 0.0))
            if max(abs(self.offs[-1]), abs(self.offs[-2])) < BACK:
                call["over"] = number
            return
        sums = (0.0, 0.0)
        if number >= LEARNING:
            sums = summed(self.sums[-1], self.offs[-1], 0.0, SLACK)
        self.sums.append(sums)
        self.starts = [start if total > 0 else number + 1 for start, total in zip(self.starts, sums)]
        if max(sums) > LIMIT:
            rises = sums[0] > sums[1]
            since = self.starts[0 if rises else 1]
            self.calls.append({"at": number, "since": since, "rises": rises, "over": None})
            self.reference, self.starts = self._before[since], [number + 1, number + 1]
