"""Brackwater Sawmill: an invented sawmill in a cold valley. Every name and every number here is invented.

The numbers are plausible for the trade; nothing is taken from a real plant, machine or product.
"""
SITE = "Brackwater Sawmill"
SAW_HALL, LOG_YARD, PLANER = "Saw hall", "Log yard", "Planer mill"


def _id(number):
    return "b5ac0000-0000-4000-8000-%012d" % number


def _range(least, most, step):
    return {"min_s": least, "max_s": most, "step_s": step}


_CONTROLLER = {"pause": _range(60, 172800, 60), "time_limit": _range(5, 900, 5), "vent": _range(5, 900, 5), "cycles_max": 4,
               "outputs_a": 6, "fuse_a": 8}

# invented greases: how they flow is invented too
_SOFT = {"name": "Winter grease, NLGI 00", "nlgi": "00", "code": "GP00C-40", "density_kg_m3": 900, "yield_pa": 22,
         "consistency_pa_sn": 9, "flow_index": 0.62, "reference_c": 20, "stiffening_per_k": 0.022, "bulk_modulus_mpa": 1450,
         "air_fraction": 0.01, "coldest_c": -40, "hottest_c": 60}
_FIRM = {"name": "General grease, NLGI 1", "nlgi": "1", "code": "KP1K-30", "density_kg_m3": 900, "yield_pa": 95,
         "consistency_pa_sn": 24, "flow_index": 0.45, "reference_c": 20, "stiffening_per_k": 0.028, "bulk_modulus_mpa": 1450,
         "air_fraction": 0.01, "coldest_c": -30, "hottest_c": 120}


def _rolling(bore, outer, width, speed, **factors):
    return {"method": "rolling", "bore_mm": bore, "outer_mm": outer, "width_mm": width, "speed_rpm": speed, "factors": factors}


def _stated(rate):
    return {"method": "stated", "cm3_per_h": rate}


def _film(shaft, length, every=4):
    return {"method": "film", "shaft_mm": shaft, "length_mm": length, "film_mm": 0.0254, "every_h": every}


def _walked(stops):
    """Sections, devices and points of a line walked from the pump.

    A stop: (from node or None for the last, length [m], bore [mm], wall, [(least, most, step) output, [(point, need)]]).
    """
    sections, devices, points, last = [], [], [], "pump"
    for number, (start, length, bore, wall, output, fed) in enumerate(stops, 1):
        node = "N%d" % number
        sections.append({"id": "S%d" % number, "from": start or last, "to": node, "length_m": length, "bore_mm": bore,
                         "wall": wall, "expansion_cm3_per_m_per_100bar": 0.9 if wall == "hose" else 0})
        last = node
        if output:
            device = "D%d" % (len(devices) + 1)
            devices.append({"id": device, "at": node, "output_min_cm3": output[0], "output_max_cm3": output[1],
                            "output_step_cm3": output[2], "fires_bar": 60, "resets_bar": 25, "stroke_s": 1})
            for name, need in fed:
                points.append({"id": "P%d" % (len(points) + 1), "name": name, "device": device, "need": need})
    return {"sections": sections, "devices": devices, "points": points}


def _system(number, name, area, lubricant, stops, switches, pump, **more):
    system = {"format": "system/1", "id": _id(number), "name": name, "site": SITE, "area": area, "kind": "single-line",
              "duty": {"hours_per_day": 16, "days_per_week": 5, "only_while_machine_runs": True},
              "ambient": {"coldest_c": -24, "usual_c": 8, "hottest_c": 32}, "lubricant": lubricant, "pump": pump,
              "vent_valve": {"current_a": 0.6}, "switches": switches,
              "low_level": {"fitted": True, "contact": "normally open", "on_low": "stop pump"},
              "machine_contact": {"used": True, "contact": "normally open"}, "alarm_output": "steady",
              "controller": dict(_CONTROLLER), "wiring": {"cable_m": 9, "conductor_mm2": 2.5, "fuse_a": 8, "conductor_c": 40}}
    system.update(_walked(stops))
    system.update(more)
    return system


def _switch(name, at, trips=110, resets=30):
    return {"id": name, "at": at, "trips_bar": trips, "resets_bar": resets, "contact": "normally open"}


def _pump(delivery, reservoir, current=4.2):
    return {"delivery_cm3_min": delivery, "relief_bar": 240, "reservoir_l": reservoir, "low_level_l": 0.6, "supply_v": 24,
            "current_a": current}


def head_rig():
    """The fine one: soft grease, wide pipe, devices that fit the needs."""
    small, large = (0.1, 0.6, 0.05), (0.3, 1.2, 0.05)
    return _system(1, "Head rig and edger", SAW_HALL, _SOFT, [
        (None, 6, 16, "steel", large, [("Head rig, left guide", _stated(0.075))]),
        (None, 3, 16, "steel", large, [("Head rig, right guide", _stated(0.075))]),
        (None, 5, 16, "steel", small, [("Edger infeed bearing", _stated(0.045))]),
        (None, 2, 16, "steel", small, [("Edger arbor, drive side", _stated(0.05))]),
        (None, 2, 16, "steel", small, [("Edger arbor, free side", _stated(0.05))]),
        (None, 4, 16, "steel", small, [("Edger outfeed bearing", _film(50, 60))])],
        [_switch("PS1", "N6")], _pump(60, 4))


def sorter_chain():
    """The one whose line cannot vent on the coldest morning: firm grease, long narrow pipe in the yard."""
    dose = (0.2, 0.8, 0.05)
    return _system(2, "Sorter chain", LOG_YARD, _FIRM, [
        (None, 8, 12, "steel", dose, [("Chain drive shaft, near", _stated(0.06)), ("Chain drive shaft, far", _stated(0.06))]),
        (None, 9, 12, "steel", dose, [("Tray 1, carrier roller", _stated(0.05))]),
        (None, 9, 12, "steel", dose, [("Tray 2, carrier roller", _stated(0.05))]),
        (None, 7, 10, "hose", dose, [("Return shaft, near", _stated(0.055)), ("Return shaft, far", _stated(0.055))]),
        ("N2", 4, 10, "hose", dose, [("Tensioner", _stated(0.05))])],
        [_switch("PS1", "N4")], _pump(80, 6))


def planer_feed():
    """The one that over-feeds half of its points: devices of one size on bearings of two sizes."""
    fixed = (0.4, 0.4, 0)
    return _system(3, "Planer feed rolls", PLANER, _SOFT, [
        (None, 4, 14, "steel", fixed, [("Top roll 1, drive side", _stated(0.052))]),
        (None, 2, 14, "steel", fixed, [("Top roll 1, free side", _stated(0.052))]),
        (None, 2, 14, "steel", fixed, [("Bottom roll 1, drive side", _stated(0.08))]),
        (None, 2, 14, "steel", fixed, [("Bottom roll 1, free side", _rolling(50, 110, 27, 900, contamination=0.4, design=1))]),
        (None, 3, 14, "steel", fixed, [("Cutter head, drive side", _rolling(60, 130, 31, 1800, contamination=0.4, vibration=0.6, design=1))]),
        (None, 2, 14, "steel", fixed, [("Cutter head, free side", _rolling(60, 130, 31, 1800, contamination=0.4, vibration=0.6, design=1))])],
        [_switch("PS1", "N6")], _pump(60, 4),
        ambient={"coldest_c": -8, "usual_c": 14, "hottest_c": 34})


def debarker():
    """The one with two switches, set so that they trip in the wrong order."""
    dose = (0.2, 0.9, 0.05)
    return _system(4, "Debarker ring", LOG_YARD, _SOFT, [
        (None, 3, 16, "steel", None, []),
        (None, 6, 16, "steel", dose, [("Ring bearing, infeed", _stated(0.08))]),
        (None, 3, 16, "steel", dose, [("Ring bearing, outfeed", _stated(0.08))]),
        (None, 4, 16, "hose", dose, [("Feed roll, left", _stated(0.06))]),
        (None, 3, 16, "hose", dose, [("Feed roll, right", _stated(0.06))])],
        [_switch("PS1", "N1", 130), _switch("PS2", "N5", 95)], _pump(70, 5))


def systems():
    """All systems of the plant."""
    return [head_rig(), sorter_chain(), planer_feed(), debarker()]
