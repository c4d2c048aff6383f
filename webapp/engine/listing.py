"""Names under which pages and papers list the figures of a worked system, in order: (section, title, ((figure, name), ...))."""

GROUPS = (
    ("interval", "Interval", (("event", "From start to start"), ("pause", "Pause"), ("cycles_per_event", "Cycles per event"),
                              ("events_per_day", "Events a day"))),
    ("line", "Line", (("volume", "Volume of the line"), ("drop_usual", "Drop, usual"), ("drop_coldest", "Drop, coldest"),
                      ("residual_usual", "Left after venting, usual"), ("residual_coldest", "Left after venting, coldest"),
                      ("resets_at_coldest", "Everything resets when coldest"))),
    ("build", "Build-up", (("volume", "Volume to press in"), ("time_frictionless", "Without friction"),
                           ("time_usual", "Predicted, usual"), ("time_coldest", "Predicted, coldest"),
                           ("time_limit", "Time limit"), ("time_limit_second", "Time limit, second switch"))),
    ("vent", "Vent", (("reset_usual", "Until all has reset, usual"), ("reset_coldest", "Until all has reset, coldest"),
                      ("time", "Vent"))),
    ("fit", "What the runs say of the lubricant", (
        ("air_fraction", "Free air"), ("air_fraction_low", "Free air, least"), ("air_fraction_high", "Free air, most"),
        ("yield_pa", "Yield"), ("yield_pa_low", "Yield, least"), ("yield_pa_high", "Yield, most"))),
    ("electrical", "Electrical", (
        ("current", "Pump and vent valve"), ("starting_current", "While the pump starts"), ("fuse", "Fuse"),
        ("fuse_start", "Fuse that outlasts the start"), ("contact_use", "Use of the controller's contacts"),
        ("relay_needed", "External relay needed"), ("relay_contact", "Relay contact"),
        ("voltage_drop", "Voltage drop"), ("voltage_drop_percent", "Share of the supply"),
        ("voltage_drop_start_percent", "Share while the pump starts"), ("vent_drop", "Voltage drop, vent valve"),
        ("vent_drop_percent", "Share, vent valve"), ("vent_drop_start_percent", "Share while the pump starts, vent valve"),
        ("conductor", "Smallest conductor by its drop"), ("conductor_awg", "Smallest by its drop, AWG"),
        ("conductor_carries", "The conductor may carry"))),
    ("reservoir", "Reservoir", (("per_day", "Use on a working day"), ("days_to_low", "Until low level"),
                                ("days_to_empty", "Until empty"), ("cycles_after_low", "Cycles from low level to air"),
                                ("time_after_low", "Time from low level to air"))),
    ("signals", "Signals", (
        ("standing", "Longest standstill"), ("without_feed", "Longest time without a feed"),
        ("shortfall", "Worst point then misses"), ("standing_feed", "Fed while the machine stands"),
        ("alarm_lamp", "Alarm drives an LED lamp up to"), ("alarm_filament", "Alarm drives a filament lamp up to"),
        ("alarm_coil", "Alarm drives a coil up to"), ("alarm_life", "Alarm contact, flashing a coil"))),
)
OF_A_POINT = (("need", "Need"), ("dose", "Dose a cycle"), ("rate", "Delivered"), ("ratio", "Times the need"))


def listed(worked):
    """[(title, [(name, figure)])] of what a worked document holds."""
    groups = [(title, [(text, worked[section][name]) for name, text in names if worked.get(section, {}).get(name)])
              for section, title, names in GROUPS]
    groups.append(("Points", [("%s: %s" % (point["name"], text[0].lower() + text[1:]), point[name]) for point in worked["points"]
                              for name, text in OF_A_POINT if point[name]]))
    return groups
