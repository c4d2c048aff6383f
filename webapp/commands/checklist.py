"""`checklist`: a system's checklist given out or taken in as YAML."""
import os

import click

from .. import checklists
from ..documents import NoDocument, read_text
from ..store import Store, StoreError, people, revisions
from .serve import database_url


@click.command()
@click.argument("system")
@click.argument("file", required=False)
@click.option("--by", "name", help="The supervisor or administrator in whose name FILE is taken in.")
def checklist(system, file, name):
    """Print the checklist of SYSTEM (its id) as YAML, or take it in from FILE (- for standard input).

    The database comes from DATABASE_URL or DATA. What the file may hold is described in DEVELOPERS.md.
    """
    store = None
    try:
        text = read_text(file) if file else None  # before the store is taken: whoever types it holds nobody up
        store = Store(database_url(os.environ))
        store.migrate()
        if text is None:
            with store.reading() as connection:
                found = _system(connection, system)
                plan = checklists.held(connection, system)
            click.echo(checklists.give_out(system, found["body"], plan and plan["body"]), nl=False)
        else:
            with store.writing() as connection:
                found = _system(connection, system)
                checklists.keep(connection, _person(connection, name), found, checklists.take_in(text, system, found["body"]))
    except (NoDocument, StoreError, OSError) as error:
        raise click.ClickException(str(error)) from error
    finally:
        if store:
            store.close()


def _system(connection, identity):
    found = revisions.newest(connection, identity)
    if found["kind"] != "system":
        raise click.ClickException("%s is a %s, not a system." % (identity, found["kind"]))
    return found


def _person(connection, name):
    if not name:
        raise click.ClickException("Say with --by NAME in whose name it is taken in.")
    person = people.by_name(connection, name)
    if person["role"] == people.TECHNICIAN:
        raise click.ClickException("%s is a technician: checklists are shaped by supervisors and administrators." % name)
    return person
