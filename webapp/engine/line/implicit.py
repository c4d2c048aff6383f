"""One implicit step of the line model: mass balance at every cell, Newton on the tree, leaves eliminated to the pump.

Written for the phone's interpreter: there an index costs less than `zip`, and a comparison in a loop less than `max` of a list.
"""
from .grid import ATMOSPHERE_PA, CAVITY_PER_PA, PARTS_PA

# the last round may change so much of the highest absolute pressure: where all is low, little is much
_CLOSE_SHARE = 0.01
# short of lubricant, a cell's pressure says little of what it holds
_SHORT_PA, _CLOSE_WHERE_SHORT_PA = -1e4, 1.0
_MOST_ROUNDS = 60
# a change of ten million bar comes from a step that does not close: the next round's powers would not be numbers
_RUNS_AWAY_PA = 1e12
# a wall stress that moves nothing, yet is so far above 0 that its power is a number
_STANDS_PA = 1e-60


def step(grid, held, guess, dt, feed, inflow, openings, vented, close):
    """(pressures after dt [Pa], what the cells then hold), dt in s, or None where Newton did not close.

    held      m³ pressed into each cell before, less its free air, less what is taken from it during the step; as it is returned
    guess     pressures where Newton starts
    inflow    m³/s into the cell `feed`
    openings  what leaves by pressure: (cell, m³/(s·Pa), gauge pressure from which on it flows [Pa]; 0: a hole, through
              which it comes back as well)
    vented    True: the first cell is held at no pressure, a vent wide open
    close     the last round's greatest change [Pa]; what it leaves over in a cell's balance goes into the next step: nothing is lost
    """
    given = held[:]
    given[feed] += inflow * dt
    p = guess
    for _ in range(_MOST_ROUNDS):
        slope, right = grid.soft[:], given[:]
        for cell, rate, opens in openings:
            if not opens or p[cell] > opens:
                slope[cell] += rate * dt
                right[cell] -= rate * dt * (p[cell] - opens)
        tie = _to_the_pump(grid, p, dt, slope, right)
        if vented:
            right[0] = -p[0]
        fresh, worst = _outwards(p, grid.ways, tie, right)
        if worst < close and _is_close(worst, fresh):
            return fresh, _holds(grid, p, fresh)
        if worst > _RUNS_AWAY_PA:
            return None
        p = fresh
    return None


def _is_close(worst, p):
    """True where it is so by the pressures, too, that a round ended at."""
    if worst > _CLOSE_SHARE * ATMOSPHERE_PA and worst > _CLOSE_SHARE * (max(p) + ATMOSPHERE_PA):
        return False
    return worst < _CLOSE_WHERE_SHORT_PA or min(p) > _SHORT_PA


def _to_the_pump(grid, p, dt, slope, right):
    """One round at p: makes each cell's change of pressure right + tie · that of the cell it is fed from; returns tie.

    slope  what each cell holds or loses more per Pa [m³/Pa], its gas apart
    right  what it still has to take up [m³], all that it holds at p apart
    """
    parent, wall, carry, soft, gas = grid.parent, grid.wall, grid.carry, grid.soft, grid.gas
    tau_y, m, p0, parts, stands = grid.yield_pa, grid.exponent, ATMOSPHERE_PA, PARTS_PA, _STANDS_PA
    # three times the flow is carry · e^m · u · (b0 + b1 u + b2 u²), for the stress e above the yield and its share u of all
    b0, b1, b2 = 3 / (m + 1), 6 / (m + 2) - 6 / (m + 1), 3 / (m + 1) - 6 / (m + 2) + 3 / (m + 3)
    tie = [0.0] * len(p)
    for first, end, fed_from in reversed(grid.ways):
        # what the cell beyond adds to this one's slope and right
        c = r = 0.0
        here = p[end - 1]
        for i in range(end - 1, first - 1, -1):
            c += slope[i]
            r += right[i]
            if here > parts:
                b = here + p0
                s = gas[i] / b
                c += s / b
                r += s - soft[i] * here
            else:
                c += grid.room[i] * CAVITY_PER_PA
                r += grid.air[i] - grid.stored_in(i, here)
            before = p[parent[i]]
            drop = before - here
            here = before
            w = wall[i] * drop
            if w < 0:
                w = -w
            e = w - tau_y
            if e > stands:
                q = carry[i] * dt * e ** m
                u = e / w
                h = q * u * ((u * b2 + b1) * u + b0)
                f = h / 3
                g = (q - h) / drop
                if drop < 0:
                    g = -g
                    f = -f
                d = c + g
                right[i] = y = (r + f) / d
                tie[i] = k = g / d
                c *= k
                r = g * y - f
            else:
                right[i] = r / c
                c = r = 0.0
        slope[fed_from] += c
        right[fed_from] += r
    return tie


def _outwards(p, ways, tie, right):
    """(pressures, greatest change) of a round, from the pump outwards; `right` becomes the changes [Pa]."""
    most, least, fresh = 0.0, 0.0, p[:]
    for first, end, fed_from in ways:
        x = right[fed_from]
        for i in range(first, end):
            right[i] = x = right[i] + tie[i] * x
            fresh[i] += x
            if x > most:
                most = x
            elif x < least:
                least = x
    return fresh, max(most, -least)


def _holds(grid, p, fresh):
    """What every cell holds as the last round, which started from p, reckoned it: so nothing is lost or won."""
    soft, gas, out = grid.soft, grid.gas, p[:]
    parts, p0 = PARTS_PA, ATMOSPHERE_PA
    for i in range(len(p)):
        here = p[i]
        end = fresh[i]
        if here > parts:
            b = here + p0
            out[i] = soft[i] * end + gas[i] / b * ((end - here) / b - 1)
        else:
            out[i] = grid.stored_in(i, here) - grid.air[i] + (soft[i] + grid.room[i] * CAVITY_PER_PA) * (end - here)
    return out
