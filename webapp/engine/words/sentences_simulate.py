"""Sentences about what is asked of the simulation."""


def _say(says, do=""):
    return {"says": says, "do": do}


ENGLISH = {
    "fault.unknown": {"says": "{typed} is no fault that can be tried.", "do": "Write NAME=VALUE; the names are {known}."},
    "fault.value": {"says": "{typed} cannot be tried.", "do": "{name} takes {form}, and the same only once.{there}"},
    # pictures
    "picture.line_elsewhere": _say("Dashed: pipes with temperatures of their own, {pipes}."),
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
    # faults to try
    "try.leak": _say("A leak"),
    "try.leak.size": _say("{share} of the delivery at {bar}"),
    "try.air": _say("Air in the lubricant"),
    "try.air.size": _say("{share} of the volume is air"),
    "try.pump": _say("A worn pump"),
    "try.pump.size": _say("It gives {share} of its delivery"),
    "try.pump.none": _say("It gives nothing"),
    "try.blocked": _say("A blocked pipe"),
    "try.vent": _say("A vent valve that sticks"),
    "try.vent.stuck": _say("It stays shut"),
    "try.vent.size": _say("It opens to {share}"),
    "try.device": _say("A device that does not move"),
    "try.switch": _say("A switch that fails"),
    "try.switch.stuck": _say("It never trips"),
    "try.switch.size": _say("It trips at {bar}"),
    "try.contact": _say("The resting state of a switch entered wrongly"),
    "try.relief": _say("A relief valve that opens too early"),
    "try.relief.size": _say("It opens at {bar}"),
    "try.empty": _say("A reservoir that runs empty"),
    "try.empty.size": _say("{left} can still be drawn"),
    "try.empty.none": _say("It is empty from the start"),
    "try.at_pump": _say("At the pump"),
    "try.pipe": _say("{id}: {length} from {start} to {end}"),
    "try.switch_at": _say("Switch {id}"),
    # why nobody should bring a fault about
    "try.caution.leak": _say("Never loosen a fitting to make a leak. Lubricant under pressure goes through skin: surgery at "
                             "once, however small the wound."),
    "try.caution.air": _say("Never let a pump draw air to try it: getting the air out again means opening the line."),
    "try.caution.pump": _say("Isolate and lock out before anything is changed at a pump: it starts by itself."),
    "try.caution.blocked": _say("Never shut a pipe that is built to stay open. Before and behind a blockage pressure may stay "
                                "locked in."),
    "try.caution.vent": _say("Never hold a vent shut: the whole line stays under pressure when the pump stands. Look at a gauge "
                             "and release it before anything is opened."),
    "try.caution.device": _say("Never block a device: its bearing runs dry while the machine runs."),
    "try.caution.switch": _say("Never disconnect or bridge a pressure switch: nothing but the relief valve then ends the pressure."),
    "try.caution.contact": _say("Never enter a wrong resting state on a running machine: every cycle would look good and feed "
                                "nothing."),
    "try.caution.relief": _say("Never touch the setting or the seal of a relief valve: it keeps hoses and fittings from bursting."),
    "try.caution.empty": _say("Never run a reservoir empty: the air that is drawn in means opening the line, and bearings "
                              "without lubricant meanwhile."),
    # what one would see
    "seen.unconfirmed": _say("No alarm ever comes: nothing confirms a time-only system.", "Only fresh lubricant at the points "
                             "tells. Look at each."),
    "seen.contact": _say("Switch {switch} reads as tripped while it is at rest: the pump stops as soon as it starts.",
                         "A controller that looks at the switch before it starts calls this a fault; another takes every cycle "
                         "as good and feeds "
                         "nothing. Compare the resting state entered with the switch."),
    "seen.contact_second": _say("Switch {switch} reads as tripped while it is at rest: the controller calls a fault or waits "
                                "for it in vain.",
                                "Compare the resting state entered with the switch."),
    "seen.never": _say("The switch never trips, and the settings have no time limit that would tell.", "Put right what the "
                       "system's page says first."),
    "seen.limit.single-line": _say("The pressure alarm comes: {limit} pass before the first switch trips.",
                                   "The controller stops the pump. Isolate and release the pressure before you look for the cause."),
    "seen.limit.dual-line": _say("The pressure alarm comes: on line {line} {limit} pass before the switch trips.",
                                 "The controller stops the pump. Isolate and release the pressure before you look for the cause."),
    "seen.limit.progressive": _say("The alarm comes: {limit} pass before the cycle switch signals.",
                                   "The controller stops the pump; the line stays under pressure. Isolate and release it first."),
    "seen.second": _say("The alarm of the second switch comes: {limit} pass before it has tripped and returned.",
                        "The controller stays out of the pause. Isolate and release the pressure before you look for the cause."),
    "seen.second_never": _say("The second switch does not trip, which the controller calls a fault.", "It has no time limit "
                              "worked out yet."),
    "seen.still_tripped": _say("This cycle ends without an alarm; at the start of the next the switch still reads as tripped.",
                               "A controller that looks for it calls a fault then; another stops the pump at once. Pressure "
                               "stays locked in the "
                               "line: release it before anything is opened."),
    "seen.silent": _say("No alarm comes, and points get nothing.", "The controller takes this cycle as good. Only a look at the "
                        "devices and points finds it."),
    "seen.no_alarm": _say("No alarm comes: the controller takes this cycle as good.", "It shows in the times, if somebody takes "
                          "them on a round."),
    "seen.low_not_fitted": _say("No low-level switch is fitted: nobody is told that the reservoir runs empty."),
    "seen.low_later": _say("The low-level signal does not come yet: more is left than the level at which it acts."),
    "seen.low_stops": _say("The low-level signal comes and stops the pump before it draws air.",
                           "What is simulated here happens only where the signal fails."),
    "seen.low_warns": _say("The low-level signal comes and warns; the pump goes on and draws air.", "Refill before the next cycle."),
    "seen.all_move": _say("Every device moves."),
    "seen.still": _say("These do not move: {devices}.", "Dry stay: {points}."),
    "seen.healthy_too": _say("Without these faults the cycle is not as it should be either: {why}.", "Put that right first: the "
                             "system's page says how."),
    "seen.why": _say("In the simulation {why}."),
}
