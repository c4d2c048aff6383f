"""The one catalogue of fields: names, units, ranges, words. Feeds the forms, the check and the papers.

An entry's path names its place: `pump.delivery_cm3_min`, `sections[].length_m`. Parents stand before their children.
"""
from .fields import field
from ..basics.kinds import BY_PRESSURE, CONFIRMED, DUAL, KINDS, PROGRESSIVE, SIDES, VENTED

MACHINE, LUBRICANT, LINE, SENSING, WIRING = "machine", "lubricant", "line", "sensing", "wiring"
NLGI = ("000", "00", "0", "1", "2", "3", "4", "5", "6", "oil")
CONTACTS = ("normally open", "normally closed")
THICKENERS = ("lithium", "lithium complex", "calcium", "calcium complex", "calcium sulfonate", "aluminium complex",
              "polyurea", "clay", "sodium", "barium", "other")
OILS = ("mineral", "synthetic hydrocarbon", "ester", "polyglycol", "silicone", "fluorocarbon", "phosphate ester", "other")
MOST_TEXT = 300


def _of(*kinds):
    """Asked only for these kinds of system."""
    return ("kind", kinds)


def _by(method):
    return ("method", (method,))


def _group(path, label, part, required=True, kind="group", most=None, help="", when=None):
    return field(path, label, kind, part, required=required, most=most, help=help, when=when)


def _number(path, label, part, unit, low, high, required=True, default=None, help="", when=None):
    return field(path, label, "number", part, unit, low, high, required, None, default, help, when)


def _choice(path, label, part, choices, required=True, default=None, help="", when=None):
    return field(path, label, "choice", part, choices=choices, required=required, default=default, help=help, when=when)


def _text(path, label, part, required=False, help=""):
    return field(path, label, "text", part, required=required, help=help)


def _factor(name, label, help):
    return _number("points[].need.factors." + name, label, MACHINE, "1", 0.01, 10, False, 1, help, None)


_MACHINE_FIELDS = (
    field("id", "Identity", "id", MACHINE, required=False),
    _text("name", "Name", MACHINE, True, "What people in the plant call it"),
    _text("site", "Site", MACHINE),
    _text("area", "Area", MACHINE),
    _choice("kind", "Kind of system", MACHINE, KINDS, default="single-line"),
    _group("duty", "Duty", MACHINE),
    _number("duty.hours_per_day", "Hours a day", MACHINE, "h", 0.1, 24, default=16),
    field("duty.days_per_week", "Days a week", "number", MACHINE, "count", 0.1, 7, default=5),
    field("duty.only_while_machine_runs", "Only while the machine runs", "bool", MACHINE, required=False, default=True,
          help="Needs then count per hour of running"),
    _group("choices", "Choices", MACHINE, False),
    field("choices.cycles_per_event", "Cycles per event", "whole", MACHINE, "count", 1, 100, False,
          help="Empty: chosen for least waste"),
    _number("choices.longest_event_h", "Longest event", MACHINE, "h", 0.01, 720, False, 8,
            "Once a shift, so that a fault shows in the shift it happens"),
    _number("choices.over_feed_limit", "Over-feeding from", MACHINE, "ratio", 1, 100, False, 2, "Times the need"),
    _number("choices.margin", "Margin on times", MACHINE, "ratio", 1, 10, False, 1.5),
    _number("choices.relay_above_a", "Relay above", MACHINE, "A", 0.1, 1000, False, 5),
    _group("choices.pipe_prices", "Pipe that can be bought", LINE, False, "list", 30),
    _number("choices.pipe_prices[].bore_mm", "Bore", LINE, "mm", 1, 200),
    _number("choices.pipe_prices[].price_per_m", "Price a metre", LINE, "count", 0, 1000000),
)
_LUBRICANT_FIELDS = (
    _group("ambient", "Temperatures", LUBRICANT),
    _number("ambient.coldest_c", "Coldest", LUBRICANT, "°C", -70, 150, help="The coldest morning at the line"),
    _number("ambient.usual_c", "Usual", LUBRICANT, "°C", -70, 200),
    _number("ambient.hottest_c", "Hottest", LUBRICANT, "°C", -70, 250),
    _group("lubricant", "Lubricant", LUBRICANT),
    _text("lubricant.name", "Name on the drum", LUBRICANT),
    _choice("lubricant.nlgi", "NLGI grade", LUBRICANT, NLGI, help="Or oil"),
    _text("lubricant.code", "Code on the drum", LUBRICANT, help="DIN 51825 or ISO 6743-9, for example KP2K-30"),
    _number("lubricant.density_kg_m3", "Density", LUBRICANT, "kg/m³", 500, 2500, False, 900),
    _number("lubricant.v40_mm2_s", "Oil viscosity at 40 °C", LUBRICANT, "mm²/s", 1, 100000, False),
    _number("lubricant.v100_mm2_s", "Oil viscosity at 100 °C", LUBRICANT, "mm²/s", 0.5, 10000, False),
    _number("lubricant.viscosity_index", "Viscosity index", LUBRICANT, "count", 0, 400, False, None,
            "Where only one viscosity is known. Empty: 95, an estimate"),
    _choice("lubricant.thickener", "Thickener", LUBRICANT, THICKENERS, False),
    _choice("lubricant.base_oil", "Base oil", LUBRICANT, OILS, False,
            help="With the thickener: stands in for viscosities and temperatures that are missing, as an estimate"),
    _choice("lubricant.previous_thickener", "Thickener in the line before", LUBRICANT, THICKENERS, False,
            help="Where another grease was used: mixing is warned of"),
    _number("lubricant.penetration", "Worked penetration", LUBRICANT, "count", 60, 500, False, None,
            "In 0.1 mm, 60 strokes, 25 °C"),
    field("lubricant.extreme_pressure", "Additives for high pressure", "bool", LUBRICANT, required=False, default=False),
    _choice("lubricant.water", "Stands up to places that are", LUBRICANT, ("dry", "humid", "washed"), False, "dry"),
    _choice("lubricant.rust", "Protects against rust from", LUBRICANT, ("none", "fresh water", "salt water"), False, "none"),
    _number("lubricant.yield_pa", "Yield", LUBRICANT, "Pa", 0, 50000, False, help="Empty: estimated from the grade"),
    _number("lubricant.consistency_pa_sn", "Consistency", LUBRICANT, "Pa·sⁿ", 0.001, 100000, False),
    _number("lubricant.flow_index", "Flow index", LUBRICANT, "1", 0.15, 1.5, False),
    _number("lubricant.reference_c", "Known at", LUBRICANT, "°C", -50, 150, False, 25),
    _number("lubricant.stiffening_per_k", "Stiffening in the cold", LUBRICANT, "1/K", 0, 0.2, False, 0.025),
    _number("lubricant.bulk_modulus_mpa", "Bulk modulus", LUBRICANT, "MPa", 100, 10000, False, 1500),
    _number("lubricant.air_fraction", "Free air", LUBRICANT, "1", 0, 0.5, False, 0.01, "Share of the volume at rest"),
    _number("lubricant.coldest_c", "Good down to", LUBRICANT, "°C", -100, 100, False),
    _number("lubricant.hottest_c", "Good up to", LUBRICANT, "°C", -50, 400, False),
)
_PUMP_FIELDS = (
    _group("pump", "Pump", LINE),
    _number("pump.delivery_cm3_min", "Delivery", LINE, "cm³/min", 0.1, 100000),
    _number("pump.relief_bar", "Relief pressure", LINE, "bar", 1, 1000),
    _number("pump.reservoir_l", "Reservoir", LINE, "l", 0.01, 10000),
    _number("pump.low_level_l", "Left at low level", LINE, "l", 0, 10000, False),
    _number("pump.not_drawn_l", "Cannot be drawn", LINE, "l", 0, 10000, False, 0, "What stays below the pump's inlet"),
    _choice("pump.supply", "Kind of supply", LINE, ("dc", "ac"), False, "dc", "ac: one phase"),
    _number("pump.supply_v", "Supply", LINE, "V", 5, 1000),
    _number("pump.current_a", "Pump current", LINE, "A", 0, 1000),
    _number("pump.starting_current_a", "Starting current", LINE, "A", 0, 10000, False,
            help="In the moment of the start. Empty: 6 times the pump current, an estimate"),
    _number("pump.power_factor", "Power factor", LINE, "1", 0.1, 1, False, 1, "Of the pump, for ac", ("supply", ("ac",))),
    _group("vent_valve", "Vent valve", LINE, False, when=_of(*VENTED)),
    _number("vent_valve.current_a", "Valve current", LINE, "A", 0, 100, False),
    _number("vent_valve.flow_cm3_min_per_bar", "Valve flow", LINE, "cm³/(min·bar)", 0, 1000000, False,
            help="Empty: taken as wide open"),
    _group("sections", "Pipes", LINE, kind="list", most=300),
    field("sections[].id", "Name of the pipe", "id", LINE),
    field("sections[].from", "From", "id", LINE),
    field("sections[].to", "To", "id", LINE),
    _number("sections[].length_m", "Length", LINE, "m", 0.01, 2000),
    _number("sections[].bore_mm", "Bore", LINE, "mm", 1, 200),
    _choice("sections[].wall", "Wall", LINE, ("steel", "hose"), False, "steel"),
    _number("sections[].expansion_cm3_per_m_per_100bar", "Swelling", LINE, "cm³/(m·100 bar)", 0, 200, False, 0,
            "The hose maker's figure"),
    _group("sections[].ambient", "Temperatures of its own", LINE, False, help="Of a pipe elsewhere, outdoors for example"),
    _number("sections[].ambient.coldest_c", "Coldest", LINE, "°C", -70, 150),
    _number("sections[].ambient.usual_c", "Usual", LINE, "°C", -70, 200),
    _number("sections[].ambient.hottest_c", "Hottest", LINE, "°C", -70, 250),
    _group("devices", "Metering devices", LINE, kind="list", most=200),
    field("devices[].id", "Name of the device", "id", LINE),
    field("devices[].at", "Place", "id", LINE),
    _number("devices[].output_min_cm3", "Least output", LINE, "cm³", 0.0001, 1000, help="Of one outlet", when=_of(*VENTED)),
    _number("devices[].output_max_cm3", "Most output", LINE, "cm³", 0.0001, 1000, when=_of(*VENTED)),
    _number("devices[].output_step_cm3", "Step", LINE, "cm³", 0, 1000, False, 0, "Empty: any", _of(*VENTED)),
    _number("devices[].fires_bar", "Fires at", LINE, "bar", 0.5, 900, help="The pressure at which it moves"),
    _number("devices[].resets_bar", "Resets at", LINE, "bar", 0.1, 900, when=_of(*VENTED)),
    _number("devices[].stroke_s", "Stroke", LINE, "s", 0.05, 120, False, 1, when=_of(*VENTED)),
    _group("devices[].outlets", "Outlets", LINE, kind="list", most=40, when=_of(PROGRESSIVE)),
    field("devices[].outlets[].id", "Name of the outlet", "id", LINE),
    _number("devices[].outlets[].output_cm3", "Output", LINE, "cm³", 0.0001, 1000, help="Each time the block goes round"),
    field("devices[].outlets[].joined_to", "Closed, joined to", "id", LINE, required=False,
          help="The outlet that gives its output too"),
    _group("devices[].hangs_from", "Fed by another block", LINE, False, when=_of(PROGRESSIVE)),
    field("devices[].hangs_from.block", "Block", "id", LINE),
    field("devices[].hangs_from.outlet", "Its outlet", "id", LINE),
)
_POINT_FIELDS = (
    _group("points", "Lubrication points", MACHINE, kind="list", most=400),
    field("points[].id", "Identity of the point", "id", MACHINE),
    _text("points[].name", "Name of the point", MACHINE, True),
    field("points[].device", "Device", "id", MACHINE),
    field("points[].outlet", "Outlet", "id", LINE, when=_of(PROGRESSIVE)),
    _choice("points[].side", "Fed by line", MACHINE, SIDES, help="In which half of the cycle", when=_of(DUAL)),
    _group("points[].need", "Need", MACHINE),
    _choice("points[].need.method", "Need by", MACHINE, ("rolling", "film", "stated")),
    _number("points[].need.bore_mm", "Bore", MACHINE, "mm", 1, 3000, when=_by("rolling")),
    _number("points[].need.outer_mm", "Outside diameter", MACHINE, "mm", 2, 5000, when=_by("rolling")),
    _number("points[].need.width_mm", "Width", MACHINE, "mm", 0.5, 2000, False, when=None),
    _number("points[].need.speed_rpm", "Speed", MACHINE, "r/min", 0.01, 200000, when=_by("rolling")),
    _choice("points[].need.variant", "Factor set", MACHINE, ("A", "B"), False, "A",
            "A: six factors, from memory. B: running temperature, shaft and size, from a bearing maker's catalogue. Never both",
            _by("rolling")),
    _group("points[].need.factors", "Factors", MACHINE, False),
    _factor("temperature", "Temperature", "1 up to 66 °C, less above"),
    _factor("contamination", "Contamination", "1 light dust; 0.2 severe and abrasive"),
    _factor("moisture", "Moisture", "1 dry; 0.1 water on the housing"),
    _factor("vibration", "Vibration", "1 smooth; 0.3 strong"),
    _factor("position", "Shaft position", "1 horizontal; 0.3 vertical"),
    _factor("design", "Bearing design", "10 ball; 5 cylindrical or needle roller; 1 tapered or spherical roller"),
    _number("points[].need.running_c", "Runs at", MACHINE, "°C", -60, 300, False, 70, "Temperature of the bearing, not of the air",
            _by("rolling")),
    _group("points[].need.conditions", "Conditions", MACHINE, False),
    _choice("points[].need.conditions.shaft", "Shaft", MACHINE, ("horizontal", "vertical"), False, "horizontal"),
    _number("points[].need.conditions.judgement", "Judged factor", MACHINE, "1", 0.01, 1, False, 1,
            "Less than 1 for vibration or dirt, as you judge"),
    field("points[].need.conditions.outer_ring_turns", "The outer ring turns", "bool", MACHINE, required=False, default=False),
    _choice("points[].need.quantity", "Quantity for", MACHINE, ("any", "weekly", "monthly", "yearly"), False, "any",
            "Any: 0.005 g/mm², published; by how often it is greased: from memory", _by("rolling")),
    field("points[].need.rows", "Rows", "whole", MACHINE, "count", 1, 8, False, default=1, help="For the film rule",
          when=_by("rolling")),
    _number("points[].need.area_cm2", "Area", MACHINE, "cm²", 0.001, 1000000, False),
    _number("points[].need.shaft_mm", "Shaft", MACHINE, "mm", 0.5, 5000, False),
    _number("points[].need.length_mm", "Length", MACHINE, "mm", 0.5, 20000, False),
    _number("points[].need.pitch_mm", "Pitch diameter", MACHINE, "mm", 1, 20000, False),
    _number("points[].need.slide_mm", "Slideway length", MACHINE, "mm", 1, 50000, False),
    _number("points[].need.pin_mm", "Chain pin", MACHINE, "mm", 0.5, 500, False),
    _number("points[].need.bush_mm", "Length of a pin's bearing", MACHINE, "mm", 0.5, 1000, False),
    field("points[].need.links", "Links", "whole", MACHINE, "count", 1, 100000, False, help="Of all strands together"),
    _number("points[].need.film_mm", "Film", MACHINE, "mm", 0.0001, 5, False, 0.0254, when=_by("film")),
    _number("points[].need.every_h", "Renewed every", MACHINE, "h", 0.01, 10000, False, None, "Empty: 4 h for grease, 1 h for oil",
            _by("film")),
    _number("points[].need.cm3_per_h", "Need", MACHINE, "cm³/h", 0, 10000, when=_by("stated")),
)
_SENSING_FIELDS = (
    _group("switches", "Switches", SENSING, kind="list", most=2, when=_of(*CONFIRMED)),
    field("switches[].id", "Name of the switch", "id", SENSING),
    field("switches[].at", "Place", "id", SENSING),
    _number("switches[].trips_bar", "Trips at", SENSING, "bar", 0.5, 900, when=_of(*BY_PRESSURE)),
    _number("switches[].resets_bar", "Returns at", SENSING, "bar", 0.1, 900, when=_of(*BY_PRESSURE)),
    field("switches[].counts", "Counts block", "id", SENSING, help="Whose cycles it signals", when=_of(PROGRESSIVE)),
    _choice("switches[].contact", "At rest", SENSING, CONTACTS),
    _group("low_level", "Low level", SENSING, False),
    field("low_level.fitted", "Fitted", "bool", SENSING, required=False),
    _choice("low_level.contact", "At rest", SENSING, CONTACTS, False),
    _choice("low_level.on_low", "On low level", SENSING, ("stop pump", "warn only"), False),
    _group("machine_contact", "Machine contact", SENSING, False),
    field("machine_contact.used", "Used", "bool", SENSING, required=False),
    _choice("machine_contact.contact", "At rest", SENSING, CONTACTS, False),
    _choice("machine_contact.on_restart", "Pause when the machine starts", SENSING,
            ("begins anew", "goes on", "feeds at once"), False, help="Empty: worked as if it began anew, the safe side"),
    _number("machine_contact.longest_stand_h", "Longest standstill", SENSING, "h", 0, 10000, False,
            help="Empty: a weekend, by the duty"),
    _choice("alarm_output", "Alarm output", SENSING, ("steady", "flashing"), False),
    _group("controller", "Controller", SENSING),
    _group("controller.pause", "Pause", SENSING, kind="ranges", most=20),
    _group("controller.time_limit", "Time limit", SENSING, kind="ranges", most=20),
    _group("controller.vent", "Vent", SENSING, kind="ranges", most=20, when=_of(*VENTED)),
    field("controller.cycles_max", "Most cycles per event", "whole", SENSING, "count", 1, 100, False, default=1),
    _number("controller.outputs_a", "Its contacts carry", SENSING, "A", 0, 1000, False),
    _choice("controller.outputs_rated_for", "Contacts rated for", SENSING, ("motor", "resistive"), False,
            help="What its data sheet says of this current"),
    _number("controller.fuse_a", "Its fuse", SENSING, "A", 0, 1000, False),
    _number("controller.alarm_a", "Its alarm contact carries", SENSING, "A", 0, 100, False, help="A resistive load"),
    _choice("controller.alarm_load", "Alarm drives", SENSING, ("LED lamp", "filament lamp", "relay or horn"), False),
    _number("controller.alarm_load_a", "Alarm load draws", SENSING, "A", 0, 100, False),
    field("controller.wording", "Menu wording", "map", SENSING, required=False),
    field("controller.order", "Order of settings", "texts", SENSING, required=False),
    field("controller.shown_in", "Units it shows", "map", SENSING, required=False),
)
RANGE_FIELDS = (
    _number("min_s", "From", SENSING, "s", 0, 10000000),
    _number("max_s", "To", SENSING, "s", 0.1, 10000000),
    _number("step_s", "Step", SENSING, "s", 0.01, 1000000),
)
_WIRING_FIELDS = (
    _group("wiring", "Wiring", WIRING, False),
    _number("wiring.cable_m", "Cable, one way", WIRING, "m", 0, 5000, False),
    _number("wiring.conductor_mm2", "Conductor", WIRING, "mm²", 0.05, 500, False),
    _number("wiring.awg", "Conductor, AWG", WIRING, "count", -3, 40, False),
    _number("wiring.vent_cable_m", "Vent valve's own cable, one way", WIRING, "m", 0, 5000, False,
            help="Empty: it hangs on the same cable", when=_of(*VENTED)),
    _number("wiring.vent_conductor_mm2", "Vent valve's conductor", WIRING, "mm²", 0.05, 500, False, help="Empty: as above",
            when=_of(*VENTED)),
    _number("wiring.vent_awg", "Vent valve's conductor, AWG", WIRING, "count", -3, 40, False, when=_of(*VENTED)),
    _number("wiring.fuse_a", "Fuse", WIRING, "A", 0, 1000, False),
    _choice("wiring.fuse_kind", "Kind of fuse", WIRING, ("slow", "quick"), False, "slow"),
    _number("wiring.conductor_c", "Conductor gets", WIRING, "°C", -60, 120, False, 60),
    _group("measured", "Measured", WIRING, False),
    field("measured.build_s", "Build-up runs", "numbers", WIRING, "s", 0.1, 100000, False, most=200),
    field("measured.build_b_s", "Build-up runs of line B", "numbers", WIRING, "s", 0.1, 100000, False, most=200, when=_of(DUAL)),
    field("measured.vent_s", "Vent runs", "numbers", WIRING, "s", 0, 1000000, False, most=200),
    _group("measured.residual_bar", "Residual pressures", WIRING, False, "list", 100),
    field("measured.residual_bar[].at", "Place", "id", WIRING),
    _number("measured.residual_bar[].bar", "Residual pressure", WIRING, "bar", 0, 900),
    _number("measured.at_c", "Measured at", WIRING, "°C", -70, 250, False),
    field("baseline_run", "Baseline", "id", WIRING, required=False),
)

SYSTEM = (_MACHINE_FIELDS + _LUBRICANT_FIELDS + _PUMP_FIELDS + _POINT_FIELDS + _SENSING_FIELDS + _WIRING_FIELDS)
