"""The blocks of a progressive system: what an own cycle moves, and how often each turns. For checked documents (no loops)."""
from collections import OrderedDict
from ..basics.adding import added_up


def roots(document):
    """Blocks that hang on the line itself, in the document's order; the first of them is the first block."""
    return [block for block in document["devices"] if not block.get("hangs_from")]


def sums(document):
    """Block -> cm³ that one own cycle of it moves: the sum of its outlets."""
    return OrderedDict((block["id"], added_up([outlet["output_cm3"] for outlet in block["outlets"]])) for block in document["devices"])


def strokes(document):
    """(block, outlet) -> strokes [cm³] that leave it in one own cycle of the block; a closed outlet's leave by the joined one."""
    out = OrderedDict()
    for block in document["devices"]:
        joined = {outlet["id"]: outlet.get("joined_to") for outlet in block["outlets"]}
        for outlet in block["outlets"]:
            out[(block["id"], outlet["id"])] = []
        for outlet in block["outlets"]:
            end = outlet["id"]
            while joined.get(end):
                end = joined[end]
            out[(block["id"], end)].append(outlet["output_cm3"])
    return out


def gives(document):
    """(block, outlet) -> cm³ that leave it in one own cycle of the block; 0 for a closed outlet."""
    return OrderedDict((key, added_up(given)) for key, given in strokes(document).items())


def turns(document):
    """Block -> own cycles while the first block makes one: what feeds it over its own sum. Blocks on the line itself: 1."""
    volume, leaves = sums(document), gives(document)
    hanging = {block["id"]: block["hangs_from"] for block in document["devices"] if block.get("hangs_from")}
    out = OrderedDict()
    for block in document["devices"]:
        way, turned = block["id"], 1.0
        while way in hanging:
            above = hanging[way]
            turned *= leaves[(above["block"], above["outlet"])] / volume[way]
            way = above["block"]
        out[block["id"]] = turned
    return out
