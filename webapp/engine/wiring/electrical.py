"""Whether the wiring carries pump and vent valve, running and while the pump starts: current, fuse, contacts, voltage at both."""
from .conductors import MOST_DROP_PERCENT, Load, cable_of
from ..basics.figure import COMMON_PRACTICE, figure, given
from ..basics.findings import finding

FUSES = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100)
RELAYS = (5, 10, 16, 20, 30, 40, 60, 80, 100, 150, 200)
DEFAULT_RELAY_ABOVE_A = 5
# times the running current; 3 to 8 remembered, 6 usual on public pages about contacts
DEFAULT_START = 6.0
START = COMMON_PRACTICE + ": a motor draws 3 to 8 times its current while it starts (from memory)"
# times its rating that a fuse stands for the moment of a start (a few tenths of a second)
STANDS = {"slow": 4.0, "quick": 2.0}
FUSE_START = COMMON_PRACTICE + ": a slow fuse stands 4 times its rating for a start, a quick one twice (from memory)"
# most of the supply that may be lost while the pump starts, at the pump and at the valve that must pull in: common practice
MOST_START_PERCENT = {"voltage_drop": 15.0, "vent_drop": 10.0}
# direct voltage above which an arc is slow to break: common practice
ARC_ABOVE_V = 60


def _amperes(document):
    """(pump, vent valve) [A]."""
    return document["pump"]["current_a"], (document.get("vent_valve") or {}).get("current_a") or 0


def current_of(document):
    """Pump and vent valve together [A]."""
    pump, valve = _amperes(document)
    return figure(pump + valve, "A", "pump + valve", [("pump", given(pump, "A", "pump")),
                                                      ("valve", given(valve, "A", "vent valve"))], "sum of the loads")


def starting_current(document):
    """Both while the pump starts [A]; an estimate where the pump's starting current is not given."""
    pump, valve = _amperes(document)
    start, last = document["pump"].get("starting_current_a"), ("valve", given(valve, "A", "vent valve"))
    if start is not None:
        return figure(start + valve, "A", "start + valve", [("start", given(start, "A", "pump while it starts")), last],
                      "sum of the loads")
    return figure(DEFAULT_START * pump + valve, "A", "factor * pump + valve", [
        ("factor", given(DEFAULT_START, "ratio", "times the running current while it starts", True)),
        ("pump", given(pump, "A", "pump")), last], START)


def _fuse(current):
    return figure(_next(1.25 * current, FUSES), "A", "next_size(1.25 * load, sizes)", [
        ("load", given(current, "A", "continuous load")), _sizes(FUSES, "fuses")], COMMON_PRACTICE, method="chosen")


def _fuse_for_start(load, start, stands):
    size = _next(max(1.25 * load, start["value"] / stands), FUSES)
    return figure(size, "A", "next_size(max(1.25 * load, start / stands), sizes)", [
        ("load", given(load, "A", "continuous load")),
        ("start", given(start["value"], "A", "while the pump starts", start["estimate"])),
        ("stands", given(stands, "ratio", "times its rating that the fuse stands meanwhile", True)), _sizes(FUSES, "fuses")],
        FUSE_START, method="chosen")


def _sizes(sizes, of):
    return "sizes", given([float(size) for size in sizes], "A", "usual sizes of " + of)


def _next(value, sizes):
    return next((size for size in sizes if size >= value), sizes[-1])


def _relay(document, current):
    controller, choices = document["controller"], document.get("choices") or {}
    above = choices.get("relay_above_a")
    above = DEFAULT_RELAY_ABOVE_A if above is None else above
    carried = controller.get("outputs_a")
    limit = above if carried is None else min(above, carried)
    return figure(current > limit, "bool", "load > limit", [
        ("load", given(current, "A", "pump and vent valve")),
        ("limit", given(limit, "A", "what the controller's own contacts may switch"))], COMMON_PRACTICE)


def _contacts(document, figures):
    """Figures of the contacts that switch pump and valve."""
    load, carried = given(figures["current"]["value"], "A", "pump and vent valve"), document["controller"].get("outputs_a")
    out = {}
    if figures["relay_needed"]["value"]:
        out["relay_contact"] = figure(_next(2 * load["value"], RELAYS), "A", "next_size(2 * load, sizes)",
                                      [("load", load), _sizes(RELAYS, "relay contacts")],
                                      COMMON_PRACTICE + ": half of a contact's rating for a motor or coil", method="chosen")
    if carried:
        out["contact_use"] = figure(100 * load["value"] / carried, "%", "100 * load / outputs", [
            ("load", load), ("outputs", given(carried, "A", "what the controller's contacts carry"))], "load over rating")
    return out


def _ways(document, start):
    """[(figure's name, place, Cable, Load, while the pump starts?)] of pump and vent valve, of what is described.

    The place is None where the same cable has been judged already.
    """
    (pump, valve), wiring = _amperes(document), document.get("wiring") or {}
    cable, alone = cable_of(wiring), cable_of(wiring, "vent_") if valve else None
    ways = []
    if cable:
        beside, means = (0, "pump") if alone or not valve else (valve, "pump and vent valve")
        running = Load(document, pump, beside, means)
        starting = Load(document, start["value"] - valve, beside, means + " while it starts", start["estimate"])
        ways = [("voltage_drop", "wiring.conductor_mm2", cable, running, False), ("voltage_drop", None, cable, starting, True)]
        if beside:
            ways += [("vent_drop", None, cable, running, False), ("vent_drop", None, cable, starting, True)]
    if alone:
        ways.append(("vent_drop", "wiring.vent_conductor_mm2", alone, Load(document, 0, valve, "vent valve"), False))
    return ways


def _voltages(document, start):
    """({figures}, [findings]) of the voltage lost on the cables."""
    figures, findings = {}, []
    for name, place, cable, load, starts in _ways(document, start):
        lost = cable.percent(load, starts)
        if starts:
            figures[name + "_start_percent"] = lost
            continue
        figures[name], figures[name + "_percent"] = cable.volts(load), lost
        sizes = {"conductor": cable.smallest(load)}
        if cable.by_gauge:
            sizes["conductor_awg"] = cable.smallest(load, True)
        if name == "voltage_drop":
            figures.update({key: size for key, size in sizes.items() if size})
        if place and lost["value"] > MOST_DROP_PERCENT:
            findings.append(_drop_finding(name, place, lost, sizes))
    return figures, findings


def _drop_finding(name, place, lost, sizes):
    values = [("drop", given(lost["value"], "%", "voltage lost")), ("limit", given(MOST_DROP_PERCENT, "%", "limit")),
              ("of", "vent valve's cable" if name == "vent_drop" else "cable")]
    if sizes["conductor"] is None:
        return finding("warn", place, "wiring.drop", values)
    size = given(sizes["conductor"]["value"], "mm²", "conductor")
    if sizes.get("conductor_awg"):
        size = "AWG %d" % sizes["conductor_awg"]["value"]
    return finding("warn", place, "wiring.drop_size", values + [("size", size)])


def _contact_findings(document, figures):
    """Findings of what switches pump and valve, but for the start."""
    pump, findings = document["pump"], []
    if figures["relay_needed"]["value"]:
        findings.append(finding("note", "controller.outputs_a", "wiring.relay", [
            ("load", given(figures["current"]["value"], "A", "load")),
            ("start", given(figures["starting_current"]["value"], "A", "while the pump starts")),
            ("relay", given(figures["relay_contact"]["value"], "A", "relay contact"))]))
    if pump.get("supply") != "ac" and pump["supply_v"] > ARC_ABOVE_V:
        findings.append(finding("note", "pump.supply", "wiring.arc", [("supply", given(pump["supply_v"], "V", "supply"))]))
    return findings


def _stands(wiring):
    """Times its rating that the supply's fuse stands for a start."""
    return STANDS[wiring.get("fuse_kind") or "slow"]


def _fuses(document, figures):
    """[(place, finding's id, words, rating [A] or None, times its rating that it stands for a start)] of the fuses on the way."""
    wiring = document.get("wiring") or {}
    fuses = [("wiring.fuse_a", "wiring.fuse", "the fuse", wiring.get("fuse_a"), _stands(wiring))]
    if not figures["relay_needed"]["value"]:
        fuses.append(("controller.fuse_a", "wiring.built_in", "the controller's own fuse", document["controller"].get("fuse_a"),
                      STANDS["slow"]))
    return fuses


def _fuse_findings(document, figures):
    """Findings of fuses for the running load, and of the conductor that they protect."""
    load, wanted, findings = figures["current"]["value"], figures["fuse"]["value"], []
    for place, identifier, _, rating, _ in _fuses(document, figures):
        if rating is not None and rating < 1.25 * load:
            findings.append(finding("warn", place, identifier, [
                ("fitted", given(rating, "A", "fuse fitted")), ("load", given(load, "A", "load")),
                ("wanted", given(wanted, "A", "fuse wanted"))]))
    fitted, carries = (document.get("wiring") or {}).get("fuse_a"), figures.get("conductor_carries")
    protects = wanted if fitted is None else fitted
    if carries and protects > carries["value"]:
        findings.append(finding("warn", "wiring.fuse_a", "wiring.fuse_cable", [
            ("fuse", given(protects, "A", "fuse")), ("carries", given(carries["value"], "A", "conductor carries"))]))
    return findings


def _start_findings(document, figures):
    """Findings of the start: each for itself where its current was entered, one note for all where it is an estimate."""
    controller, start, load = document["controller"], figures["starting_current"]["value"], figures["current"]["value"]
    carried, rated = controller.get("outputs_a"), controller.get("outputs_rated_for")
    found, words, current = [], [], ("start", given(start, "A", "while the pump starts"))
    if not figures["relay_needed"]["value"] and carried is not None and rated != "motor" and start > carried:
        words.append("the controller's contacts")
        found.append(finding("warn" if rated else "note", "controller.outputs_a", "wiring.contact_start", [
            current, ("carried", given(carried, "A", "the contacts carry"))]))
    for name, place, word in (("voltage_drop", "pump.starting_current_a", "the voltage at the pump"),
                              ("vent_drop", "vent_valve.current_a", "the voltage at the vent valve")):
        lost, most = figures.get(name + "_start_percent"), MOST_START_PERCENT[name]
        if lost and lost["value"] > most:
            words.append(word)
            found.append(finding("warn", place, "wiring.%s_start" % name, [
                current, ("drop", given(lost["value"], "%", "lost while the pump starts")), ("most", given(most, "%", "usual"))]))
    for place, _, word, rating, stands in _fuses(document, figures):
        if rating is not None and rating >= 1.25 * load and rating * stands < start:
            words.append(word)
            found.append(finding("warn", place, "wiring.fuse_start", [current, ("fitted", given(rating, "A", "fuse fitted"))]))
    if found and figures["starting_current"]["estimate"]:
        return [finding("note", "pump.starting_current_a", "wiring.start_unknown", [
            current, ("factor", given(DEFAULT_START, "ratio", "times the running current")), ("what", ", ".join(words))])]
    return found


def electrical(document):
    """({figures}, [findings]) of the electrical check. Voltages only where the wiring is described."""
    figures = {"current": current_of(document), "starting_current": starting_current(document)}
    load, start, wiring = figures["current"]["value"], figures["starting_current"], document.get("wiring") or {}
    figures["fuse"], figures["relay_needed"] = _fuse(load), _relay(document, load)
    figures["fuse_start"] = _fuse_for_start(load, start, _stands(wiring))
    figures.update(_contacts(document, figures))
    voltages, findings = _voltages(document, start)
    figures.update(voltages)
    cable = cable_of(wiring)
    carries = cable.carries() if cable else None
    if carries:
        figures["conductor_carries"] = carries
    if wiring.get("cable_m") is None:
        findings.append(finding("note", "wiring", "wiring.unknown"))
    return figures, (_contact_findings(document, figures) + findings + _fuse_findings(document, figures)
                     + _start_findings(document, figures))
