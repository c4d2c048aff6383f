"""Sentences of test runs and rounds: verdicts and checklist items."""


def _say(says, do=""):
    return {"says": says, "do": do}


ENGLISH = {
    "verdict.no_runs": _say("No run counts yet.", "Time a cycle."),
    "verdict.few_runs": _say("{of}Too few runs to judge by: median {median} so far.", "Time at least {fewest} before you sign off."),
    "verdict.spread": _say("{of}The runs differ by {spread}.", "Time more runs: air in the line shrinks from cycle to cycle."),
    "verdict.agrees": _say("{of}As predicted: median {median}, expected {low} to {high}.", "Sign off to make it the baseline."),
    "verdict.slow": _say("{of}Slower than predicted: median {median}, expected {low} to {high}.",
                         "Look for air in the line, a leak or a worn pump before you sign off."),
    "verdict.quick": _say("{of}Quicker than predicted: median {median}, expected {low} to {high}.",
                          "Look for a blocked branch, a device that stands still, or a wrong length or bore."),
    "verdict.no_prediction": _say("{of}Median {median}. The simulation predicts that it never comes to that here.",
                                  "Check the line's figures: the plant says otherwise."),
    # the round
    "care.reservoir_level": _say("Reservoir level"),
    "care.reservoir_closed": _say("Lid, breather and fill port closed and clean"),
    "care.reservoir_lubricant": _say("Lubricant looks as it should: no water, foam, dirt or separation"),
    "care.reservoir_label": _say("Label names the lubricant on the settings sheet"),
    "care.low_level_acts": _say("Low-level switch acts, and the controller does what the sheet says"),
    "care.pump_runs": _say("Pump runs evenly, no new noise, no leak"),
    "care.pump_voltage": _say("Voltage at the pump while it runs"),
    "care.pump_current": _say("Current at the end of build-up"),
    "care.pump_relief": _say("Relief valve dry during a cycle"),
    "care.vent_falls": _say("Pressure left after the cycle"),
    "care.vent_tight": _say("No lubricant returns while the pump builds pressure"),
    "care.pipe_sound": _say("No wet fitting, chafed, kinked or crushed place, loose clamp. Look; never feel with a hand"),
    "care.hose_away": _say("Away from heat, sparks and moving parts"),
    "care.device_moves": _say("Indicator moves once in a cycle"),
    "care.device_dry": _say("Body dry, adjustment locked as on the sheet"),
    "care.point_line": _say("Feed line attached, fitting dry"),
    "care.point_film": _say("Fresh film at the seal, not washed out, not heaped up"),
    "care.point_warmth": _say("Temperature of the housing, by a thermometer that does not touch"),
    "care.end_line_a": _say("Pressure at the end of line A, when it has built up"),
    "care.end_line_b": _say("Pressure at the end of line B, when it has built up"),
    "care.switch_cable": _say("Plug and cable sound"),
    "care.switch_trips": _say("Trips at its pressure and returns to rest"),
    "care.controller_settings": _say("Settings stand as on the sheet"),
    "care.controller_faults": _say("Fault memory read and cleared"),
    "care.alarm_heard": _say("Alarm reaches whoever should hear it"),
    "care.line_temperature": _say("Temperature at the line, for the timed cycle"),
    "care.season": _say("Settings suit tonight's cold: it is above the lowest workable temperature of the season sheet"),
    "care.timed_cycle": _say("One timed cycle: build-up"),
}
