"""The lines that are timed, invented: 40 metering devices, each of its own size, with 40 points and three branches; and 60 with 100."""
import random

from demo_site import plant

DEVICES = 40
_BRANCHES = {10: 7, 20: 16, 30: 25}  # pipe -> the pipe from whose end it starts


def _need(rng, number):
    if number % 3 == 0:
        return {"method": "rolling", "bore_mm": 60, "outer_mm": rng.choice((110, 130)), "width_mm": rng.choice((22, 31)),
                "speed_rpm": rng.choice((900, 1200)), "factors": {"contamination": 0.4, "design": 1}}
    if number % 3 == 1:
        return {"method": "film", "shaft_mm": rng.choice((45, 50, 60)), "length_mm": 60, "film_mm": 0.0254, "every_h": 4}
    return {"method": "stated", "cm3_per_h": round(rng.uniform(0.05, 0.09), 3)}


def forty():
    """A `system/1` document of 40 devices without a fault: the same one each time."""
    return _line(DEVICES, 150, "Forty points", "b5ac0000-0000-4000-8000-000000000040")


def hundred():
    """One of 60 devices that feed 100 points: every one but each third feeds two."""
    document = _line(60, 220, "A hundred points", "b5ac0000-0000-4000-8000-000000000100")
    for number in [number for number in range(1, 61) if number % 3][:40]:
        first = next(point for point in document["points"] if point["device"] == "D%d" % number)
        document["points"].append(dict(first, id="Q%d" % number, name="Point Q%d" % number))
    return document


def _line(devices, delivery_cm3_min, name, identity):
    rng = random.Random(40)
    document = dict(plant.head_rig(), name=name, id=identity)
    document.update(sections=[], devices=[], points=[])
    for number in range(1, devices + 1):
        start = "N%d" % _BRANCHES.get(number, number - 1) if number > 1 else "pump"
        node = "N%d" % number
        document["sections"].append({"id": "S%d" % number, "from": start, "to": node, "wall": "steel",
                                     "length_m": round(rng.uniform(1, 4), 1), "bore_mm": rng.choice((16, 18, 20)),
                                     "expansion_cm3_per_m_per_100bar": 0})
        least = rng.choice((0.1, 0.15, 0.2))
        document["devices"].append({"id": "D%d" % number, "at": node, "output_min_cm3": least, "output_step_cm3": 0.05,
                                    "output_max_cm3": round(least * rng.choice((5, 6, 8)), 2), "fires_bar": 60,
                                    "resets_bar": 25, "stroke_s": 1})
        document["points"].append({"id": "P%d" % number, "name": "Point %d" % number, "device": "D%d" % number,
                                   "need": _need(rng, number)})
    document["switches"] = [dict(document["switches"][0], at="N%d" % devices)]
    document["pump"] = dict(document["pump"], delivery_cm3_min=delivery_cm3_min, reservoir_l=8)
    return document
