"""Sentences of trends, consumption and what readings say of the line."""


def _say(says, do=""):
    return {"says": says, "do": do}


ENGLISH = {
    "trend.few": _say("{count} readings so far; {wanted} are learnt from before a drift is called.",
                      "Time a cycle on every round and note the temperature at the line."),
    "trend.skipped": _say("{count} readings without date, temperature or a sensible time are left out.",
                          "Note all three each time."),
    "trend.no_model": _say("The line model predicts no build-up here: temperature is corrected by what the readings teach."),
    "trend.wanders": _say("Readings scatter by {scatter}, more than neighbours differ.",
                          "Something changes slowly: note refills and work on the line."),
    "trend.over": _say("A drift of the {of} since {since} was over by {at}."),
    "trend.name.build_up": _say("timed cycle"), "trend.name.residual": _say("pressure left after venting"),
    "trend.outside": _say("The last reading, {value} when corrected, lies outside {low} to {high}.",
                          "Measure again at once: one reading is no drift yet."),
    "trend.build_up.rises": _say("The timed cycle takes {percent} longer than it did: drifting since {since}, called on {at}.",
                                 "Look for a leak, air, a worn pump or a clogged inlet screen. Never feel for a leak by hand; "
                                 "release pressure before opening the line."),
    "trend.build_up.falls": _say("The timed cycle is {percent} shorter than it was: drifting since {since}, called on {at}.",
                                 "Look for a blocked branch or a device that stands still: watch indicators through a cycle."),
    "trend.residual.rises": _say("Pressure left after venting has grown by {percent}: since about {since}, called on {at}.",
                                 "Look at the vent valve, for a crushed hose, and for a stiffer lubricant than the sheet names."),
    "trend.residual.falls": _say("Pressure left after venting has shrunk by {percent}: since about {since}, called on {at}.",
                                 "Check the gauge, and that the lubricant is the one that the sheet names."),
    "trend.meets": _say("It grows by {per_week} a week and meets the time limit of {limit} about {date}, sooner when cold.",
                        "Repair it before; a longer limit would only hide it."),
    "trend.met": _say("It grows by {per_week} a week and has reached the time limit of {limit} on {date}.",
                      "Repair it now; a longer limit would only hide it."),
    "picture.trend": _say("{count} readings from {first} to {last}: centre {centre}, limits {lower} to {upper}. The dotted line "
                          "is their weighted mean."),
    "picture.trend_short": _say("{count} readings from {first} to {last}."),
    "picture.history": _say("{first} to {last}. Timed cycles: {readings}, outside what is expected at their temperature: {outside}. Faults: "
                            "{faults}. Defects: {defects}, still open: {open}. Settings changed: {settings}. Refills: {refills}. Test runs: {runs}."),
    # what happened
    "event.run": _say("Test run, a new baseline"),
    "event.round": _say("Round: {count} not ok, {where}: {note}"),
    "event.case": _say("Fault: {symptom} Cause: {cause}"),
    "event.defect_open": _say("Defect, {severity}, open: {what}"),
    "event.defect_closed": _say("Defect, {severity}, closed on {on}: {what} {how}"),
    "event.setting": _say("Setting changed: {setting}, {was}{to}"),
    "event.refill": _say("{litres} filled in{lubricant}"),
    "aside.drift": _say("It comes back when a later reading, corrected, passes {limit}, or with a new call."),
    "aside.once": _say("It comes back when the next reading says it again."),
    # consumption
    "consumption.few": _say("Two refills to the same mark, some days apart, show how much was used.",
                            "Fill to the same mark each time and note the amount."),
    "consumption.less": _say("{used} were filled in since {since} where {expected} were to be given: {percent} too little.",
                             "A point no longer gets any, or cycles fail: watch every device's indicator through a cycle."),
    "consumption.more": _say("{used} were filled in since {since} where {expected} were to be given: {percent} too much.",
                             "Look along the line for a leak, at the relief valve and the vent's return; compare the settings "
                             "with the sheet."),
    # what readings say of the line
    "fit.nothing": _say("No reading here says anything of the line.",
                        "Time build-up and vent, read the pressure left, note where."),
    "fit.poor": _say("No air, yield, delivery or leak makes the line give these readings.",
                     "Check the readings, then lengths and bores: something else differs from the document."),
    "fit.name.air_fraction": _say("free air"), "fit.name.yield_pa": _say("yield"), "fit.name.delivery": _say("pump delivery"),
    "fit.name.leak": _say("a leak"), "fit.name.consistency": _say("consistency"),
    "fit.name.stiffening": _say("stiffening in the cold"),
}
_CUP = "Catch what the pump gives in one minute; isolate and release pressure before you open the line."
# of each unknown: how it is called and which reading would tell it
for _name, _label, _do in (
        ("air_fraction", "Free air by volume", _CUP),
        ("yield_pa", "Yield at the reference temperature", "Read the pressure left after venting, at the far end."),
        ("delivery", "Pump delivery", _CUP),
        ("leak", "Leak", "Watch the pressure after the pump stops with the vent held shut: a leak lets it sag. Never feel for "
                         "one by hand.")):
    ENGLISH["fit.%s.known" % _name] = _say(_label + ": {value}, between {low} and {high}.")
    ENGLISH["fit.%s.tied" % _name] = _say(_label + ": {low} to {high}. These readings cannot tell it from {others}.", _do)
    ENGLISH["fit.%s.open" % _name] = _say(_label + ": {low} to {high}. These readings say little of it.", _do)
