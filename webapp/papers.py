"""From the store to a paper: finds what a paper needs beside its own revision. Pages and the command use it alike."""
from .reports.commissioning import commissioning
from .reports.round_report import round_report
from .reports.season_sheet import season_sheet
from .reports.settings_sheet import settings_sheet
from .store import NotFound, people, revisions


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


def settings_pdf(connection, revision, units="metric"):
    """Settings sheet of a system's revision."""
    return settings_sheet(revision, _name(connection, revision["made_by"]), units)


def season_pdf(connection, revision, units="metric"):
    """Season sheet of a system's revision."""
    return season_sheet(revision, _name(connection, revision["made_by"]), units)


def commissioning_pdf(connection, revision, units="metric"):
    """Commissioning record of a test run's revision."""
    return commissioning(revision, _system_of(connection, revision), _name(connection, revision["made_by"]), units)


def round_pdf(connection, revision, units="metric"):
    """Round report of a round's revision."""
    return round_report(revision, _system_of(connection, revision), _name(connection, revision["made_by"]), units)


KINDS = {"settings": ("system", settings_pdf), "season": ("system", season_pdf), "commissioning": ("test-run", commissioning_pdf),
         "round": ("round", round_pdf)}
