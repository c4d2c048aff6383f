"""`python -m tests.benchmarks.cost [KIND]`: what a simulated cycle costs as a line grows from 10 to 1,000 devices: a table, no test.

Each device hangs at the end of a pipe of its own, in branches of ten, and the pump grows with the line, so that every line
fills in about the same time. A piece is what the model cuts pipes into. Per doubling: by how much a line of twice as many devices or
pieces costs more than the one above it in the table, were it twice as large.
"""
import json
import sys
from math import log2
from time import perf_counter

from webapp.engine.basics.kinds import DUAL, KINDS, PROGRESSIVE
from webapp.engine.line.grid import Grid
from webapp.engine.events.simulate import simulate
from webapp.phone_engine import PhoneEngine, bundle

from .forty import forty

SIZES = (10, 30, 100, 300, 1000)
_PASSES = 3
# the phone's interpreter asked to simulate with doses given: the bridge would work the whole system around it
_PROBE = """
import json
from .events.simulate import simulate
def answer(text):
    asked = json.loads(text)
    trace = simulate(asked["document"], asked["doses"], asked["at_c"])
    return json.dumps(trace["trip_s"])
"""


def grown(devices, pieces_each=1):
    """(document, doses): that many devices on branches of ten; every pipe as many metres long as it should have pieces."""
    document = forty()
    document.update(sections=[], devices=[], points=[])
    for number in range(devices):
        start = "N%d" % (number - 1) if number % 10 else "pump"
        document["sections"].append({"id": "S%d" % number, "from": start, "to": "N%d" % number, "length_m": 2, "bore_mm": 12})
        document["devices"].append({"id": "D%d" % number, "at": "N%d" % number, "fires_bar": 60, "resets_bar": 25, "stroke_s": 1})
    for number in range(pieces_each - 1):  # blind pipes at the pump: pieces without devices
        document["sections"] += [{"id": "B%d-%d" % (number, one), "from": "pump", "to": "B%d-%d" % (number, one), "length_m": 2,
                                  "bore_mm": 12} for one in range(devices)]
    document["switches"] = [dict(document["switches"][0], at="N9")]
    document["pump"] = dict(document["pump"], delivery_cm3_min=4.0 * devices * pieces_each)
    return document, {"D%d" % number: 0.3 for number in range(devices)}


def of_kind(kind, devices, pieces_each=1):
    """(document, doses) of a line of any kind that grows so; progressive: one block feeds all others, each at the end of its pipe."""
    document, doses = grown(devices, pieces_each)
    document["kind"] = kind
    if kind == DUAL:
        return document, {"A": doses, "B": doses}
    if kind == PROGRESSIVE:
        first = {"id": "D0", "at": "N0", "fires_bar": 60,
                 "outlets": [{"id": "O%d" % number, "output_cm3": 0.3} for number in range(devices)]}
        further = [{"id": "D%d" % number, "at": "N%d" % number, "fires_bar": 60, "hangs_from": {"block": "D0", "outlet": "O%d" % number},
                    "outlets": [{"id": "O0", "output_cm3": 0.15}, {"id": "O1", "output_cm3": 0.15}]} for number in range(1, devices)]
        document.update(devices=[first] + further, switches=[{"id": "CS", "at": "N0", "counts": "D0", "contact": "normally open"}])
    return document, doses


def _least(job):
    """(seconds of the quickest pass, its result)."""
    best = None
    for _ in range(_PASSES):
        start = perf_counter()
        result = job()
        seconds = perf_counter() - start
        best = (seconds, result) if best is None or seconds < best[0] else best
    return best


def rows(kind):
    """(devices, pieces, seconds here, seconds in the phone's interpreter) of lines that grow in devices, then in pieces."""
    files = dict(bundle()["files"], **{"engine/probe.py": _PROBE})
    with PhoneEngine({"files": files, "entry": "engine.probe"}) as phone:
        for devices, pieces_each in [(size, 1) for size in SIZES] + [(30, each) for each in (1, 2, 5, 10, 30)]:
            document, doses = of_kind(kind, devices, pieces_each)
            at_c = document["ambient"]["usual_c"]
            here, trace = _least(lambda: simulate(document, doses, at_c))
            assert trace["completed"], trace["why"]
            text = json.dumps({"document": document, "doses": doses, "at_c": at_c})
            there, _ = _least(lambda: phone.ask(text))
            yield devices, len(Grid(document, at_c, 2 if kind == DUAL else 1).parent) - 1, here, there


def main():
    for kind in sys.argv[1:] or KINDS:
        print("%-12s %8s %8s %12s %12s %16s %16s" % (kind, "devices", "pieces", "CPython s", "phone's s", "ms per piece", "per doubling"))
        last = None
        for devices, pieces, here, there in rows(kind):
            larger = last and log2(pieces / last[0])
            doubling = "x %.2f" % ((there / last[1]) ** (1 / larger)) if larger and larger > 0 else ""
            print("%-12s %8d %8d %12.3f %12.3f %16.2f %16s" % (
                "", devices, pieces, here, there, 1000 * there / pieces, doubling), flush=True)
            last = pieces, there


if __name__ == "__main__":
    main()
