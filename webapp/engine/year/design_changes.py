"""Documents changed: wider pipe, softer grease, another delivery, the switch elsewhere, two lines. Closed forms choose.

Each function takes a checked `system/1` document and returns a new one; only what changes is copied.
"""
from math import pi

from ..basics.kinds import PROGRESSIVE
from ..systems.line_findings import NEAR
from ..lubricants.lubricant import GRADE_DEFAULTS, OIL
from ..line.tree import PUMP, Tree
from .build_ups import share

# bores [mm] of cold-drawn seamless tube and of heavy steel pipe, nominal: The Tribology Handbook, C14.4
SERIES = (3.35, 4.5, 6.1, 7.1, 10.3, 15, 20, 25, 40, 50)
_SOFTER = ("6", "5", "4", "3", "2", "1", "0", "00", "000")
_RHEOLOGY = ("yield_pa", "consistency_pa_sn")


def prices(document):
    """Bore [mm] -> price a metre, of pipe that can be bought; empty where none was entered."""
    listed = (document.get("choices") or {}).get("pipe_prices") or []
    return {entry["bore_mm"]: entry["price_per_m"] for entry in listed}


def series(document):
    """Bores to choose from [mm], rising: those with a price, else the handbook's."""
    return sorted(prices(document)) or list(SERIES)


def with_bores(document, bores):
    """The document with the bores [mm] of its sections replaced, in their order."""
    sections = [dict(section, bore_mm=bore) for section, bore in zip(document["sections"], bores)]
    out = dict(document)
    out["sections"] = sections
    return out


def _gain(section, wider, by_power):
    """Resistance taken away per volume added by the next bore: resistance falls with the bore to a power."""
    gone = section["length_m"] * (1 / section["bore_mm"] ** by_power - 1 / wider ** by_power)
    return gone / (pi / 4 * section["length_m"] * (wider ** 2 - section["bore_mm"] ** 2))


def widened(document, node, by_power=1):
    """The document with one pipe on the way to a node one bore wider, where that gains most per volume; None: none is left.

    by_power  how resistance falls with the bore: 1 for what stays locked in, 2 for what flowing needs
    """
    bores, best = series(document), None
    on_way = {section["id"] for section in Tree(document).way(node)}
    for number, section in enumerate(document["sections"]):
        wider = [bore for bore in bores if bore > section["bore_mm"] * 1.001]
        if section["id"] in on_way and wider:
            ranked = (_gain(section, wider[0], by_power), -number, wider[0])
            best = ranked if best is None or ranked > best else best
    if best is None:
        return None
    now = [section["bore_mm"] for section in document["sections"]]
    now[-best[1]] = best[2]
    return with_bores(document, now)


def roomy(document, at_c):
    """The document with pipe widened until a fifth is to spare (build_ups.share); None where the series does not suffice.

    No pipe is left wider than it must be: each is tried at every narrower bore down to its own.
    """
    wide, by_power = document, 2 if document["kind"] == PROGRESSIVE else 1
    while wide is not None:
        used, node = share(wide, at_c)
        if used < NEAR:
            return _trimmed(document, wide, at_c)
        wide = widened(wide, node, by_power)
    return None


def _trimmed(document, wide, at_c):
    now = [section["bore_mm"] for section in wide["sections"]]
    for number, section in enumerate(document["sections"]):
        own = section["bore_mm"]
        for bore in [own] + [bore for bore in series(document) if own < bore < now[number]]:
            tried = now[:number] + [bore] + now[number + 1:]
            if share(with_bores(document, tried), at_c)[0] < NEAR:
                now = tried
                break
    return with_bores(document, now)


def tapered(document):
    """The document with no pipe narrower than one that it feeds."""
    tree = Tree(document)
    bore = {node: section["bore_mm"] for node, section in tree.section.items()}
    for node in reversed(tree.order[1:]):
        bore[node] = max([bore[node]] + [bore[child] for child in tree.children[node]])
    return with_bores(document, [bore[section["to"]] for section in document["sections"]])


def softer(document, grades):
    """The document with a grease so many grades softer: what was stated is scaled as the grades' defaults; None: there is none."""
    lubricant = document["lubricant"]
    if lubricant["nlgi"] == OIL:
        return None
    place = _SOFTER.index(lubricant["nlgi"]) + grades
    if place >= len(_SOFTER):
        return None
    grade, fresh = _SOFTER[place], dict(lubricant)
    fresh.update(nlgi=grade, code="", name="")
    for number, field in enumerate(_RHEOLOGY):
        if lubricant.get(field) is not None:
            fresh[field] = lubricant[field] * GRADE_DEFAULTS[grade][number] / GRADE_DEFAULTS[lubricant["nlgi"]][number]
    out = dict(document)
    out["lubricant"] = fresh
    return out


def with_delivery(document, factor):
    """The document with another pump delivery."""
    out = dict(document)
    out["pump"] = dict(document["pump"], delivery_cm3_min=document["pump"]["delivery_cm3_min"] * factor)
    return out


def with_switch_at(document, node):
    """The document with the switch that stops the pump at another node."""
    out = dict(document)
    out["switches"] = [dict(document["switches"][0], at=node)] + document["switches"][1:]
    return out


def with_switch_counting(document, block):
    """The document with the cycle switch on another block."""
    out = dict(document)
    out["switches"] = [dict(document["switches"][0], counts=block)]
    return out


def far_end(document):
    """The node farthest from the pump."""
    tree = Tree(document)
    return max([(tree.distance[node], node) for node in tree.order])[1]


def _part(document, nodes, start):
    """The part of a document on these nodes as a line of its own, its pump at `start`, its switch at its far end."""
    out = dict(document)
    out["sections"] = [dict(section, **{"from": PUMP if section["from"] == start else section["from"]})
                       for section in document["sections"] if section["from"] in nodes and section["to"] in nodes]
    place = {node: PUMP if node == start else node for node in nodes}
    out["devices"] = [dict(device, at=place[device["at"]]) for device in document["devices"] if device["at"] in nodes]
    names = {device["id"] for device in out["devices"]}
    out["points"] = [point for point in document["points"] if point["device"] in names]
    if out["sections"] and document["switches"]:
        out["switches"] = [dict(document["switches"][0], at=far_end(out))]
    return out


def split(document, at_c):
    """(node, near part, far part): two lines with a pump each, the second pump at the node; None where it cannot be cut.

    The cut leaves most to spare on the worse of both.
    """
    tree, best = Tree(document), None
    for node in tree.order[1:]:
        below, stack = set(), [node]
        while stack:
            below.add(stack[-1])
            stack += tree.children[stack.pop()]
        near = _part(document, {other for other in tree.order if other not in below}, PUMP)
        far = _part(document, below, node)
        if near["points"] and far["points"] and near["sections"] and far["sections"]:
            used = max(share(near, at_c)[0], share(far, at_c)[0])
            if best is None or used < best[0]:
                best = (used, node, near, far)
    return best[1:] if best else None
