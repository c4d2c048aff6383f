"""How the blocks of a progressive system hang together: who feeds whom, which outlets are closed, what the switch counts."""
from ..basics.findings import finding


def check_blocks(document):
    """Findings of a progressive document whose fields, pipes and names are sound: the first fault of each kind of thing."""
    outlets = {block["id"]: {outlet["id"]: outlet for outlet in block["outlets"]} for block in document["devices"]}
    findings = _outlets(document) + _joined(document, outlets) + _hanging(document, outlets)
    if not findings:
        findings = _loops(document)
    used = _used(document)
    findings += _points(document, outlets, used) + _switches(document, outlets)
    return findings if findings else _idle(document, outlets, used)


def _outlets(document):
    findings = []
    for number, block in enumerate(document["devices"]):
        seen = set()
        for place, outlet in enumerate(block["outlets"]):
            if outlet["id"] in seen:
                findings.append(finding("stop", "devices[%d].outlets[%d].id" % (number, place), "check.duplicate", [
                    ("label", "Outlet"), ("value", outlet["id"])]))
            seen.add(outlet["id"])
    return findings


def _joined(document, outlets):
    """Every closed outlet must end, by however many joins, at an open one of its block."""
    findings = []
    for number, block in enumerate(document["devices"]):
        own = outlets[block["id"]]
        for place, outlet in enumerate(block["outlets"]):
            where = "devices[%d].outlets[%d].joined_to" % (number, place)
            values = [("value", outlet["id"]), ("block", block["id"]), ("other", outlet.get("joined_to") or "")]
            end, steps = outlet, 0
            while end is not None and end.get("joined_to") and steps <= len(own):
                end, steps = own.get(end["joined_to"]), steps + 1
            if end is None and outlet["joined_to"] not in own:
                findings.append(finding("stop", where, "check.unknown_join", values))
            elif steps > len(own):
                findings.append(finding("stop", where, "check.join_loop", values))
    return findings


def _hanging(document, outlets):
    """Every block but one hangs on an open outlet of another block, each on its own."""
    findings, taken, roots = [], set(), 0
    for number, block in enumerate(document["devices"]):
        where, above = "devices[%d].hangs_from" % number, block.get("hangs_from")
        if not above:
            roots += 1
            if roots > 1:
                findings.append(finding("stop", where, "check.second_first", [("value", block["id"])]))
            continue
        values = [("value", block["id"]), ("block", above["block"]), ("outlet", above["outlet"])]
        if above["block"] not in outlets:
            findings.append(finding("stop", where + ".block", "check.unknown_block", values))
        elif above["outlet"] not in outlets[above["block"]]:
            findings.append(finding("stop", where + ".outlet", "check.unknown_outlet", values))
        elif outlets[above["block"]][above["outlet"]].get("joined_to"):
            findings.append(finding("stop", where + ".outlet", "check.closed_outlet", values))
        elif (above["block"], above["outlet"]) in taken:
            findings.append(finding("stop", where + ".outlet", "check.taken_outlet", values))
        taken.add((above["block"], above["outlet"]))
    return findings


def _loops(document):
    """A block that does not lead back to the first one hangs, through others, on itself."""
    above = {block["id"]: block["hangs_from"]["block"] for block in document["devices"] if block.get("hangs_from")}
    findings = []
    for number, block in enumerate(document["devices"]):
        way, steps = block["id"], 0
        while way in above and steps <= len(above):
            way, steps = above[way], steps + 1
        if way in above:
            findings.append(finding("stop", "devices[%d].hangs_from.block" % number, "check.block_loop", [("value", block["id"])]))
    return findings


def _used(document):
    """Outlets on which a block hangs."""
    return {(block["hangs_from"]["block"], block["hangs_from"]["outlet"]) for block in document["devices"] if block.get("hangs_from")}


def _points(document, outlets, used):
    findings, fed = [], set()
    for number, point in enumerate(document["points"]):
        outlet = outlets[point["device"]].get(point["outlet"])
        key = (point["device"], point["outlet"])
        values = [("value", point["name"]), ("block", point["device"]), ("outlet", point["outlet"])]
        where = "points[%d].outlet" % number
        if outlet is None:
            findings.append(finding("stop", where, "check.unknown_outlet", values))
        elif outlet.get("joined_to"):
            findings.append(finding("stop", where, "check.closed_outlet", values))
        elif key in fed or key in used:
            findings.append(finding("stop", where, "check.taken_outlet", values))
        fed.add(key)
    return findings


def _switches(document, outlets):
    return [finding("stop", "switches[%d].counts" % number, "check.counts_nothing", [("value", switch["id"]), ("block", switch["counts"])])
            for number, switch in enumerate(document["switches"]) if switch["counts"] not in outlets]


def _idle(document, outlets, used):
    """Open outlets that feed nothing: plugged they stop every block, open they waste."""
    fed = used | {(point["device"], point["outlet"]) for point in document["points"]}
    return [finding("warn", "devices[%d].outlets[%d]" % (number, place), "check.idle_outlet", [
        ("value", outlet["id"]), ("block", block["id"])])
        for number, block in enumerate(document["devices"]) for place, outlet in enumerate(block["outlets"])
        if not outlet.get("joined_to") and (block["id"], outlet["id"]) not in fed]
