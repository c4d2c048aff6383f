"""What must hold of anything that the engine answers, whatever it was asked: finite figures with their working, filled texts."""
import math

# no text may show what a program, not a person, calls a missing thing
_NO_WORDS = ("nan", "inf", "None", "True", "False")


def figures_in(thing, path=""):
    """(path, figure) of every figure in a worked document."""
    if isinstance(thing, dict) and "formula" in thing:
        yield path, thing
    elif isinstance(thing, dict):
        for name, part in thing.items():
            yield from figures_in(part, path + "." + name)
    elif isinstance(thing, list):
        for number, part in enumerate(thing):
            yield from figures_in(part, "%s[%d]" % (path, number))


def not_finite(thing, way="$"):
    """Places of numbers that are none."""
    if isinstance(thing, dict):
        return [found for key, part in thing.items() for found in not_finite(part, way + "." + str(key))]
    if isinstance(thing, (list, tuple)):
        return [found for number, part in enumerate(thing) for found in not_finite(part, "%s[%d]" % (way, number))]
    return [way] if isinstance(thing, float) and not math.isfinite(thing) else []


def complaints(answer):
    """What is wrong with an answer with texts, as a list of sentences; none where all is well."""
    out = ["%s is not finite" % way for way in not_finite(answer)]
    for path, entry in figures_in(answer):
        out += ["%s: %s" % (path, what) for what in _without_working(entry)]
    for number, entry in enumerate(answer.get("findings", [])):
        out += ["findings[%d] %s: %s" % (number, entry["id"], what) for what in _unsaid(entry)]
    for entry in answer.get("settings", []):
        if not (entry["label"].strip() and entry["reason"].strip() and _is_shown(entry["shown"])):
            out.append("setting %s says nothing" % entry["name"])
    return out


def _without_working(entry):
    if not (entry["formula"].strip() and entry["source"].strip() and entry["unit"].strip()):
        yield "no formula, source or unit"
    if not _is_shown(entry["shown"]) or (entry["shown"] == "not known") != (entry["value"] is None):
        yield "shown as %r" % entry["shown"]
    if entry["method"] in ("iterated", "simulated") and not 0 <= entry["residual"]["value"] <= entry["residual"]["limit"]:
        yield "does not close: %r" % entry["residual"]
    for name, one in entry["inputs"].items():
        if not (_is_shown(one["shown"]) and one["means"].strip()):
            yield "input %s without text" % name


def _unsaid(entry):
    if entry["severity"] not in ("stop", "warn", "note"):
        yield "no severity"
    if not isinstance(entry["where"], str) or not (entry["where"] or entry["id"] == "check.not_a_document"):
        yield "no place"
    if not entry["says"].strip() or (entry["severity"] != "note" and not entry["do"].strip()):
        yield "says nothing"
    for value in entry["with"].values():
        if isinstance(value, dict) and "shown" in value and not _is_shown(value["shown"]):
            yield "filled with %r" % value["shown"]


def _is_shown(text):
    return bool(text.strip()) and text not in _NO_WORDS and not text.startswith(("nan ", "inf ", "-inf "))
