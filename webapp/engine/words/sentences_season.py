"""Sentences of the season sheet."""


def _say(says, do=""):
    return {"says": says, "do": do}


_WARMER = "Use a softer lubricant in winter, widen the line or keep it warmer: see the design help."
_KNOWN = "Measure the residual pressure in a test run, or enter the lubricant's own figures."
_MEASURED = "Measure it, or look it up, before anything else."
_TWO = "Set {summer} in spring and {winter} in autumn, when mornings pass {change}."
_BELOW = "Compare with what was entered as the coldest: {coldest}."

ENGLISH = {
    "season.stops_reset": _say("It works down to {t}. Below, the line does not vent far enough, or in time, for everything to reset.",
                               _BELOW + " A softer lubricant or wider pipe goes further."),
    "season.stops_relief": _say("It works down to {t}. Below, the pump's relief pressure of {relief} is reached before {goal}.",
                                _BELOW + " A softer lubricant or wider pipe goes further."),
    "season.stops_time_limit": _say("It works down to {t}. Below, it takes longer until {goal} than the longest {name} that the controller "
                                    "accepts, {limit}.", _BELOW + " A stronger pump or less to fill goes further."),
    "season.stops_idle": _say("It works down to {t}. Below, a device, or a second switch, is not reached by its pressure.",
                              _BELOW + " The switch that stops the pump belongs at the far end."),
    "season.as_set": _say("With the {name} on the sheet, {set}, it works down to {t}; with the longest that the controller accepts, "
                          "{limit}, down to {reaches}.", "Below {t} it ends a cycle that would have come to its end."),
    "season.to_bound": _say("It works at every temperature looked at, down to {t}."),
    "season.own_ambient": _say("All temperatures here are the system's. The coldest pipe, {pipe}, which has temperatures of its own, is at "
                               "{t} at the lowest of them that works."),
    "season.never_reset": _say("It works at no temperature entered: the line does not vent far enough, or in time, for all to reset.",
                               _WARMER),
    "season.never_relief": _say("It works at no temperature entered: the pump's relief pressure of {relief} is reached before {goal}.",
                                _WARMER),
    "season.never_time_limit": _say("It works at no temperature entered: it takes longer than {limit} until {goal}.",
                                    "A stronger pump, or a controller that waits longer: see the design help."),
    "season.never_idle": _say("It works at no temperature entered: a device, or a second switch, is not reached by its pressure.",
                              "Put the switch that stops the pump at the far end: see the design help."),
    "season.two_late": _say("One {name} does not serve the year: {winter} for the coldest day is more than {late} times the {hot} that "
                            "passes until {goal} on the hottest, so a fault would show late.", _TWO),
    "season.two_run": _say("One {name} does not serve the year: {winter} for the coldest day is more than {late} times the {hot} that "
                           "passes until {goal} on the hottest; the pump would work against its relief valve for the rest.", _TWO),
    "season.two_not_taken": _say("One set of settings does not serve the year: below {change} the controller cannot take a {name} with "
                                 "its whole margin.",
                                 "Set {summer} in spring and the longest, {winter}, in autumn, when mornings pass {change}: in the cold it "
                                 "leaves less to spare."),
    "word.goal.single-line": _say("the switch trips"),
    "word.goal.dual-line": _say("the switch at the end of the lines trips and the lines change over"),
    "word.goal.progressive": _say("the cycle switch signals"),
    "word.goal.time-only": _say("the last device is fed"),
    "word.time_limit": _say("time limit"), "word.window": _say("monitoring time"), "word.run_time": _say("run time"),
    # what is uncertain
    "range.never": _say("At {t} the estimates leave open whether the build-up ever ends, that is whether {goal}: in more than one of ten "
                        "cases it does not.", _KNOWN),
    "range.never_reset": _say("At {t} the estimates leave open whether everything is fed and resets after venting: in more than one "
                              "of ten cases it is not so.", _KNOWN),
    "sensitivity.build": _say("{label} matters most to the build-up: known within {within}, which moves it by {change}.", _MEASURED),
    "sensitivity.residual": _say("{label} matters most to the pressure left after venting: known within {within}, which moves it by "
                                 "{change}.", _MEASURED),
    "sensitivity.drop": _say("{label} matters most to the drop along the line: known within {within}, which moves it by {change}.",
                             _MEASURED),
    # design help
    "design.as_is": _say("As entered it works on the coldest day, with a fifth to spare {spare}."),
    "design.as_is_not": _say("As entered it does not work on the coldest day, or it has less than a fifth to spare {spare}."),
    "word.spare.reset": _say("on the pressure that stays in the line"), "word.spare.relief": _say("below the pump's relief pressure"),
    "design.bores": _say("Wider pipe makes it work: {count} of its pipes ({pipes}), {length} long in all, up to {widest}."),
    "design.bores_not": _say("Wider pipe alone does not make it work: {count} of its pipes ({pipes}) up to {widest}, {length} long, are "
                             "not enough."),
    "design.grade": _say("A softer grease makes it work: NLGI {grade}. How it flows is estimated from the grade.",
                         "The bearings must allow it: ask the maker. Old and new grease may not mix: clean the line first."),
    "design.grade_not": _say("A softer grease alone does not make it work, not even NLGI {grade}."),
    "design.delivery": _say("A pump that delivers {delivery} makes it work.", "Check its relief pressure, current and reservoir too."),
    "design.delivery_not": _say("Another pump alone does not make it work: one that delivers {delivery} was tried."),
    "design.switch": _say("Putting the switch that stops the pump at {node} makes it work.",
                          "What lies beyond the switch is no longer confirmed by it: look at the devices there on rounds."),
    "design.switch_not": _say("Putting the switch elsewhere does not make it work: the last place tried was {node}."),
    "design.counts": _say("Putting the cycle switch on block {node}, which goes round more often, makes it work.",
                          "Set the controller's count to the signals that its sheet then says."),
    "design.counts_not": _say("Putting the cycle switch on a block that goes round more often does not make it work: {node} was "
                              "tried last."),
    "design.split": _say("Cut in two at {node}, with a second pump there, it works. Points on the first part: {near}; on the second: {far}."),
    "design.split_not": _say("Cut in two at {node} (points: {near} and {far}) the worse part still does not work."),
    "design.plan": _say("For a line that is still to be bought: pipe of {least} at the narrowest and {most} at the widest, none narrower "
                        "than what it feeds, as narrow as works on the coldest day."),
    "design.plan_not": _say("Pipe from {least} to {most} was tried for a new line; that alone does not make it work."),
    # the picture
    "picture.season.single-line": _say("From {cold} to {hot} pressure builds in {slow} to {quick}; {left_cold} to {left_hot} may stay in the "
                                       "line after venting."),
    "picture.season.dual-line": _say("From {cold} to {hot} the slower line builds in {slow} to {quick}; {left_cold} to {left_hot} may stay in "
                                     "the lines after venting."),
    "picture.season.progressive": _say("From {cold} to {hot} the cycle switch signals after {slow} to {quick}; the line does not vent: "
                                       "{left_cold} to {left_hot} may stay in it."),
    "picture.season.time-only": _say("From {cold} to {hot} the last device is fed after {slow} to {quick}; {left_cold} to {left_hot} may stay "
                                     "in the line after venting."),
    "picture.season_none": _say("From {cold} to {hot}: the switch does not trip at every temperature; {left_cold} to {left_hot} may stay in "
                                "the line."),
    "picture.season_none.timed": _say("From {cold} to {hot}: not every device is fed at every temperature; {left_cold} to {left_hot} may stay "
                                      "in the line."),
}
