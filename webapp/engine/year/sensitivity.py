"""Which input moves the answer most within its own uncertainty, and the range of every prediction that rests on an estimate."""
from collections import OrderedDict
from math import exp, log

from ..line import line
from ..basics.figure import figure, given
from ..basics.findings import finding
from ..basics.kinds import BY_PRESSURE, PROGRESSIVE
from . import build_ups
from .outlook import begun
from .prediction_range import NEVER, Friction, Ranges, Surrogate, worked_traces
from .uncertainty import TEN_TO_NINETY, TIMES, uncertain
from ..systems.worked import doses_from

SURROGATE = "closed form: volume to press in, friction by the drop at full delivery; spreads from memory"
_CLOSED = (("line.drop_", line.drop), ("line.residual_", line.residual))


def sensitivity(document, worked=None, when=None):
    """`sensitivity/1` without texts: `ranges` of predictions, `moves` (inputs, the one that moves most first), findings.

    worked   the worked document with its traces, where it is known already
    when     "usual" or "coldest": ranges at that temperature alone, which takes four simulations; None: at both
    """
    out, document, worked = begun("sensitivity/1", document, worked)
    if worked is None:
        return out
    doses = doses_from(document, worked)
    out["ranges"] = _ranges(document, worked, doses, [when] if when else ["usual", "coldest"])
    out["moves"] = _moves(document, worked, doses)
    out["findings"] = _most(out["moves"], _answers(document)) + _open_ended(document, out["ranges"])
    return out


# ---- ranges

def _ranges(document, worked, doses, temperatures):
    """Rows {"of", "expected", "low", "high"}: figures; an end that is None never comes."""
    if not uncertain(document):
        return []
    ranges, rows = Ranges(document, worked, doses), []
    for when in temperatures:
        found = []
        if not ranges.still:
            found += [("build.time_" + when + side, ends) for side, ends in zip(build_ups.sides(document), ranges.build(when))]
        found += [(of + when, ranges.closed(works, when)) for of, works in _CLOSED
                  if works == line.drop or document["kind"] != PROGRESSIVE]
        if document["kind"] in BY_PRESSURE:  # what a time-only pump leaves to vent hangs on whether its run was long enough
            found.append(("vent.reset_" + when, ranges.reset(when)))
        for of, ends in found:
            if ends is not None:
                section, _, name = of.partition(".")
                low, high = _spanning(worked[section][name], ends)
                rows.append(OrderedDict((("of", of), ("expected", worked[section][name]), ("low", low), ("high", high))))
    return rows


def _spanning(expected, ends):
    """The ends by their value, with what is expected between them: where more of an input first helps and then harms it may not be."""
    if None in ends or expected["value"] is None:
        return ends
    ranked = sorted([(one["value"], number) for number, one in enumerate(list(ends) + [expected])])
    return [(list(ends) + [expected])[ranked[k][1]] for k in (0, 2)]


def _open_ended(document, rows):
    """Warnings of a build-up or a reset that may never come, one for each and each temperature."""
    findings, told = [], []
    for row in rows:
        name = "range.never" if row["of"].startswith("build.") else "range.never_reset"
        t = row["expected"]["inputs"]["t"]
        if row["high"] is None and (name, t["value"]) not in told:
            told.append((name, t["value"]))
            findings.append(finding("warn", "lubricant", name, [("t", t)] + build_ups.words(document)))
    return findings


# ---- what moves the answer

def _answers(document):
    """(name, unit) of what may be moved: the build-up and what stays locked in, or where nothing vents the drop."""
    return ("build", "s"), ("drop" if document["kind"] == PROGRESSIVE else "residual", "bar")


class _Answers:
    """Closed forms of the answers at the coldest temperature (usual, where nothing trips there), for any document."""

    def __init__(self, document, worked, doses):
        self.surrogate = Surrogate(document, doses)
        self.friction = Friction(document, self.surrogate)
        traces = worked_traces(document, worked, doses)
        for trace in traces:
            self.friction.add(document, trace)
        usual, coldest = [build_ups.slowest(document, trace)[0] for trace in traces]
        self.when = "usual" if coldest is None else "coldest"
        self.pressure = _answers(document)[1][0]
        self.taken = {"build": usual if coldest is None else coldest, self.pressure: worked["line"][self.pressure + "_coldest"]["value"]}
        self.before = self.of(document)

    def of(self, document):
        """{"build" [s] or NEVER, and the pressure [bar]}."""
        at_c = document["ambient"][self.when + "_c"]
        share = self.friction.share(log(self.surrogate.drop(document, at_c)))
        build = NEVER if share == NEVER else self.surrogate.frictionless(document) * exp(share)
        works = line.drop if self.pressure == "drop" else line.residual
        return {"build": build, self.pressure: works(document, document["ambient"]["coldest_c"])["value"]}

    def moved(self, name, document):
        """What was taken for an answer, moved as its closed form says; None where it never comes."""
        before, after = self.before[name], self.of(document)[name]
        if not self.taken[name] or before == NEVER or after == NEVER:
            return None
        return self.taken[name] * after / before


def _moves(document, worked, doses):
    answers, rows = _Answers(document, worked, doses), []
    for one in uncertain(document, entered=True):
        value = one.value(document)
        if isinstance(value, list) and not any(value):
            continue
        moved = [one.moved(document, z) for z in (TEN_TO_NINETY, -TEN_TO_NINETY)]
        row = OrderedDict((("path", one.path), ("label", one.label), ("estimate", one.estimate), ("within", _within(one))))
        for name, unit in _answers(document):
            row[name] = _change(answers, name, unit, moved)
        rows.append(row)
    ranked = sorted([(-_weight(row), number) for number, row in enumerate(rows)])
    return [rows[number] for _, number in ranked]


def _weight(row):
    """How far a row moves any answer: its greatest change [%]; no change that is known counts as none."""
    return max([abs(row[name]["value"] or 0.0) for name in ("build", "residual", "drop") if name in row])


def _within(one):
    """The input's own uncertainty: a share in per cent, or a difference in its unit."""
    if one.how == TIMES:
        return figure(100 * (one.by - 1), "%", "100 * (factor - 1)", [("factor", given(one.by, "ratio", "factor either way", True))],
                      "from memory: middle 80 % of cases")
    unit = "K" if one.unit == "°C" else one.unit
    return figure(one.by, unit, "by", [("by", given(one.by, unit, "either way", True))], "from memory: middle 80 % of cases")


def _change(answers, name, unit, moved):
    """The greater of the changes [%] up and down; value None where the answer never comes or is nothing."""
    ends = [answers.moved(name, document) for document in moved]
    known = [(abs(end - answers.taken[name]), number) for number, end in enumerate(ends) if end is not None]
    taken = given(answers.taken[name], unit, "as taken")
    if not known:
        return figure(None, "%", "100 * (moved / taken - 1)", [("moved", given(None, unit, "moved", True)), ("taken", taken)], SURROGATE)
    end = ends[max(known)[1]]
    return figure(100 * (end / answers.taken[name] - 1), "%", "100 * (moved / taken - 1)",
                  [("moved", given(end, unit, "with the input moved", True)), ("taken", taken)], SURROGATE)


def _most(rows, answers):
    """A note for each answer: the input that moves it most."""
    findings = []
    for name, _ in answers:
        ranked = sorted([(-abs(row[name]["value"]), number) for number, row in enumerate(rows) if row[name]["value"] is not None])
        if ranked and ranked[0][0] < -0.5:
            row = rows[ranked[0][1]]
            findings.append(finding("note", row["path"], "sensitivity." + name, [
                ("label", row["label"]), ("within", row["within"]), ("change", row[name])]))
    return findings
