"""What the line's figures mean: whether everything resets in the cold, whether the pump gets there, in which order switches trip."""
from ..basics.figure import figure, given
from ..basics.findings import finding
from ..line.flow import FORCE_BALANCE
from ..line.line import locked_pressures, vents_down_to
from ..lubricants.lubricant import OIL, lubricant_at

NEAR = 0.8


def _resetting(document):
    """Everything that must reset: (kind, thing)."""
    return ([("device", device) for device in document["devices"]]
            + [("switch", switch) for switch in document["switches"]])


def _worst(document, locked):
    """The thing whose place keeps most of its reset pressure: (share, number, kind, thing)."""
    ranked = [(locked[thing["at"]] / thing["resets_bar"], -number, kind, thing)
              for number, (kind, thing) in enumerate(_resetting(document))]
    return max(ranked, key=lambda entry: entry[:2])


def place_name(document, kind, thing):
    """What a person calls the place: the first point on a device, else the thing's id."""
    if kind == "device":
        for point in document["points"]:
            if point["device"] == thing["id"]:
                return point["name"]
    return "%s %s" % (kind, thing["id"])


def _bore_that_would_do(document, left, allowed):
    """Whole millimetres of the narrowest bore on the way, widened so that what stays locked in is allowed."""
    narrowest = min([section["bore_mm"] for section in document["sections"]])
    return narrowest * left / allowed


def line_findings(document):
    """(resets_at_coldest figure, findings): what stays locked in at the coldest temperature against every reset pressure."""
    coldest = document["ambient"]["coldest_c"]
    locked = locked_pressures(document, coldest)
    things = [thing for _, thing in _resetting(document)]
    resets = all([locked[thing["at"]] < thing["resets_bar"] for thing in things])
    state = lubricant_at(document["lubricant"], coldest)
    out = figure(resets, "bool", "max(locked / resets) < 1", [
        ("locked", given([locked[thing["at"]] for thing in things], "bar", "left at each device and switch",
                         "yield_pa" in state["estimates"])),
        ("resets", given([thing["resets_bar"] for thing in things], "bar", "reset pressure of each")),
        ("t", given(coldest, "°C", "coldest"))], FORCE_BALANCE)
    share, _, kind, thing = _worst(document, locked)
    if share < NEAR:
        return out, []
    left = locked[thing["at"]]
    values = [("left", given(left, "bar", "left")), ("resets", given(thing["resets_bar"], "bar", "resets")),
              ("place", place_name(document, kind, thing)), ("t", given(coldest, "°C", "coldest")),
              ("bore", given(_bore_that_would_do(document, left, NEAR * thing["resets_bar"]), "mm", "bore"))]
    works_to = vents_down_to(document, thing["at"], thing["resets_bar"], coldest)
    if document["lubricant"]["nlgi"] != OIL and works_to is not None:
        values.append(("works_to", given(works_to, "°C", "vents down to")))
    where = "%ss.%s" % (kind, thing["id"]) if kind == "device" else "switches.%s" % thing["id"]
    if share >= 1:
        return out, [finding("stop", where, "line.locked" if len(values) == 6 else "line.locked_always", values)]
    return out, [finding("warn", where, "line.nearly_locked", values)]


def sequence_findings(document, traces, moments):
    """What the simulations say: relief reached first, devices that do not dose, switches in the wrong order."""
    findings = []
    for when in sorted(traces, reverse=True):
        trace, moment = traces[when], moments[when]
        t = ("t", given(trace["at_c"], "°C", "temperature"))
        if trace["trip_s"][0] is None:
            findings.append(finding("stop", "pump.relief_bar", "build.never_trips", [
                t, ("relief", given(document["pump"]["relief_bar"], "bar", "relief")), ("why", trace["why"])]))
        elif not trace["completed"]:
            findings.append(finding("stop", "devices", "build.incomplete", [t, ("why", trace["why"])]))
        if len(document["switches"]) == 2 and len(moment["trips"]) == 2 \
                and moment["trips"][0][0] != document["switches"][0]["id"]:
            findings.append(finding("warn", "switches", "switches.order", [
                t, ("first", document["switches"][0]["id"]), ("second", document["switches"][1]["id"])]))
    if len(document["switches"]) == 2:
        findings.append(finding("note", "switches", "switches.place", [
            ("first", document["switches"][0]["id"]), ("second", document["switches"][1]["id"])]))
    return findings
