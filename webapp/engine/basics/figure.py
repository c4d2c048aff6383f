"""A figure: a value that can show its working. Pure: no files, no clock, no text for readers (see present.py)."""
from collections import OrderedDict

COMMON_PRACTICE = "common practice, no published source"
LINE_MODEL = "line model: mass balance at each node, Herschel-Bulkley flow between nodes"


class InputError(ValueError):
    """An input of one formula is out of range. `field` names the input, `reason` is a phrase for a reader."""

    def __init__(self, field, reason):
        super().__init__("%s: %s" % (field, reason))
        self.field = field
        self.reason = reason


def given(value, unit, means, estimate=False):
    """One input of a figure: its value (a number, a list of numbers, a bool or a text), unit and meaning in a few words."""
    return {"value": value, "unit": unit, "means": means, "estimate": estimate}


def figure(value, unit, formula, inputs, source, estimate=False, method="formula", residual=None):
    """Build a figure of the contract; `shown` is added by present.py.

    value     number, bool, text or None (could not be worked)
    unit      one of the units in text.UNITS
    formula   evaluable text over the names of `inputs` (lists behave elementwise, sum() adds one up)
    inputs    list of (name, given(...)), in the order in which a reader should see them
    source    where the formula comes from
    estimate  True if anything that went in is an estimate
    method    "formula": the formula gives the value from the inputs; "iterated" and "simulated": `residual` says how
              well the stated balance holds; "chosen": the formula gives the value once the choice is known
    residual  {"says": phrase, "value": number, "limit": number} for iterated and simulated figures
    """
    inputs = OrderedDict(inputs)
    out = {"value": value, "unit": unit, "formula": formula, "inputs": inputs, "source": source, "method": method,
           "estimate": bool(estimate or any([entry["estimate"] for entry in inputs.values()]))}
    if residual is not None:
        out["residual"] = residual
    return out


def is_figure(thing):
    """Tell a figure from any other part of a worked document."""
    return isinstance(thing, dict) and "formula" in thing and "inputs" in thing and "value" in thing
