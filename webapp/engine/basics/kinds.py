"""The kinds of system by name, and what differs between them in one place: whose fields are asked, what is a switch."""
SINGLE, PROGRESSIVE, DUAL, TIMED = "single-line", "progressive", "dual-line", "time-only"
KINDS = (SINGLE, PROGRESSIVE, DUAL, TIMED)
BY_PRESSURE = (SINGLE, DUAL)
VENTED = (SINGLE, DUAL, TIMED)
CONFIRMED = (SINGLE, PROGRESSIVE, DUAL)
SIDES = ("A", "B")


def on_line(place, line):
    """A place as it is typed: on the second line of a dual-line system (line 1) with that line's name."""
    return place + "/" + SIDES[line] if line else place


def switches(document):
    """The switches that the controller listens to: none in a time-only system, whatever is fitted."""
    return [] if document["kind"] == TIMED else document["switches"]


def fitting(document):
    """The checked document without the parts that its kind does not have: nobody has looked at them."""
    if document["kind"] == TIMED:
        return dict(document, switches=[])
    if document["kind"] == PROGRESSIVE and "vent_valve" in document:
        return {name: part for name, part in document.items() if name != "vent_valve"}
    return document
