"""The invented plant's progressive, dual-line and time-only system, each with something to find."""
from .parts import CONTROLLER, FIRM, LOG_YARD, PLANER, SAW_HALL, SOFT, made, pump, range_of, stated, switch


def _block(name, fires, outputs, **more):
    """A block at the node N1 with outlets O1, O2, ... of these outputs [cm³]; an output with a name is joined to that outlet."""
    outlets = []
    for number, output in enumerate(outputs, 1):
        own, joined = output if isinstance(output, tuple) else (output, None)
        outlets.append(dict({"id": "O%d" % number, "output_cm3": own}, **({"joined_to": joined} if joined else {})))
    return dict({"id": name, "at": "N1", "fires_bar": fires, "outlets": outlets}, **more)


def trimmer():
    """The progressive one: an outlet of its second block was left open when a bearing was taken out."""
    system = made(5, "Trim saw table", SAW_HALL, SOFT, [(None, 5, 10, "steel", None, [])], [
        {"id": "CS1", "at": "N1", "counts": "B1", "contact": "normally open"}], pump(20, 4), kind="progressive",
        controller=dict(CONTROLLER, cycles_max=20))
    system["devices"] = [
        _block("B1", 35, [0.2, 0.2, 0.2, (0.2, "O1")]),
        _block("B2", 35, [0.1, 0.1, 0.1, 0.1, 0.1, 0.1], hangs_from={"block": "B1", "outlet": "O3"})]
    fed = [("B1", "O1", "Chain shaft, drive side", 0.3), ("B1", "O2", "Chain shaft, free side", 0.15)]
    fed += [("B2", "O%d" % number, "Trim saw %d, arbor" % number, 0.022) for number in range(1, 6)]
    system["points"] = [{"id": "P%d" % number, "name": name, "device": block, "outlet": outlet, "need": stated(need)}
                        for number, (block, outlet, name, need) in enumerate(fed, 1)]
    del system["vent_valve"], system["controller"]["vent"]
    return system


def stacker():
    """The dual-line one: on the coldest morning its lines vent with little to spare at the far end."""
    dose = (0.2, 0.8, 0.05)
    names = ("Lift, front", "Lift, rear", "Bed 1", "Bed 2", "Sticker arm")
    stops = [(None, 12 if number == 0 else 6, 20, "steel", dose,
              [(name + ", left", stated(0.06)), (name + ", right", stated(0.06))]) for number, name in enumerate(names)]
    system = made(6, "Stacker", LOG_YARD, FIRM, stops, [switch("PS1", "N5", 130, 40)], pump(120, 10), kind="dual-line")
    for point in system["points"]:
        point["side"] = "A" if point["name"].endswith("left") else "B"
    return system


def resaw():
    """The time-only one: on the coldest morning the pump must run longer than its controller can be told."""
    dose = (0.1, 0.4, 0.05)
    return made(7, "Band resaw", PLANER, SOFT, [
        (None, 4, 10, "steel", dose, [("Upper wheel bearing", stated(0.05))]),
        (None, 3, 10, "hose", dose, [("Lower wheel bearing", stated(0.05))]),
        (None, 2, 10, "steel", dose, [("Strain slide, left", stated(0.02))]),
        (None, 2, 10, "steel", dose, [("Strain slide, right", stated(0.02))])], [], pump(30, 2), kind="time-only",
        controller=dict(CONTROLLER, time_limit=range_of(5, 25, 5)))
