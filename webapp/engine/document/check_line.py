"""How the parts of a system hang together: the tree of pipes, who hangs where, pressures and temperatures in order."""
from ..basics.figure import InputError, given
from ..basics.findings import finding
from ..basics.kinds import BY_PRESSURE, DUAL, PROGRESSIVE, VENTED, switches
from ..lubricants.lubricant import OIL, viscosities
from ..feeding.needs import film_sizes, highest_speed, working_speed
from ..line.tree import PUMP


def check_line(document):
    """Findings of a document whose fields are all well-formed."""
    findings = []
    progressive = document["kind"] == PROGRESSIVE
    of_kind = () if progressive else (_devices, _switches)
    for check in (_names, _tree, _one_switch, _relief) + of_kind + (_points, _lubricant, _supply):
        findings += check(document)
        if check is _tree and findings:
            break
    if progressive and not findings:
        from .check_blocks import check_blocks
        findings = check_blocks(document)
    return findings


def _duplicates(things, group, label):
    seen, findings = set(), []
    for number, thing in enumerate(things):
        if thing["id"] in seen:
            findings.append(finding("stop", "%s[%d].id" % (group, number), "check.duplicate",
                                    [("label", label), ("value", thing["id"])]))
        seen.add(thing["id"])
    return findings


def _names(document):
    findings = []
    for group, label in (("sections", "Pipe"), ("devices", "Device"), ("points", "Point")):
        findings += _duplicates(document[group], group, label)
    return findings + _duplicates(switches(document), "switches", "Switch")


def _tree(document):
    findings, ends, children = [], set(), {}
    for number, section in enumerate(document["sections"]):
        place = "sections[%d]" % number
        if section["to"] == PUMP:
            findings.append(finding("stop", place + ".to", "check.into_pump", [("value", section["id"])]))
        elif section["to"] in ends:
            findings.append(finding("stop", place + ".to", "check.two_ways", [("node", section["to"])]))
        ends.add(section["to"])
        children.setdefault(section["from"], []).append(section["to"])
    reached, stack = {PUMP}, [PUMP]
    while stack:
        for node in children.get(stack.pop(), []):
            if node not in reached:
                reached.add(node)
                stack.append(node)
    for number, section in enumerate(document["sections"]):
        if section["from"] not in reached:
            findings.append(finding("stop", "sections[%d].from" % number, "check.not_reached",
                                    [("value", section["id"]), ("node", section["from"])]))
    for group, label, things in (("devices", "Device", document["devices"]), ("switches", "Switch", switches(document))):
        for number, thing in enumerate(things):
            if thing["at"] not in reached:
                findings.append(finding("stop", "%s[%d].at" % (group, number), "check.unknown_node", [
                    ("label", label), ("value", thing["id"]), ("node", thing["at"])]))
    return findings


def _resets(label, place, thing, acts):
    if thing["resets_bar"] < thing[acts]:
        return []
    return [finding("stop", place + ".resets_bar", "check.resets_above", [
        ("label", label), ("value", thing["id"]), ("resets", given(thing["resets_bar"], "bar", "resets")),
        ("acts", given(thing[acts], "bar", "acts"))])]


def _one_switch(document):
    """A second switch belongs to single-line systems only."""
    if document["kind"] not in (DUAL, PROGRESSIVE) or len(document["switches"]) < 2:
        return []
    return [finding("stop", "switches[1]", "check.one_switch", [
        ("kind", document["kind"]), ("value", document["switches"][1]["id"])])]


def _relief(document):
    """Where no switch ends the build-up below it, the relief pressure must be above what devices and blocks fire at."""
    if document["kind"] in BY_PRESSURE:
        return []
    relief = document["pump"]["relief_bar"]
    return [finding("stop", "devices[%d].fires_bar" % number, "check.fires_above_relief", [
        ("value", device["id"]), ("fires", given(device["fires_bar"], "bar", "fires")),
        ("relief", given(relief, "bar", "relief"))])
        for number, device in enumerate(document["devices"]) if device["fires_bar"] >= relief]


def _devices(document):
    findings = []
    listened = switches(document)
    trips = listened[0]["trips_bar"] if listened else float("inf")
    for number, device in enumerate(document["devices"]):
        place = "devices[%d]" % number
        findings += _resets("Device", place, device, "fires_bar")
        if device["output_min_cm3"] > device["output_max_cm3"]:
            findings.append(finding("stop", place + ".output_max_cm3", "check.output_order", [
                ("value", device["id"]), ("most", given(device["output_max_cm3"], "cm³", "most")),
                ("least", given(device["output_min_cm3"], "cm³", "least"))]))
        if device["fires_bar"] >= trips:
            findings.append(finding("warn", place + ".fires_bar", "check.fires_above", [
                ("value", device["id"]), ("fires", given(device["fires_bar"], "bar", "fires")),
                ("trips", given(trips, "bar", "trips"))]))
    return findings


def _switches(document):
    findings, relief = [], document["pump"]["relief_bar"]
    for number, switch in enumerate(switches(document)):
        place = "switches[%d]" % number
        findings += _resets("Switch", place, switch, "trips_bar")
        if switch["trips_bar"] >= relief:
            findings.append(finding("stop", place + ".trips_bar", "check.above_relief", [
                ("value", switch["id"]), ("trips", given(switch["trips_bar"], "bar", "trips")),
                ("relief", given(relief, "bar", "relief"))]))
    return findings


def _points(document):
    findings, devices = [], {device["id"] for device in document["devices"]}
    for number, point in enumerate(document["points"]):
        place, need = "points[%d]" % number, point["need"]
        if point["device"] not in devices:
            findings.append(finding("stop", place + ".device", "check.unknown_device",
                                    [("value", point["name"]), ("device", point["device"])]))
        if need["method"] == "rolling":
            findings += _rolling(place, point["name"], need)
        elif need["method"] == "film" and film_sizes(need) is None:
            findings.append(finding("stop", place + ".need.area_cm2", "check.film_size", [("value", point["name"])]))
    return findings


def _rolling(place, name, need):
    if need.get("width_mm") is None:
        return [finding("stop", place + ".need.width_mm", "check.missing", [("label", "Width"), ("of", " of point " + name)])]
    if need["outer_mm"] <= need["bore_mm"]:
        return [finding("stop", place + ".need.outer_mm", "check.bearing", [("value", name)])]
    highest, speed = highest_speed(need["bore_mm"]), working_speed(need)
    if speed >= highest * (1 - 1e-9):
        return [finding("stop", place + ".need.speed_rpm", "check.speed", [
            ("value", name), ("speed", given(speed, "r/min", "speed")),
            ("highest", given(highest, "r/min", "highest"))])]
    return []


def _temperatures(place, ambient):
    if ambient["coldest_c"] <= ambient["usual_c"] <= ambient["hottest_c"]:
        return []
    return [finding("stop", place, "check.temperatures", [
        (when, given(ambient[when + "_c"], "°C", when)) for when in ("coldest", "usual", "hottest")])]


def _lubricant(document):
    lubricant, findings = document["lubricant"], _temperatures("ambient", document["ambient"])
    for number, section in enumerate(document["sections"]):
        if section.get("ambient"):
            findings += _temperatures("sections[%d].ambient" % number, section["ambient"])
    if lubricant["nlgi"] == OIL and not _viscosities_do(lubricant):
        findings.append(finding("stop", "lubricant.v40_mm2_s", "check.oil_viscosity"))
    return findings


def _viscosities_do(lubricant):
    try:
        return viscosities(lubricant) is not None
    except InputError:
        return False


def _supply(document):
    findings, pump, wiring = [], document["pump"], document.get("wiring") or {}
    low = pump.get("low_level_l")
    if low is not None and low >= pump["reservoir_l"]:
        findings.append(finding("stop", "pump.low_level_l", "check.low_level", [
            ("low", given(low, "l", "low level")), ("reservoir", given(pump["reservoir_l"], "l", "reservoir"))]))
    start = pump.get("starting_current_a")
    if start is not None and start < pump["current_a"]:
        findings.append(finding("stop", "pump.starting_current_a", "check.start_below", [
            ("start", given(start, "A", "starting current")), ("current", given(pump["current_a"], "A", "pump current"))]))
    for own in ("", "vent_") if document["kind"] in VENTED else ("",):
        findings += _no_conductor(wiring, own)
    return findings


def _no_conductor(wiring, own):
    sizes = [wiring.get(name) for name in (own + "conductor_mm2", own + "awg", "conductor_mm2", "awg")]
    if wiring.get(own + "cable_m") is None or [size for size in sizes if size is not None]:
        return []
    return [finding("stop", "wiring.%sconductor_mm2" % own, "check.no_conductor")]
