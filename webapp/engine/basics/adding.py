"""Adding up alike on both machines: from Python 3.12 on, CPython's sum() carries what rounding loses; the phone's, and those before,
do not."""


def _plainly(values):
    out = 0
    for value in values:
        out += value
    return out


# 1 is lost in 1e16: a sum that gives it back carries
added_up = _plainly if sum([1e16, 1.0, -1e16]) else sum
