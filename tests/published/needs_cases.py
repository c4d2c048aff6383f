"""What a point needs: rolling bearings by size and speed, films to renew. Data only."""
from tests.published.case import MEMORY, PUBLISHED, WORKED, Printed, Refused, Says

MASS = "The Tribology Handbook, section A20, p. A20.5"
INCHES = "Machinery Lubrication 31524 and Efficient Plant, March 2020, p. 18: 0.114 x D x B, inches and ounces"
INTERVAL = "Relubrication Intervals: Formulas & Examples, a public guide; K as in The Tribology Handbook, table 20.4"
ADJUSTED = "a bearing maker's catalogue, table of relubrication interval adjustments: half for every 15 °C above 70 °C"
FACTORS = "factors for temperature and contamination from memory; design factor: The Tribology Handbook, table 20.4"
SPEED = "Machinery Lubrication 23916: n·dm"
FILM = "Basic Lubrication Formulas, a public formula page: volume = area x 0.001 in"
ARITHMETIC = "arithmetic on the formula of Relubrication Intervals: Formulas & Examples"
KAPPA = "reference viscosity after ISO 281, formula remembered; oil of 220 and 19 mm²/s by ASTM D341"
JOINTS = "geometry of a chain's joints: pi x pin x length x links; film as in Basic Lubrication Formulas"
OUNCE_G = 28.349523125

# three named factors whose product is K
DUSTY_WARM_BALL = {"method": "rolling", "bore_mm": 65, "outer_mm": 140, "width_mm": 33, "speed_rpm": 1800,
                   "factors": {"temperature": 0.5, "contamination": 0.7, "design": 10}}
# 110 x 50 x 27 mm at 1500 r/min; a density of 1 g/cm³ makes the grams printed the cm³ that the engine gives
OF_BOTH_RULES = {"method": "rolling", "bore_mm": 50, "outer_mm": 110, "width_mm": 27, "speed_rpm": 1500,
                 "factors": {"design": 10}}
THICK_OIL = (220, 19.0, False, "")


def _mass(name, printed, outer, width, source=MASS, status=WORKED, **factor):
    return Printed(name, "feeding.needs.regrease_mass", {"outer_mm": outer, "width_mm": width, **factor}, printed, source, status)


def _interval(name, printed, factor, speed, bore, source=INTERVAL, status=WORKED):
    return Printed(name, "feeding.needs.bearing_interval", {"factor": factor, "speed_rpm": speed, "bore_mm": bore}, printed, source,
                   status)


def _by_set_b(name, printed, running_c, **more):
    need = dict(OF_BOTH_RULES, variant="B", running_c=running_c, **more)
    return Printed(name, "feeding.bearing.interval", {"need": need}, printed, ADJUSTED, WORKED, ("value",))


def _ratio(name, printed, **more):
    return Printed(name, "feeding.bearing.viscosity_ratio", {"need": dict(OF_BOTH_RULES, **more), "oil": THICK_OIL}, printed, KAPPA, MEMORY,
                   ("value",))


def _film(name, printed, status=WORKED, every_h=1, **sizes):
    need = {"method": "film", "film_mm": 0.0254, "every_h": every_h, **sizes}
    return Printed(name, "feeding.needs.need_of", {"point": {"need": need}, "lubricant": {}}, printed, FILM, status, ("value",))


PRINTED = (
    _mass("mass 52 x 15", "3.900", 52, 15),
    _mass("mass 110 x 27", "14.850", 110, 27),
    _mass("mass 170 x 39", "33.150", 170, 39),
    _mass("mass 180 x 46", "41.400", 180, 46),
    # one inch by one inch: the factor itself, in grams for the 0.114 oz that is printed
    Printed("mass 1 in x 1 in, in ounces", "feeding.needs.regrease_mass",
            {"outer_mm": 25.4, "width_mm": 25.4, "factor": 0.005 / OUNCE_G}, "0.114", INCHES, PUBLISHED),
    Printed("mass 1 in x 1 in, in ounces, closely", "feeding.needs.regrease_mass",
            {"outer_mm": 25.4, "width_mm": 25.4, "factor": 0.005 / OUNCE_G}, "0.113787", "exact inch and ounce", WORKED),
    # the inch form takes inches and gives ounces: 110 x 27 mm
    Printed("mass 110 x 27 in inches, in ounces", "feeding.needs.regrease_mass",
            {"outer_mm": 110 / 25.4, "width_mm": 27 / 25.4, "factor": 0.114}, "0.52480", INCHES, WORKED),
    Printed("mass 110 x 27 by the inch form, in grams", "feeding.needs.regrease_mass",
            {"outer_mm": 110, "width_mm": 27, "factor": 0.114 * OUNCE_G / 25.4 ** 2}, "14.878", INCHES, WORKED),
    _mass("mass, greased weekly", "5.94", 110, 27, "memory of bearing literature", MEMORY, factor=0.002),
    _mass("mass, greased monthly", "8.91", 110, 27, "memory of bearing literature", MEMORY, factor=0.003),
    _mass("mass, greased yearly", "11.88", 110, 27, "memory of bearing literature", MEMORY, factor=0.004),

    _interval("interval ball 50", "11199.3", 10, 1500, 50),
    _interval("interval ball 65", "7047.1", 10, 1800, 65),
    _interval("interval spherical 100", "1000.0", 1, 1000, 100),
    _interval("interval cylindrical 65", "4488.3", 5, 1500, 65),
    _interval("interval ball 25", "8333.3", 10, 3000, 25),
    _interval("interval ball 65, warm and dusty", "2466.5", 3.5, 1800, 65, FACTORS, MEMORY),
    _interval("interval ball 50 at 85 °C", "5599.7", 10 / 2, 1500, 50, ADJUSTED),
    _interval("interval ball 50 at 100 °C", "2799.8", 10 / 4, 1500, 50, ADJUSTED),
    _interval("interval ball 50 at 100 °C, shaft upright", "1399.9", 10 / 8, 1500, 50, ADJUSTED),
    _interval("interval of a slow bearing", "30000", 10, 10, 50, "a bearing maker's page: not beyond 30 000 h", PUBLISHED),
    _by_set_b("set B at 70 °C", "11199.3", 70),
    _by_set_b("set B at 85 °C", "5599.7", 85),
    _by_set_b("set B at 100 °C", "2799.8", 100),
    _by_set_b("set B at 100 °C, shaft upright", "1399.9", 100, conditions={"shaft": "vertical"}),
    _by_set_b("set B at 55 °C, doubled", "22398.7", 55),
    _by_set_b("set B at 40 °C, doubled but once", "22398.7", 40),
    Printed("set B, bore above 300 mm", "feeding.bearing.interval",
            {"need": {"variant": "B", "bore_mm": 400, "outer_mm": 650, "width_mm": 145, "speed_rpm": 100, "factors": {"design": 1}}},
            "2700.0", ADJUSTED + "; bore above 300 mm: half", WORKED, ("value",)),
    Printed("set B, outer ring turning: n·D", "feeding.needs.working_speed",
            {"need": dict(OF_BOTH_RULES, variant="B", conditions={"outer_ring_turns": True})}, "2062.5", ADJUSTED + "; n·D for n·dm",
            WORKED),
    Printed("factors multiply", "feeding.needs.need_of", {"point": {"need": DUSTY_WARM_BALL}, "lubricant": {}}, "3.5", FACTORS, MEMORY,
            ("inputs", "K", "value")),
    Printed("bearing by size and speed", "feeding.needs.need_of",
            {"point": {"need": OF_BOTH_RULES}, "lubricant": {"density_kg_m3": 1000}}, "0.0013", INTERVAL, WORKED, ("value",)),
    Printed("the same bearing by film", "feeding.needs.bearing_by_film", {"need": OF_BOTH_RULES}, "0.0159", FILM, WORKED, ("value",)),
    Printed("bearing of 60 mm by film, two rows, an hour", "feeding.needs.bearing_by_film", {"need": {"bore_mm": 60, "rows": 2}, "every_h": 1},
            "0.18288", FILM, WORKED, ("value",)),
    _ratio("viscosity ratio at 1500 r/min, 60 °C", "6.07", running_c=60),
    _ratio("viscosity ratio at 500 r/min, 60 °C", "2.723", running_c=60, speed_rpm=500),

    *(Printed("highest speed %d" % bore, "feeding.needs.highest_speed", {"bore_mm": bore}, printed, ARITHMETIC, WORKED)
      for bore, printed in ((25, "28000"), (50, "9899"), (100, "3500"), (200, "1237"), (300, "674"))),
    Printed("n·dm 50/110", "feeding.needs.speed_factor", {"bore_mm": 50, "outer_mm": 110, "speed_rpm": 1500}, "120000", SPEED, WORKED),
    Printed("n·dm 65/140", "feeding.needs.speed_factor", {"bore_mm": 65, "outer_mm": 140, "speed_rpm": 1800}, "184500", SPEED, WORKED),

    _film("film, shaft 6 in x 6 in", "1.85", PUBLISHED, shaft_mm=152.4, length_mm=152.4),
    _film("film, shaft 6 in x 6 in, full pi", "1.8533", shaft_mm=152.4, length_mm=152.4),
    _film("film, shaft 50 x 60", "0.23939", shaft_mm=50, length_mm=60),
    _film("film, slideway", "0.60960", slide_mm=300, width_mm=80),
    _film("film, rolling bearing as d² x 2 rows", "0.18288", area_cm2=72),
    Printed("film, as thick and as often as published where nothing is entered", "feeding.needs.need_of",
            {"point": {"need": {"method": "film", "shaft_mm": 50, "length_mm": 60}}, "lubricant": {"nlgi": "oil"}}, "0.23939", FILM, WORKED,
            ("value",)),
    Printed("film, chain", "feeding.needs.need_of",
            {"point": {"need": {"method": "film", "pin_mm": 9, "bush_mm": 16, "links": 120, "every_h": 1}}, "lubricant": {}}, "1.3789",
            JOINTS, WORKED, ("value",)),
    _film("film, gear", "0.3830", pitch_mm=120, width_mm=40),
)

REFUSED = (
    Refused("interval, boundary of the formula", "feeding.needs.bearing_interval", {"factor": 1, "speed_rpm": 3500, "bore_mm": 100},
            "speed_rpm", ARITHMETIC, WORKED),
    Refused("interval, above the boundary", "feeding.needs.bearing_interval", {"factor": 10, "speed_rpm": 4000, "bore_mm": 100},
            "speed_rpm", ARITHMETIC, WORKED),
)

SAYS = (
    Says("a film of oil is renewed each hour", "feeding.needs.film_hours", {"lubricant": {"nlgi": "oil"}}, 1, FILM, PUBLISHED),
    Says("a film of grease is renewed each four hours", "feeding.needs.film_hours", {"lubricant": {"nlgi": "2"}}, 4, FILM, PUBLISHED),
)
