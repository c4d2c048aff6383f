"""Sentences about what is asked of the simulation."""


def _say(says, do=""):
    return {"says": says, "do": do}


ENGLISH = {
    "fault.unknown": {"says": "{typed} is no fault that can be tried.", "do": "Write NAME=VALUE; the names are {known}."},
    "fault.value": {"says": "{typed} cannot be tried.", "do": "{name} takes {form}, and the same only once.{there}"},
    # pictures
    "picture.compared": _say("Healthy: {healthy} With the faults: {faulted}"),
    "along.marks": _say("A ring is a device, a diamond a switch; filled: it has moved, or is tripped."),
    "along.pressures": _say("{pump} at the pump, {far} at the far end"),
    "along.line": _say("line {line} {pump} at the pump, {far} at the far end"),
    "along.pump_on": _say("The pump runs."),
    "along.pump_off": _say("The pump is off."),
    "along.pump_open": _say("The vent is open."),
    "along.over": _say("Simulated up to {end}: shown as it was then."),
    "along.devices": _say("{moved} of {devices} devices have moved."),
    "along.sides": _say("{moved} of {devices} sides of devices have moved."),
    "along.blocks": _say("{moved} of {devices} blocks have gone round."),
    "along.tripped": _say("Tripped: {names}."),
}
