"""What is due in a plant, which points are not confirmed fed, which reservoirs to fill: asked of the store without reading old records."""
from .engine.bridge import ask
from .engine.care.due import COMING
from .engine.systems.cold import WARMTH
from .store import followed, revisions, verdicts
from .verdicts import engine_version
from .worked import for_care, season, season_at_hand

# how far ahead pages look [days]
AHEAD = 14
# records that the engine looks back at
FEW = 8
# systems whose seasons are worked anew for one page, a tenth of a second each or two
_SEASONS = 5


def care(connection, sites, clock, units="metric", day=None, now=None):
    """Systems of these sites (None: all) by area and name, each with what engine.care says of it by the plant's clock.

    day  the date of a refill;  now  the moment (RFC 3339) where it is not this one
    A row: document, name, area, site, points (how many), fed, refill, due; `stopped` where the check stops the system.
    """
    ask_of, now = _Asked(connection, sites, clock), clock.here(now or clock.now())
    rows = [_row(system, ask_of.known(system, units), now, units, day) for system in revisions.newest_of_kind(connection, "system", sites)]
    return sorted(rows, key=lambda row: (row["area"], row["name"], row["document"]))


class _Asked:
    """Everything that is known of all systems, in a few questions to the store."""

    def __init__(self, connection, sites, clock):
        self.clock, self.here = clock, clock.here
        self.last = {kind: revisions.last_of_each(connection, kind, sites) for kind in ("round", "test-run", "settings-entry")}
        self.few = {kind: revisions.last_few_of_each(connection, kind, sites, most=FEW) for kind in ("refill", "adjustment", "checklist")}
        self.kept = verdicts.worked(connection, engine_version(), sites)
        self.seasons = _SEASONS
        self.answers = followed.last_answers(connection)
        self.defects = {}
        for found in revisions.newest_of_kind(connection, "defect", sites, open_only=True):
            self.defects.setdefault(found["body"]["system"], []).append(self._body(found))

    def known(self, system, units):
        """What engine.care asks of one system."""
        key, body = system["document"], system["body"]
        last = {kind: (self._body(found[key]) if key in found else None) for kind, found in self.last.items()}
        few = {kind: [self._body(row) for row in found.get(key, [])] for kind, found in self.few.items()}
        answers = {item: answer_by(self.clock, row) for item, row in self.answers.get(key, {}).items()}
        kept = self.kept.get(key)  # else it came in a moment ago, and is worked here
        return {"answers": answers, "runs": [last["test-run"]] if last["test-run"] else [], "refills": few["refill"],
                "checklist": few["checklist"][-1] if few["checklist"] else None, "defects": self.defects.get(key, []),
                "round_at": last["round"] and last["round"]["made_at"], "run_at": last["test-run"] and last["test-run"]["made_at"],
                "system_at": self.here(system["made_at"]), "settings_entry": last["settings-entry"], "adjustments": few["adjustment"],
                "worked": kept["worked"] if kept else for_care(body, units),
                "season": (kept["season"] if kept else self._season(body)) if WARMTH in answers else None}

    def _body(self, revision):
        """A record with the time at which it was made, which an old one may not hold."""
        return dict(revision["body"], made_at=self.here(revision["body"].get("made_at") or revision["made_at"]))

    def _season(self, body):
        """Settings by season, of a few systems worked anew for one page: nobody waits for a whole plant's, the next page finds more."""
        kept = season_at_hand(body)
        if kept is None and self.seasons > 0:
            self.seasons -= 1
            kept = season(body)
        return kept


def answer_by(clock, row):
    """An item's last answer (a row of followed.last_answers) as engine.care wants it, its times by the plant's clock."""
    answer, lowest = row["answer"], row["answer"].get("lowest")
    return dict(answer, at=clock.here(answer.get("at") or row["at"]), lowest=lowest and dict(lowest, at=clock.here(lowest["at"])),
                **{name: clock.here(answer.get(name)) for name in ("since", "ok_at")})


def _row(system, known, now, units, day):
    body = system["body"]
    out = {"document": system["document"], "name": body.get("name") or "No name yet", "area": body.get("area") or "",
           "site": system["site"], "points": len(body.get("points") or [])}
    found = ask({"do": "care", "document": body, "now": now, "known": known, "day": day, "units": units})
    return dict(out, stopped=found.get("findings"), fed=found.get("fed"), refill=found.get("refill"), due=found.get("due") or [])


def concerns(entry, person):
    """True for what a person is to do: it names them, or nobody. No name: everybody's."""
    who = entry["who"].strip().casefold()
    return not person or not who or who == person.strip().casefold()


def entries(rows, person="", area="", ahead=AHEAD):
    """[dict(entry, system's row as "of")] due within `ahead` days for a person and area ("": all), the longest overdue first."""
    found = [dict(entry, of=row) for row in rows if area in ("", row["area"]) for entry in row["due"]
             if entry["days"] <= ahead and concerns(entry, person)]
    return sorted(found, key=lambda entry: (entry["due"], entry["of"]["area"], entry["of"]["name"]))


def route(found, units="metric"):
    """({"of": system's row, "entries"} in the order of area and name of what is due by today, what to take along)."""
    stops = by_system([entry for entry in found if entry["state"] != COMING])
    ordered = sorted(stops, key=lambda stop: (stop["of"]["area"], stop["of"]["name"], stop["of"]["document"]))
    return ordered, carry([stop["of"] for stop in ordered], units)


def by_system(found):
    """[{"of": system's row, "entries"}], in the order in which each system comes first."""
    systems = {}
    for entry in found:
        systems.setdefault(entry["of"]["document"], {"of": entry["of"], "entries": []})["entries"].append(entry)
    return list(systems.values())


def carry(rows, units="metric"):
    """[{"lubricant", "litres", "systems"}] for the refills that these systems need."""
    needed = [{"name": row["name"], "refill": row["refill"]} for row in rows if row["refill"]]
    return ask({"do": "carry", "rows": needed, "units": units})["carry"]


def alike(rows):
    """Points not confirmed fed, those of a system that lack the same since the same time together, never confirmed and longest first.

    [{"of", "names", "since", "for_d", "because"}]
    """
    groups = {}
    for row in rows:
        for point in (row["fed"] or {"points": []})["points"]:
            if not point["confirmed"]:
                key = (row["document"], point["since"], point["because"]["says"])
                groups.setdefault(key, dict(point, of=row, names=[]))["names"].append(point["name"])
    return sorted(groups.values(), key=lambda group: (group["since"] is not None, -(group["for_d"] or 0), group["of"]["area"],
                                                      group["of"]["name"], group["point"]))


def unconfirmed(rows):
    """{"count", "of", "never" (points never confirmed yet), "for_d" (days of the longest other one)}: the first number of a plant."""
    points = [point for row in rows for point in (row["fed"] or {"points": []})["points"]]
    stopped = sum(row["points"] for row in rows if row["stopped"])
    lacking = [point for point in points if not point["confirmed"]]
    lasting = [point["for_d"] for point in lacking if point["for_d"] is not None]
    return {"count": len(lacking) + stopped, "of": len(points) + stopped, "never": len(lacking) - len(lasting) + stopped,
            "for_d": max(lasting, default=None)}
