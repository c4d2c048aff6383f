"""`check`: is the plant's server well? One line each for database, migrations, clock and photos."""
import os
import sys
from datetime import datetime

import click

from ..clock import clock_of
from ..photos import PhotoFolder, folder_for
from ..store import Store, StoreError, photos, revisions
from ..store.times import now
from .serve import database_url


def _migrations(store):
    """(well, words) about the tables of the database."""
    held, newest = store.versions()
    if held == newest:
        return True, newest
    if held is None:
        return False, "none yet: start serve once, it makes the tables"
    return False, "the database is at %s, this program at %s: start serve with the newest version" % (held, newest)


def _clock(store):
    """(well, words): a clock behind what was received already has been set back."""
    with store.reading() as connection:
        newest = revisions.latest(connection, 1)
    moment = now()
    if newest and datetime.fromisoformat(newest[0]["received_at"]) > datetime.fromisoformat(moment):
        return False, "it says %s, but something was received %s: set the clock" % (moment, newest[0]["received_at"])
    try:
        return True, "%s, days are counted by %s" % (moment, clock_of(os.environ).name)
    except ValueError as error:
        return False, str(error)


def _photos(store):
    """(well, words): the folder takes files, and every photo that came whole has its picture."""
    folder = PhotoFolder(folder_for(database_url(os.environ), os.environ.get("DATA")))
    fault = folder.write_fault()
    if fault:
        return False, "%s cannot be written to (%s): give this user the right to" % (folder.folder, fault)
    with store.reading() as connection:
        complete = sorted(photos.all_complete(connection))
    missing = folder.missing(complete)
    if missing:
        return False, "%d of %d are not in %s: bring them back from a backup, the first is %s" % (
            len(missing), len(complete), folder.folder, missing[0])
    return True, "%d in %s" % (len(complete), folder.folder)


def _lines():
    """(what, well, words) one after the other; the first that is not well ends it, since the next rest on it."""
    what, store = "database", None
    try:
        store = Store(database_url(os.environ))
        migrations = _migrations(store)
        yield what, True, store.engine.dialect.name
        yield "migrations", *migrations
        if migrations[0]:
            for what, looked in (("clock", _clock), ("photos", _photos)):
                yield what, *looked(store)
    except (StoreError, OSError) as error:
        yield what, False, str(error)
    finally:
        if store:
            store.close()


@click.command()
def check():
    """Tell whether database, migrations, clock and photos are well. The database comes from DATABASE_URL or DATA.

    Exit code 1: something is wrong; its line says what to do.
    """
    well = True
    for what, good, words in _lines():
        click.echo("%-11s%s: %s" % (what, "well" if good else "WRONG", words))
        well = well and good
    sys.exit(0 if well else 1)
