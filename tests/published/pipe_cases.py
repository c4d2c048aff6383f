"""Flow in pipes, what stays locked in them, and what goes into a line under pressure. Data only.

SI, except where a document is given.
"""
from tests.published.case import PRACTICE, PROVEN, PUBLISHED, WORKED, Printed, Says

POISEUILLE = "Hagen-Poiseuille, textbook formula from memory"
BINGHAM = "Buckingham-Reiner, textbook formula from memory; closed form, wall-stress integral and velocity profile agree"
HERSCHEL = "Herschel-Bulkley, textbook formula from memory; closed form, wall-stress integral and velocity profile agree"
BALANCE = "The Tribology Handbook, section C14, p. C14.3: P / L = 4 F / D with the yield as wall stress"
SHEAR = "The Tribology Handbook, section C14, p. C14.3: S = 32 Q / (pi D³)"
COMPRESSION = "The Engineering ToolBox, bulk modulus of elasticity: volume x pressure / modulus"
WALLS = "the same, and a thick tube's swelling (elasticity, textbook formula from memory)"
EQUIVALENT = "Ruhr-Universität Bochum, course page \"Equivalent bulk modulus\": its structure; algebra from memory"
TRAPPED = "engineering data page \"Bulk Modulus\" (leeimh.com), worked example: psi and °F, rigid walls"
MARGIN = "habit: one and a half times the measured time"


def _flow(name, drop, length, bore_mm, yield_pa, consistency, index, printed, source=HERSCHEL, status=PROVEN):
    return Printed(name, "line.flow.flow_rate", {"drop_pa": drop, "bore_m": bore_mm / 1000, "length_m": length, "yield_pa": yield_pa,
                                            "consistency": consistency, "index": index}, printed, source, status)


def _drop(name, flow, bore_mm, length, yield_pa, consistency, index, printed, source=HERSCHEL, status=PROVEN):
    return Printed(name, "line.flow.pressure_drop", {"flow_m3_s": flow, "bore_m": bore_mm / 1000, "length_m": length,
                                                "yield_pa": yield_pa, "consistency": consistency, "index": index},
                   printed, source, status)


def _locked(name, yield_pa, length, bore_mm, printed):
    return Printed(name, "line.flow.yield_drop", {"length_m": length, "bore_m": bore_mm / 1000, "yield_pa": yield_pa}, printed,
                   BALANCE, WORKED)


def line_of(pipes, trips_bar=100, **lubricant):
    """A document with nothing but pipes in a row, (length [m], bore [mm], swelling), a switch and a grease."""
    nodes = ["pump"] + ["N%d" % number for number in range(1, len(pipes) + 1)]
    return {"sections": [{"from": start, "to": end, "length_m": length, "bore_mm": bore,
                          "expansion_cm3_per_m_per_100bar": swelling}
                         for start, end, (length, bore, swelling) in zip(nodes, nodes[1:], pipes)],
            "devices": [], "switches": [{"trips_bar": trips_bar}], "ambient": {"usual_c": 25},
            "lubricant": {"nlgi": "1", "reference_c": 25, **lubricant}}


def _pressed(name, line_cm3, trips_bar, modulus_mpa, printed, pipes=(), source=COMPRESSION, status=WORKED):
    document = line_of(pipes, trips_bar, bulk_modulus_mpa=modulus_mpa, air_fraction=0)
    return Printed(name, "line.build.volume", {"document": document, "doses": {}, "line_cm3": line_cm3}, printed, source, status,
                   ("value",))


# 100 bar above vacuum is 98.98675 bar on the gauge; a 10/12 mm tube swells by 0.089146 cm³/m at 200 bar
ABSOLUTE_100, SWELLING = 98.98675, 0.089146 / 2

PRINTED = (
    _drop("thin oil, 4 mm", 1e-6, 4, 10, 0, 0.088, 1, "140056.3", POISEUILLE),
    _drop("thick oil, 10 mm", 1e-5, 10, 50, 0, 0.4, 1, "814873.3", POISEUILLE),
    _drop("oil in a short pipe", 2e-7, 4, 1, 0, 0.1, 1, "3183.10", POISEUILLE),
    _flow("Bingham, 8 mm", 5e6, 10, 8, 200, 1.0, 1, "3.688816e-5", BINGHAM),
    _flow("Bingham, 4 mm", 2.2e6, 1, 4, 1000, 0.1, 1, "5.642121e-5", BINGHAM),
    _drop("Bingham, pressure", 2e-7, 4, 1, 1000, 0.1, 1, "1.041252e6",
          "a public exercise printed without its answer; computed by the wall-stress integral"),
    _flow("grease, 8 mm", 5e6, 10, 8, 200, 20, 0.5, "5.696219e-5"),
    _flow("grease, 12 mm", 8e6, 20, 12, 500, 30, 0.6, "2.040817e-5"),
    _flow("grease, 10 mm", 1e7, 30, 10, 150, 5, 0.8, "3.964039e-5"),
    _drop("grease, pressure in 10 mm", 5e-6, 10, 20, 300, 20, 0.5, "4.105244e6"),
    _drop("grease, pressure in 4 mm", 1e-8, 4, 5, 150, 10, 0.6, "9.07092e5"),
    # a pipe a quarter as long as its bore has its pressure drop as wall stress, and that is the shear rate at 1 Pa·s
    _drop("apparent shear rate", 5e-6, 10, 0.0025, 0, 1, 1, "50.930", SHEAR, WORKED),

    _locked("locked in, 100 Pa, 30 m", 100, 30, 10, "12.0e5"),
    _locked("locked in, 300 Pa, 20 m", 300, 20, 10, "24.0e5"),
    _locked("locked in, 500 Pa, 50 m", 500, 50, 20, "50.0e5"),
    _locked("locked in, 200 Pa, 5 m", 200, 5, 4, "10.0e5"),
    _locked("the longest line that falls to 20 bar", 300, 16.667, 10, "20.00e5"),
    # pipes in a row add up: 12 m and 8 m of the second case, then 4 mm
    Printed("left in a line of three pipes", "line.line.residual",
            {"document": line_of([(12, 10, 0), (8, 10, 0), (2, 4, 0)], yield_pa=300), "t_c": 25}, "30.0", BALANCE, WORKED,
            ("value",)),

    _pressed("four litres to 100 bar", 4000, 100, 1500, "26.667"),
    _pressed("one litre to 200 bar", 1000, 200, 1800, "11.111"),
    _pressed("50 m of 10/12 mm tube, rigid", 3926.99, ABSOLUTE_100, 1500, "25.915"),
    _pressed("50 m of 10/12 mm tube, swelling", 3926.99, ABSOLUTE_100, 1500, "28.121", [(50, 10, SWELLING)], WALLS, PROVEN),
    Printed("a shut line warmed by 50 °F", "line.warmth.shut_in_pressure",
            {"bulk_modulus": 3.0e5, "expansion_per_k": 0.00046, "warming_k": 50}, "6900", TRAPPED, PUBLISHED),
    Printed("a shut line warmed by 10 K", "line.warmth.shut_in_pressure",
            {"bulk_modulus": 1.5e4, "expansion_per_k": 7e-4, "warming_k": 10}, "105", TRAPPED, WORKED),
    Printed("the time limit of a line that took 40 s", "line.build.limit",
            {"document": {"controller": {"time_limit": {"min_s": 5, "max_s": 900, "step_s": 5}}}, "longest": 40,
             "means": "longest run", "estimate": False}, "60", MARGIN, PRACTICE, (0, "value")),
)

SAYS = (
    Says("nothing flows below the yield", "line.flow.flow_rate", {"drop_pa": 2.3e6, "bore_m": 0.01, "length_m": 20, "yield_pa": 300,
                                                             "consistency": 20, "index": 0.5}, 0.0, BALANCE, WORKED),
)

# (share of free air, what 50 m of 10/12 mm tube take to 100 bar above vacuum [cm³], source, status)
WITH_AIR = (
    ("0.01", "66.734", EQUIVALENT, WORKED),
    ("0.05", "221.19", EQUIVALENT, WORKED),
)
# (share of free air, bar above vacuum, effective bulk modulus of a liquid of 1.5 GPa with that air [GPa], source, status)
MODULUS = tuple((air, bar, printed, EQUIVALENT, WORKED) for air, bar, printed in (
    (0.01, 10, 0.5919), (0.01, 50, 1.4089), (0.01, 100, 1.4677), (0.05, 10, 0.1675), (0.05, 50, 1.1339), (0.05, 100, 1.3805)))
