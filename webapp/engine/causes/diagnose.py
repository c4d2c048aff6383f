"""Fault finding: from readings to causes, in the order in which to check them. Makes `diagnosis/1` without texts.

Each cause is tried in mind at a fixed small set of places and severities (guesses.py). The readings to expect come first in
closed form from one simulated healthy cycle: that is the first order, two seconds' work on a phone. Then the likeliest are
simulated, and what the simulation says of one corrects the others of its cause. Nothing is kept between requests: `diagnose`
takes the predictions made so far (`simulated` {key: ...}, `healthy` among them) and says in `next` which to make; `predict`
makes one. So a page shows the first order at once, sends `predict` for the first AT_ONCE of `next`, one by one with progress,
then `diagnose` again, until `next` is empty: at most MOST simulations. `finish` does all that in one go.

Bayes over all guesses: prior.py times likely.py, summed over places and severities. The order: likelihood over minutes of the
check, with START_MIN for getting there and making ready and ISOLATING_MIN where it must be isolated (both from memory, estimates).
"""
from collections import OrderedDict
from math import exp, log

from ..basics.adding import added_up
from ..document.check import check
from .expected import fed_keys, from_trace, good_day, plain, taken
from ..events.faults import read
from ..basics.findings import ordered
from .guesses import MIDDLE_K, guesses
from ..basics.kinds import DUAL, SIDES, fitting
from .likely import Likely, median
from ..line.line import locked_pressures
from .path import Path
from .prior import CAUSES, NONE, name_of, prior
from .readings import check_history, check_readings, entry_of, stopped_line
from ..events.simulate import longest_limit, simulate
from ..systems.worked import doses_from

MOST = 6
AT_ONCE = 4
START_MIN = 15.0
# to isolate, lock out, let pressure off and bring all back: so a check that needs it waits unless it is several times as likely
ISOLATING_MIN = 30.0
# what a check that could not tell counts when it is thought of again
_AGAIN = 0.25
# a cause found is taken as found; checks err
_FOUND = 0.98
_TOO_UNLIKELY = 0.002
_BEYOND_LIMIT = 1.3
# where the coldest is not worked [1/K], an estimate
_STIFFER_PER_K = 0.01
HEALTHY = "healthy"


class Case:
    """A system and its checked readings; worked: the worked document, simulated."""

    def __init__(self, document, readings, worked):
        self.document, self.readings = fitting(document), readings
        self.doses = doses_from(self.document, worked)
        built = worked.get("build") or {}
        limit = built.get("time_limit") or built.get("window") or worked["interval"].get("run_time") or {}
        self.sheet_limit_s = limit.get("value") or longest_limit(self.document)
        # where the pump was stopped before anything tripped, that is the limit that holds, whatever the sheet says
        built_s = [median(readings.get(name) or 0.0) for name in ("build_s", "build_b_s")]
        line = stopped_line(self.document, readings)
        self.limit_s = line is not None and built_s[line] or self.sheet_limit_s
        # what a build-up beyond that would take is not asked
        self.longest_s = _BEYOND_LIMIT * max([self.limit_s] + built_s)
        days = self.document["duty"]["days_per_week"] / 7
        self.usual_cm3_h = worked["reservoir"]["per_day"]["value"] * days / 24
        self.per_k = _per_k(self.document, worked)
        at_c = readings.get("at_c")
        self.at_c = self.document["ambient"]["usual_c"] if at_c is None else at_c

    def trace(self, key):
        """The simulated cycle of a guess, by its key; HEALTHY: of none."""
        if key == HEALTHY:
            return simulate(self.document, self.doses, self.at_c)
        name, _, colder = key.partition(":")
        if name == "cold":
            return simulate(self.document, self.doses, self.at_c - float(colder), 1, self.longest_s)
        return simulate(self.document, self.doses, self.at_c, 1, self.longest_s, None, read(self.document, [key])[0])


def _per_k(document, worked):
    """How build-up and vent grow with the cold, by what was worked at the usual and the coldest temperature [1/K]."""
    out, kelvins = [], document["ambient"]["usual_c"] - document["ambient"]["coldest_c"]
    half = "_a" if document["kind"] == DUAL else ""
    for part, name in (("build", "time_%s" + half), ("vent", "reset_%s")):
        usual, coldest = [(worked.get(part, {}).get(name % when) or {}).get("value") for when in ("usual", "coldest")]
        out.append(log(coldest / usual) / kelvins if usual and coldest and kelvins > 0 else _STIFFER_PER_K)
    return out


def stopped(document, readings, closed, tried):
    """Findings that keep a case from being looked at; the readings are looked at only for a sound document."""
    findings = check(document)
    if not any([entry["severity"] == "stop" for entry in findings]):
        findings = check_readings(document, readings) + check_history(closed, tried)
    return ordered([entry for entry in findings if entry["severity"] == "stop"])


def predict(case, key):
    """What is kept of one simulated guess; of HEALTHY: the whole build-up."""
    if key == HEALTHY:
        return good_day(case.document, case.trace(key), case.limit_s)
    return plain(from_trace(case.document, case.trace(key), case.limit_s))


def _corrected(guess, of, kept, healthy):
    """A guess's closed form by what the simulation of another of its cause and place, `of`, made of that one's."""
    if guess.cause == "cold":
        _between(guess, kept, healthy, guess.colder / of.colder)
    elif guess.cause != "switch":
        for half, made, closed in zip(guess.surrogate.halves, kept["halves"], of.surrogate.halves):
            if half.build_s and made["build_s"] and closed.build_s:
                half.build_s *= made["build_s"] / closed.build_s


def _between(guess, kept, healthy, share):
    """What is colder by a share of what was simulated: times grow by so much a degree, pressures in proportion."""
    out = guess.surrogate
    for half, known, usual in zip(out.halves, kept["halves"], healthy.halves):
        if known["build_s"] and usual.build_s:
            half.build_s = usual.build_s * (known["build_s"] / usual.build_s) ** share
        half.pressure = _shared(usual.pressure, known["pressure"], share)
        if known["ran"]:
            # of a second line that gets no pump nothing is known
            break
    if kept["vent_s"] and healthy.vent_s:
        out.vent_s = healthy.vent_s * (kept["vent_s"] / healthy.vent_s) ** share
    if kept["residual"] and healthy.residual:
        out.residual = _shared(healthy.residual, kept["residual"], share)


def _shared(usual, known, share):
    """Pressures that a share of the way lies from the usual to the known ones."""
    return {node: bar + (known[node] - bar) * share for node, bar in usual.items()}


def _with_simulated(everything, simulated, healthy):
    """Put the simulated predictions in the place of the closed forms."""
    known = [guess for guess in everything if guess.key in simulated]
    for of in known:
        kept = simulated[of.key]
        for guess in everything:
            if guess.cause == of.cause and guess.place == of.place and guess.line == of.line and guess not in known:
                _corrected(guess, of, kept, healthy)
    for of in known:
        of.readings = taken(simulated[of.key], of.surrogate)


def diagnose(case, closed=(), tried=(), simulated=None):
    """The order of causes with what is known so far: `causes`, `next` keys to predict, `done` share of the work."""
    simulated = dict(simulated or {})
    if HEALTHY not in simulated:
        simulated[HEALTHY] = predict(case, HEALTHY)
    path = Path(case.document, case.doses, case.at_c, simulated[HEALTHY], case.limit_s)
    path.build_per_k, path.vent_per_k = case.per_k
    shares = prior(case.document, [entry_of(entry)[0] for entry in closed])
    everything = guesses(case.document, path, list(shares))
    _with_simulated(everything, simulated, path.healthy)
    likely = Likely(case.readings, case.document, case.sheet_limit_s, path.healthy, case.usual_cm3_h,
                    fed_keys(case.document), locked_pressures(case.document, case.at_c))
    _weigh(everything, shares, likely, tried)
    causes = _causes(everything, likely, tried)
    out = OrderedDict((("format", "diagnosis/1"), ("system", case.document.get("id")), ("at_c", case.at_c), ("causes", causes)))
    out["next"] = _next(everything, MOST + 1 - len(simulated))
    out["done"] = len(simulated) / float(len(simulated) + len(out["next"]))
    out[HEALTHY] = simulated[HEALTHY]
    return out


def finish(case, closed=(), tried=()):
    """The final order in one go."""
    simulated = OrderedDict()
    while True:
        out = diagnose(case, closed, tried, simulated)
        if not out["next"]:
            return out
        simulated[HEALTHY] = out[HEALTHY]
        for key in out["next"][:AT_ONCE]:
            simulated[key] = predict(case, key)


def _weigh(everything, shares, likely, tried):
    """Each guess's `share` after readings and checks; `each` keeps what every reading said."""
    for guess in everything:
        guess.each = likely.each(guess.readings)
        guess.log = log(shares[guess.cause] * guess.weight) + added_up([one for _, one in guess.each]) + _checked(guess, tried)
    top = max([guess.log for guess in everything])
    total = 0.0
    for guess in everything:
        guess.share = exp(max(guess.log - top, -700))
        total += guess.share
    for guess in everything:
        guess.share /= total


def _checked(guess, tried):
    """Log likelihood of the answers of checks made."""
    out, found = 0.0, CAUSES[guess.cause].found
    for entry in tried:
        cause, answer = entry_of(entry)
        same = name_of(cause) == guess.cause and ("=" not in cause or cause == guess.named() or guess.cause == "leak")
        if answer == "found":
            out += log(found if same else (1 - _FOUND) * found)
        elif answer == "not found" and same:
            out += log(1 - found)
    return out


def _causes(everything, likely, tried):
    """One entry a cause, with its likeliest place, in the order in which to check."""
    groups = OrderedDict()
    for guess in everything:
        groups.setdefault(guess.cause, []).append(guess)
    unsure = [name_of(entry_of(entry)[0]) for entry in tried if entry_of(entry)[1] == "cannot tell"]
    average = _average(everything)
    ranked = []
    for number, (name, made) in enumerate(groups.items()):
        entry = _entry(name, made, average)
        index = worth(name, entry["likelihood"]) * (_AGAIN if name in unsure else 1)
        ranked.append((_rank(index), number, entry))
    return [entry for _, _, entry in sorted(ranked, key=lambda row: row[:2])]


def worth(name, likelihood):
    """How early a check is made: likelihood over the minutes that it takes all in all."""
    cause = CAUSES[name]
    return likelihood / (cause.minutes + START_MIN + (ISOLATING_MIN if cause.isolated else 0.0))


def _average(everything):
    """Reading -> its log likelihood over all causes together: what speaks for one is compared with that."""
    sums = OrderedDict()
    for guess in everything:
        for name, one in guess.each:
            sums[name] = sums.get(name, 0.0) + guess.weight * exp(max(one, -50)) * CAUSES[guess.cause].weight
    total = float(added_up([guess.weight * CAUSES[guess.cause].weight for guess in everything]))
    return OrderedDict([(name, log(value / total)) for name, value in sums.items()])


def _rank(value):
    """Greatest first; what differs by the last bits alone, which the two machines do not share, is the same."""
    return -int(value * 1e9 + 0.5)


def _entry(name, made, average):
    places = OrderedDict()
    for guess in made:
        there = guess.place, guess.line
        places[there] = places.get(there, 0.0) + guess.share
    order = sorted([(_rank(share), number, there, share) for number, (there, share) in enumerate(places.items())],
                   key=lambda row: row[:2])
    best = [(_rank(one.share), number, one) for number, one in enumerate(made) if (one.place, one.line) == order[0][2]]
    guess = min(best, key=lambda row: row[:2])[2]
    entry = OrderedDict((("cause", guess.named()), ("fault", name)))
    entry.update(_place(guess.place, guess.line))
    entry.update((("likelihood", added_up([one.share for one in made])), ("minutes", CAUSES[name].minutes),
                  ("isolated", CAUSES[name].isolated)))
    if len(places) > 1:
        entry["places"] = [OrderedDict(_place(*there) + [("likelihood", share)]) for _, _, there, share in order[:4]]
    entry["speaks"] = [{"reading": one, "weight": value - average[one]} for one, value in guess.each]
    entry["expected"] = guess.readings
    return entry


def _place(place, line):
    """A place as the diagnosis holds it, of a dual-line system with its line."""
    return [("place", place)] + ([] if line is None else [("line", SIDES[line])])


def _next(everything, room):
    """Keys of the guesses to simulate next: each cause's likeliest that is not simulated, the likeliest first; of the cold, whose
    closed form is the poorest, the middle one first, from which the others follow."""
    best, known_cold = OrderedDict(), any([guess.cause == "cold" and guess.readings.simulated for guess in everything])
    for guess in everything:
        if guess.key is None or guess.cause == NONE or guess.readings.simulated or (
                guess.cause == "cold" and guess.colder != MIDDLE_K and not known_cold):
            continue
        better = guess.cause not in best or guess.share > best[guess.cause].share
        if better and (guess.share > _TOO_UNLIKELY or guess.colder == MIDDLE_K):
            best[guess.cause] = guess
    keys = []
    for _, _, key in sorted([(_rank(1.0 if name == "cold" and not known_cold else guess.share), number, guess.key)
                             for number, (name, guess) in enumerate(best.items())]):
        if key not in keys:  # a slow pump is the same simulation, whatever slows it
            keys.append(key)
    return keys[:max(room, 0)]
