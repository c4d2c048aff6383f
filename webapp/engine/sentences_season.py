"""Sentences of the season sheet."""


def _say(says, do=""):
    return {"says": says, "do": do}


_WARMER = "Use a softer lubricant in winter, widen the line or keep it warmer: see the design help."
_BELOW = "Compare with what was entered as the coldest: {coldest}."

ENGLISH = {
    "season.stops_reset": _say("It works down to {t}. Below, the line does not vent far enough, or in time, for everything to reset.",
                               _BELOW + " A softer lubricant or wider pipe goes further."),
    "season.stops_relief": _say("It works down to {t}. Below, the pump's relief pressure of {relief} is reached before the switch trips.",
                                _BELOW + " A softer lubricant or wider pipe goes further."),
    "season.stops_time_limit": _say("It works down to {t}. Below, pressure builds up for longer than the controller waits, {limit}.",
                                    _BELOW + " A stronger pump or less to fill goes further."),
    "season.stops_idle": _say("It works down to {t}. Below, a device or the second switch is not reached by its pressure.",
                              _BELOW + " The switch that stops the pump belongs at the far end."),
    "season.as_set": _say("With the time limit on the sheet, {set}, it works down to {t}; with the longest that the controller accepts, "
                          "{limit}, down to {reaches}.", "Below {t} the limit ends a cycle that would have built up."),
    "season.to_bound": _say("It works at every temperature looked at, down to {t}."),
    "season.never_reset": _say("It works at no temperature entered: the line does not vent far enough, or in time, for all to reset.",
                               _WARMER),
    "season.never_relief": _say("It works at no temperature entered: the pump's relief pressure of {relief} is reached before the switch "
                                "trips.", _WARMER),
    "season.never_time_limit": _say("It works at no temperature entered: pressure builds up for longer than {limit}.",
                                    "A stronger pump, or a controller that waits longer: see the design help."),
    "season.never_idle": _say("It works at no temperature entered: a device or the second switch is not reached by its pressure.",
                              "Put the switch that stops the pump at the far end: see the design help."),
    "season.two_late": _say("One time limit does not serve the year: {winter} for the coldest day is more than {late} times the {hot} that "
                            "pressure takes on the hottest, so a fault would show late.",
                            "Set {summer} in spring and {winter} in autumn, when mornings pass {change}."),
    "season.two_not_taken": _say("One set of settings does not serve the year: below {change} the controller cannot take a time limit with "
                                 "its whole margin.",
                                 "Set {summer} in spring and the longest, {winter}, in autumn, when mornings pass {change}: in the cold it "
                                 "leaves less to spare."),
    # what is uncertain
    "range.never": _say("At {t} the estimates leave open whether the switch trips at all: in more than one of ten cases it does not.",
                        "Measure the residual pressure in a test run, or enter the lubricant's own figures."),
    "sensitivity.build": _say("What moves the build-up most is: {label}. Within its own uncertainty ({within}) it moves it by {change}.",
                              "Know it better first."),
    "sensitivity.residual": _say("What moves the pressure left after venting most is: {label}. Within its own uncertainty ({within}) it "
                                 "moves it by {change}.", "Know it better first."),
    # the picture
    "picture.season": _say("From {cold} to {hot} pressure builds in {slow} to {quick}; {left_cold} to {left_hot} may stay in the line."),
    "picture.season_none": _say("From {cold} to {hot}: the switch does not trip at every temperature; {left_cold} to {left_hot} may stay "
                                "in the line."),
}
