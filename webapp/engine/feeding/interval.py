"""The pause, the cycles per event and the dose of every device, chosen together so that all are fed with least waste.

Every candidate is a pause that the controller accepts with 1 to cycles_max cycles. Between two events at which some device
needs its next dose step the waste only falls as the event grows, so only the longest event of each such stretch is tried.
"""
from math import ceil

from ..basics.ranges import at_most, smallest

_HAIR = 1e-9
TIE = 0.005
DEFAULT_LONGEST_EVENT_H = 8
MOST_STEPS = 200
# so many stretches are passed before it is asked whether all shorter ones waste more: the question costs as much as many of them
LOOK_AHEAD = 8


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
        self.need, self.total = max(needs), sum(needs)
        self.least, self.most = device["output_min_cm3"], device["output_max_cm3"]
        self.step = device.get("output_step_cm3") or 0.0
        self.row = self.count, self.need, self.total, self.least, self.most, self.step

    def dose(self, wanted):
        """Its dose for a wanted one [cm³]."""
        return dose_of(wanted, self.least, self.most, self.step)

    def stretches(self):
        """Doses after which a longer event needs the next step, the range's end first."""
        doses = [self.most]
        if self.step:
            steps = min(MOST_STEPS, ceil((self.most - self.least) / self.step - _HAIR))
            doses += [self.least + k * self.step for k in range(int(steps) - 1, -1, -1)]
        return doses


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


def _least_waste(demands, event_s, cycles):
    """Waste if every device could give any dose above its least: no longer event of the same cycles can waste more."""
    per_hour = cycles * 3600 / event_s
    waste = 0.0
    for count, need, total, least, _, _ in [demand.row for demand in demands]:
        rate = least * per_hour
        waste += count * (rate if rate > need else need) - total
    return waste


def stretch_ends(demands):
    """[(hours that a dose of some device lasts, change of the fixed doses [cm³], of the needs met exactly [cm³/h])], falling.

    One entry for each dose after which a device needs its next step; going down past it that device takes the dose. None is
    longer than every device can feed.
    """
    feeding = [demand for demand in demands if demand.need > 0]
    top = min([demand.most / demand.need for demand in feeding] or [0.0])
    ends = []
    for demand in feeding:
        doses = [demand.least, demand.most] if not demand.step else demand.stretches()[1:][::-1] + [demand.most]
        for number, dose in enumerate(doses[:-1]):
            if dose < top * demand.need:
                if demand.step:
                    change = demand.count * (dose - doses[number + 1]), 0.0
                else:
                    change = demand.count * dose, -demand.count * demand.need
                ends.append((dose / demand.need,) + change)
    return sorted(ends, reverse=True)


class _Falling:
    """The waste of ever shorter events, from one to the next by the doses that change between them."""

    def __init__(self, demands, ends, hours):
        """hours  of the longest event, for one cycle"""
        self.ends, self.next = ends, 0
        while self.next < len(ends) and ends[self.next][0] >= hours * (1 + 2 * _HAIR):
            self.next += 1
        self.fixed, self.beside = 0.0, 0.0
        for count, need, total, least, most, step in [demand.row for demand in demands]:
            if step or need * hours <= least * (1 + _HAIR):
                self.fixed += count * dose_of(need * hours, least, most, step)
            else:
                self.beside += count * need
            self.beside -= total

    def waste(self, hours):
        """Waste of an event with so many hours a cycle [cm³/h], never above what waste_of adds up."""
        while self.next < len(self.ends) and self.ends[self.next][0] * (1 + 2 * _HAIR) >= hours:
            self.fixed += self.ends[self.next][1]
            self.beside += self.ends[self.next][2]
            self.next += 1
        return self.fixed / hours * (1 - _HAIR) + self.beside - _HAIR


def _events(top, ends, cycles):
    """The longest event [s] and the ends of the stretches below it."""
    yield top
    for lasts, _, _ in ends:
        if lasts * cycles * 3600 < top:
            yield lasts * cycles * 3600


def _candidates(demands, ends, ranges, cycles, busy_s, longest_s):
    """(pause, event, waste at least) of the longest event of each stretch, falling; none above longest_s or above what
    every device can still feed."""
    top = min([longest_s] + [demand.most / demand.need * cycles * 3600 for demand in demands if demand.need > 0])
    last = falling = None
    for end in _events(top, ends, cycles):
        pause = at_most(ranges, end * (1 + _HAIR) - cycles * busy_s)
        if pause is None:
            return
        event = cycles * busy_s + pause
        if event != last and event > 0:
            hours = event / 3600 / cycles
            falling = falling or _Falling(demands, ends, hours)
            yield pause, event, falling.waste(hours)
        last = event


def _of_cycles(demands, ends, ranges, cycles, busy_s, longest_s, enough):
    """Best choice for a number of cycles, or None. Stops where waste cannot come below `enough` or the best found."""
    best = None
    for number, (pause, event, least) in enumerate(_candidates(demands, ends, ranges, cycles, busy_s, longest_s)):
        bound = min(enough, best.waste) if best else enough
        if number % LOOK_AHEAD == 0 and _least_waste(demands, event, cycles) > bound:
            break
        waste = waste_of(demands, event, cycles, bound) if least <= bound else least
        if waste < bound:
            best = Choice(pause, event, cycles, waste, True)
    return best


def choose(demands, ends, ranges, cycle_counts, busy_s, longest_s):
    """The candidate with least waste; within 0.5 % of the total need fewer cycles, then the longer event.

    ends          stretch_ends(demands)
    ranges        pauses that the controller accepts
    cycle_counts  numbers of cycles to try, rising
    busy_s        build-up and vent of one cycle [s]
    longest_s     longest event allowed [s]
    """
    tie = TIE * sum([demand.total for demand in demands])
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
    for pause, event, least in _candidates(demands, ends, ranges, cycles, busy_s, longest_s):
        if least <= most:
            waste = waste_of(demands, event, cycles, most)
            if waste <= most:
                return Choice(pause, event, cycles, waste, True)
    return None


def _nearest(demands, ranges, cycle_counts, busy_s, longest_s):
    """Nobody feeds every point: the shortest pause with the cycles that bring most, the longest allowed event respected."""
    pause = smallest(ranges)
    fitting = [cycles for cycles in cycle_counts if cycles * busy_s + pause <= longest_s] or [cycle_counts[0]]
    cycles = fitting[-1]
    event = cycles * busy_s + pause
    return Choice(pause, event, cycles, waste_of(demands, event, cycles), False)
