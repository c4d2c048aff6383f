"""Sentences about documents that cannot be worked: what is missing, out of range or contradictory."""


def _say(says, do):
    return {"says": says, "do": do}


ENGLISH = {
    "check.not_a_document": _say("This is not a system document.", "Give one JSON object with \"format\": \"system/1\"."),
    "check.format": _say("The format {format} is not known here.", "Use one of: {known}."),
    "check.missing": _say("{label}{of}: nothing is entered.", "Enter it."),
    "check.type": _say("{label}{of} should be {wanted}.", "Enter it again."),
    "check.not_a_number": _say("{label}{of} is no number that can be worked with.", "Enter it again."),
    "check.low": _say("{label}{of} is {value}; the least that makes sense is {low}.", "Check the value and its unit."),
    "check.high": _say("{label}{of} is {value}; the most that makes sense is {high}.", "Check the value and its unit."),
    "check.choice": _say("{label}{of} is {value}.", "Use one of: {choices}."),
    "check.too_many": _say("{label}: {count} are more than the {most} that are worked.", "Split the system."),
    "check.too_few": _say("{label}: there is none.", "Enter at least one."),
    "check.long_text": _say("{label}{of} is too long.", "Shorten it to {most} characters."),
    "check.duplicate": _say("{label} {value} is there twice.", "Give each its own."),
    "check.no_evidence": _say("It is closed by a {evidence}, but there is none.", "Add the {evidence}, or choose other evidence."),
    "check.no_day": _say("It is due on \u201c{value}\u201d, which is no day.", "Write it as year-month-day, like 2026-11-23."),
    "check.unknown_node": _say("{label} {value} is at {node}, where no pipe ends.", "Choose a place on the line."),
    "check.unknown_device": _say("Point {value} hangs on device {device}, which does not exist.", "Choose one of the devices."),
    "check.two_ways": _say("Two pipes end at {node}.", "Let one of them end elsewhere: a line is a tree."),
    "check.into_pump": _say("Pipe {value} ends at the pump.", "Pipes lead away from the pump: turn it round."),
    "check.not_reached": _say("Pipe {value} is not connected with the pump.", "Connect its start, {node}, with the rest."),
    "check.resets_above": _say("{label} {value} resets at {resets}, not below the {acts} at which it acts.",
                               "The reset pressure must be the lower one."),
    "check.output_order": _say("Device {value} gives at most {most}, less than its least, {least}.", "Exchange the two."),
    "check.above_relief": _say("Switch {value} trips at {trips}, not below the pump's relief pressure, {relief}.",
                               "Lower the trip pressure; the maker's limits come first."),
    "check.fires_above": _say("Device {value} fires at {fires}, not below the {trips} at which the first switch trips.",
                              "It might never dose: check both pressures."),
    "check.low_level": _say("Low level at {low} is not below the reservoir's {reservoir}.", "Check both."),
    "check.temperatures": _say("The temperatures are not in order: coldest {coldest}, usual {usual}, hottest {hottest}.", "Check them."),
    "check.oil_viscosity": _say("An oil needs its viscosity at 40 and at 100 °C, the first above the second; one of them will "
                                "do for an oil that is not very thin.", "Take them from the data sheet."),
    "check.speed": _say("Point {value} turns at {speed}; above {highest} the interval formula has no answer for its bore.",
                        "State the need instead, from the bearing maker's data."),
    "check.bearing": _say("Point {value}: the outside diameter must be above the bore.", "Check both."),
    "check.film_size": _say("Point {value} has no size for its film.",
                            "Enter the area, or shaft and length, or pitch and face width, or slideway length and width, "
                            "or a chain's pin, its length and the number of links."),
    "check.no_conductor": _say("The cable has no conductor size.", "Enter it in mm² or as AWG."),
    "check.range_order": _say("{label}{of}: the least accepted is above the most.", "Exchange the two."),
    "check.node_name": _say("Pipe {value} needs a name for both its ends.", "Name where it starts and where it ends."),
}
