"""The pause, the cycles per event and the dose of every device, chosen together so that all are fed with least waste.

Every candidate is a pause that the controller accepts with 1 to cycles_max cycles. Between two events at which some device
needs its next dose step the waste only falls as the event grows, so only the longest event of each such stretch is tried.
"""
from math import ceil

from ..basics.adding import added_up
from ..basics.ranges import at_most, smallest

_HAIR = 1e-9
TIE = 0.005
DEFAULT_LONGEST_EVENT_H = 8
MOST_STEPS = 200


def dose_of(wanted, least, most, step):
    """The dose for a wanted one [cm³]: kept in range, up to the next step; short of it only where the range ends."""
    if wanted <= least * (1 + _HAIR):
        return least
    if step:
        wanted = least + step * ceil((wanted - least) / step - _HAIR)
    return wanted if wanted < most else most


class Demand:
    """What one device must give: the largest need of its points, how many there are, and what it can give.

    `row` is all of that as a tuple, for the sums over all devices that the phone makes at every key.
    """

    def __init__(self, device, needs):
        self.device, self.count = device["id"], len(needs)
        self.need, self.total = max(needs), added_up(needs)
        self.least, self.most = device["output_min_cm3"], device["output_max_cm3"]
        self.step = device.get("output_step_cm3") or 0.0
        self.row = self.count, self.need, self.total, self.least, self.most, self.step

    def dose(self, wanted):
        """Its dose for a wanted one [cm³]."""
        return dose_of(wanted, self.least, self.most, self.step)

    def steps(self):
        """(rising doses after each of which a longer event needs a larger one, True where above the last only the most comes)."""
        if not self.step:
            return [self.least], False
        count = int(ceil((self.most - self.least) / self.step - _HAIR))
        return [self.least + number * self.step for number in range(min(MOST_STEPS, count))], count <= MOST_STEPS


class Choice:
    """A chosen candidate: pause and event [s], cycles, waste [cm³/h], `fed` (False: nearest that there is)."""

    def __init__(self, pause, event, cycles, waste, fed):
        self.pause, self.event, self.cycles, self.waste, self.fed = pause, event, cycles, waste, fed

    def doses(self, demands):
        """Device id -> dose of one outlet [cm³ per cycle]."""
        hours = self.event / 3600
        return {demand.device: demand.dose(demand.need * hours / self.cycles) for demand in demands}


def demands_of(document, needs):
    """One Demand a device that has points; `needs` maps point id to cm³/h."""
    of_device = {}
    for point in document["points"]:
        of_device.setdefault(point["device"], []).append(needs[point["id"]])
    return [Demand(device, of_device[device["id"]]) for device in document["devices"] if device["id"] in of_device]


def waste_of(demands, event_s, cycles, enough=float("inf")):
    """Delivered beyond the need, all points together [cm³/h]; adds up no further than to more than `enough`."""
    hours = event_s / 3600 / cycles
    waste = 0.0
    for count, need, total, least, most, step in [demand.row for demand in demands]:
        waste += count * dose_of(need * hours, least, most, step) / hours - total
        if waste > enough:
            break
    return waste


def stretch_ends(demands):
    """[(hours of a cycle, waste at least up to the next entry, waste at least of all shorter ones) [h, cm³/h]], falling.

    The first is the longest that every device can feed, endless where nothing needs anything; then one for each dose after
    which a device needs its next step. The wastes never lie above what waste_of adds up, whatever the number of cycles.
    """
    top = min([demand.most / demand.need for demand in demands if demand.need > 0] or [float("inf")])
    steps = [(demand, demand.steps()) for demand in demands]
    changes = _changes(steps, top)
    fixed, beside, least, others = _sums(steps, top)
    spare, close, out = added_up([demand.total for demand in demands]) + _HAIR, 1 - _HAIR, []
    for hours, more_fixed, more_beside, more_least, more_others in [(top, 0.0, 0.0, 0.0, 0.0)] + changes:
        fixed += more_fixed
        beside += more_beside
        least += more_least
        others += more_others
        out.append((hours, fixed / hours * close + beside - spare, least / hours * close + others - spare))
    return out


def _sums(steps, hours):
    """(doses that stand at a step or the least [cm³], needs met exactly [cm³/h]), and the same if every device could give any
    dose above its least."""
    fixed = beside = least = others = 0.0
    for demand, (doses, stepped) in steps:
        wanted = demand.need * hours if demand.need > 0 else 0.0
        if wanted <= demand.least:
            least += demand.count * demand.least
        else:
            others += demand.count * demand.need
        if stepped or not doses or wanted <= doses[-1]:
            fixed += demand.count * demand.dose(wanted)
        else:
            beside += demand.count * demand.need
    return fixed, beside, least, others


def _changes(steps, top):
    """[(hours, changes of what _sums gives)] where a device takes a smaller dose, falling, all below `top`."""
    out = []
    for demand, (doses, stepped) in steps:
        need, count = demand.need, demand.count
        above = demand.most if stepped else None
        for number in range(len(doses) - 1 if need > 0 else -1, -1, -1):
            dose = doses[number]
            if dose < top * need:
                fixed, beside = (count * dose, -count * need) if above is None else (count * (dose - above), 0.0)
                least, others = (0.0, 0.0) if number else (count * dose, -count * need)
                out.append((dose / need, fixed, beside, least, others))
            above = dose
    return sorted(out, reverse=True)


def _stretches(ends, cycles, longest_s):
    """(longest event [s], waste at least, waste at least of all shorter ones) of each stretch, falling, none above longest_s.
    An event that the controller's steps put into a later stretch is met there."""
    within = 0
    while within < len(ends) and ends[within][0] * cycles * 3600 > longest_s:
        within += 1
    if within:
        yield (longest_s,) + ends[within - 1][1:]
    for hours, least, of_shorter in ends[within:]:
        yield hours * cycles * 3600, least, of_shorter


def _of_cycles(demands, ends, ranges, cycles, busy_s, longest_s, enough):
    """Best choice for a number of cycles, or None. Stops where waste cannot come below `enough` or the best found."""
    best = None
    for end, least, of_shorter in _stretches(ends, cycles, longest_s):
        bound = min(enough, best.waste) if best else enough
        if of_shorter > bound:
            break
        if least <= bound:
            choice = _within(demands, end, ranges, cycles, busy_s, bound)
            if choice and choice.waste < bound:
                best = choice
    return best


def _within(demands, end, ranges, cycles, busy_s, most):
    """The choice of the longest event up to `end` [s] that the controller accepts; its waste is added up as far as `most`."""
    pause = at_most(ranges, end * (1 + _HAIR) - cycles * busy_s)
    if pause is None or cycles * busy_s + pause <= 0:
        return None
    event = cycles * busy_s + pause
    return Choice(pause, event, cycles, waste_of(demands, event, cycles, most), True)


def choose(demands, ends, ranges, cycle_counts, busy_s, longest_s):
    """The candidate with least waste; within 0.5 % of the total need fewer cycles, then the longer event.

    ends          stretch_ends(demands)
    ranges        pauses that the controller accepts
    cycle_counts  numbers of cycles to try, rising
    busy_s        build-up and vent of one cycle [s]
    longest_s     longest event allowed [s]
    """
    tie = TIE * added_up([demand.total for demand in demands])
    found, enough = [], float("inf")
    for cycles in cycle_counts:
        choice = _of_cycles(demands, ends, ranges, cycles, busy_s, longest_s, enough)
        if choice:
            found.append(choice)
            enough = min(enough, choice.waste + tie)
    if not found:
        return _nearest(demands, ranges, cycle_counts, busy_s, longest_s)
    least = min([choice.waste for choice in found])
    fewest = min([choice.cycles for choice in found if choice.waste <= least + tie])
    return _longest_within(demands, ends, ranges, fewest, busy_s, longest_s, least + tie)


def _longest_within(demands, ends, ranges, cycles, busy_s, longest_s, enough):
    """The longest event of this many cycles whose waste is within `enough`."""
    most = enough * (1 + _HAIR) + _HAIR * 1e-3
    for end, least, _ in _stretches(ends, cycles, longest_s):
        choice = _within(demands, end, ranges, cycles, busy_s, most) if least <= most else None
        if choice and choice.waste <= most:
            return choice
    return None


def _nearest(demands, ranges, cycle_counts, busy_s, longest_s):
    """Nobody feeds every point: the shortest pause with the cycles that bring most, the longest allowed event respected."""
    pause = smallest(ranges)
    fitting = [cycles for cycles in cycle_counts if cycles * busy_s + pause <= longest_s] or [cycle_counts[0]]
    cycles = fitting[-1]
    event = cycles * busy_s + pause
    return Choice(pause, event, cycles, waste_of(demands, event, cycles), False)
