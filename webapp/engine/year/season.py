"""The line over the year: build-up, drop and residual from coldest to hottest, how cold it may get, and settings by season."""
from collections import OrderedDict
from math import floor, log, sqrt

from ..line import build, line
from ..basics.figure import COMMON_PRACTICE, LINE_MODEL, figure, given
from ..basics.findings import finding, ordered
from ..line.flow import FORCE_BALANCE
from ..line.warmth import section_c
from ..lubricants.lubricant import DEFAULTS, OIL
from . import build_ups
from .outlook import TIME_LIMIT, Outlook, begun
from ..basics.kinds import TIMED
from ..basics.ranges import largest

# the search goes no further below the entered coldest, and never below the coldest that may be entered
SEARCH_BELOW_K = 40
LOWEST_C = -70
# ambients of pipes lie no further apart than this [K]
REACH_K = 400.0
WITHIN_K = 0.5
STEPS = 5
# a time limit longer than this many usual build-ups shows a fault late; common practice, no published source
LATE = 3.0
# a build-up that the cold lengthens less than this, under a limit of less than so many of them, is far from LATE: one set will do
_HARDLY, _SHORT = 1.3, 2.0


def season(document, worked=None):
    """Season sheet of a system: `season/1` without texts.

    worked   the worked document with its traces, where it is known already
    Returns temperatures (figures at each), lowest (how cold it may get), sets (one or two sets of settings), change_at, findings.
    """
    out, document, worked = begun("season/1", document, worked)
    if worked is None:
        return out
    job = _Season(document, worked)
    out["temperatures"] = [job.row(at_c) for at_c in job.temperatures()]
    out["lowest"] = job.lowest()
    out["sets"], out["change_at"] = job.sets()
    out["findings"] = ordered(job.findings)
    return out


def season_sets(document, worked=None):
    """{"sets", "change_at"} of `season` alone, for lists of what is due: nothing is simulated where one set serves the year for sure."""
    found = {} if worked and _one_for_sure(worked) else season(document, worked)
    change = found.get("change_at")
    return {"sets": found["sets"] if change else [], "change_at": change}


def _one_for_sure(worked):
    """True where the controller takes the limit and the cold hardly lengthens the build-up, never shorter than without friction."""
    build_up = worked.get("build") or {}
    shortest, longest, limit_s = [(build_up.get(name) or {}).get("value") for name in ("time_frictionless", "time_coldest", "time_limit")]
    if shortest is None or longest is None or limit_s is None:
        return False
    taken = not [entry for entry in worked["findings"] if entry["id"] == "limit.out_of_range"]
    return taken and longest < _HARDLY * shortest and limit_s < _SHORT * shortest


def _temperature(at_c, means):
    return figure(at_c, "°C", "t", [("t", given(at_c, "°C", means))], "chosen for the sheet")


class _Season:
    """What one season sheet knows so far."""

    def __init__(self, document, worked):
        self.document, self.worked, self.findings = document, worked, []
        self.outlook = Outlook(document, worked, worked.get("traces"))
        ambient = document["ambient"]
        self.coldest, self.hottest = ambient["coldest_c"], ambient["hottest_c"]
        self.bound = min(self.coldest, max(LOWEST_C, self.coldest - SEARCH_BELOW_K))
        self.sheet_limit = build_ups.sheet_limit(document, worked)
        self.limit_name, self.words = build_ups.limit_name(document), build_ups.words(document)
        self.own = [section for section in document["sections"] if section.get("ambient")]
        self.works_to, self.stopped = self._search()

    # ---- how cold it may get

    def _search(self):
        """(outlook at the lowest temperature that works or None, outlook that is stopped just below or None)."""
        works, stopped = None, None
        for at_c in (self.coldest, self.document["ambient"]["usual_c"], self.hottest):
            here = self.outlook.at(at_c)
            if here["limit"] is None:
                works = here
                break
            stopped = here
        if works is None:
            return None, stopped
        if stopped is None:
            floor_c = self._reset_floor()
            here = self.outlook.at(max(self.bound, self.bound if floor_c is None else floor_c + WITHIN_K / 2))
            if here["limit"] is None:
                return here, None if here["at_c"] <= self.bound else self.outlook.at(floor_c - WITHIN_K / 2)
            stopped = here
        while works["at_c"] - stopped["at_c"] > WITHIN_K:
            here = self.outlook.at((works["at_c"] + stopped["at_c"]) / 2)
            works, stopped = (here, stopped) if here["limit"] is None else (works, here)
        return works, stopped

    def _things(self):
        return self.document["devices"] + self.document["switches"]

    def _stiffening(self):
        stated = self.document["lubricant"].get("stiffening_per_k")
        return DEFAULTS["stiffening_per_k"] if stated is None else stated

    def _share(self, at_c):
        return build_ups.share(self.document, at_c)[0]

    def _reset_floor(self):
        """Temperature [°C] below which pressure stays locked in above a reset pressure; None where none does."""
        if not self.outlook.vented or self.document["lubricant"]["nlgi"] == OIL or not self._stiffening() > 0:
            return None
        share = self._share(self.coldest)
        if not share > 0:
            return None
        first = self.coldest + log(share) / self._stiffening()
        if not self.own:
            return first
        low, high = first - REACH_K, first + REACH_K  # pipes that are not as warm as the system stiffen by other steps
        while high - low > 1e-6:
            middle = (low + high) / 2
            low, high = (middle, high) if self._share(middle) > 1 else (low, middle)
        return high

    def lowest(self):
        """Figures: works_to (None: nowhere), reaches (with the longest limit), reset; `meets`, the limit met below works_to."""
        out = OrderedDict((("meets", self.stopped["limit"] if self.stopped else None), ("works_to", self._reaches())))
        floor_c = self._reset_floor()
        if floor_c is not None and floor_c >= self.bound:  # colder than anybody looks, it says nothing
            out["reset"] = self._reset_figure()
        if self.own:
            out["pipe"] = self._pipe(self.coldest if self.works_to is None else self.works_to["at_c"])
            self._tell("note", "season.own_ambient", [("pipe", out["pipe"]["at"]), ("t", out["pipe"])])
        values = [("t", out["works_to"]), ("coldest", given(self.coldest, "°C", "coldest"))]
        if self.works_to is None:
            self._tell("stop", "season.never_" + out["meets"], [])
            return out
        as_set = self._as_set()
        if as_set is not None:
            out["reaches"], out["works_to"], out["meets"] = out["works_to"], as_set, TIME_LIMIT
            self._tell("note" if as_set["value"] <= self.coldest else "warn", "season.as_set", [
                ("t", as_set), ("reaches", out["reaches"]), ("set", given(self.sheet_limit, "s", "time limit on the sheet"))])
        elif self.stopped is None:
            self._tell("note", "season.to_bound", values[:1])
        if self.stopped is not None and (as_set is None or self.works_to["at_c"] > self.coldest):
            self._tell("stop" if self.works_to["at_c"] > self.coldest else "note", "season.stops_" + self.stopped["limit"], values)
        return out

    def _tell(self, severity, identifier, values):
        limit = given(self.outlook.limit_s, "s", "longest time limit")
        relief = given(self.document["pump"]["relief_bar"], "bar", "relief pressure")
        self.findings.append(finding(severity, "ambient.coldest_c", identifier,
                                     values + [("limit", limit), ("relief", relief)] + self.words))

    def _pipe(self, at_c):
        """Temperature of the coldest pipe when the system's ambient is at_c; the figure has `at`, the pipe."""
        t, name = min([(section_c(self.document, section, at_c), section["id"]) for section in self.document["sections"]])
        return dict(_temperature(t, "between its own temperatures where at_c lies between the system's"), at=name)

    def _as_set(self):
        """Temperature down to which the limit on the sheet lasts; None where it lasts as far as the system works."""
        at_c = self._crossing(self.sheet_limit) if self.sheet_limit else None
        if at_c is None:
            return None
        return figure(at_c, "°C", "t at which the build-up is set", [
            ("set", given(self.sheet_limit, "s", "time limit on the sheet"))], LINE_MODEL, True, "simulated",
                      {"says": "volume balance of the simulation at the lowest temperature", "limit": 0.005,
                       "value": self.works_to["trace"]["balance_error"]})

    def _reaches(self):
        trace = (self.works_to or self.stopped)["trace"]
        within = [("within", given(self.outlook.resets_in, "s", "time in which everything must reset"))] if self.outlook.vented else []
        return figure(self.works_to["at_c"] if self.works_to else None, "°C",
                      "lowest t at which relief, time limit%s are kept in the line model" % (" and reset" if within else ""), [
                          ("limit", given(self.outlook.limit_s, "s", "longest that the controller accepts")),
                          ("relief", given(self.document["pump"]["relief_bar"], "bar", "relief pressure of the pump"))] + within + [
                          ("bound", given(self.bound, "°C", "searched down to")),
                          ("stopped", given(self.stopped["at_c"] if self.stopped else None, "°C", "stopped already at"))],
                      LINE_MODEL, self._estimate(), "simulated",
                      {"says": "volume balance of the simulation there", "value": trace["balance_error"], "limit": 0.005})

    def _estimate(self):
        return self.worked["line"]["residual_coldest"]["estimate"]

    def _reset_figure(self):
        if self.own:
            at_c = self._reset_floor()
            return figure(at_c, "°C", "t at which max(locked / resets) = 1", [
                ("bound", given(self.coldest - REACH_K, "°C", "searched from"))], FORCE_BALANCE, self._estimate(), "iterated",
                          {"says": "share of its reset pressure left at the worst place there, less 1", "limit": 1e-6,
                           "value": abs(self._share(at_c) - 1)})
        locked = line.locked_pressures(self.document, self.coldest)
        return figure(self._reset_floor(), "°C", "max(t + log(locked / resets) / stiffening)", [
            ("t", given(self.coldest, "°C", "coldest")),
            ("locked", given([locked[thing["at"]] for thing in self._things() if locked[thing["at"]] > 0], "bar",
                             "left at each device and switch when coldest", self._estimate())),
            ("resets", given([thing["resets_bar"] for thing in self._things() if locked[thing["at"]] > 0], "bar",
                             "reset pressure of each")),
            ("stiffening", given(self._stiffening(), "1/K", "growth of the yield with cold",
                                 self.document["lubricant"].get("stiffening_per_k") is None))], FORCE_BALANCE)

    # ---- the picture's figures

    def temperatures(self):
        """Temperatures of the sheet [°C], rising: from the lowest that works, or the coldest, to the hottest; the usual among them."""
        start = min(self.coldest, self.works_to["at_c"]) if self.works_to else self.coldest
        chosen, step = [start, self.coldest, self.document["ambient"]["usual_c"], self.hottest], (self.hottest - start) / (STEPS - 1)
        even = [start + step * k for k in range(1, STEPS - 1)]
        return sorted(set(chosen + [at_c for at_c in even if min([abs(at_c - one) for one in chosen]) > step / 3]))

    def row(self, at_c):
        """Figures at one temperature, and the limit that stops the system there."""
        here = self.outlook.at(at_c)
        return OrderedDict((("at", _temperature(at_c, "temperature")),
                            ("build", self._build(here)), ("drop", line.drop(self.document, at_c)),
                            ("limit", here["limit"])) + tuple(self.outlook.figures(here).items()))

    def _build(self, here):
        predicted = build_ups.told(self.document, here["trace"], build_ups.slowest(self.document, here["trace"])[1])
        if self.outlook.factor == 1 or predicted["value"] is None:
            return predicted
        return figure(here["build"], "s", "predicted * factor", [
            ("predicted", given(predicted["value"], "s", "predicted by the line model", predicted["estimate"])),
            ("factor", given(self.outlook.factor, "ratio", "measured over predicted at the temperature of the runs"))],
            LINE_MODEL + "; scaled to the measured runs")

    # ---- one set of settings or two

    def sets(self):
        """([a set of settings for each season], temperature at which to change or None).

        One set serves the year where the controller takes the limit that the coldest day needs and that limit is no longer
        than LATE build-ups on the hottest day, or where its steps leave no shorter one for summer.
        """
        if self.works_to is None:
            return [], None
        cold, hot = max(self.coldest, self.works_to["at_c"]), self.hottest
        winter, found = self._limit_at(cold)
        self.findings += found
        taken, late = not found, winter["value"] > LATE * self.outlook.at(hot)["build"]
        change = None if taken and not late else self._change_at(cold, hot, taken)
        summer = None if change is None else self._limit_at(change)[0]
        if summer is None or taken and summer["value"] >= winter["value"]:
            return [self._set("all year", cold, hot, winter)], None
        told = "not_taken" if not taken else "run" if self.document["kind"] == TIMED else "late"
        self._tell("warn", "season.two_" + told, [
            ("change", given(change, "°C", "change")), ("winter", given(winter["value"], "s", "winter")),
            ("summer", given(summer["value"], "s", "summer")), ("late", given(LATE, "ratio", "build-ups")),
            ("hot", given(self.outlook.at(hot)["build"], "s", "build-up when hottest"))])
        return ([self._set("summer", change, hot, summer), self._set("winter", cold, change, winter)],
                self._change_figure(change, cold, hot, taken))

    def _limit_at(self, at_c):
        return build.limit(self.document, self.outlook.at(at_c)["build"], "predicted at the coldest of the season", True,
                           "timed.out_of_range" if self.document["kind"] == TIMED else "limit.out_of_range")

    def _target(self, cold, hot, taken):
        """Build-up at which to change [s]: the geometric mean, so that neither season's limit is later than the other's."""
        if taken:
            return sqrt(self.outlook.at(cold)["build"] * self.outlook.at(hot)["build"])
        return largest(self.document["controller"]["time_limit"]) / build.margin_of(self.document)

    def _crossing(self, target):
        """Temperature at which the build-up comes down to the target [s]; None where it never does. Between what is simulated."""
        rows = [(at_c, self.outlook.at(at_c)) for at_c in sorted(self.outlook.known) if at_c <= self.hottest]
        rows = [(at_c, here["build"]) for at_c, here in rows if here["limit"] is None]
        for (low_c, slow), (high_c, quick) in zip(rows, rows[1:]):
            if slow >= target >= quick and slow > quick:
                return low_c + (high_c - low_c) * log(slow / target) / log(slow / quick)
        return None

    def _change_at(self, cold, hot, taken):
        """Whole degrees between cold and hot at which to change, on the warm side; None where there are none."""
        target = self._target(cold, hot, taken)
        at_c = self._crossing(target)
        if at_c is not None:
            self.outlook.at(at_c)  # the build-up bends where the cold begins to count: look there, and draw the line anew
            at_c = self._crossing(target)
        change = None if at_c is None else floor(at_c + 1)
        return change if change is not None and cold < change < hot else None

    def _change_figure(self, change, cold, hot, taken):
        return figure(change, "°C", "t at which the build-up is target, up to a whole degree", [
            ("target", given(self._target(cold, hot, taken), "s", "mean of coldest and hottest build-up, by their ratio" if taken
                             else "largest limit over the margin"))], COMMON_PRACTICE, True, "simulated",
                      {"says": "volume balance of the simulation there", "limit": 0.005,
                       "value": self.outlook.at(change)["trace"]["balance_error"]})

    def _set(self, name, from_c, to_c, limit):
        """One set: its range of temperature and the settings that go with it."""
        out = OrderedDict((("season", name), ("from", _temperature(from_c, "coldest of the season")),
                           ("to", _temperature(to_c, "hottest of the season")), (self.limit_name, limit)))
        here = self.outlook.at(from_c)
        if len(self.document["switches"]) == 2 and here["moments"]["returned"] is not None:
            out["time_limit_second"], found = build.limit(self.document, here["moments"]["returned"] * self.outlook.factor,
                                                          "until both have tripped and returned", True)
            self.findings += found
        if self.outlook.vents_long and here["reset"] is not None:
            out["vent"], found = build.long_vent(self.document, here["reset"], True)
            self.findings += found
        elif self.outlook.vented and not self.outlook.vents_long:
            out["vent"] = build.short_vent(self.document)
        return out
