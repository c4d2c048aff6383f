"""Sentences of the check at one temperature."""


def _say(says, do=""):
    return {"says": says, "do": do}


_WARMER = "Keep the line warmer, or change to a softer lubricant or wider pipe; "
_BY_HAND = "until then feed by hand what must not run dry, with the machine locked out."

ENGLISH = {
    "tonight.locked": _say("At {t} {left} can stay locked in at {place}, which resets at {resets}: it will not feed again.",
                           "It resets down to {to}. " + _WARMER + _BY_HAND),
    "tonight.locked_always": _say("At {t} {left} can stay locked in at {place}, which resets at {resets}: it will not feed again.",
                                  _WARMER + _BY_HAND),
    "tonight.late": _say("At {t} the line vents too slowly: not everything has reset {within} after the vent opens.",
                         "Lengthen pause or vent time. " + _WARMER + _BY_HAND),
    "tonight.relief": _say("At {t} the pump's relief pressure of {relief} is reached before the cycle is done.",
                           "Do not raise the relief pressure above what pump and pipe are made for. " + _WARMER + _BY_HAND),
    "tonight.never": _say("At {t} the cycle is not done within {limit}, the longest that the controller accepts.",
                          "A stronger pump or less to fill helps. " + _WARMER + _BY_HAND),
    "tonight.time_limit": _say("At {t} a cycle takes {build} to build up, longer than {limit}, the longest that the controller accepts.",
                               "A stronger pump or less to fill helps. " + _WARMER + _BY_HAND),
    "tonight.as_set": _say("At {t} a cycle takes {build} to build up; the limit on the settings sheet, {set}, ends it before.",
                           "Set the limit to {wanted} tonight, and back when it is warmer. "
                           "The sheet is made for {coldest} at the coldest."),
    "tonight.broken": _say("The program failed on this system.",
                            "Judge it by its own page, and report the failure with the system's document."),
    "tonight.idle": _say("At {t} not everything is fed: {why}.", "Look at the system's page. " + _WARMER + _BY_HAND),
}
