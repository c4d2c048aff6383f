"""Catalogues of the records that a phone makes: test runs, rounds, settings entered, refills, notes. Same shape as catalogue.py."""
from collections import OrderedDict

from .fields import field

# part of a form: what a page puts in by itself, and what a person types
RECORD, TYPED = "record", "typed"
ANSWERS = ("ok", "not ok", "not applicable", "reading")


def _text(path, label, required=False):
    return field(path, label, "text", RECORD, required=required)


def _number(path, label, unit, low, high, required=False):
    return field(path, label, "number", RECORD, unit, low, high, required)


_HEAD = (
    field("id", "Identity", "id", RECORD, required=False),
    field("system", "System", "id", RECORD),
    field("system_revision", "Revision of the system", "id", RECORD, required=False),
    _text("made_at", "Made at"),
    _text("made_by", "Made by"),
    field("phone", "Phone", "id", RECORD, required=False),
)
_NOTE = (_text("note", "Note"),)
_SIGNED = (
    field("signed", "Signed off", "group", RECORD, required=False),
    _text("signed.by", "Signed by", True),
    _text("signed.at", "Signed at", True),
)
TEST_RUN = _HEAD + _NOTE + (
    _number("at_c", "Temperature at the line", "°C", -70, 150),
    _text("cautions_read_at", "Cautions read at"),
    field("runs", "Runs", "list", RECORD, most=50),
    field("runs[].id", "Run", "id", RECORD),
    _text("runs[].started_at", "Started at"),
    _number("runs[].build_s", "Build-up", "s", 0.1, 100000),
    _number("runs[].second_s", "Second switch", "s", 0.1, 100000),
    _number("runs[].vent_s", "Vent", "s", 0, 1000000),
    _number("runs[].build_b_s", "Build-up of line B", "s", 0.1, 100000),
    _number("runs[].cycle_s", "Signal to signal", "s", 0.1, 100000),
    field("runs[].counts", "Counts", "bool", RECORD, required=False),
    field("runs[].resumed", "Went on after a restart of the phone", "bool", RECORD, required=False),
    field("seen", "Points looked at", "list", RECORD, required=False, most=400),
    field("seen[].point", "Point", "id", RECORD),
    field("seen[].fed", "Fresh lubricant seen", "bool", RECORD),
    field("residual_bar", "Residual pressures", "list", RECORD, required=False, most=50),
    field("residual_bar[].at", "Place", "id", RECORD),
    _number("residual_bar[].bar", "Residual pressure", "bar", 0, 900, True),
    _number("delivery_cm3_min", "What the pump gives, caught in a cup", "cm³/min", 0.1, 100000),
    field("held", "Pressure at the pump with the vent held shut", "group", RECORD, required=False),
    _number("held.after_s", "After the pump stopped", "s", 1, 100000, True),
    _number("held.bar", "Pressure then", "bar", 0, 900, True),
) + _SIGNED
ROUND = _HEAD + _NOTE + (
    field("items", "Items", "list", RECORD, most=2000),
    field("items[].id", "Item", "id", RECORD),
    _text("items[].where", "Where"),
    _text("items[].ask", "What was asked", True),
    field("items[].answer", "Answer", "choice", RECORD, required=False, choices=ANSWERS),
    _number("items[].value", "Reading", None, -1e9, 1e9),
    field("items[].unit", "Unit", "text", RECORD, required=False),
    _number("items[].low", "Lower limit", None, -1e9, 1e9),
    _number("items[].high", "Upper limit", None, -1e9, 1e9),
    _text("items[].note", "Note or reason"),
    _text("items[].at", "Answered at"),
) + _SIGNED
SETTINGS_ENTRY = _HEAD + _NOTE + (
    field("entries", "Settings entered", "list", RECORD, most=100),
    field("entries[].name", "Setting", "id", RECORD),
    _text("entries[].shown", "Value", True),
    _text("entries[].wording", "Menu wording"),
    _text("entries[].at", "Entered at"),
) + _SIGNED


def _typed(path, label, kind="text", unit=None, low=None, high=None, required=False, help=""):
    return field(path, label, kind, TYPED, unit, low, high, required, help=help)


REFILL = _HEAD + (
    _typed("refill_l", "How much went in", "number", "l", 0.01, 10000, True),
    _typed("lubricant", "Lubricant, as its label says"),
    _typed("batch", "Batch"),
    _typed("level_before_l", "In the reservoir before", "number", "l", 0, 10000),
    _typed("level_after_l", "In the reservoir after", "number", "l", 0, 10000,
           help="Filling to the same mark each time makes the consumption sure."),
    _typed("cycles", "Cycles counted since the last refill", "whole", "count", 1, 100000000, help="Where the controller counts them."),
    _typed("note", "Note"),
)
NOTE = _HEAD + (_typed("text", "What the next person should know", required=True),)
# kind of record -> (its name, its catalogue); its format is the kind with "/1"
RECORDS = OrderedDict((("test-run", ("Test run", TEST_RUN)), ("round", ("Round", ROUND)),
                       ("settings-entry", ("Settings entered", SETTINGS_ENTRY)), ("refill", ("Refill", REFILL)),
                       ("note", ("Note", NOTE))))
