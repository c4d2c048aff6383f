"""Catalogues of the records that a phone makes, from test runs to closed cases, and of a system's checklist. Same shape as catalogue.py."""
from collections import OrderedDict

from .fields import field

# part of a form: what a page puts in by itself, and what a person types
RECORD, TYPED = "record", "typed"
ANSWERS = ("ok", "not ok", "not applicable", "not done", "reading", "text")
# what an item of a checklist asks for, how often, and where its limits come from
ASKS = ("ok", "reading", "text")
EVERY = ("round", "month", "year", "cold")
LIMITS = ("baseline", "fixed")
# consequence of a defect, the worst first; common practice, no published source
SEVERITIES = ("danger", "starving", "failing", "untidy")
EVIDENCE = ("photo", "reading", "test run")
SETTLED = ("sheet follows", "set back", "stays as an exception")


def _text(path, label, required=False):
    return field(path, label, "text", RECORD, required=required)


def _number(path, label, unit, low, high, required=False):
    return field(path, label, "number", RECORD, unit, low, high, required)


_HEAD = (  # of every record: put in by the page
    field("id", "Identity", "id", RECORD, required=False),
    field("system", "System", "id", RECORD),
    field("system_revision", "Revision of the system", "id", RECORD, required=False),
    _text("made_at", "Made at"),
    _text("made_by", "Made by"),
    field("phone", "Phone", "id", RECORD, required=False),
)
_NOTE = (_text("note", "Note"),)


def _group(path, label):
    return field(path, label, "group", RECORD, required=False)


def _choice(path, label, choices, required=False):
    return field(path, label, "choice", RECORD, required=required, choices=choices)


def _bool(path, label):
    return field(path, label, "bool", RECORD, required=False)


def _by_whom(path, label):
    """Who did it, in which role, when, by which statement."""
    return (_group(path, label), _text(path + ".by", label + " by", True), _text(path + ".at", label + " at", True),
            _text(path + ".role", "Role"), _text(path + ".statement", "Statement"))


def _photos(path):
    """Photos by the hash of what the phone keeps; marks drawn on one, in shares of its width and height.

    Arrow: from 1 to its tip at 2. Circle: its middle at 1, its edge through 2.
    """
    inner, marks = path + "[].", path + "[].marks"
    return (field(path, "Photos", "list", RECORD, required=False, most=10), field(inner + "sha256", "Photo", "id", RECORD),
            _number(inner + "width", "Width", "count", 1, 20000, True), _number(inner + "height", "Height", "count", 1, 20000, True),
            _text(inner + "at", "Taken at"), _text(inner + "by", "Taken by"), field(marks, "Marks", "list", RECORD, required=False, most=20),
            _choice(marks + "[].shape", "Shape", ("arrow", "circle"), True)) + tuple([
                _number("%s[].%s" % (marks, name), "Place", None, -1, 2, True) for name in ("x1", "y1", "x2", "y2")])


_SIGNED = _by_whom("signed", "Signed off") + (field("signed.drawn", "Signature", "texts", RECORD, required=False),)
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
    _bool("runs[].counts", "Counts"),
    _bool("runs[].resumed", "Went on after a restart of the phone"),
    field("seen", "Points looked at", "list", RECORD, required=False, most=400),
    field("seen[].point", "Point", "id", RECORD),
    field("seen[].fed", "Fresh lubricant seen", "bool", RECORD),
    field("residual_bar", "Residual pressures", "list", RECORD, required=False, most=50),
    field("residual_bar[].at", "Place", "id", RECORD),
    _number("residual_bar[].bar", "Residual pressure", "bar", 0, 900, True),
    _number("delivery_cm3_min", "What the pump gives, caught in a cup", "cm³/min", 0.1, 100000),
    _group("held", "Pressure at the pump with the vent held shut"),
    _number("held.after_s", "After the pump stopped", "s", 1, 100000, True),
    _number("held.bar", "Pressure then", "bar", 0, 900, True),
) + _SIGNED
ROUND = _HEAD + _NOTE + (
    field("items", "Items", "list", RECORD, most=2000),
    field("items[].id", "Item", "id", RECORD),
    _text("items[].where", "Where"),
    _text("items[].ask", "What was asked", True),
    _choice("items[].answer", "Answer", ANSWERS),
    _number("items[].value", "Reading", None, -1e9, 1e9),
    field("items[].unit", "Unit", "text", RECORD, required=False),
    _number("items[].low", "Lower limit", None, -1e9, 1e9),
    _number("items[].high", "Upper limit", None, -1e9, 1e9),
    _text("items[].note", "Note or reason"),
    _text("items[].at", "Answered at"),
    _text("items[].by", "Answered by"),
    _text("items[].component", "Component"),
    _text("items[].place", "Place"),
    _choice("items[].every", "How often", EVERY),
    _text("items[].limit", "Where its limits come from"),
    _bool("items[].photo", "Photo when not ok"),
) + _photos("items[].photos") + (
    field("checklist_revision", "Revision of the checklist", "id", RECORD, required=False),
    _text("begun_at", "Begun at"),
    field("corrections", "Corrections after sign-off", "list", RECORD, required=False, most=200),
    field("corrections[].item", "Item", "id", RECORD),
    _text("corrections[].was", "What it said", True),
    _text("corrections[].by", "Corrected by", True),
    _text("corrections[].at", "Corrected at", True),
    _text("corrections[].reason", "Reason", True),
) + _SIGNED + _by_whom("countersigned", "Counter-signed")
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
ADJUSTMENT = _HEAD + (
    _text("setting", "Setting", True),
    _text("from", "It was"),
    _text("to", "It is now", True),
    _text("why", "Why", True),
    _text("sheet", "The settings sheet says"),
    _text("name", "Name of the setting on the sheet"),
    _number("value", "It is now, in the sheet's unit", None, -1e9, 1e9),
    field("unit", "Unit of the sheet", "text", RECORD, required=False),
) + _by_whom("settled", "Settled") + (_choice("settled.how", "How", SETTLED, True),)
CHECKLIST = _HEAD + _NOTE + (
    _number("round_every_d", "A round every", "days", 1, 366),
    _text("walked_by", "Walked by"),
    field("items", "Items", "list", RECORD, most=2000),
    field("items[].id", "Item", "id", RECORD),
    _text("items[].component", "Component"),
    _text("items[].place", "Place"),
    _text("items[].where", "Where"),
    _text("items[].ask", "What is asked"),
    _choice("items[].answer", "Answer", ASKS),
    field("items[].unit", "Unit", "text", RECORD, required=False),
    _choice("items[].limits", "Limits", LIMITS),
    _number("items[].low", "Lower limit", None, -1e9, 1e9),
    _number("items[].high", "Upper limit", None, -1e9, 1e9),
    _choice("items[].every", "How often", EVERY),
    _bool("items[].photo", "Photo when not ok"),
    _bool("items[].own", "Added by the plant"),
    _bool("items[].left_out", "Not asked here"),
)
DEFECT = _HEAD + (
    _text("where", "Where", True),
    _text("component", "Component"),
    _text("place", "Part of the line"),
    field("points", "Points that it concerns", "texts", RECORD, required=False),
    _text("what", "What is wrong", True),
    _choice("severity", "Consequence", SEVERITIES, True),
    _text("owner", "Owner"),
    _text("due", "Due"),
    field("cause", "Cause", "text", RECORD, required=False),
    field("from_record", "Record that it comes from", "id", RECORD, required=False),
    _text("from_item", "Item that it comes from"),
    field("changes", "What was changed since", "list", RECORD, required=False, most=200),
    field("changes[].id", "Change", "id", RECORD),
    _text("changes[].at", "Changed at", True),
    _text("changes[].by", "Changed by", True),
    _text("changes[].what", "What was changed", True),
) + _photos("changes[].photos") + _photos("photos") + _by_whom("closed", "Closed") + (
    _text("closed.how", "What was done", True),
    _choice("closed.evidence", "Evidence", EVIDENCE, True),
    _text("closed.reading", "Reading"),
    field("closed.test_run", "Test run", "id", RECORD, required=False),
) + _photos("closed.photos")
# readings of a fault case, in the order of the questions: (name, label, kind, unit); a number may stand by its place, {"pump": 40}
READINGS = (
    ("ran_into_limit", "The time limit passed", "bool", None), ("limit_line", "Line on which it passed", "text", None),
    ("tripped_at_once", "A switch reads as tripped at once", "bool", None), ("low_level", "Reservoir at its low level", "bool", None),
    ("build_s", "Build-up", "number", "s"), ("build_b_s", "Build-up of line B", "number", "s"), ("vent_s", "Vent", "number", "s"),
    ("pressure_bar", "Highest pressure", "number", "bar"), ("pressure_b_bar", "Highest pressure on line B", "number", "bar"),
    ("residual_bar", "Pressure when the pause begins", "number", "bar"),
    ("dry_points", "Points that stay dry", "texts", None), ("current_a", "Current of the pump", "number", "A"),
    ("refill_l", "Filled in", "number", "l"), ("since_h", "In the time of", "number", "h"),
    ("at_c", "Temperature at the line", "number", "°C"))
FAULT_CASE = _HEAD + (
    _text("symptom", "What was seen first"),
    field("readings", "Readings", "data", RECORD, required=False),
    field("tried", "Checks made", "list", RECORD, required=False, most=100),
    _text("tried[].cause", "Cause", True),
    _choice("tried[].answer", "Answer", ("found", "not found", "cannot tell"), True),
    _text("tried[].name", "What was checked"),
    _text("tried[].at", "Checked at"),
    _text("cause", "Cause that was found"),
    field("defect", "Defect", "id", RECORD, required=False),
) + _by_whom("closed", "Closed") + (_text("closed.how", "What was done", True),)
SET_ASIDE = _HEAD + (
    field("finding", "Finding", "id", RECORD),
    _text("says", "What it says"),
    _text("of", "Of the reading made at"),
    _typed("why", "Why it needs nothing", required=True),
)
# paths that every record begins with
HEAD = tuple([one["path"] for one in _HEAD])
# kind of record -> (its name, its catalogue); its format is the kind with "/1"
RECORDS = OrderedDict((
    ("test-run", ("Test run", TEST_RUN)), ("round", ("Round", ROUND)), ("settings-entry", ("Settings entered", SETTINGS_ENTRY)),
    ("refill", ("Refill", REFILL)), ("note", ("Note", NOTE)), ("adjustment", ("Adjustment", ADJUSTMENT)),
    ("defect", ("Defect", DEFECT)), ("fault-case", ("Fault case", FAULT_CASE)), ("set-aside", ("Call set aside", SET_ASIDE)),
    ("checklist", ("Checklist", CHECKLIST))))
# those of them that a person adds at a system: kind -> (what many are called, words on the button that opens its form, what is said above
# that form). Lists on phone and desk, tables and summaries have a place for each.
ADDED = OrderedDict((
    ("refill", ("Refills", "Add a refill", "Clean around the fill port first: dirt at filling is where much trouble begins. Fill in only what "
                "the settings sheet names; greases that do not go together can stop a line.")),
    ("note", ("Notes", "Write a note", "")), ("adjustment", ("Adjustments", "Note an adjustment", ""))))
