"""Sentences of worked documents: findings, reasons and names of settings."""


def _say(says, do=""):
    return {"says": says, "do": do}


ENGLISH = {
    # needs and doses
    "feed.short": _say("{point} is not fed: it needs {needed} a cycle and device {device} gives at most {most}.",
                       "Fit a device with at least that output, or let the controller accept shorter pauses or more cycles."),
    "feed.over": _say("{count} of {of} points get more than {limit} times their need; {worst} gets {ratio} times.",
                      "Fit devices with a smaller output at these points, or check the needs that were entered."),
    # the line
    "line.locked": _say("The line will not vent below {resets} at {t}: {left} remain at {place}. It vents down to {works_to}.",
                        "Widen the way there (its narrowest pipe to {bore} would do), use a softer grease in winter, or keep "
                        "the line warmer."),
    "line.locked_always": _say("The line will not vent below {resets} at {t}: {left} remain at {place}.",
                               "Widen the way there (its narrowest pipe to {bore} would do) or use a softer lubricant."),
    "line.nearly_locked": _say("The line vents with little to spare at {t}: {left} may remain at {place}, which resets at "
                               "{resets}.", "Measure the residual pressure there on a cold morning before trusting it."),
    "build.never_trips": _say("At {t} the first switch never trips: {why} ({relief}).",
                              "Use wider or shorter pipe or a softer lubricant, or check the trip pressure."),
    "build.incomplete": _say("At {t} a cycle does not complete: {why}.",
                             "Change the line, the lubricant or the pressures until every device doses and resets."),
    "switches.order": _say("At {t} switch {second} trips before switch {first}, which should stop the pump.",
                           "Put {first} near the pump and {second} at the far end, or set {first} lower or {second} higher."),
    "switches.place": _say("Both switches must trip: {first} stops the pump, the vent opens when {second} has tripped too, and "
                           "the pause starts when {second} is back at rest.",
                           "{first} sits near the pump, {second} at the far end, so that they trip in this order."),
    # limits
    "limit.out_of_range": _say("The time limit should be {wanted}; the controller accepts at most {largest}.",
                               "Shorten the build-up (stronger pump, smaller line, less air) or use a controller that waits longer."),
    "limit.winter": _say("Too short for winter: at {t} pressure is predicted to take {coldest}, the limit is {limit}.",
                         "Time a run on a cold morning, or change the setting in autumn."),
    "vent.out_of_range": _say("The vent should last {wanted}; the controller accepts at most {largest}.",
                              "Widen the line or use a softer lubricant, or use one switch and one cycle, where the pause vents."),
    "vent.longer_than_pause": _say("The line needs {reset} to reset when coldest, the pause is {pause}.",
                                   "Lengthen the pause or widen the line: the next cycle must not start before all have reset."),
    # supply
    "reservoir.short": _say("The reservoir reaches low level in {days}.",
                            "Fit a larger one or refill more often than every {fewest}."),
    # pictures
    "picture.line": _say("The line to scale: {length} to its far end, {devices} devices, {points} points."),
    "picture.trace": _say("At {t} pressure builds in {trip}; everything has reset {reset} after the vent opens."),
    "picture.incomplete": _say("At {t} pressure builds in {trip}, but {why}."),
    "picture.never_trips": _say("At {t} the switch never trips: {why}."),
    # names of settings
    "setting.pause": _say("Pause"),
    "setting.cycles": _say("Cycles per event"),
    "setting.time_limit": _say("Time limit"),
    "setting.time_limit_second": _say("Time limit, second switch"),
    "setting.vent": _say("Vent"),
    "setting.switch_1_at_rest": _say("First switch at rest"),
    "setting.switch_2_at_rest": _say("Second switch at rest"),
    "setting.second_switch": _say("Second switch"),
    "setting.low_level": _say("Low level"),
    "setting.low_level_at_rest": _say("Low level at rest"),
    "setting.on_low_level": _say("On low level"),
    "setting.machine_contact": _say("Machine contact"),
    "setting.machine_contact_at_rest": _say("Machine contact at rest"),
    "setting.alarm_output": _say("Alarm output"),
    # reasons
    "reason.pause": _say("Longest pause with least waste that feeds every point; {point} sets it. An event every {event}."),
    "reason.cycles": _say("One cycle feeds every point; more would only add wear."),
    "reason.cycles_many": _say("One cycle cannot give enough at the pauses that are accepted; these do with least waste."),
    "reason.limit_measured": _say("Longest measured build-up {longest} × {margin}, up to the next {step}."),
    "reason.limit_predicted": _say("Predicted at the coldest {longest} × {margin}, up to the next {step}. Time real runs: they replace it."),
    "reason.capped": _say("{longest} × {margin} is more than the controller accepts: this is its longest."),
    "reason.waits": _say("Comes from the simulation, once a cycle completes there."),
    "reason.limit_second": _say("{longest} until the second switch has tripped and returned, with the margin. It bounds the vent as well."),
    "reason.vent_short": _say("One cycle an event: the shortest will do, since venting goes on through the pause."),
    "reason.vent_long": _say("Everything has reset after {reset} at the coldest, with the margin: the next cycle must not start before."),
    "reason.rest": _say("As fitted, trips at {trips}. A wrong entry reads as an instant trip or as none at all."),
    "reason.second_used": _say("Both must trip, or it is a fault; the pause starts when the second has returned."),
    "reason.second_unused": _say("One switch confirms the pressure."),
    "reason.low_fitted": _say("A low-level switch is fitted."),
    "reason.low_rest": _say("As fitted. A wrong entry reads as low all the time or never."),
    "reason.machine_rest": _say("As fitted. A wrong entry keeps the system on standby."),
}
