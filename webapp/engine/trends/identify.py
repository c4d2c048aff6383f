"""What readings say of a line: free air, yield, pump delivery and leak, and which of them they can tell apart."""
from collections import OrderedDict
from math import exp, log

from ..line.build import median
from ..document.check import is_number
from ..basics.figure import LINE_MODEL, figure, given
from ..basics.findings import finding, ordered
from ..line.fit import lefts
from .least_squares import Fit
from ..basics.kinds import PROGRESSIVE, SINGLE, fitting
from ..lubricants.lubricant import DEFAULTS, OIL, lubricant_at
from ..systems.predict import waited
from ..words.sentences import sentence
from ..events.simulate import longest_limit, moments, simulate
from ..line.tree import PUMP, Tree
from .trend import GAUGE_BAR, REPEATS, STOPWATCH_S
from ..systems.worked import doses_from, work

# deviations of what a document says, as logarithms, before anything is read: estimates. The leak's, as a share of the
# delivery at trip pressure
PRIORS = OrderedDict((("air_fraction", 0.8), ("yield_pa", 0.6), ("delivery", 0.2), ("leak", 0.15), ("consistency", 0.3),
                      ("stiffening", 0.25)))
UNITS = {"air_fraction": "1", "yield_pa": "Pa", "delivery": "cm³/min", "leak": "cm³/(min·bar)"}
_UNITS_READ = {"build_s": "s", "vent_s": "s", "residual_bar": "bar", "delivery_cm3_min": "cm³/min", "held": "bar"}
# an unknown is determined where two deviations are at most such a share of it
NARROW = {"air_fraction": 0.2, "yield_pa": 0.1, "delivery": 0.1, "leak": 0.2}
# a leak of less than such a share of the delivery is none
TIGHT = 0.02
# by how much a vent valve whose flow is not stated is slower than wide open [s], a deviation
VALVE_S = 5.0
# a pump that gives less than such a share of its delivery is told
WEAK = 0.9
# deviations of a vent's time and a held pressure in the model, and of a delivery caught in a cup, as shares
VENT_MODEL, HELD, CUP = 0.02, 0.005, 0.02
LEAST_AIR = 0.0005
TIED = 0.4
# misfits of times are as good as straight up to so many deviations
_LINEAR = 10.0
# a reading that lies farther off than so many deviations fits no line like this
POOR = 4.0


def identify(document, readings):
    """A `fit/1` document without texts: `unknowns` [{"name", "value", "low", "high", "determined", "tied_to"}], findings.

    readings  sets of the shape of `measured`, each at one temperature: build_s and vent_s [runs, s], at_c,
              residual_bar [{"at", "bar"}]; delivery_cm3_min where it was caught in a cup; held {"after_s", "bar"}, the
              pressure at the pump of a single-line system so long after it stopped, with the vent held shut
    """
    worked = work(document, False)
    out = OrderedDict((("format", "fit/1"), ("system", worked["system"])))
    if "points" not in worked:
        out["findings"] = worked["findings"]
        return out
    line = _Line(fitting(document), readings, doses_from(document, worked))
    if not line.sets:
        out["findings"] = [finding("note", "readings", "fit.nothing")]
        return out
    fit = Fit(line.misfits, [0.0 if name == "leak" else None for name in line.names])
    poor = max([abs(value) for value in fit.misfits]) > POOR
    out["unknowns"] = [_unknown(line, fit, place, poor) for place, name in enumerate(line.names) if name in UNITS]
    out["findings"] = ordered(_findings(line, out["unknowns"], poor))
    return out


def _unknown(line, fit, place, poor):
    """One unknown with what the readings leave open of it: two deviations either way."""
    name, left = line.names[place], fit.deviations()[place]
    value, unit = line.values(fit.z)[name], UNITS[name]
    change = {"says": "last change, in deviations of what was known before", "value": fit.step, "limit": 0.02}
    best = figure(value, unit, "where the sum of squares of all misfits is least", line.inputs(fit),
                  LINE_MODEL + "; least squares", True, "iterated", change)
    inputs = [("value", given(value, unit, "fitted", True)),
              ("known", given(PRIORS[name], "1", "deviation before the readings", True)),
              ("left", given(left, "1", "share of it that the readings leave", True))]
    if name == "leak":
        inputs.append(("scale", given(line.leak_scale, unit, "the whole delivery at trip pressure", True)))
        wide = 2 * PRIORS[name] * left * line.leak_scale
        low, high, formulas = max(0.0, value - wide), value + wide, ("max(0, value - 2 * known * left * scale)",
                                                                     "value + 2 * known * left * scale")
        sure = wide <= NARROW[name] * value or high <= TIGHT * line.leak_scale
    else:
        wide = exp(2 * PRIORS[name] * left)
        low, high, formulas = value / wide, value * wide, ("value * exp(-2 * known * left)", "value * exp(2 * known * left)")
        sure = wide - 1 <= NARROW[name]
    tied = [other for number, other in enumerate(line.names) if number != place and abs(fit.correlation(place, number)) >= TIED]
    return OrderedDict((("name", name), ("value", best), ("low", figure(low, unit, formulas[0], inputs, "normal approximation")),
                        ("high", figure(high, unit, formulas[1], inputs, "normal approximation")),
                        ("determined", sure and not poor), ("tied_to", [] if sure else tied)))


def _findings(line, unknowns, poor):
    if poor:
        return [finding("warn", "readings", "fit.poor")]
    out = []
    for one in unknowns:
        name, value, low, high = one["name"], one["value"]["value"], one["low"]["value"], one["high"]["value"]
        values = [(key, given(number, UNITS[name], key)) for key, number in (("value", value), ("low", low), ("high", high))]
        says = "known" if one["determined"] else "tied" if one["tied_to"] else "open"
        if says == "tied":
            values.append(("others", ", ".join([sentence("fit.name." + other, {})["says"] for other in one["tied_to"]])))
        bad = (name == "leak" and low > TIGHT * line.leak_scale) or (name == "delivery" and high < WEAK * line.starts[name])
        out.append(finding("warn" if bad else "note", "unknowns", "fit.%s.%s" % (name, says), values))
    return out


class _Line:
    """The document with its unknowns set free: `values` of a point z, `misfits` of its readings there."""

    def __init__(self, document, readings, doses):
        lubricant = document["lubricant"]
        self.document, self.doses, self.oil = document, doses, lubricant["nlgi"] == OIL
        self.names = [name for name in PRIORS if not (self.oil and name in ("yield_pa", "consistency", "stiffening"))]
        sets = [_read(document, entry) for entry in readings if isinstance(entry, dict)]
        self.sets = [one for one in sets if one["rows"]]
        self.reference = _or_default(lubricant, "reference_c")
        self.state = lubricant_at(lubricant, self.reference)
        delivery = document["pump"]["delivery_cm3_min"]
        highest = [switch.get("trips_bar") or document["pump"]["relief_bar"] for switch in document["switches"]]
        self.leak_scale = delivery / (highest or [document["pump"]["relief_bar"]])[0]
        self.far = max([(distance, node) for node, distance in Tree(document).distance.items()])[1]
        self.starts = {"air_fraction": max(LEAST_AIR, self.state["air_fraction"]), "yield_pa": self.state["yield_pa"],
                       "delivery": delivery, "consistency": self.state["consistency_pa_sn"],
                       "stiffening": _or_default(lubricant, "stiffening_per_k")}

    def values(self, z):
        """The unknowns as they are at z, by name."""
        return {name: PRIORS[name] * part * self.leak_scale if name == "leak" else self.starts[name] * exp(PRIORS[name] * part)
                for name, part in zip(self.names, z)}

    def misfits(self, z):
        """How many deviations each reading lies off what is predicted at z."""
        values = self.values(z)
        lubricant = dict(self.document["lubricant"], air_fraction=values["air_fraction"])
        if not self.oil:
            lubricant.update(yield_pa=values["yield_pa"], consistency_pa_sn=values["consistency"], reference_c=self.reference,
                             flow_index=self.state["flow_index"], stiffening_per_k=values["stiffening"])
        document = dict(self.document, lubricant=lubricant,
                        pump=dict(self.document["pump"], delivery_cm3_min=values["delivery"]))
        out = []
        for one in self.sets:
            predicted = self._predicted(document, one, values)
            out += [_misfit(what, predicted(what, way), measured, deviation) for what, way, measured, deviation in one["rows"]]
        return out

    def inputs(self, fit):
        """What was measured and what the fitted line predicts, for the working."""
        out, place = OrderedDict(), 0
        for one in self.sets:
            for what, _, measured, deviation in one["rows"]:
                out.setdefault(what, []).append((measured, measured + deviation * fit.misfits[place]))
                place += 1
        return [entry for what, pairs in out.items() for entry in (
            (what, given([pair[0] for pair in pairs], _UNITS_READ[what], "measured")),
            (what + "_fitted", given([pair[1] for pair in pairs], _UNITS_READ[what], "by the fitted line")))]

    def _predicted(self, document, one, values):
        """A function (what, way) that predicts a reading of one set."""
        at_c, known, read = one["at_c"], {"delivery_cm3_min": values["delivery"]}, [row[0] for row in one["rows"]]
        faults, never = {"leaks": [(self.far, 0, values["leak"])]}, longest_limit(document)
        if "held" in read:
            trace = simulate(document, self.doses, at_c, faults=dict(faults, vent=0.0))
            known["build_s"], known["held"] = waited(trace) or never, _held(trace, one["after_s"])
        if "vent_s" in read or ("build_s" in read and "held" not in read):
            trace = simulate(document, self.doses, at_c, faults=faults)
            moment = moments(trace)
            known["build_s"] = waited(trace) or never
            known["vent_s"] = never if moment["ready"] is None else moment["ready"] - moment["open"]
        stress = 0.0 if self.oil else values["yield_pa"] * exp(values["stiffening"] * (self.reference - at_c))
        return lambda what, way: 4 * stress * way / 1e5 if what == "residual_bar" else known[what]


def _held(trace, after_s):
    """Pressure at the pump [bar] so long after it stopped; 0 where the switch never tripped."""
    if trace["trip_s"][0] is None:
        return 0.0
    times, bars, at = trace["time_s"], trace["pressure_bar"][PUMP], trace["trip_s"][0] + after_s
    for number in range(1, len(times)):
        if times[number] >= at:
            share = (at - times[number - 1]) / (times[number] - times[number - 1])
            return bars[number - 1] + share * (bars[number] - bars[number - 1])
    return bars[-1]


def _misfit(what, predicted, measured, deviation):
    """How many deviations a prediction lies off; times by their logarithm, so that one that never ends shows the way."""
    if what not in ("build_s", "vent_s"):
        return (predicted - measured) / deviation
    near = max(measured, _LINEAR * deviation)
    return log((predicted - measured + near) / near) * near / deviation


def _or_default(lubricant, name):
    return DEFAULTS[name] if lubricant.get(name) is None else lubricant[name]


def _read(document, entry):
    """One set of readings: {"at_c", "rows": [(what, way, measured, deviation)]}; what cannot be used is left out."""
    at_c = entry.get("at_c")
    rows = []
    valve = 0.0 if (document.get("vent_valve") or {}).get("flow_cm3_min_per_bar") else VALVE_S
    for what, share, more in (("build_s", REPEATS, 0.0), ("vent_s", VENT_MODEL, valve)):
        runs = [run for run in entry.get(what) or [] if is_number(run) and 0 < run < 1e6]
        if runs and not (what == "vent_s" and document["kind"] == PROGRESSIVE):
            seconds = median(runs)
            rows.append((what, None, seconds, (STOPWATCH_S ** 2 / len(runs) + (share * seconds) ** 2 + more * more) ** 0.5))
    held = (entry.get("held") or {}) if document["kind"] == SINGLE else {}
    if is_number(held.get("bar")) and is_number(held.get("after_s")) and 0 < held["after_s"] < 1e5:
        rows.append(("held", None, held["bar"], GAUGE_BAR + HELD * abs(held["bar"])))
    caught = entry.get("delivery_cm3_min")
    if is_number(caught) and 0 < caught < 1e6:
        rows.append(("delivery_cm3_min", None, caught, CUP * caught))
    if document["lubricant"]["nlgi"] != OIL:
        known = [row for row in entry.get("residual_bar") or [] if isinstance(row, dict) and is_number(row.get("bar"))]
        rows += [("residual_bar", way, bar, GAUGE_BAR) for bar, way in lefts(document, {"residual_bar": known})]
    return {"at_c": at_c if is_number(at_c) else document["ambient"]["usual_c"], "rows": rows,
            "after_s": held.get("after_s")}
