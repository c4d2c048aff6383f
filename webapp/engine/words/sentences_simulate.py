"""Sentences about what is asked of the simulation."""

ENGLISH = {
    "fault.unknown": {"says": "{typed} is no fault that can be tried.", "do": "Write NAME=VALUE; the names are {known}."},
    "fault.value": {"says": "{typed} cannot be tried.", "do": "{name} takes {form}, and the same only once.{there}"},
}
