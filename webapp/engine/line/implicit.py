"""One implicit step of the line model: mass balance at every cell, Newton on the tree, leaves eliminated to the pump."""
from .grid import ATMOSPHERE_PA, CAVITY_PER_PA, PARTS_PA

# the last round's change; Newton squares it, so what is left moves no trip time by 1e-4
_CLOSE_PA = 1000.0
_MOST_ROUNDS = 60
# a change of ten million bar comes from a step that does not close: the next round's powers would not be numbers
_RUNS_AWAY_PA = 1e12
# a wall stress that moves nothing, yet is so far above 0 that its third power is a number
_STANDS_PA = 1e-60


def step(grid, old, guess, dt, taken, feed, inflow, openings, at_rest):
    """Pressures [Pa] after dt [s], or None where Newton did not close.

    old       pressures before; guess: where Newton starts
    taken     m³ taken from each cell during the step
    inflow    m³/s into the cell `feed`
    openings  what leaves by pressure: (cell, m³/(s·Pa), gauge pressure from which on it flows [Pa]; 0: a hole, through
              which it comes back as well)
    at_rest   True: the first cell is held at rest, a vent wide open
    """
    parent, wall, carry = grid.parent, grid.wall, grid.carry
    soft, air, room, tau_y, m = grid.soft, grid.air, grid.room, grid.yield_pa, grid.exponent
    p0, n = ATMOSPHERE_PA, len(old)
    a3, a2, a1 = 1 / (m + 3), 2 * tau_y / (m + 2), tau_y * tau_y / (m + 1)
    p = guess[:]
    held = [stored - gone for stored, gone in zip(grid.stored_each(old), taken)]
    diagonal, right, tie = [0.0] * n, [0.0] * n, [0.0] * n
    for _ in range(_MOST_ROUNDS):
        for i in range(n):
            pi_ = p[i]
            if pi_ > PARTS_PA:
                share = air[i] / (pi_ + p0)
                diagonal[i] = soft[i] + share * p0 / (pi_ + p0)
                right[i] = held[i] - soft[i] * pi_ - share * pi_
            else:
                diagonal[i] = soft[i] + room[i] * CAVITY_PER_PA
                right[i] = held[i] - grid.stored_in(i, pi_)
        right[feed] += inflow * dt
        for cell, rate, opens in openings:
            if not opens or p[cell] > opens:
                diagonal[cell] += rate * dt
                right[cell] -= rate * dt * (p[cell] - opens)
        for i in range(n - 1, 0, -1):
            up = parent[i]
            drop = p[up] - p[i]
            w = wall[i] * (drop if drop > 0 else -drop)
            e = w - tau_y
            if e > _STANDS_PA:
                sheared = carry[i] * e ** m
                flow = sheared * e * ((e * a3 + a2) * e + a1) / (w * w * w)
                g = (sheared - 3 * flow) / w * wall[i] * dt
                flow = flow * dt if drop > 0 else -flow * dt
                right[i] += flow
                right[up] -= flow
                tie[i] = g
                di = diagonal[i] = diagonal[i] + g
                diagonal[up] += g - g * g / di
                right[up] += g * right[i] / di
            else:
                tie[i] = 0.0
        worst = _update(p, diagonal, right, tie, parent, at_rest)
        if worst < _CLOSE_PA:
            return p
        if worst > _RUNS_AWAY_PA:
            return None
    return None


def _update(p, diagonal, right, tie, parent, at_rest):
    """Apply one Newton round from the pump outwards; returns the greatest change [Pa]."""
    change = [0.0] * len(p)
    worst = 0.0
    for i in range(len(p)):
        if i:
            x = (right[i] + tie[i] * change[parent[i]]) / diagonal[i]
        else:
            x = -p[0] if at_rest else right[0] / diagonal[0]
        change[i] = x
        size = x if x > 0 else -x
        if size > worst:
            worst = size
        p[i] += x
    return worst
