"""Which input moves the answer most within its own uncertainty, and the range of every prediction that rests on an estimate."""
from collections import OrderedDict
from math import exp, log

from ..line import line
from ..basics.figure import figure, given
from ..basics.findings import finding
from .outlook import begun
from .prediction_range import NEVER, Friction, Ranges, Surrogate
from .uncertainty import TEN_TO_NINETY, TIMES, uncertain
from ..systems.worked import doses_from

SURROGATE = "closed form: volume to press in, friction by the drop at full delivery; spreads from memory"
_CLOSED = (("line.drop", line.drop), ("line.residual", line.residual))


def sensitivity(document, worked=None, when=None):
    """`sensitivity/1` without texts: `ranges` of predictions, `moves` (inputs, the one that moves most first), findings.

    worked   the worked document with its traces, where it is known already
    when     "usual" or "coldest": ranges at that temperature alone, which takes two simulations; None: at both
    """
    out, document, worked = begun("sensitivity/1", document, worked)
    if worked is None:
        return out
    doses = doses_from(document, worked)
    out["ranges"] = _ranges(document, worked, doses, [when] if when else ["usual", "coldest"])
    out["moves"] = _moves(document, worked, doses)
    out["findings"] = _most(out["moves"]) + _open_ended(out["ranges"])
    return out


# ---- ranges

def _ranges(document, worked, doses, temperatures):
    """Rows {"of", "expected", "low", "high"}: figures; an end that is None never comes."""
    if not uncertain(document):
        return []
    ranges, rows = Ranges(document, worked, doses), []
    for when in temperatures:
        found = [("build.time_", ranges.build(when) if not ranges.still else None)]
        found += [(of + "_", ranges.closed(works, when)) for of, works in _CLOSED]
        for of, ends in found:
            if ends is not None:
                section, _, name = (of + when).partition(".")
                rows.append(OrderedDict((("of", of + when), ("expected", worked[section][name]), ("low", ends[0]), ("high", ends[1]))))
    return rows


def _open_ended(rows):
    return [finding("warn", "lubricant", "range.never", [("t", row["expected"]["inputs"]["t"])])
            for row in rows if row["of"].startswith("build.") and row["high"] is None]


# ---- what moves the answer

class _Answers:
    """Closed forms of the answers at the coldest temperature (usual, where nothing trips there), for any document."""

    def __init__(self, document, worked, doses):
        self.surrogate = Surrogate(document, doses)
        self.friction = Friction(document, self.surrogate)
        for when in ("usual", "coldest"):
            self.friction.add(document, worked["traces"][when])
        trips = {when: worked["traces"][when]["trip_s"][0] for when in ("usual", "coldest")}
        self.when = "usual" if trips["coldest"] is None else "coldest"
        self.taken = {"build": trips[self.when], "residual": worked["line"]["residual_coldest"]["value"]}
        self.before = self.of(document)

    def of(self, document):
        """{"build" [s] or NEVER, "residual" [bar]}."""
        at_c = document["ambient"][self.when + "_c"]
        share = self.friction.share(log(self.surrogate.drop(document, at_c)))
        build = NEVER if share == NEVER else self.surrogate.frictionless(document) * exp(share)
        return {"build": build, "residual": line.residual(document, document["ambient"]["coldest_c"])["value"]}

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
        for name, unit in (("build", "s"), ("residual", "bar")):
            row[name] = _change(answers, name, unit, moved)
        rows.append(row)
    ranked = sorted([(-_weight(row), number) for number, row in enumerate(rows)])
    return [rows[number] for _, number in ranked]


def _weight(row):
    """How far a row moves any answer: its greatest change [%]; no change that is known counts as none."""
    return max([abs(row[name]["value"] or 0.0) for name in ("build", "residual")])


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


def _most(rows):
    """A note for each answer: the input that moves it most."""
    findings = []
    for name in ("build", "residual"):
        ranked = sorted([(-abs(row[name]["value"]), number) for number, row in enumerate(rows) if row[name]["value"] is not None])
        if ranked and ranked[0][0] < -0.5:
            row = rows[ranked[0][1]]
            findings.append(finding("note", row["path"], "sensitivity." + name, [
                ("label", row["label"].lower()), ("within", row["within"]), ("change", row[name])]))
    return findings
