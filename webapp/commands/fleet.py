"""`fleet`: which of many systems will not work at one temperature, the worst first."""
import os
import sys
import time
from pathlib import Path

import click

from .. import fleet as room
from ..documents import NoDocument, read_document
from ..engine.basics.text import shown
from ..store import Store, StoreError, revisions
from .calculate import print_json, units_option
from .serve import database_url

_SOME_FAIL, _SOME_UNJUDGED = 2, 1
_SAYS_AFTER_S = 2.0
_SUFFIXES = (".json", ".yaml", ".yml")


def _stored():
    """{id: document} of the store's systems. Raises StoreError."""
    store = Store(database_url(os.environ))
    try:
        store.migrate()
        with store.reading() as connection:
            return {row["document"]: row["body"] for row in revisions.newest_of_kind(connection, "system")}
    finally:
        store.close()


def _files(paths):
    for path in map(Path, paths):
        if path.is_dir():
            yield from sorted(one for one in path.rglob("*") if one.suffix in _SUFFIXES and one.is_file())
        else:
            yield path


def _read(paths):
    """({name: document}, {name: why it cannot be read}) of files and of all that lie in folders; a file may hold a list of documents."""
    documents, unread = {}, {}
    for path in _files(paths):
        try:
            found = read_document(str(path), "system")
        except NoDocument as error:
            unread[str(path)] = str(error)
            continue
        if isinstance(found, list):
            documents.update(("%s[%d]" % (path, number), one) for number, one in enumerate(found))
        else:
            documents[str(path)] = found
    return documents, unread


class _Progress:
    """Tells on standard error how far a long check is."""

    def __init__(self):
        self.next = time.monotonic() + _SAYS_AFTER_S

    def __call__(self, check):
        if time.monotonic() >= self.next:
            self.next = time.monotonic() + _SAYS_AFTER_S
            click.echo("%d of %d systems judged" % (check.done, check.total), err=True)


def _field(document, name):
    return (document.get(name) or "") if isinstance(document, dict) else ""


def _rows(documents, verdicts, keys, units):
    for key in keys:
        verdict = room.told(verdicts[key], units)
        limit, share = room.most_used(verdict) if verdict["limits"] else (None, None)
        yield {"system": key, "name": _field(documents[key], "name"), "area": _field(documents[key], "area"),
               "limit": limit, "share": share,
               "limits": verdict["limits"], "by": verdict["by"], "findings": verdict["findings"]}


def _answer(documents, unread, check, units):
    groups = room.sorted_out(check.verdicts)
    out = {"format": "fleet/1", "at_c": check.at_c, "systems": len(documents) + len(unread), **room.counted(check.verdicts)}
    for group, keys in groups.items():
        out[group] = list(_rows(documents, check.verdicts, keys, units))
    out["apart"] += [{"system": name, "name": "", "area": "", "limit": None, "share": None, "limits": {}, "by": "reading",
                      "findings": [{"severity": "stop", "where": "", "id": "", "with": {}, "says": why, "do": ""}]}
                     for name, why in unread.items()]
    return out


def _print_table(answer, units):
    click.echo("At %s: %d of %d systems will not work, %d will, %d cannot be judged. Decided by formulas %d, simulated %d." % (
        shown(answer["at_c"], "°C", units), len(answer["fails"]), answer["systems"], len(answer["works"]), len(answer["apart"]),
        answer["closed"], answer["simulated"]))
    for title, group in (("Will not work, the worst first", "fails"), ("Cannot be judged", "apart")):
        if answer[group]:
            click.echo("\n" + title)
        for row in answer[group]:
            limit = " (%s, %.2f of it)" % (room.LIMITS[row["limit"]], row["share"]) if row["limit"] else ""
            click.echo("  %s%s" % (" · ".join(part for part in (row["name"], row["area"], row["system"]) if part), limit))
            for entry in row["findings"]:
                click.echo("    %s" % " ".join(part for part in (entry["says"], entry["do"]) if part))


@click.command()
@click.argument("paths", nargs=-1, type=click.Path(exists=True))
@click.option("--temperature", required=True, help="As typed on the page: -12, or 10 °F; without a unit in those of --units.")
@click.option("--area", help="Only systems of this area.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON instead of the table.")
@units_option
def fleet(paths, temperature, area, as_json, units):
    """Tell which systems will not work on a cold night.

    They are judged at one temperature with the settings of their sheets. The worst come first, with the limit that each meets
    and what to do.

    The systems are those of the documents in PATHS (files, or folders with all JSON and YAML files below), else of the store:
    DATABASE_URL or DATA. Exit code 2: at least one will not work. Exit code 1: none of them, but not all can be judged.
    """
    try:
        at_c = room.temperature(temperature, units)
    except ValueError as error:
        raise click.ClickException("--temperature: %s" % error) from error
    try:
        documents, unread = _read(paths) if paths else (_stored(), {})
    except (StoreError, OSError) as error:
        raise click.ClickException(str(error)) from error
    if area is not None:
        documents = {key: document for key, document in documents.items() if _field(document, "area") == area}
    if not documents and not unread:
        raise click.ClickException("There is no system in the area %s to check." % area if area else "There is no system to check: name "
                                   "files or folders of documents, or by DATABASE_URL or DATA a store that holds some.")
    check = room.Check(documents, at_c)
    check.run(told=_Progress())
    answer = _answer(documents, unread, check, units)
    if as_json:
        print_json(answer)
    else:
        _print_table(answer, units)
    sys.exit(_SOME_FAIL if answer["fails"] else _SOME_UNJUDGED if answer["apart"] else 0)
