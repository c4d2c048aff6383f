"""Names under which pages and papers list the figures of a worked system, in order: (section, title, ((figure, name), ...))."""

_LINE = (("volume", "Volume of the line"), ("drop_usual", "Drop, usual"), ("drop_coldest", "Drop, coldest"),
         ("residual_usual", "Left after venting, usual"), ("residual_coldest", "Left after venting, coldest"),
         ("resets_at_coldest", "Everything resets when coldest"))
_UNVENTED = _LINE[:3]
_SINGLE = (("volume", "Volume to press in"), ("time_frictionless", "Without friction"), ("time_usual", "Predicted, usual"),
           ("time_coldest", "Predicted, coldest"), ("time_limit", "Time limit"), ("time_limit_second", "Time limit, second switch"))
_PROGRESSIVE = (("cycle_time", "Cycle of the first block"), ("time_usual", "Start and a cycle, usual"),
                ("time_coldest", "Start and a cycle, coldest"), ("window", "Monitoring time"))
_DUAL = (("volume_a", "Volume to press in, line A"), ("volume_b", "Volume to press in, line B"),
         ("time_frictionless", "Slower half without friction"), ("time_usual_a", "Predicted, usual, line A"),
         ("time_usual_b", "Predicted, usual, line B"), ("time_coldest_a", "Predicted, coldest, line A"),
         ("time_coldest_b", "Predicted, coldest, line B"), ("time_limit", "Time limit"))
_TIMED = (("volume", "Volume to press in"), ("time_frictionless", "Without friction"), ("time_usual", "Last device fed, usual"),
          ("time_coldest", "Last device fed, coldest"))
_BUILD = {"single-line": _SINGLE, "progressive": _PROGRESSIVE, "dual-line": _DUAL, "time-only": _TIMED}
OF_A_POINT = (("need", "Need"), ("dose", "Dose a cycle"), ("rate", "Delivered"), ("ratio", "Times the need"),
              ("other_rule", "By the other rule"), ("other_ratio", "Other rule over need"), ("factors_a", "Factors, set A"),
              ("factors_b", "Factors, set B"), ("regrease_interval", "Regreasing, every"), ("regrease_quantity", "Regreasing, quantity"),
              ("speed_factor", "Speed factor"), ("speed_limit", "Interval formula up to"), ("kappa", "Viscosity ratio"))
OF_A_BLOCK = (("volume", "Volume of a cycle"), ("turns", "Cycles in a cycle of the first block"))


def groups(kind):
    """[(section, title, [(figure, name)])] of a kind of system."""
    return [
        ("interval", "Interval", (("event", "From start to start"), ("pause", "Pause"), ("cycles_per_event", "Cycles per event"),
                                  ("events_per_day", "Events a day"))
         + ((("run_time", "Run time"),) if kind == "time-only" else ())),
        ("line", "Line", _UNVENTED if kind == "progressive" else _LINE), ("build", "Cycle" if kind == "progressive" else "Build-up", _BUILD[kind]),
        ("vent", "Vent", (("reset_usual", "Until all has reset, usual"), ("reset_coldest", "Until all has reset, coldest"),
                          ("time", "Vent"))),
        ("lubricant", "Oil of the lubricant", (
            ("second_viscosity", "Viscosity that was not entered"), ("viscosity_usual", "Viscosity, usual"),
            ("viscosity_coldest", "Viscosity, coldest"), ("viscosity_hottest", "Viscosity, hottest"),
            ("viscosity_index", "Viscosity index"), ("grade", "ISO VG grade"), ("reynolds_hottest", "Reynolds number, hottest"))),
        ("fit", "What the runs say of the lubricant", (
            ("air_fraction", "Free air"), ("air_fraction_low", "Free air, least"), ("air_fraction_high", "Free air, most"),
            ("yield_pa", "Yield"), ("yield_pa_low", "Yield, least"), ("yield_pa_high", "Yield, most"))),
        ("electrical", "Electrical", (
            ("current", "Pump" if kind == "progressive" else "Pump and vent valve"), ("starting_current", "While the pump starts"), ("fuse", "Fuse"),
            ("fuse_start", "Fuse that outlasts the start"), ("contact_use", "Use of the controller's contacts"),
            ("relay_needed", "External relay needed"), ("relay_contact", "Relay contact"),
            ("voltage_drop", "Voltage drop"), ("voltage_drop_percent", "Share of the supply"),
            ("voltage_drop_start_percent", "Share while the pump starts"), ("vent_drop", "Voltage drop, vent valve"),
            ("vent_drop_percent", "Share, vent valve"), ("vent_drop_start_percent", "Share while the pump starts, vent valve"),
            ("conductor", "Smallest conductor by its drop"), ("conductor_awg", "Smallest by its drop, AWG"),
            ("conductor_carries", "The conductor may carry"))),
        ("reservoir", "Reservoir", (
            ("per_day", "Use on a working day"), ("days_to_low", "Until low level"), ("days_to_empty", "Until empty"),
            ("cycles_after_low", "Cycles from low level to air"), ("time_after_low", "Time from low level to air"))),
        ("signals", "Signals", (
            ("standing", "Longest standstill"), ("without_feed", "Longest time without a feed"),
            ("shortfall", "Worst point then misses"), ("standing_feed", "Fed while the machine stands"),
            ("alarm_lamp", "Alarm drives an LED lamp up to"), ("alarm_filament", "Alarm drives a filament lamp up to"),
            ("alarm_coil", "Alarm drives a coil up to"), ("alarm_life", "Alarm contact, flashing a coil")))]


def listed(worked, kind):
    """[(title, [(name, figure)])] of what a worked document of this kind holds."""
    found = [(title, [(text, worked[section][name]) for name, text in names if worked.get(section, {}).get(name)])
             for section, title, names in groups(kind)]
    for title, section, key, names in (("Blocks", "blocks", "id", OF_A_BLOCK), ("Points", "points", "name", OF_A_POINT)):
        found.append((title, [("%s: %s" % (thing[key], text[0].lower() + text[1:]), thing[name])
                              for thing in worked.get(section, []) for name, text in names if thing.get(name)]))
    return found
