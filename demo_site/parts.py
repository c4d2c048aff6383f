"""What the invented plant's systems are made of: places, greases, pumps, lines as they are walked. All invented."""
SITE = "Brackwater Sawmill"
SAW_HALL, LOG_YARD, PLANER = "Saw hall", "Log yard", "Planer mill"


def _id(number):
    return "b5ac0000-0000-4000-8000-%012d" % number


def range_of(least, most, step):
    return {"min_s": least, "max_s": most, "step_s": step}


CONTROLLER = {"pause": range_of(60, 172800, 60), "time_limit": range_of(5, 900, 5), "vent": range_of(5, 900, 5), "cycles_max": 4,
              "outputs_a": 6, "fuse_a": 8}

# invented greases: how they flow is invented too
SOFT = {"name": "Winter grease, NLGI 00", "nlgi": "00", "code": "GP00C-40", "density_kg_m3": 900, "yield_pa": 22,
         "consistency_pa_sn": 9, "flow_index": 0.62, "reference_c": 20, "stiffening_per_k": 0.022, "bulk_modulus_mpa": 1450,
         "air_fraction": 0.01, "coldest_c": -40, "hottest_c": 60}
FIRM = {"name": "General grease, NLGI 1", "nlgi": "1", "code": "KP1K-30", "density_kg_m3": 900, "yield_pa": 95,
         "consistency_pa_sn": 24, "flow_index": 0.45, "reference_c": 20, "stiffening_per_k": 0.028, "bulk_modulus_mpa": 1450,
         "air_fraction": 0.01, "coldest_c": -30, "hottest_c": 120}


def rolling(bore, outer, width, speed, **factors):
    return {"method": "rolling", "bore_mm": bore, "outer_mm": outer, "width_mm": width, "speed_rpm": speed, "factors": factors}


def stated(rate):
    return {"method": "stated", "cm3_per_h": rate}


def film(shaft, length, every=4):
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


def made(number, name, area, lubricant, stops, switches, pump, **more):
    system = {"format": "system/1", "id": _id(number), "name": name, "site": SITE, "area": area, "kind": "single-line",
              "duty": {"hours_per_day": 16, "days_per_week": 5, "only_while_machine_runs": True},
              "ambient": {"coldest_c": -24, "usual_c": 8, "hottest_c": 32}, "lubricant": lubricant, "pump": pump,
              "vent_valve": {"current_a": 0.6}, "switches": switches,
              "low_level": {"fitted": True, "contact": "normally open", "on_low": "stop pump"},
              "machine_contact": {"used": True, "contact": "normally open"}, "alarm_output": "steady",
              "controller": dict(CONTROLLER), "wiring": {"cable_m": 9, "conductor_mm2": 2.5, "fuse_a": 8, "conductor_c": 40}}
    system.update(_walked(stops))
    system.update(more)
    return system


def switch(name, at, trips=110, resets=30):
    return {"id": name, "at": at, "trips_bar": trips, "resets_bar": resets, "contact": "normally open"}


def pump(delivery, reservoir, current=4.2):
    return {"delivery_cm3_min": delivery, "relief_bar": 240, "reservoir_l": reservoir, "low_level_l": 0.6, "supply_v": 24,
            "current_a": current}
