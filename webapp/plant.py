"""What a supervisor asks first: which systems are in trouble, what was done on them last, which phone sent what."""
from collections import namedtuple

from .engine.document.documents import KINDS
from .engine.words.present import present
from .store import people, revisions, verdicts
from .worked import worked

# rows that a page of a list shows; the rest is one step away
ROWS = 50
# of each kind of record on the system's own page
NEWEST = 10
_LATELY = 20

# systems   rows of this page: as verdicts.listed, findings with their texts, and the last signed `test_run` and `round`, or None
# counts    state -> how many of all systems; `found`: how many fit the filter
Overview = namedtuple("Overview", "systems counts found sites areas clashes")


def overview(connection, engine, sites, units="metric", start=0, **narrowed):
    """Systems of these sites (None: all), the worst first, by the verdicts of this engine; narrowed by `state` and `area`."""
    rows = present(verdicts.listed(connection, engine, sites, start, ROWS, **narrowed), units)
    shown = [row["document"] for row in rows]
    runs, rounds = (revisions.last_of_each(connection, kind, systems=shown) for kind in ("test-run", "round"))
    for row in rows:
        row.update(test_run=runs.get(row["document"]), round=rounds.get(row["document"]), name=row["name"] or "No name yet")
    return Overview(rows, verdicts.counts(connection, engine, sites), sum(verdicts.counts(connection, engine, sites, **narrowed).values()),
                    *verdicts.areas(connection, sites), verdicts.clashes(connection, sites))


def standing(connection, engine, system, units):
    """A system's row as an overview has it; None of one that is deleted."""
    return next(iter(present(verdicts.listed(connection, engine, None, system=system), units)), None)


def phones(connection, sites):
    """Phones of the people who work on one of these sites (None: all), the one that sent last first."""
    rows = people.phones(connection)
    if sites is None:
        return rows
    near = {person["id"] for person in people.everybody(connection) if set(person["sites"]) & set(sites)}
    return [row for row in rows if row["person"] in near]


def sent_lately(connection, sites):
    """The newest revisions with the names of who made them and of the system they are about."""
    names, latest = _names(connection), revisions.latest(connection, _LATELY, sites)
    about = [one["document"] if one["kind"] == "system" else one["body"].get("system") for one in latest]
    systems = verdicts.names(connection, set(about))
    return [dict(revision, who=names.get(revision["made_by"], "unknown"), system=system,
                 name=systems.get(system) or "a system not sent yet") for revision, system in zip(latest, about)]


def _names(connection):
    return {person["id"]: person["name"] for person in people.everybody(connection)}


def settings(connection, revision, engine, units):
    """The settings sheet's settings of a system's newest revision, with texts; none where it cannot be worked."""
    kept = verdicts.worked(connection, engine, systems=[revision["document"]]).get(revision["document"])
    found = present(kept["worked"], units) if kept else worked(revision["body"], units)
    return found.get("settings") or []


def history(connection, system):
    """{kind: page of the newest records}, the system's own revisions among them: what was done, the latest first. Whatever is open of
    defects is there, and of adjustments as many as a page of their own shows, since older ones may still stand."""
    pages = {kind: records(connection, system, kind, ROWS if kind == "adjustment" else NEWEST) for kind in KINDS}
    listed = {row["document"] for row in pages["defect"].rows}
    still = [row for row in revisions.newest_of_kind(connection, "defect", systems=[system], open_only=True)[::-1]
             if row["document"] not in listed]
    names = _names(connection) if still else {}
    pages["defect"].rows.extend(dict(row, who=names.get(row["made_by"], "unknown")) for row in still)
    return pages


# rows  revisions of one kind, each with `who`, the latest first; `older`: there are more
Page = namedtuple("Page", "rows older")


def records(connection, system, kind, most=ROWS, start=0):
    """A page of a system's records of one kind (newest revision each), or of its own revisions, after the first `start`."""
    if kind == "system":
        rows = revisions.history(connection, system, most + 1, start)
    else:
        rows = revisions.newest_of_kind(connection, kind, systems=[system], most=most + 1, start=start)[::-1]
    names = _names(connection)
    return Page([dict(row, who=names.get(row["made_by"], "unknown")) for row in rows[:most]], len(rows) > most)
