"""Plausible systems of every kind from a seed, all invented: what the engine's tests feed it.

`random_system(seed)` gives the same `system/1` document for the same seed, on every machine: single-line, unless another kind
is named; `any_system(seed)` takes the kinds in turn. `plain_system()` is the smallest that has nothing to complain about: one
device and its switch at the end of 12 m of pipe; `plain_progressive()` two blocks at the same place.
"""
import random

_PAUSES = ({"min_s": 60, "max_s": 86400, "step_s": 60}, {"min_s": 600, "max_s": 360000, "step_s": 600},
           [{"min_s": 10, "max_s": 600, "step_s": 10}, {"min_s": 900, "max_s": 43200, "step_s": 300}])
_LIMITS = ({"min_s": 10, "max_s": 3600, "step_s": 10}, {"min_s": 60, "max_s": 5400, "step_s": 60},
           [{"min_s": 5, "max_s": 120, "step_s": 5}, {"min_s": 180, "max_s": 7200, "step_s": 60}])
_VENTS = ({"min_s": 0, "max_s": 600, "step_s": 10}, {"min_s": 5, "max_s": 5400, "step_s": 5})
_GREASES = (  # grade, yield [Pa], consistency [Pa·sⁿ], flow index
    ("000", 15, 3, 0.8), ("00", 50, 7, 0.7), ("0", 110, 14, 0.55), ("1", 170, 22, 0.5), ("2", 380, 40, 0.45))


FLOW = {"yield_pa": 140, "consistency_pa_sn": 20, "flow_index": 0.5, "reference_c": 22, "stiffening_per_k": 0.03,
        "bulk_modulus_mpa": 1350, "air_fraction": 0.01}


def plain_system(**changes):
    """One device that feeds one point, all fields stated; top-level fields can be replaced."""
    document = {
        "format": "system/1", "id": "invented-plain", "name": "Plain line", "kind": "single-line",
        "duty": {"hours_per_day": 16, "days_per_week": 5, "only_while_machine_runs": True},
        "ambient": {"coldest_c": 5, "usual_c": 20, "hottest_c": 35},
        "lubricant": dict(FLOW, name="invented grease", nlgi="1", density_kg_m3=900),
        "pump": {"delivery_cm3_min": 60, "relief_bar": 250, "reservoir_l": 4, "low_level_l": 0.5, "supply_v": 24, "current_a": 3},
        "vent_valve": {"current_a": 0.5},
        "sections": [{"id": "S0", "from": "pump", "to": "N0", "length_m": 12, "bore_mm": 10}],
        "devices": [{"id": "D0", "at": "N0", "output_min_cm3": 0.2, "output_max_cm3": 1, "fires_bar": 60, "resets_bar": 30}],
        "points": [{"id": "P0", "name": "Point 0", "device": "D0", "need": {"method": "stated", "cm3_per_h": 0.1}}],
        "switches": [{"id": "W1", "at": "N0", "trips_bar": 100, "resets_bar": 30, "contact": "normally open"}],
        "controller": {"pause": {"min_s": 60, "max_s": 86400, "step_s": 60}, "time_limit": {"min_s": 10, "max_s": 3600, "step_s": 10},
                       "vent": {"min_s": 0, "max_s": 600, "step_s": 10}, "cycles_max": 1, "outputs_a": 8},
        "wiring": {"cable_m": 5, "conductor_mm2": 2.5},
    }
    document.update(changes)
    return document


def plain_progressive(**changes):
    """Two blocks: the second hangs on outlet O3 of the first, whose O4 is closed and joined to O1."""
    blocks = [{"id": "B0", "at": "N0", "fires_bar": 40, "outlets": [
        {"id": "O1", "output_cm3": 0.2}, {"id": "O2", "output_cm3": 0.3}, {"id": "O3", "output_cm3": 0.2},
        {"id": "O4", "output_cm3": 0.2, "joined_to": "O1"}]},
        {"id": "B1", "at": "N0", "fires_bar": 40, "outlets": [{"id": "O1", "output_cm3": 0.1}, {"id": "O2", "output_cm3": 0.3}],
         "hangs_from": {"block": "B0", "outlet": "O3"}}]
    points = [{"id": "P%d" % number, "name": "Point %d" % number, "device": block, "outlet": outlet,
               "need": {"method": "stated", "cm3_per_h": need}}
              for number, (block, outlet, need) in enumerate([("B0", "O1", 0.8), ("B0", "O2", 0.6), ("B1", "O1", 0.1), ("B1", "O2", 0.3)])]
    document = plain_system(kind="progressive", devices=blocks, points=points, switches=[
        {"id": "CS", "at": "N0", "counts": "B0", "contact": "normally open"}])
    del document["controller"]["vent"], document["vent_valve"]
    document.update(changes)
    return document


def any_system(seed, most_points=40):
    """A document whose kind goes by the seed: every fourth of each."""
    return random_system(seed, most_points, KINDS[seed % 4])


def random_system(seed, most_points=40, kind="single-line"):
    """A document of this kind; what it has beyond a single-line system comes from a generator of its own."""
    document = _single(seed, most_points)
    document["kind"] = kind
    _MAKE.get(kind, _as_it_is)(random.Random("%s of %s" % (kind, seed)), document)
    return document


def _as_it_is(rng, document):
    """A single-line system needs nothing more."""


def _timed(rng, document):
    if rng.random() < 0.5:
        del document["switches"]
    else:
        document["switches"] = []


def _dual(rng, document):
    document["switches"] = [dict(document["switches"][0], at=document["sections"][-1]["to"])]
    for point in document["points"]:
        point["side"] = rng.choice("AB")
    if "measured" in document and rng.random() < 0.5:
        document["measured"]["build_b_s"] = [seconds + 2 for seconds in document["measured"]["build_s"]]


def _progressive(rng, document):
    """Blocks in place of the devices, at their nodes; each but the first hangs on an outlet of one before it."""
    document.pop("vent_valve", None)
    del document["controller"]["vent"]
    nodes = [device["at"] for device in document["devices"]][:8]
    open_outlets, blocks = [], []
    for number, node in enumerate(nodes):
        outlets = [{"id": "O%d" % place, "output_cm3": rng.choice([0.05, 0.1, 0.15, 0.2, 0.3])} for place in range(rng.choice([3, 4, 6, 8]))]
        block = {"id": "B%d" % number, "at": node, "fires_bar": rng.choice([25, 40, 55]), "outlets": outlets}
        if number:
            block["hangs_from"] = dict(zip(("block", "outlet"), open_outlets.pop(rng.randrange(len(open_outlets)))))
        closed = rng.random() < 0.4
        if closed:
            outlets[-1]["joined_to"] = outlets[0]["id"]
        open_outlets += [(block["id"], outlet["id"]) for outlet in outlets[:-1 if closed else None]]
        blocks.append(block)
    document["devices"] = blocks
    document["points"] = [{"id": "P%d" % number, "name": "Point %d" % number, "device": block, "outlet": outlet, "need": _need(rng)}
                          for number, (block, outlet) in enumerate(open_outlets)]
    document["switches"] = [{"id": "CS", "at": nodes[0], "counts": rng.choice(["B0", "B0", blocks[-1]["id"]]), "contact": "normally open"}]


KINDS = ("single-line", "progressive", "dual-line", "time-only")
_MAKE = {"progressive": _progressive, "dual-line": _dual, "time-only": _timed}


def _single(seed, most_points):
    """A document with 1 to most_points points; every optional part is there sometimes and missing sometimes."""
    rng = random.Random(seed)
    nodes, sections = _pipes(rng, rng.randint(3, 4 + most_points // 4))
    devices = [_device(rng, number, rng.choice(nodes)) for number in range(rng.randint(1, max(1, most_points // 2)))]
    points = _points(rng, devices, most_points)
    trips = rng.choice([80, 90, 110, 140])
    document = {
        "format": "system/1", "id": "invented-%s" % seed, "name": "Line %s" % seed, "kind": "single-line",
        "duty": {"hours_per_day": rng.choice([8, 16, 20, 24]), "days_per_week": rng.choice([5, 6, 7]),
                 "only_while_machine_runs": rng.random() < 0.7},
        "ambient": _ambient(rng), "lubricant": _lubricant(rng),
        "pump": {"delivery_cm3_min": rng.choice([25, 40, 63, 110, 180]), "relief_bar": trips + rng.choice([60, 120, 200]),
                 "reservoir_l": rng.choice([2, 4, 8]), "supply_v": rng.choice([12, 24, 230]),
                 "current_a": round(rng.uniform(1, 9), 1)},
        "sections": sections, "devices": devices, "points": points,
        "switches": _switches(rng, nodes, trips),
        "controller": {"pause": rng.choice(_PAUSES), "time_limit": rng.choice(_LIMITS), "vent": rng.choice(_VENTS)},
    }
    _options(rng, document)
    _wiring_and_signals(random.Random("wiring of %s" % seed), document)
    _more_of_lubricants(random.Random("lubricants %s" % seed), document)
    return document


def _pipes(rng, count):
    """A trunk with branches: each new pipe goes on from the last node or, now and then, from an earlier one."""
    nodes, sections = ["pump"], []
    for number in range(count):
        section = {"id": "S%d" % number, "from": nodes[-1] if rng.random() < 0.7 else rng.choice(nodes), "to": "N%d" % number,
                   "length_m": round(rng.uniform(2, 14), 1), "bore_mm": rng.choice([8, 10, 12, 16, 20])}
        if rng.random() < 0.25:
            section.update(wall="hose", expansion_cm3_per_m_per_100bar=round(rng.uniform(0.2, 2), 2))
        nodes.append(section["to"])
        sections.append(section)
    return nodes[1:], sections


def _device(rng, number, node):
    least = round(rng.uniform(0.02, 0.5), 3)
    fires = rng.choice([45, 55, 70])
    device = {"id": "D%d" % number, "at": node, "output_min_cm3": least, "output_max_cm3": least, "fires_bar": fires,
              "resets_bar": fires - rng.choice([20, 30, 38])}
    if rng.random() < 0.7:
        device["output_max_cm3"] = round(least * rng.uniform(1.5, 4), 3)
        if rng.random() < 0.6:
            device["output_step_cm3"] = round(least * rng.uniform(0.05, 0.5), 3)
    if rng.random() < 0.5:
        device["stroke_s"] = rng.choice([0.5, 1, 2, 4])
    return device


def _points(rng, devices, most):
    chosen = devices if rng.random() < 0.85 else rng.sample(devices, rng.randint(1, len(devices)))
    owners = [device["id"] for device in chosen]
    owners += [rng.choice(owners) for _ in range(rng.randint(0, max(0, most - len(owners))) // 2)]
    return [{"id": "P%d" % number, "name": "Point %d" % number, "device": owner, "need": _need(rng)}
            for number, owner in enumerate(owners)]


def _need(rng):
    method = rng.choice(["rolling", "film", "stated"])
    if method == "stated":
        return {"method": method, "cm3_per_h": round(rng.choice([0, 0.01, 0.05, 0.2, 0.6]) * rng.uniform(0.5, 1.5), 4)}
    if method == "rolling":
        bore = rng.choice([25, 40, 60, 85, 120])
        need = {"method": method, "bore_mm": bore, "outer_mm": round(bore * 1.9), "width_mm": round(bore * 0.45, 1),
                "speed_rpm": rng.choice([5, 60, 300, 900])}
        if rng.random() < 0.6:
            need["factors"] = {name: rng.choice([0.2, 0.5, 0.7, 1]) for name in
                               rng.sample(["temperature", "contamination", "moisture", "vibration", "position", "design"], 3)}
        return need
    sizes = rng.choice([{"area_cm2": round(rng.uniform(5, 300), 1)}, {"shaft_mm": 50, "length_mm": 70},
                        {"pitch_mm": 240, "width_mm": 60}, {"slide_mm": 700, "width_mm": 40}])
    return dict(sizes, method=method, film_mm=rng.choice([0.0127, 0.0254, 0.05]), every_h=rng.choice([4, 8, 24]))


def _ambient(rng):
    usual = rng.choice([15, 20, 25])
    return {"coldest_c": usual - rng.choice([5, 15, 30]), "usual_c": usual, "hottest_c": usual + 18}


def _lubricant(rng):
    lubricant = {"name": "invented lubricant"}
    if rng.random() < 0.2:
        lubricant.update(nlgi="oil", v40_mm2_s=rng.choice([68, 150, 320]), v100_mm2_s=rng.choice([8.5, 14]))
        return lubricant
    grade, tau, consistency, index = rng.choice(_GREASES)
    lubricant.update(nlgi=grade)
    full = {"code": "KP%sK-30" % grade, "density_kg_m3": 910, "yield_pa": round(tau * rng.uniform(0.5, 1.3), 1),
            "consistency_pa_sn": round(consistency * rng.uniform(0.5, 1.3), 2), "flow_index": index, "reference_c": 22,
            "stiffening_per_k": 0.03, "bulk_modulus_mpa": 1350, "air_fraction": round(rng.uniform(0, 0.03), 4),
            "coldest_c": -20, "hottest_c": 110}
    lubricant.update({name: value for name, value in full.items() if rng.random() < 0.75})
    return lubricant


def _switches(rng, nodes, trips):
    switches = [{"id": "W1", "at": rng.choice(["pump", nodes[-1], nodes[0]]), "trips_bar": trips,
                 "resets_bar": rng.choice([25, 30, 40]), "contact": rng.choice(["normally open", "normally closed"])}]
    if rng.random() < 0.3:
        switches.append({"id": "W2", "at": nodes[-1], "trips_bar": trips - rng.choice([5, 15, 25]), "resets_bar": 28,
                         "contact": "normally open"})
    return switches


def _options(rng, document):
    """Optional parts, each in about half of the documents."""
    parts = {
        "vent_valve": {"current_a": 0.7, "flow_cm3_min_per_bar": rng.choice([0, 40, 120])},
        "low_level": {"fitted": rng.random() < 0.8, "contact": "normally closed", "on_low": rng.choice(["stop pump", "warn only"])},
        "machine_contact": {"used": rng.random() < 0.7, "contact": "normally open"},
        "alarm_output": rng.choice(["steady", "flashing"]),
        "wiring": dict({"cable_m": rng.choice([3, 12, 40])}, **rng.choice(
            [{"conductor_mm2": 2.5}, {"conductor_mm2": 3.3, "conductor_c": 45}, {"awg": 12, "fuse_a": 10}])),
        "choices": {"longest_event_h": rng.choice([4, 8, 24]), "over_feed_limit": 1.5, "margin": 1.4, "relay_above_a": 6},
    }
    document.update({name: part for name, part in parts.items() if rng.random() < 0.5})
    if rng.random() < 0.5:
        document["pump"]["low_level_l"] = 0.5
    if rng.random() < 0.6:
        document["controller"].update(cycles_max=rng.choice([1, 2, 3, 6]), outputs_a=rng.choice([3, 5, 8]))
    if rng.random() < 0.2:
        document.setdefault("choices", {})["cycles_per_event"] = rng.choice([1, 2])
    if rng.random() < 0.25:
        builds = rng.uniform(15, 90)
        document["measured"] = {"build_s": [round(builds * rng.uniform(0.95, 1.1), 1) for _ in range(rng.randint(1, 5))],
                                "at_c": document["ambient"]["usual_c"]}
        if rng.random() < 0.6:
            document["measured"]["vent_s"] = [round(rng.uniform(8, 60), 1) for _ in range(3)]


def _some(rng, fields, share=0.5):
    return {name: value for name, value in fields.items() if rng.random() < share}


def _more_of_lubricants(rng, document):
    """Optional entries of lubricant and needs, from dice of their own: what the other dice gave stays."""
    lubricant = document["lubricant"]
    if lubricant["nlgi"] == "oil":
        if rng.random() < 0.5:
            lubricant.update(rng.choice([{"v40_mm2_s": 10, "v100_mm2_s": 2.7}, {"v40_mm2_s": 50, "v100_mm2_s": 1.9},
                                         {"v40_mm2_s": 4.6, "v100_mm2_s": 1.6}]))
        if rng.random() < 0.4 and lubricant["v40_mm2_s"] > 20 and lubricant["v100_mm2_s"] > 2:
            del lubricant[rng.choice(["v40_mm2_s", "v100_mm2_s"])]
            lubricant.update(_some(rng, {"viscosity_index": rng.choice([60, 100, 145, 210])}))
    else:
        pair = rng.choice([("lithium", "mineral"), ("lithium complex", "mineral"), ("polyurea", "ester"), ("clay", "mineral")])
        lubricant.update(_some(rng, {
            "thickener": pair[0], "base_oil": pair[1], "previous_thickener": rng.choice(["clay", "lithium", "calcium complex", "other"]),
            "penetration": rng.choice([280, 300, 325, 450]), "extreme_pressure": True, "water": "washed", "rust": "salt water"}))
        lubricant.update(_some(rng, rng.choice([{"v40_mm2_s": 100}, {"v40_mm2_s": 220, "v100_mm2_s": 19}, {"v100_mm2_s": 1.5}]), 0.4))
    for need in [point["need"] for point in document["points"]]:
        if need["method"] == "rolling":
            if need["bore_mm"] < 60 and rng.random() < 0.4:
                need["speed_rpm"] = 1800
            need.update(_some(rng, {"variant": rng.choice(["A", "B"]), "running_c": rng.choice([45, 64, 88, 130]), "rows": 2,
                                    "quantity": rng.choice(["any", "weekly", "monthly", "yearly"]),
                                    "conditions": {"shaft": "vertical", "judgement": 0.6, "outer_ring_turns": rng.random() < 0.5}}))
        elif need["method"] == "film":
            need.update(_some(rng, {"bore_mm": 40, "outer_mm": 80, "width_mm": 18, "speed_rpm": 600}, 0.8))
            if rng.random() < 0.3:
                for field in ("area_cm2", "shaft_mm", "pitch_mm", "slide_mm"):
                    need.pop(field, None)
                need.update(pin_mm=9, bush_mm=16, links=120)
            for field in ("film_mm", "every_h"):
                if rng.random() < 0.3:
                    del need[field]


def _wiring_and_signals(rng, document):
    """Optional fields of supply, cables, contacts, machine contact and alarm, with a generator of their own: the rest stays."""
    pump, wiring = document["pump"], document.get("wiring")
    alternating = pump["supply_v"] == 230 and rng.random() < 0.8
    pump.update(_some(rng, {"starting_current_a": round(pump["current_a"] * rng.uniform(1, 8), 1),
                            "not_drawn_l": rng.choice([0.1, 0.3, 0.6]), "power_factor": rng.choice([0.6, 0.85])}))
    if alternating:
        pump["supply"] = "ac"
    if wiring:
        wiring.update(_some(rng, {"vent_cable_m": rng.choice([2, 30]), "vent_conductor_mm2": rng.choice([0.75, 1.5]),
                                  "fuse_kind": rng.choice(["slow", "quick"])}))
    document["controller"].update(_some(rng, {
        "outputs_rated_for": rng.choice(["motor", "resistive"]), "fuse_a": 8, "alarm_a": rng.choice([0.5, 2]),
        "alarm_load": rng.choice(["LED lamp", "filament lamp", "relay or horn"]), "alarm_load_a": rng.choice([0.05, 0.4, 3])}))
    if "machine_contact" in document:
        document["machine_contact"].update(_some(rng, {"on_restart": rng.choice(["begins anew", "goes on", "feeds at once"]),
                                                       "longest_stand_h": rng.choice([0, 12, 64, 400])}))
