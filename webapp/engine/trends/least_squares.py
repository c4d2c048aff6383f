"""Unknowns from readings: damped Gauss-Newton, numeric derivatives, each unknown held near 0 by a deviation of 1."""
from math import sqrt
from ..basics.adding import added_up

_STEP = 0.15
_CLOSE = 0.02
# after a step that short the derivatives still hold
_SHORT = 0.3
_MOST_ROUNDS = 8
_MOST_TRIES = 5
_FIRST_DAMPING = 0.1


def solved(matrix, right):
    """x of matrix x = right: elimination with the largest pivot. The matrix must not be singular."""
    rows = [row[:] + [value] for row, value in zip(matrix, right)]
    n = len(rows)
    for column in range(n):
        best = max(range(column, n), key=lambda row: (abs(rows[row][column]), -row))
        rows[column], rows[best] = rows[best], rows[column]
        for row in range(column + 1, n):
            share = rows[row][column] / rows[column][column]
            rows[row] = [a - share * b for a, b in zip(rows[row], rows[column])]
    out = [0.0] * n
    for row in range(n - 1, -1, -1):
        known = added_up([rows[row][k] * out[k] for k in range(row + 1, n)])
        out[row] = (rows[row][n] - known) / rows[row][row]
    return out


def inverse(matrix):
    """The inverse of a symmetric matrix."""
    n = len(matrix)
    return [solved(matrix, [1.0 if row == column else 0.0 for row in range(n)]) for column in range(n)]


class Fit:
    """`z` the unknowns in deviations of what was known of them, `covariance` what the readings leave of it, `misfits` at z.

    misfits   function of z: list of (predicted - measured) / deviation
    lows      lowest allowed z of each unknown, None where there is none
    """

    def __init__(self, misfits, lows):
        self.work, self.lows = misfits, lows
        self.z, self.damping = [0.0] * len(lows), 0.0
        self.misfits, self.step = misfits(self.z), None
        for _ in range(_MOST_ROUNDS):
            self._round()
            if self.step < _CLOSE:
                break
        self.covariance = inverse(self._normal)

    def deviations(self):
        """What is left of each unknown's deviation, 1 where the readings say nothing of it."""
        return [sqrt(self.covariance[i][i]) for i in range(len(self.z))]

    def correlation(self, i, j):
        """How two unknowns are tied: near 1 where only their difference is known, near -1 where only their sum is."""
        return self.covariance[i][j] / sqrt(self.covariance[i][i] * self.covariance[j][j])

    def _round(self):
        """One change of z that makes the sum of squares smaller; damped the more, the less it did at first."""
        before = _squares(self.z, self.misfits)
        if self.step is None or self.step > _SHORT:
            self._differentiate()
        pull = [-_product(slope, self.misfits) - part for slope, part in zip(self._slopes, self.z)]
        for _ in range(_MOST_TRIES):
            z = self._moved(pull)
            misfits = self.work(z)
            if _squares(z, misfits) < before:
                self.step = max([abs(a - b) for a, b in zip(z, self.z)])
                self.z, self.misfits, self.damping = z, misfits, self.damping / 10
                return
            self.damping = max(_FIRST_DAMPING, 10 * self.damping)
        self.step = 0.0

    def _differentiate(self):
        n = len(self.z)
        slopes = self._slopes = [self._slope(i) for i in range(n)]
        self._normal = [[_product(slopes[i], slopes[j]) + (1.0 if i == j else 0.0) for j in range(n)] for i in range(n)]

    def _slope(self, i):
        z = self.z[:]
        z[i] += _STEP
        return [(b - a) / _STEP for a, b in zip(self.misfits, self.work(z))]

    def _moved(self, pull):
        """z after one damped step; an unknown that would leave its range stays at its end."""
        free = [i for i in range(len(self.z)) if not (self.lows[i] is not None and self.z[i] <= self.lows[i] and pull[i] < 0)]
        moves = solved([[self._normal[i][j] * (1 + self.damping if i == j else 1) for j in free] for i in free],
                       [pull[i] for i in free])
        z = self.z[:]
        for i, move in zip(free, moves):
            z[i] = z[i] + move if self.lows[i] is None else max(self.lows[i], z[i] + move)
        return z


def _product(a, b):
    return added_up([x * y for x, y in zip(a, b)])


def _squares(z, misfits):
    return _product(z, z) + _product(misfits, misfits)
