"""The line model handed to a stiff ODE solver: written from the equations alone, shares no code with the engine.

At every node C dp/dt = inflow - outflow - doses, C = V (1/K + phi p0 / (p + p0)²) + wall expansion, V half of the adjoining
pieces; Herschel-Bulkley flow between nodes; pieces no longer than a twelfth of the longest way. SI inside.
"""
import math

import numpy as np
from scipy.integrate import solve_ivp

P0 = 101325.0
BAR = 1e5


def flow_at(document, t_c):
    """(yield, consistency, index, bulk modulus, air) of a grease whose properties are all stated."""
    one = document["lubricant"]
    stiff = math.exp(one["stiffening_per_k"] * (one["reference_c"] - t_c))
    return (one["yield_pa"] * stiff, one["consistency_pa_sn"] * stiff, one["flow_index"], one["bulk_modulus_mpa"] * 1e6,
            one["air_fraction"])


def own_temperature(ambient, section, t_c):
    """A section's temperature: at the same place between its own three temperatures, shifted alike beyond them."""
    if "ambient" not in section:
        return t_c
    system, own = ([one[when] for when in ("coldest_c", "usual_c", "hottest_c")] for one in (ambient, section["ambient"]))
    inside = min(max(t_c, system[0]), system[2])
    return np.interp(inside, system, own) + t_c - inside


class Line:
    """The line in pieces: arrays over the pieces (up, down, bore, length) and over the nodes."""

    def __init__(self, document, t_c, pieces_on_longest, blocked=()):
        self.n, self.bulk, self.phi = flow_at(document, t_c)[2:]
        reach, place, up, down, bore, length, swell = {"pump": 0.0}, {"pump": 0}, [], [], [], [], []
        tau, k = [], []
        waiting, ordered = list(document["sections"]), []
        while waiting:
            ready = next(one for one in waiting if one["from"] in reach)
            reach[ready["to"]] = reach[ready["from"]] + ready["length_m"]
            ordered.append(ready)
            waiting.remove(ready)
        longest = max(reach.values()) / pieces_on_longest
        shut = set()
        for one in ordered:
            if one["id"] in blocked or one["from"] in shut:
                shut.add(one["to"])
                continue
            count, at = max(1, math.ceil(one["length_m"] / longest - 1e-9)), place[one["from"]]
            for _ in range(count):
                up.append(at)
                at = len(down) + 1
                down.append(at)
                bore.append(one["bore_mm"] / 1000)
                length.append(one["length_m"] / count)
                for values, value in zip((tau, k), flow_at(document, own_temperature(document["ambient"], one, t_c))):
                    values.append(value)
                swell.append(one.get("expansion_cm3_per_m_per_100bar", 0) * 1e-6 / (100 * BAR) * length[-1])
            place[one["to"]] = at
        self.place, self.up, self.down = place, np.array(up, int), np.array(down, int)
        self.bore, self.length = np.array(bore), np.array(length)
        self.tau, self.k = np.array(tau), np.array(k)
        size = len(down) + 1
        half = np.pi / 4 * self.bore ** 2 * self.length / 2
        self.volume, self.swell = np.zeros(size), np.zeros(size)
        for ends in (self.up, self.down):
            np.add.at(self.volume, ends, half)
            np.add.at(self.swell, ends, np.array(swell) / 2)

    def flows(self, p):
        """Flow through every piece [m³/s], away from the pump positive."""
        drop = p[self.up] - p[self.down]
        wall = np.abs(drop) * self.bore / (4 * self.length)
        sheared = np.maximum(wall - self.tau, 0.0)
        m = 1 / self.n
        shape = sheared ** 2 / (m + 3) + 2 * self.tau * sheared / (m + 2) + self.tau ** 2 / (m + 1)
        wall = np.maximum(wall, 1e-30)
        return np.sign(drop) * np.pi * (self.bore / 2) ** 3 * self.k ** -m * sheared ** (m + 1) * shape / wall ** 3

    def net(self, p, source):
        """m³/s that stays at every node."""
        flow, net = self.flows(p), source.copy()
        np.add.at(net, self.down, flow)
        np.add.at(net, self.up, -flow)
        return net

    def slope(self, p, source, pump_air=0.0):
        """dp/dt; source: m³/s into every node from outside; pump_air: free air added to the pump's node, m³ at rest."""
        net = self.net(p, source)
        air = self.volume * self.phi
        air[0] += pump_air
        return net / (self.volume / self.bulk + air * P0 / (p + P0) ** 2 + self.swell)


class Run:
    """One cycle from rest: the pump runs until the first switch trips, then the line vents until everything has reset."""

    def __init__(self, document, doses, t_c, pieces_on_longest=12, rtol=1e-6, faults=None):
        self.rtol, faults = rtol, faults or {}
        document = dict(document, lubricant=dict(document["lubricant"]))
        document["lubricant"]["air_fraction"] = faults.get("air", document["lubricant"]["air_fraction"])
        self.line = Line(document, t_c, pieces_on_longest, faults.get("blocked", ()))
        self.delivery = document["pump"]["delivery_cm3_min"] / 60e6 * faults.get("pump", 1)
        self.relief = faults.get("relief", document["pump"]["relief_bar"]) * BAR
        self.dry_at = faults["empty"] * 1e-3 / self.delivery if "empty" in faults else np.inf
        self.leak = np.zeros(len(self.line.volume))
        for node, rate in faults.get("leaks", ()):
            if node in self.line.place:
                self.leak[self.line.place[node]] += rate / 60e6 / BAR
        self.vent_rate = document.get("vent_valve", {}).get("flow_cm3_min_per_bar", 0) / 60e6 / BAR
        trips = {one["id"]: one["trips_bar"] for one in document["switches"]}
        trips.update({name: np.inf if bar is None else bar for name, bar in faults.get("trips", {}).items()})
        self.switches = [{"node": self.line.place.get(one["at"]), "trips": trips[one["id"]] * BAR,
                          "resets": one["resets_bar"] * BAR}
                         for one in document["switches"]]
        self.devices = [{"node": self.line.place[one["at"]], "fires": one["fires_bar"] * BAR, "resets": one["resets_bar"] * BAR,
                         "stroke": one.get("stroke_s", 1.0), "dose": doses[one["id"]] * 1e-6, "state": "ready"}
                        for one in document["devices"]
                        if one["at"] in self.line.place and one["id"] not in faults.get("devices", ())]
        self.now, self.p = 0.0, np.zeros(len(self.line.volume))

    def trip_time(self, longest_s=20000.0):
        """Seconds from pump on until the first switch trips; None where the relief pressure is reached first."""
        node, trips = self.switches[0]["node"], self.switches[0]["trips"]
        reachable = node is not None and math.isfinite(trips)
        if not self.line.volume[0]:  # no pipe is left: the pump's node takes at once what its leaks let through
            return 0.0 if node == 0 and min(self.relief, self.delivery / max(self.leak[0], 1e-30)) >= trips else None
        while self.now < longest_s:
            self._on(longest_s, [(node, trips, 1)] * reachable + [(0, self.relief, 1)], pumping=True)
            if reachable and self.p[node] >= trips * (1 - 1e-7):
                return self.now
            if self.p[0] >= self.relief * (1 - 1e-7):
                return None
        return None

    def fed_time(self, longest_s=20000.0):
        """Seconds from pump on until the last device has completed its stroke; None where the relief pressure is reached first."""
        while self.now < longest_s:
            if all(one["state"] == "dosed" for one in self.devices if one["dose"] > 0):
                return self.now
            self._on(longest_s, [(0, self.relief, 1)], pumping=True)
            if self.p[0] >= self.relief * (1 - 1e-7):
                return None
        return None

    def count_times(self, at, fires_bar, volume_cm3, longest_s=20000.0):
        """(seconds from pump on until a block at a place begins to move, and until so much has passed it).

        From then on the block takes whatever keeps its place at its working pressure. None, None: never.
        """
        node, fires = self.line.place[at], fires_bar * BAR
        self._on(longest_s, [(node, fires, 1), (0, self.relief, 1)], pumping=True)
        if self.p[node] < fires * (1 - 1e-7):
            return None, None

        def slope(_, state):
            source = -self.leak * state[:-1]
            source[0] += self.delivery
            net = self.line.net(state[:-1], source)
            rate = self.line.slope(state[:-1], source)
            rate[node] = 0.0
            return np.append(rate, net[node] * BAR * 1e6)

        def passed(_, state):
            return state[-1] / BAR - volume_cm3
        passed.terminal = True
        part = solve_ivp(slope, (self.now, longest_s), np.append(self.p, 0.0), method="BDF", rtol=self.rtol, atol=50.0,
                         events=[passed])
        return self.now, part.t[-1]

    def vent_time(self, longest_s=20000.0):
        """Seconds from opening the vent, after trip_time, until every device has reset and the switch has returned."""
        opened, switch = self.now, self.switches[0]
        if not self.vent_rate:
            self.p[0] = 0.0
        while self.now < opened + longest_s:
            self._move()
            waiting = self.p[switch["node"]] > switch["resets"] * (1 + 1e-7)
            if not waiting and all(one["state"] == "ready" for one in self.devices):
                return self.now - opened
            self._on(opened + longest_s, [(switch["node"], switch["resets"], -1)] if waiting else [], pumping=False)
        return None

    def _on(self, longest_s, watched, pumping):
        """Go on to the next event: a crossing, the end of a stroke, or longest_s."""
        taken = np.zeros(len(self.p))
        for one in self.devices:
            if one["state"] == "dosing":
                taken[one["node"]] += one["dose"] / one["stroke"]
        until = min([one["end"] for one in self.devices if one["state"] == "dosing"] + [longest_s]
                    + ([self.dry_at] if pumping and self.now < self.dry_at else []))
        dry = pumping and self.now >= self.dry_at
        watched = watched + [(one["node"], one["fires"], 1) for one in self.devices if one["state"] == "ready"]
        watched += [(one["node"], one["resets"], -1) for one in self.devices if one["state"] == "dosed"]

        def slope(now, p):
            source = -taken - self.leak * p
            source[0] += self.delivery * (P0 / (p[0] + P0) if dry else 1) if pumping else -self.vent_rate * p[0]
            rate = self.line.slope(p, source, self.delivery * (now - self.dry_at) if dry else 0.0)
            if not pumping and not self.vent_rate:
                rate[0] = 0.0
            return rate

        part = solve_ivp(slope, (self.now, until), self.p, method="BDF", rtol=self.rtol, atol=50.0,
                         events=[_crossing(*one) for one in dict.fromkeys(watched)], first_step=min(1e-3, until - self.now))
        assert part.success, part.message
        self.now, self.p = part.t[-1], part.y[:, -1]
        self._move()

    def _move(self):
        for one in self.devices:
            here = self.p[one["node"]]
            if one["state"] == "dosing" and self.now >= one["end"] - 1e-9:
                one["state"] = "dosed"
            if one["state"] == "ready" and here >= one["fires"] * (1 - 1e-7):
                one.update(state="dosing", end=self.now + one["stroke"])
            elif one["state"] == "dosed" and here <= one["resets"] * (1 + 1e-7):
                one["state"] = "ready"


def _crossing(node, level, direction):
    def crossing(_, p):
        return (p[node] - level) / BAR
    crossing.terminal, crossing.direction = True, direction
    return crossing
