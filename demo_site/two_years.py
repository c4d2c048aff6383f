"""Two invented years of one system, week by week: weather, build-up by the simulator, pressure left, reservoir. One seed, one result.

A week is what a technician reads on its round: {"week", "at_c", "build_s", "residual_bar", "level_l", "refill_l"}.
"""
import random
from datetime import date, timedelta
from math import cos, exp, log, pi

from webapp.engine.basics.kinds import PROGRESSIVE, TIMED
from webapp.engine.events.faults import read
from webapp.engine.events.simulate import simulate
from webapp.engine.systems.predict import curve_of, waited
from webapp.engine.systems.worked import doses_from, work

from .parts import SOFT

BEGIN = date(2024, 12, 2)
WEEKS = 103
# a hand on a stopwatch [s], a gauge [bar], a level read against the wall [share of the reservoir], hours that differ, a refill's mark
_STOPWATCH_S, _GAUGE_BAR, _SIGHT, _HOURS, _MARK = 0.3, 0.2, 0.004, 0.05, 0.01
# the planer hall since its overhaul: degrees read on Mondays, stopwatch against the prediction [s], how much longer its pump takes
OVERHAUL = 77
_PLANER = (
    (17, 0.2, 0), (19, -0.3, 0), (22, 0.1, 0), (25, 0.4, 0), (24, -0.2, 0), (27, -0.1, 0), (29, 0.3, 0), (26, 0, 0),
    (28, -0.4, 0), (25, 0.2, 0), (23, 0.1, 0), (24, -0.2, 0), (20, 0.3, 0), (18, -0.1, 0), (19, 0, 0), (15, 0.2, 0),
    (14, -0.3, 0), (11, 0.1, 0), (12, 0.3, 0), (8, -0.2, 0.02), (9, 0.1, 0.04), (5, 0, 0.06), (6, 0.2, 0.08), (3, -0.1, 0.1),
    (2, 0.2, 0.12))
# every how many weeks a reservoir is filled to its mark, and in which of them
_FILLED = {1: (20, 6), 2: (16, 3), 3: (4, 1), 4: (16, 4), 5: (12, 2), 6: (16, 15), 7: (16, 5)}
# stories: the debarker's hose that seeps more each week, the sorter's branch that was crushed, the stacker's wrong grease, the
# planer's pump before its overhaul
LEAK, BLOCKED, WRONG_GREASE, WORN = range(44, 52), range(26, 29), range(64, 67), range(58, OVERHAUL)
LEAKING_NODE, CRUSHED = "N5", "S5"
_LEAK_A_WEEK, _WORN_A_WEEK = 0.02, 0.008


def day_of(week, number=1):
    """The day of a system's round; each system has its weekday, the planer Monday."""
    return BEGIN + timedelta(weeks=week, days=0 if number == 3 else number % 5)


def at(day, clock):
    """A time of the valley's clock, an hour later in summer (by the month)."""
    return "%sT%s:00+0%d:00" % (day, clock, 2 if 4 <= day.month <= 10 else 1)


def weather():
    """How much warmer than its season each week is, in shares of half the year's span: one weather for the whole plant."""
    rng, now, out = random.Random(20241202), 0.0, []
    for _ in range(WEEKS):
        now = 0.5 * now + rng.gauss(0, 0.11)
        out.append(now)
    return out


def _temperature(system, number, week, warmer):
    if number == 3 and week > OVERHAUL:
        return _PLANER[week - OVERHAUL - 1][0]
    coldest, hottest = system["ambient"]["coldest_c"], system["ambient"]["hottest_c"]
    season = -cos(2 * pi * (day_of(week) - date(2025, 1, 18)).days / 365.25)
    return round((coldest + hottest) / 2 + (hottest - coldest) * (0.35 * season + 0.5 * warmer))


class _Truth:
    """What the plant's line really does at a temperature in a week: the simulator, with the story's fault where there is one."""

    def __init__(self, system, number):
        self.system, self.number, self.worked = system, number, work(system, system["kind"] == TIMED)
        self.doses, self.curve = doses_from(system, self.worked), curve_of(system, [])[0]

    def build_up(self, week, at_c):
        """Seconds of a timed cycle."""
        if self.system["kind"] == TIMED:
            return self.worked["interval"]["run_time"]["value"]
        if self.system["kind"] == PROGRESSIVE:
            return self.worked["build"]["cycle_time"]["value"]
        if self.number == 4 and week in LEAK:
            return self._faulted("leak=%s:%s" % (LEAKING_NODE, _LEAK_A_WEEK * (week - LEAK[0] + 1)), at_c)
        if self.number == 2 and week in BLOCKED:
            return self._faulted("blocked=" + CRUSHED, at_c)
        if self.number == 6 and week in WRONG_GREASE:
            return waited(simulate(dict(self.system, lubricant=SOFT), self.doses, at_c))
        return self.curve.at(at_c) * (1 + self._worn(week))

    def _worn(self, week):
        if self.number != 3:
            return 0.0
        return _PLANER[week - OVERHAUL - 1][2] if week > OVERHAUL else _WORN_A_WEEK * (week - WORN[0]) if week in WORN else 0.0

    def _faulted(self, fault, at_c):
        return waited(simulate(self.system, self.doses, at_c, faults=read(self.system, [fault])[0]))

    def left(self, week, at_c):
        """Pressure left after venting [bar], between the two temperatures of the sheet."""
        ambient, line = self.system["ambient"], self.worked["line"]
        usual, coldest = line["residual_usual"]["value"], line["residual_coldest"]["value"]
        a_degree = log(coldest / usual) / (ambient["usual_c"] - ambient["coldest_c"])
        left = usual * exp(a_degree * (ambient["usual_c"] - at_c))
        return left * (0.4 if self.number == 6 and week in WRONG_GREASE else 1)

    def used_l(self, at_c, build_s):
        """A week's use: the doses, and what a leak lets out while the pump runs longer."""
        a_day = self.worked["reservoir"]["per_day"]["value"]
        longer = build_s - self.curve.at(at_c) if self.number == 4 else 0
        leak = max(0, longer) / 60 * self.system["pump"]["delivery_cm3_min"] * self.worked["interval"]["events_per_day"]["value"]
        return (a_day + leak) * self.system["duty"]["days_per_week"] / 1000


def weeks(system, number):
    """All weeks of one system, the first first."""
    rng, truth, pump = random.Random(31 * number), _Truth(system, number), system["pump"]
    every, first = _FILLED[number]
    mark = level = round(0.9 * pump["reservoir_l"], 1)
    out = []
    for week, warmer in enumerate(weather()):
        at_c = _temperature(system, number, week, warmer)
        build = truth.build_up(week, at_c)
        level -= truth.used_l(at_c, build) * rng.gauss(1, _HOURS)
        off = _PLANER[week - OVERHAUL - 1][1] if number == 3 and week > OVERHAUL else rng.gauss(0, _STOPWATCH_S)
        row = {"week": week, "at_c": at_c, "build_s": round(build + (off if number != 5 else off / 3), 1),
               "residual_bar": round(max(0.2, truth.left(week, at_c) + rng.gauss(0, _GAUGE_BAR)), 1),
               "level_l": round(level + rng.gauss(0, _SIGHT) * pump["reservoir_l"], 1), "refill_l": None}
        if week % every == first:
            to = mark + rng.gauss(0, _MARK) * mark / 2
            row["refill_l"] = round(max(0.05, to - level), 2)
            level += row["refill_l"]
        out.append(row)
    return out
