"""How likely given readings are where others were predicted: the noise model of fault finding.

Stated, from memory: stopwatch 0.3 s; gauge 1.5 bar; the model errs by 4 % where it was simulated and 8 % in closed form,
times as much as pressures; one reading in thirty is a mistake (so none rules a cause out). Readings along one line err together,
so several count as their square root; the build-ups of two lines err together by TOGETHER, their correlation.
"""
from math import exp, log, pi, sqrt

from ..basics.adding import added_up
from .expected import half_of
from .readings import stopped_line

STOPWATCH_S = 0.3
GAUGE_BAR = 1.5
MISTAKES = 1 / 30
TOGETHER = 0.8
_MODEL = {True: 0.04, False: 0.08}
# an error beyond so many of its deviations is none of the model's
_FAR = 2
_USE_ERROR = 0.2
# what a controller tells is seldom mistaken
_MISREAD = 0.005
_CURRENT_ERROR = 0.2
# a controller's own time; how far a limit that was changed lies from the few that are tried
_TIMER_ERROR, _LIMIT_ERROR = 0.02, 0.2
_SEEN_DRY, _NONE_SEEN, _ONE_ELSE = 0.02, 0.35, 0.6


def median(values):
    """The middle of a number or a list of them."""
    ranked = sorted(values if isinstance(values, list) else [values])
    half = len(ranked) // 2
    return ranked[half] if len(ranked) % 2 else (ranked[half - 1] + ranked[half]) / 2


def _near(value, expected, error, span, low=None):
    """Log density of a number: normal about what is expected, or about the range from low up to that, with MISTAKES spread over
    the span."""
    low = expected if low is None else min(low, expected)
    z = (value - min(expected, max(low, value))) / error
    normal = exp(-z * z / 2) / (error * sqrt(2 * pi) + expected - low) if abs(z) < 30 else 0.0
    return log((1 - MISTAKES) * normal + MISTAKES / span)


def _yes(value, share):
    """Log probability of a yes or no, where `share` of such cases read yes."""
    share = min(1 - _MISREAD, max(_MISREAD, share))
    return log(share if value else 1 - share)


class Likely:
    """Log likelihood of readings, reading by reading. limit_s: the controller's time limit as worked; usual_cm3_h: what the system uses
    an hour; top_bar: the highest pressure that can be read; keys: what feeds each point; locked {node: bar} stays in the line at rest."""

    def __init__(self, readings, document, limit_s, healthy, usual_cm3_h, keys, locked):
        self.readings, self.healthy, self.usual_cm3_h, self.locked = readings, healthy, usual_cm3_h, locked
        self.points = [(point["id"], key) for point, key in zip(document["points"], keys)]
        devices = {device["id"]: device for device in document["devices"]}
        self.fires = [(key, devices[point["device"]], half_of(document, point)) for point, key in zip(document["points"], keys)]
        self.stopped = stopped_line(document, readings)
        self.limit_s = limit_s
        self.top_bar = document["pump"]["relief_bar"]
        self.current_a = document["pump"]["current_a"]
        self.names = [name for name in _JUDGES if readings.get(name) is not None]

    def each(self, expected):
        """[(name of the reading, log likelihood)] where `expected` was predicted."""
        return [(name, _JUDGES[name](self, self.readings[name], expected)) for name in self.names]

    # ---- one reading each

    def _error(self, expected):
        return _MODEL[expected.simulated]

    def _stopped(self, expected):
        """Number of the line whose build-up the controller ended: as the readings say, else as is expected; None for none."""
        if not self.readings.get("ran_into_limit") or self.stopped is not None:
            return self.stopped
        return 1 if expected.halves[-1].ran else 0

    def _build(self, value, expected, line=0):
        value, half = median(value), expected.halves[line]
        span = 3 * max(self.limit_s, value)
        if self._stopped(expected) == line:
            # until the controller stopped the pump
            if expected.limit_s:
                return _near(value, expected.limit_s, _LIMIT_ERROR * expected.limit_s, span)
            return _near(value, self.limit_s, STOPWATCH_S + _TIMER_ERROR * self.limit_s, span)
        if half.build_s is None:
            return log(MISTAKES / span)
        error = self._error(expected)
        shift, error = self._with_first(expected, error) if line else (0.0, error)
        wanted = half.build_s * (1 + shift)
        return _near(value, wanted, sqrt(STOPWATCH_S ** 2 + (error * wanted) ** 2), span)

    def _build_b(self, value, expected):
        return self._build(value, expected, 1)

    def _with_first(self, expected, error):
        """(by what share the second line's build-up is expected to lie off as the first one's does, what it errs beyond that): what the
        model has wrong of the lubricant and the pump it has wrong of both lines."""
        first, read_s = expected.halves[0].build_s, self.readings.get("build_s")
        if not first or not read_s or self._stopped(expected) == 0:
            return 0.0, error
        off = median(read_s) / first - 1
        return TOGETHER * min(_FAR * error, max(-_FAR * error, off)), error * sqrt(1 - TOGETHER ** 2)

    def _stops(self, expected):
        """For each line the share of such cases in which its build-up runs into the limit."""
        out, begun = [], 1.0
        for half in expected.halves:
            if half.build_s is None or expected.limit_s:
                share = 1.0 if half.ran else 0.0
            elif half.build_s <= 0:
                share = 0.0
            else:
                share = 1 / (1 + exp(-1.7 * min(20, max(-20, log(half.build_s / self.limit_s) / self._error(expected)))))
            out.append(begun * share)
            begun -= out[-1]
        return out

    def _ran(self, value, expected):
        return _yes(value, added_up(self._stops(expected)))

    def _on_line(self, value, expected):
        first, second = self._stops(expected)
        return _yes(value == "B", (second + _MISREAD) / (first + second + 2 * _MISREAD))

    def _bars(self, value, expected, of, spread=0.0, down_to=None):
        known = [(bar, of[node], down_to and down_to[node] * expected.stiffer) for node, bar in value.items() if node in of]
        if not known:
            return 0.0
        share = self._error(expected) ** 2
        each = [_near(bar, wanted, sqrt(GAUGE_BAR ** 2 + share * (wanted ** 2 + spread ** 2)), self.top_bar, low)
                for bar, wanted, low in known]
        return added_up(each) / sqrt(len(each))

    def _pressure(self, value, expected, line=0):
        half = expected.halves[line]
        return self._bars(value, expected, half.pressure, half.spread)

    def _pressure_b(self, value, expected):
        return self._pressure(value, expected, 1)

    def _residual(self, value, expected):
        """Read at any time after all have reset: between the pressure then and what the yield keeps locked in."""
        if expected.residual is not None:
            return self._bars(value, expected, expected.residual, 0.0, None if expected.vent_s is None else self.locked)
        # ended by the limit: the controller has vented all the same, or has not
        flat = -log(self.top_bar) * sqrt(len(value))
        vented = self._bars(value, expected, self.healthy.residual, 0.0, self.locked) if self.healthy.residual else flat
        return log((exp(flat) + exp(vented)) / 2)

    def _vent(self, value, expected):
        value, span = median(value), 600.0
        if expected.vent_s is None:
            return -log(span)
        return _near(value, expected.vent_s, sqrt(1 + (2 * self._error(expected) * expected.vent_s) ** 2), span)

    def _at_once(self, value, expected):
        return _yes(value, 1.0 if expected.at_once else 0.0)

    def _low(self, value, expected):
        return _yes(value, 0.9 if expected.low else 0.07)

    def _current(self, value, expected):
        wanted = expected.current * self.current_a
        return _near(value, wanted, 0.1 + _CURRENT_ERROR * wanted, 2 * self.current_a + 1)

    def _refill(self, value, expected):
        """Litres filled since `since_h` hours against what is used in that time."""
        hours = self.readings.get("since_h")
        if not hours or expected.used is None or not self.healthy.used:
            return 0.0
        wanted = self.usual_cm3_h * hours / 1000 * max(0.0, expected.used) / self.healthy.used
        return _near(value, wanted, 0.02 + _USE_ERROR * (2 if expected.ran() else 1) * wanted, max(1.0, 5 * max(value, wanted)))

    def _unsure(self, expected):
        """Devices that may just have moved or just not: pressure ended near where they fire, elsewhere than on a good day."""
        out = []
        for key, device, line in self.fires:
            bar, usual = expected.halves[line].pressure[device["at"]], self.healthy.halves[line].pressure[device["at"]]
            if abs(bar - device["fires_bar"]) < GAUGE_BAR + self._error(expected) * device["fires_bar"] and abs(bar - usual) > GAUGE_BAR:
                out.append(key)
        return out

    def _dry(self, value, expected):
        """Points seen dry: one elsewhere than expected speaks against, one that was expected and not named a little."""
        unsure = self._unsure(expected)
        wanted = expected.points or [point for point, key in self.points if key in expected.dry and key not in unsure]
        open_to = [point for point, key in self.points if key in unsure]
        surplus = len([one for one in value if one not in wanted and one not in open_to])
        unseen = len([one for one in wanted if one not in value])
        if not value and wanted:
            return log(_NONE_SEEN) + min(unseen - 1, 3) * log(_ONE_ELSE)
        return min(surplus, 4) * log(_SEEN_DRY) + min(unseen, 4) * log(_ONE_ELSE)


_JUDGES = {"build_s": Likely._build, "build_b_s": Likely._build_b, "ran_into_limit": Likely._ran, "limit_line": Likely._on_line,
           "pressure_bar": Likely._pressure, "pressure_b_bar": Likely._pressure_b,
           "residual_bar": Likely._residual, "vent_s": Likely._vent, "tripped_at_once": Likely._at_once,
           "low_level": Likely._low, "current_a": Likely._current, "refill_l": Likely._refill, "dry_points": Likely._dry}
