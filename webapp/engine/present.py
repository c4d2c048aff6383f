"""Adds the texts for a reader to a worked document: `shown` on figures and inputs, `says` and `do` on findings."""
from .figure import is_figure
from .sentences import sentence
from .text import shown

# a list longer than this is summed up as "N values" in the working
_LISTED = 8


def _input_text(entry, units, language):
    value = entry["value"]
    if isinstance(value, (list, tuple)) and len(value) > _LISTED:
        return "%d values, %s to %s" % (len(value), shown(min(value), entry["unit"], units, language),
                                        shown(max(value), entry["unit"], units, language))
    return shown(value, entry["unit"], units, language)


def present_figure(entry, units="metric", language="en"):
    """Fill `shown` of a figure and its inputs; in US units the inputs also carry `metric`, the value the formula uses."""
    entry["shown"] = shown(entry["value"], entry["unit"], units, language)
    for given_input in entry["inputs"].values():
        given_input["shown"] = _input_text(given_input, units, language)
        if units == "us":
            given_input["metric"] = _input_text(given_input, "metric", language)
    return entry


def present_sentence(entry, units="metric", language="en"):
    """Fill `says` and `do` of a thing with `id` and `with` (a finding, a reason, a checklist item)."""
    texts = {}
    for name, value in entry["with"].items():
        if isinstance(value, dict):
            value["shown"] = shown(value["value"], value["unit"], units, language)
            texts[name] = value["shown"]
        else:
            texts[name] = value
    entry.update(sentence(entry["id"], texts, language))
    return entry


def present(worked, units="metric", language="en"):
    """Fill every text in a tree of dicts and lists, in place, and return it. Walks with a stack: the phone's is short."""
    stack = [worked]
    while stack:
        thing = stack.pop()
        if is_figure(thing):
            present_figure(thing, units, language)
        elif isinstance(thing, dict):
            if "id" in thing and "with" in thing:
                present_sentence(thing, units, language)
            stack += list(thing.values())
        elif isinstance(thing, (list, tuple)):
            stack += list(thing)
    return worked
