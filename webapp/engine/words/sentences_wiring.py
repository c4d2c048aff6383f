"""Sentences on wiring, low level, machine contact and alarm: findings and reasons of settings."""


def _say(says, do=""):
    return {"says": says, "do": do}


_LICENSED = "A licensed electrician decides; local electrical codes come first."

ENGLISH = {
    "check.start_below": _say("The starting current of {start} is below the pump's {current}.",
                              "Enter what the pump draws in the moment it starts, or leave it empty."),
    # contacts
    "wiring.relay": _say("The load is {load}, {start} in the moment of the start: more than the controller's own contacts may "
                         "switch.",
                         "Switch the pump through an external relay of {relay} or more (half of its rating is for a motor) "
                         "whose contact may make the starting current. A diode (DC) or suppressor (AC) across each coil "
                         "spares it."),
    "wiring.contact_start": _say("In the moment of the start {start} flow through the controller's contacts, which carry "
                                 "{carried}.",
                                 "Look in the controller's data sheet for what they may make with a motor; if it is less, "
                                 "switch the pump through a relay."),
    "wiring.arc": _say("At {supply} of direct voltage an arc is slow to go out: contacts rated for AC break a fraction of it.",
                       "Use contacts rated for this direct voltage. If the supply is AC, choose so under Pump."),
    "wiring.start_unknown": _say("The starting current is not entered. At {factor} times the running current {start} flow for "
                                 "a moment, which may be too much for {what}.",
                                 "Enter it from the pump's data sheet or a measurement: then each is judged for itself."),
    # cables
    "wiring.unknown": _say("The cable is not described, so its voltage drop is not checked.",
                           "Enter its length and conductor under wiring."),
    "wiring.drop": _say("The {of} loses {drop} of the supply, more than {limit}; no conductor of the table is thick enough.",
                        "Shorten the cable or bring the supply closer. " + _LICENSED),
    "wiring.drop_size": _say("The {of} loses {drop} of the supply, more than {limit}.",
                             "A conductor of {size} or thicker keeps it within. " + _LICENSED),
    "wiring.voltage_drop_start": _say("In the moment of the start, with {start}, the cable keeps {drop} of the supply from "
                                      "the pump; up to {most} is usual.",
                                      "Measure the voltage at the pump while it starts. A thicker or shorter cable helps."),
    "wiring.vent_drop_start": _say("In the moment of the start, with {start}, the cable keeps {drop} of the supply from the "
                                   "vent valve, which must pull in then; up to {most} is usual.",
                                   "Measure the voltage at the valve while the pump starts, or give it a cable of its own."),
    # fuses
    "wiring.fuse": _say("The fuse of {fitted} is small for a load of {load}: a quarter to spare asks for {wanted}.",
                        "Check fuse and conductor together. " + _LICENSED),
    "wiring.built_in": _say("A load of {load} is switched through the controller, whose own fuse of {fitted} is small for it: "
                            "a quarter to spare asks for {wanted}.",
                            "Fit none larger than its maker allows: switch the pump through a relay with a fuse of its own."),
    "wiring.fuse_start": _say("The fuse of {fitted} may not outlast the start, when {start} flow.",
                              "Use a slow fuse, or a larger one if conductor and maker allow it. " + _LICENSED),
    "wiring.fuse_cable": _say("A fuse of {fuse} does not protect the conductor, which may carry {carries} for good.",
                              "Use a thicker conductor. " + _LICENSED),
    # low level
    "low.unknown": _say("How much is left when the low-level switch acts is not entered.",
                        "Enter it under Pump: then the cycles between the switch and air in the line are worked."),
    "low.too_late": _say("The low-level switch acts at {low}, but {rest} cannot be drawn: air comes before the warning.",
                         "Set the switch higher. Bleed the line before trusting it again if it ran low."),
    "low.warn_only": _say("With a warning only the pump draws air {cycles} cycles after low level, {days} later.",
                          "Make sure that somebody who can refill hears the warning and comes in time, also at weekends, or "
                          "let low level stop the pump."),
    # machine contact
    "machine.never": _say("If the pause of {pause} begins anew at each start of the machine, which runs {hours} a day, it "
                          "never runs out and no point is fed.",
                          "Choose a shorter pause, or a controller that goes on with the pause where it stopped."),
    "machine.short": _say("The pause begins anew at each start: after a standstill {point} may get {short} less than it "
                          "needs, {percent} of its need over {running}.",
                          "Let the controller go on with the pause where it stopped, or feed when the machine starts."),
    "machine.unfed": _say("Needs count round the clock, but the system stands by with the machine: over a standstill of "
                          "{standing} {point} misses {short}.",
                          "Do not use the machine contact, or count needs by running hours if they are such."),
    "machine.feeds_standing": _say("Nothing tells the controller that the machine stands: {rate} go into standing bearings, "
                                   "{week} a week.",
                                   "Use the machine contact, or switch the supply with the machine. As it is, low level comes "
                                   "{days} after a refill, sooner than stated."),
    # alarm
    "alarm.load": _say("The alarm output carries {rated}; a load of {load} ({kind}) asks for contacts of {wanted}.",
                       "Put a small relay between, with a coil of {coil} at most, or use an LED lamp."),
    "alarm.flashing_coil": _say("A flashing output chatters a relay or horn: its contact may be worn after {life} of alarm.",
                                "Set the output to steady and let the lamp do the flashing."),
    # reasons
    "reason.low_unfitted": _say("No low-level switch is fitted: look at the level on every round; the reservoir is empty "
                                "after {empty}."),
    "reason.low_stop": _say("Air drawn into the line costs more than the stop; {left} are left then. No point is fed from the "
                            "next event on, at the latest {event} later: refill at once."),
    "reason.low_stop_cycles": _say("Air drawn into the line costs more than the stop; {left} are left then, {cycles} cycles "
                                   "({days}) before air. No point is fed from the next event on, at the latest {event} later: "
                                   "refill at once."),
    "reason.low_warn": _say("Goes on with {left} left: refill before air is drawn in."),
    "reason.low_warn_cycles": _say("Goes on with {left} left: air is drawn in {cycles} cycles ({days}) later, refill before."),
    "reason.machine_used": _say("On standby while the machine stands: needs count per hour of running. After {standing} "
                                "standing the first feed comes {gap} after the last at worst; by running hours nothing is "
                                "missed."),
    "reason.machine_anew": _say("On standby while the machine stands: needs count per hour of running. If the pause begins "
                                "anew, the first feed after {standing} standing comes {gap} after the last at worst, and "
                                "{point} has missed {short}."),
    "reason.machine_clock": _say("On standby while the machine stands, though needs count round the clock: {standing} "
                                 "standing and the pause leave {gap} without a feed at worst."),
    "reason.machine_unused": _say("The system runs round the clock, whether the machine runs or not."),
    "reason.machine_standing": _say("Runs on while the machine stands: {rate} go into standing bearings unless the supply is "
                                    "switched with the machine."),
    "reason.alarm": _say("As the one who must hear or see it is used to. Test it once a year."),
    "reason.alarm_rated": _say("As the one who must hear or see it is used to; test it once a year. The output drives an LED "
                               "lamp up to {lamp}, a filament lamp up to {filament}, a relay coil up to {coil}."),
}
