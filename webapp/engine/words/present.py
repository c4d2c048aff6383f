"""Adds the texts for a reader to a worked document: `shown` on figures and inputs, sentences on findings and settings."""
from ..basics.figure import is_figure
from .sentences import sentence
from ..basics.text import shown

# a list longer than this is summed up as "N values" in the working
_LISTED = 8


def _input_text(entry, units, language):
    value = entry["value"]
    if isinstance(value, (list, tuple)) and len(value) > _LISTED:
        return "%d values, %s to %s" % (len(value), shown(min(value), entry["unit"], units, language),
                                        shown(max(value), entry["unit"], units, language))
    return shown(value, entry["unit"], units, language)


def present_figure(entry, units="metric", language="en", detail=True):
    """Fill `shown` of a figure and its inputs; in US units the inputs also carry `metric`, the value the formula uses.

    detail False takes the working away: for figures that change while somebody types.
    """
    entry["shown"] = shown(entry["value"], entry["unit"], units, language)
    if not detail:
        del entry["inputs"], entry["formula"], entry["source"]
        return entry
    for given_input in entry["inputs"].values():
        given_input["shown"] = _input_text(given_input, units, language)
        if units == "us":
            given_input["metric"] = _input_text(given_input, "metric", language)
    return entry


def _texts(values, units, language):
    """Name -> text of what a sentence is filled with; figures among them get their `shown`, words are sentences of their own."""
    texts = {}
    for name, value in values.items():
        if isinstance(value, dict) and "words" in value:
            value = ", ".join([sentence(word, {}, language)["says"] for word in value["words"]])
        elif isinstance(value, dict):
            value["shown"] = shown(value["value"], value["unit"], units, language)
            value = value["shown"]
        texts[name] = value
    return texts


def present_finding(entry, units="metric", language="en"):
    """Fill `says` and `do` of a thing with `id` and `with`."""
    entry.update(sentence(entry["id"], _texts(entry["with"], units, language), language))


def present_setting(entry, units="metric", language="en"):
    """Fill `label`, `shown` and `reason` of a setting."""
    entry["label"] = sentence(entry["label_id"], {}, language)["says"]
    entry["shown"] = shown(entry["value"], entry["unit"], units, language)
    entry["reason"] = sentence(entry["reason_id"], _texts(entry["with"], units, language), language)["says"]


def present(worked, units="metric", language="en", detail=True):
    """Fill every text in a tree of dicts and lists, in place, and return it. Walks with a stack: the phone's is short."""
    stack = [worked]
    while stack:
        thing = stack.pop()
        if isinstance(thing, dict):
            if is_figure(thing):
                present_figure(thing, units, language, detail)
            elif "reason_id" in thing:
                present_setting(thing, units, language)
            elif "id" in thing and "with" in thing:
                present_finding(thing, units, language)
            else:
                stack += [part for part in thing.values() if isinstance(part, (dict, list))]
        elif isinstance(thing, list):
            stack += [part for part in thing if isinstance(part, (dict, list))]
    return worked
