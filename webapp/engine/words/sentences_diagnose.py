"""Sentences of fault finding: causes with their checks, what readings say, cautions, and what is wrong with readings."""


def _say(says, do=""):
    return {"says": says, "do": do}


ENGLISH = {
    # a cause, and its check with what the answer shows
    "cause.empty": _say("Reservoir empty, air drawn in", "Look at the level. At the suction: this is it. Well above: go on."),
    "cause.cold": _say("Lubricant too stiff: too cold or a wrong one",
                       "Compare the temperature at the line and the label on the drum with the settings "
                       "sheet. Either differs: this is it."),
    "cause.leak": _say("Line broken or seeping{at}",
                       "Walk the line and look at fittings and hoses, first{at}. Lubricant outside: found. "
                       "All dry: less likely now."),
    "cause.return": _say("Vent valve{at} does not close",
                         "Look at the return{at} while the line is built up. Lubricant comes back: this is it."),
    "cause.air": _say("Air in the line",
                      "Was the line opened or filled lately? Bleed at the far end. Foam comes first: this is it."),
    "cause.pump": _say("Pump worn, or its inlet screen clogged",
                       "Catch what the pump gives in one minute and compare with its figure. Clearly less: this is it."),
    "cause.relief": _say("Relief valve set low or leaking",
                         "Read the highest pressure at the pump. It stays below the switch's trip, and the "
                         "valve is wet: this is it."),
    "cause.switch": _say("Switch {at} defective, misadjusted, or its cable broken",
                         "Read a gauge beside the switch and the controller's indication. They part at the trip: this is it."),
    "cause.contact": _say("Resting state of switch {at} entered wrongly",
                          "Compare the entry with the switch at rest, line without pressure. They differ: this is it."),
    "cause.vent": _say("Vent valve does not open, or not wide",
                       "Read the pressure when the pause begins. It stays high: this is it."),
    "cause.blocked": _say("Branch blocked or crushed{at}",
                          "Watch the indicators of that branch while the pump feeds it. All stand still: this is it."),
    "cause.device": _say("Metering device stuck, or the way into the bearing blocked{at}",
                         "Watch its indicator in a cycle; then, isolated, open its outlet. It stands still: "
                         "the device. It moves now: the way."),
    "cause.feed_line": _say("Feed line of a point broken{at}", "Look along the feed line. Off, crushed or wet: this is it."),
    "cause.setting": _say("A setting changed, or the time limit too short",
                          "Compare every setting with the sheet. One differs: put it back and see."),
    "cause.supply": _say("Pump does not run, or slowly: fuse, relay, voltage",
                         "Measure the voltage at the pump while it should run. None or below nine tenths: this is it."),
    "cause.machine_contact": _say("Machine contact never closes or opens",
                                  "Watch its indication at the controller while the machine starts and stops. "
                                  "No change: this is it."),
    "cause.none": _say("Nothing wrong that these readings show", "Time a cycle again, and read the pressures once more."),
    "cause.at": _say(" at {place}"),
    "of_line": _say(" of line {line}"),
    "cause.takes": _say("Takes about {minutes}."),
    # what readings say
    "because.for": _say("Speaks for it: {readings}."),
    "because.against": _say("Speaks against it: {readings}."),
    "because.usual": _say("No reading tells it from the others: it counts by how often it is met."),
    "because.expected": _say("{reading} {value}, with it {expected}"),
    "because.plain": _say("{reading} {value}"),
    "reading.build_s": _say("build-up{of}"),
    "reading.stopped_s": _say("build-up{of} stopped by the controller after"),
    "reading.vent_s": _say("vent"),
    "reading.ran_into_limit": _say("ran into the limit:"),
    "reading.limit_line": _say("the limit passed on line"),
    "reading.pressure_bar": _say("highest pressure{of}"),
    "reading.residual_bar": _say("pressure after venting"),
    "reading.current_a": _say("current"),
    "reading.refill_l": _say("refilled"),
    "reading.dry_points": _say("dry points:"),
    "reading.low_level": _say("low level:"),
    "reading.tripped_at_once": _say("tripped at once:"),
    "reading.never": _say("no trip"),
    "reading.no_points": _say("none"),
    # cautions
    "caution.isolated": _say("Isolate and lock out first, electrical and hydraulic, and release the pressure "
                             "before you open anything."),
    "caution.leak": _say("Never feel for a leak by hand: grease under pressure goes through skin, go to "
                         "surgery at once. Wear eye protection."),
    "caution.running": _say("Keep clear of moving parts: the pump runs during this check."),
    "caution.live": _say("Only a qualified person measures at live parts; for anything else isolate and lock out first."),
    # what is wrong with readings
    "readings.none": _say("These are no readings.", "Give a group of readings, format readings/1."),
    "readings.format": _say("These are no readings of a known format.", "Write readings/1."),
    "readings.unknown": _say("There is no reading of this name.", "Known are {known}."),
    "readings.number": _say("This reading is no number in its range.", "Give a number from {low} to {high}."),
    "readings.flag": _say("This reading is neither yes nor no.", "Write true or false."),
    "readings.runs": _say("There is no run here, or there are too many.", "Give one time or a list of up to 200."),
    "readings.places": _say("This reading needs the places that were read.",
                            "Give a pressure for each place; there are {known}."),
    "readings.one_line": _say("This reading is of two lines, and the system has one.", "Leave it out: only a dual-line system has it."),
    "readings.no_limit": _say("A line is named, but not that its time limit passed.", "Set ran_into_limit to true, or leave the line out."),
    "readings.line": _say("This is no line of the system.", "Write A or B."),
    "readings.point": _say("There is no such point.", "Points are {known}."),
    "readings.list": _say("A list is needed here.", "Write a list."),
    "readings.since": _say("The refill lacks the time since the one before.", "Give since_h, in hours."),
    "readings.closed": _say("This closed defect names no known cause.", "Name a cause as the diagnosis writes it."),
    "readings.tried": _say("This check names no known cause, or its answer is none.",
                           "Answers are found, not found, cannot tell."),
}
