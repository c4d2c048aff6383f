"""What measured runs say of the lubricant in the line: free air from the build-up, yield from what stays after venting."""
from collections import OrderedDict
from math import exp

from .build import COMPRESSION, median
from ..basics.adding import added_up
from ..basics.figure import LINE_MODEL, figure, given
from .flow import FORCE_BALANCE
from ..lubricants.lubricant import DEFAULTS, OIL
from .tree import Tree

_AIR = ("max(0, (delivery * median(builds) / (60 * friction) - sum(doses) - V * p / (10 * K) - sum(swells) * p / 100)"
        " / (V * (1 - p0 / (p + p0))))")
_YIELD = "median(1e5 * left / (4 * ways)) * exp(stiffening * (at - reference))"


def fit(document, volume, frictionless_s, simulated_s):
    """Figures under `fit` that the measured runs allow: the median of each, with `_low` and `_high` where runs differ.

    volume          figure build.volume
    frictionless_s  predicted without friction [s]
    simulated_s     predicted by the line model at the temperature of the runs [s], None where it does not trip
    """
    measured = document.get("measured") or {}
    out = OrderedDict()
    builds = measured.get("build_s") or []
    if builds and simulated_s:
        _spread(out, "air_fraction", builds, lambda runs: _air(document, volume, simulated_s / frictionless_s, runs))
    rows = lefts(document, measured)
    if rows and document["lubricant"]["nlgi"] != OIL:
        _spread(out, "yield_pa", rows, lambda some: _yield(document, measured, some))
    return out


def _spread(out, name, runs, worked):
    """The figure of all runs and, where there are several, of the one that gives least and of the one that gives most."""
    out[name] = worked(runs)
    if len(runs) > 1:
        ranked = sorted([(worked([run])["value"], number) for number, run in enumerate(runs)])
        out[name + "_low"], out[name + "_high"] = worked([runs[ranked[0][1]]]), worked([runs[ranked[-1][1]]])


def _air(document, volume, friction, builds):
    """Free air by volume that makes the line take so long. Source: COMPRESSION, friction by the line model."""
    known = volume["inputs"]
    p, p0, cm3 = known["p"]["value"], known["p0"]["value"], known["V"]["value"]
    delivery = document["pump"]["delivery_cm3_min"]
    air = (delivery * median(builds) / (60 * friction) - added_up(known["doses"]["value"]) - cm3 * p / (10 * known["K"]["value"])
           - added_up(known["swells"]["value"]) * p / 100) / (cm3 * (1 - p0 / (p + p0)))
    inputs = [("delivery", given(delivery, "cm³/min", "pump delivery")), ("builds", given(builds, "s", "measured build-ups")),
              ("friction", given(friction, "ratio", "simulated over frictionless time at the temperature of the runs", True))]
    return figure(max(0.0, air), "1", _AIR, inputs + [(name, known[name]) for name in ("doses", "V", "p", "K", "p0", "swells")],
                  COMPRESSION + "; " + LINE_MODEL)


def lefts(document, measured):
    """Measured residuals as pressure over the way's sum of length over bore, at places that exist: [(bar, way)]."""
    tree = Tree(document)
    ways = {node: added_up([section["length_m"] / (section["bore_mm"] / 1000) for section in tree.way(node)]) for node in tree.order}
    return [(row["bar"], ways[row["at"]]) for row in measured.get("residual_bar") or [] if ways.get(row.get("at"))]


def _yield(document, measured, rows):
    """Yield at the reference temperature that keeps so much pressure in the line. Source: FORCE_BALANCE."""
    lubricant = document["lubricant"]
    reference, stiffening = [DEFAULTS[name] if lubricant.get(name) is None else lubricant[name]
                             for name in ("reference_c", "stiffening_per_k")]
    at = measured.get("at_c")
    at = document["ambient"]["usual_c"] if at is None else at
    stresses = [1e5 * bar / (4 * way) for bar, way in rows]
    return figure(median(stresses) * exp(stiffening * (at - reference)), "Pa", _YIELD, [
        ("left", given([bar for bar, _ in rows], "bar", "measured after venting")),
        ("ways", given([way for _, way in rows], "ratio", "sum of length over bore along each way")),
        ("stiffening", given(stiffening, "1/K", "growth of the yield with cold", lubricant.get("stiffening_per_k") is None)),
        ("at", given(at, "°C", "temperature of the measurement", measured.get("at_c") is None)),
        ("reference", given(reference, "°C", "reference temperature", lubricant.get("reference_c") is None))], FORCE_BALANCE)
