"""What a controller accepts: one range or several of {min_s, max_s, step_s}; finding the accepted value above or below."""
from math import ceil, floor

_HAIR = 1e-9


def listed(ranges):
    """The ranges as a list, whatever was given."""
    return [ranges] if isinstance(ranges, dict) else list(ranges)


def at_least(ranges, wanted):
    """The smallest accepted value that is not below `wanted`; None where even the largest is below it."""
    found = None
    for entry in listed(ranges):
        steps = max(0, ceil((wanted - entry["min_s"]) / entry["step_s"] - _HAIR))
        value = entry["min_s"] + steps * entry["step_s"]
        if value <= entry["max_s"] * (1 + _HAIR) and (found is None or value < found):
            found = value
    return found


def at_most(ranges, wanted):
    """The largest accepted value that is not above `wanted`; None where even the smallest is above it."""
    found = None
    for entry in listed(ranges):
        top = min(wanted, entry["max_s"])
        steps = floor((top - entry["min_s"]) / entry["step_s"] + _HAIR)
        if steps >= 0:
            value = entry["min_s"] + steps * entry["step_s"]
            if found is None or value > found:
                found = value
    return found


def largest(ranges):
    """The largest value accepted."""
    return at_most(ranges, max([entry["max_s"] for entry in listed(ranges)]))


def smallest(ranges):
    """The smallest value accepted."""
    return min([entry["min_s"] for entry in listed(ranges)])


def step_at(ranges, value):
    """The step of the range in which the value lies."""
    inside = [entry for entry in listed(ranges) if entry["min_s"] <= value <= entry["max_s"] * (1 + _HAIR)]
    return (inside or listed(ranges))[0]["step_s"]
