"""Sentences about the kinds of system: progressive blocks, two lines in turn, time without confirmation."""


def _say(says, do=""):
    return {"says": says, "do": do}


_OUTLET = "Give it an open outlet of its own, or join outlets."
ENGLISH = {
    # make-up
    "check.one_switch": _say("A {kind} system is worked with one switch; {value} is one too many.", "Take it away."),
    "check.fires_above_relief": _say("{value} moves at {fires}, not below the pump's relief pressure, {relief}.",
                                     "Check both; the maker's limits come first."),
    "check.unknown_join": _say("Outlet {value} of block {block} is joined to {other}, which the block does not have.",
                               "Choose one of its outlets."),
    "check.join_loop": _say("Outlet {value} of block {block} is joined in a circle: the block has nowhere to give.",
                            "Leave one of the joined outlets open."),
    "check.second_first": _say("Block {value} hangs on no other block, and it is not the only one.",
                               "Say which outlet feeds it: a progressive system has one first block."),
    "check.unknown_block": _say("{value} hangs on block {block}, which does not exist.", "Choose one of the blocks."),
    "check.unknown_outlet": _say("{value} is on outlet {outlet}, which block {block} does not have.", "Choose one of its outlets."),
    "check.closed_outlet": _say("{value} is on outlet {outlet} of block {block}, which is closed and joined to another.", _OUTLET),
    "check.taken_outlet": _say("{value} is on outlet {outlet} of block {block}, which already feeds something.", _OUTLET),
    "check.block_loop": _say("Block {value} is fed by itself, through the blocks it hangs on.", "Check what feeds what."),
    "check.counts_nothing": _say("Switch {value} counts block {block}, which does not exist.", "Choose one of the blocks."),
    "check.idle_outlet": _say("Outlet {value} of block {block} feeds nothing.",
                              "Join it to another outlet. If it is only plugged, it stops every block."),
    # time-only
    "timed.unconfirmed": _say("Nothing confirms that lubricant arrives: no switch, no count. The pump runs its time whatever happens.",
                              "Look at every point on every round; a switch at the far end would tell at once."),
    "timed.never_fed": _say("At {t} not every device doses: {why}.",
                            "Use wider or shorter pipe or a softer lubricant, or check the firing pressures."),
    "timed.out_of_range": _say("The run time should be {wanted}; the controller accepts at most {largest}.",
                               "Shorten the build-up (stronger pump, smaller line, less air) or use a controller that runs longer."),
    "timed.relief": _say("The pump reaches its relief pressure, {relief}, before its run time is over.",
                         "It may, if the valve returns to the reservoir: look there for lubricant that comes back warm or full of air."),
    "timed.measured": _say("The last device was seen to move only after {measured}; predicted at the coldest are {predicted}.",
                           "The longer of the two is used. Look for air, a leak or a worn pump."),
    "setting.run_time": _say("Run time"),
    "reason.run_time": _say("The last device is fed after {longest} at the coldest, × {margin}, up to the next {step}."),
    "setting.confirmation": _say("Confirmation"),
    "reason.unconfirmed": _say("Time-only: nothing confirms a cycle, so no fault is ever shown. Look at the points."),
    # progressive
    "progressive.one_stops_all": _say("One blocked outlet stops all {points} points: the blocks move in turn, and each waits for the one before.",
                                      "If the cycle switch stays away, look for the outlet that does not move and for the pressure before it."),
    "progressive.near_relief": _say("At {t} moving the blocks takes up to {needed} at the pump; its relief pressure is {relief}.",
                                    "Measure the pressure on a cold morning before trusting it."),
    "progressive.other_block": _say("The switch counts block {block}, which goes round {turns} times while the first block goes round once: "
                                    "{cycles} cycles of an event are {signals} signals.",
                                    "Put the switch on the first block, or enter the signals instead of the cycles."),
    "progressive.never_counts": _say("At {t} the cycle switch never signals: {why}.", "Use wider or shorter pipe or a softer lubricant."),
    "setting.window": _say("Monitoring time"),
    "reason.window_measured": _say("Longest measured wait for the cycle switch {longest} × {margin}, up to the next {step}."),
    "reason.window_predicted": _say("Predicted at the coldest, start and a cycle {longest} × {margin}, up to the next {step}. Time real cycles: "
                                    "they replace it."),
    "setting.cycle_switch_at_rest": _say("Cycle switch at rest"),
    "reason.cycle_switch": _say("As fitted on block {block}. A wrong entry counts the other half of the stroke, or nothing."),
    # dual-line
    "dual.never_trips": _say("At {t} line {side} never reaches the changeover pressure: {why}.",
                             "Use wider or shorter pipe or a softer lubricant, or check the trip pressure."),
    "dual.incomplete": _say("At {t} a cycle does not complete: {why}.",
                            "Change the lines, the lubricant or the pressures until every device moves on both sides."),
    "dual.empty_side": _say("No point is fed by line {side}: half of every cycle only builds pressure.", "Check the points' lines."),
    "reason.limit_dual_measured": _say("Longest measured half {longest} × {margin}, up to the next {step}. It holds for both halves."),
    "reason.limit_dual_predicted": _say("Slower half predicted at the coldest {longest} × {margin}, up to the next {step}. Time real halves: they "
                                        "replace it."),
    "reason.changeover": _say("At the end of the lines, trips at {trips}: the controller changes lines then. A wrong entry reads as an instant "
                              "changeover or as none at all."),
    "setting.changeover_at_rest": _say("Changeover switch at rest"),
    # pictures
    "picture.progressive": _say("At {t} the cycle switch signals {trip} after the start."),
    "picture.progressive.never": _say("At {t} the cycle switch never signals: {why}."),
    "picture.timed": _say("At {t} the last device is fed after {trip}; everything has reset {reset} after the pump stops."),
    "picture.timed.never": _say("At {t} not every device is fed: {why}."),
    "picture.dual": _say("At {t} line A builds in {trip}, line B in {second}; everything has reset {reset} after the vent opens."),
    "picture.dual.never": _say("At {t} line A never trips: {why}."),
    # the test run
    "verdict.dry": _say("No fresh lubricant was seen at: {points}.", "Look for the cause before you sign off."),
    "verdict.unseen": _say("Points not looked at: {count}. Nothing else confirms this system.", "Look at every point."),
    # the round
    "care.device_moves_twice": _say("Indicator moves in both halves of a cycle"),
    "care.block_moves": _say("Indicator moves while the pump runs, one outlet after the other"),
    "care.block_dry": _say("Body dry, outlets closed and joined as on the sheet"),
    "care.block_indicators": _say("No pressure indicator stands out, where there are any"),
    "care.switch_counts": _say("Signals once each time its block goes round"),
    "care.timed_turn": _say("Timed from one signal of the cycle switch to the next"),
    "care.timed_pump": _say("Time that the pump runs; nothing confirms it, so look at every point after it"),
    "care.timed_line_a": _say("One timed half: build-up of line A"),
    "care.timed_line_b": _say("One timed half: build-up of line B"),
}
