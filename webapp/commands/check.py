"""`check`: is the plant's server well? One line each for database, migrations and clock."""
import os
import sys
from datetime import datetime

import click

from ..store import Store, StoreError, people, revisions
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
    return True, moment


def _lines():
    """(what, well, words) one after the other; the first that is not well ends it, since the next rest on it."""
    try:
        store = Store(database_url(os.environ))
        migrations = _migrations(store)
    except (StoreError, OSError) as error:
        yield "database", False, str(error)
        return
    yield "database", True, store.engine.dialect.name
    yield "migrations", *migrations
    if migrations[0]:
        yield "clock", *_clock(store)
    store.close()


@click.command()
def check():
    """Tell whether database, migrations and clock are well. The database comes from DATABASE_URL or DATA.

    Exit code 1: something is wrong; its line says what to do.
    """
    well = True
    for what, good, words in _lines():
        click.echo("%-11s%s: %s" % (what, "well" if good else "WRONG", words))
        well = well and good
    sys.exit(0 if well else 1)
