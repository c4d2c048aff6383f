"""From the store to a paper: which kinds there are, and what each needs beside what it is about.

Pages, the command and the worker use it alike.
"""
from collections import OrderedDict, namedtuple

from .defects import cause_words
from .period import Care, Records
from .reports.commissioning import commissioning
from .reports.defect_list import defect_list
from .reports.fault_case import fault_case
from .reports.plain import plain
from .reports.round_report import round_report
from .reports.season_sheet import season_sheet
from .reports.settings_sheet import settings_sheet
from .reports.summary import plant_summary, refill_list, system_summary
from .store import NotFound, people, revisions, verdicts
from .verdicts import engine_version

PLANT = "plant"

# name: as a reader calls it. of: the kind of document that it is about, or PLANT for a paper of many systems
# make(connection, reader, about, span): `about` is the document's newest revision or a Plant, `span` the period asked for
Kind = namedtuple("Kind", "name of make")


class Plant:
    """Systems of a plant and the records of their care, as papers of many systems need them.

    where    what these systems are, in words
    systems  their newest revisions
    """

    def __init__(self, connection, systems, where):
        self.systems, self.where, self._connection = systems, where, connection
        self.names = {one["document"]: one["body"].get("name") or "No name yet" for one in systems}
        self.people = {person["id"]: person["name"] for person in people.everybody(connection)}

    def records(self, kind, **narrowed):
        """Newest revisions of all records of a kind on these systems, the oldest first."""
        return revisions.newest_of_kind(self._connection, kind, systems=list(self.names), **narrowed)

    def again(self, connection):
        """The same plant, read by another connection."""
        return Plant(connection, self.systems, self.where)

    def cares(self, span):
        """Each system's care in a period."""
        return cares(self._connection, self.systems, span)

    def made_at(self, span):
        """What dates a paper of a period: its end."""
        return span.until + "T00:00:00+00:00"


def cares(connection, systems, span):
    """The care of systems (newest revisions) in a period, each by what is kept of it worked, where it is."""
    kept = verdicts.worked(connection, engine_version(), systems=[one["document"] for one in systems])
    records = Records(connection, systems, span)
    return [Care(connection, one, span, records, kept.get(one["document"], {}).get("worked")) for one in systems]


def _name(connection, identity):
    try:
        return people.get(connection, identity)["name"]
    except NotFound:
        return "unknown"


def _system_of(connection, record):
    """The revision of the system that the record was made on, else the system's newest."""
    made_on = record["body"].get("system_revision")
    found = revisions.find(connection, made_on) if made_on else None
    return found if found and found["document"] == record["body"]["system"] else revisions.newest(connection, record["body"]["system"])


def _corrections(connection, record):
    """Revisions of a record since it was signed, the oldest first."""
    made = list(reversed(revisions.history(connection, record["document"])))
    signed = next((number for number, one in enumerate(made) if one["body"].get("signed")), len(made))
    return [dict(one, who=_name(connection, one["made_by"])) for one in made[signed + 1:] if not _only_countersigned(one, made)]


def _only_countersigned(one, made):
    """True for the revision that added nothing but the counter-signature."""
    before = next((other for other in made if other["id"] == one["parent"]), None)
    return bool(before) and {key: value for key, value in one["body"].items() if key != "countersigned"} == before["body"]


def _settings(connection, reader, about, span):
    return settings_sheet(reader, about, _name(connection, about["made_by"]))


def _season(connection, reader, about, span):
    return season_sheet(reader, about, _name(connection, about["made_by"]))


def _commissioning(connection, reader, about, span):
    return commissioning(reader, about, _system_of(connection, about), _name(connection, about["made_by"]))


def _round(connection, reader, about, span):
    return round_report(reader, about, _system_of(connection, about), _name(connection, about["made_by"]), _corrections(connection, about))


def _fault_case(connection, reader, about, span):
    defect = about["body"].get("defect")
    found = revisions.newest(connection, defect) if defect and revisions.document(connection, defect) else None
    system, named = _system_of(connection, about), [one["cause"] for one in about["body"].get("tried") or []] + [about["body"].get("cause")]
    called = dict(zip(named, cause_words(system["body"], named)))
    return fault_case(reader, about, system, _name(connection, about["made_by"]), called, found)


def _plain(connection, reader, about, span):
    return plain(reader, about, _system_of(connection, about), _name(connection, about["made_by"]))


def _defects(connection, reader, about, span):
    return defect_list(reader, about, span)


def _summary(connection, reader, about, span):
    names = {person["id"]: person["name"] for person in people.everybody(connection)}
    return system_summary(reader, cares(connection, [about], span)[0], names)


def _plant_summary(connection, reader, about, span):
    return plant_summary(reader, about, about.cares(span), span)


def _refills(connection, reader, about, span):
    return refill_list(reader, about, about.cares(span), span)


KINDS = OrderedDict((
    ("settings", Kind("Settings sheet", "system", _settings)), ("season", Kind("Season sheet", "system", _season)),
    ("commissioning", Kind("Commissioning record", "test-run", _commissioning)), ("round", Kind("Round report", "round", _round)),
    ("fault-case", Kind("Fault case", "fault-case", _fault_case)), ("settings-entry", Kind("Settings entered", "settings-entry", _plain)),
    ("summary", Kind("Period summary of a system", "system", _summary)),
    ("plant-summary", Kind("Period summary", PLANT, _plant_summary)), ("defects", Kind("Defect list", PLANT, _defects)),
    ("refills", Kind("Refill list", PLANT, _refills))))
# kind of record -> the kind of its paper
PAPER_OF = {one.of: kind for kind, one in KINDS.items() if one.of not in (PLANT, "system")}


def plant_of(connection, sites=None, area=None, systems=None):
    """The Plant of these sites (None: all), of one area, or of these systems' ids. Raises NotFound where that is none."""
    found = [one for one in revisions.newest_of_kind(connection, "system", sites)
             if (not area or one["body"].get("area") == area) and (systems is None or one["document"] in systems)]
    if not found:
        raise NotFound("There is no system to make a paper of.")
    found.sort(key=lambda one: (one["body"].get("name") or "", one["document"]))
    return Plant(connection, found, _where(found, area))


def _where(found, area):
    if len(found) == 1:
        return found[0]["body"].get("name") or "No name yet"
    named = ", ".join(sorted({one["site"] for one in found}))
    return "%s, %s" % (named, area) if area else named


def make(connection, kind, reader, about, span=None):
    """The Paper of a kind about a revision of its document, or about a Plant."""
    return KINDS[kind].make(connection, reader, about, span)
