"""`checklist`: a system's checklist given out or taken in as YAML."""
import os

import click

from .. import checklists
from ..clock import clock_of
from ..documents import NoDocument, read_text
from ..store import Store, StoreError, people, revisions
from .serve import database_url


@click.command()
@click.argument("system")
@click.argument("file", required=False)
@click.option("--by", "name", help="The supervisor or administrator in whose name FILE is taken in.")
def checklist(system, file, name):
    """Give out a system's checklist as YAML, or take it in.

    SYSTEM is its id. Without FILE its checklist is printed; with FILE (- for standard input) it is taken in. The
    database comes from DATABASE_URL or DATA. What the file may hold is described in DEVELOPERS.md.
    """
    store = None
    try:
        text = read_text(file) if file else None  # before the store is taken: whoever types it holds nobody up
        store = Store(database_url(os.environ))
        store.migrate()
        if text is None:
            with store.reading() as connection:
                found = system_of(connection, system)
                plan = checklists.held(connection, system)
            click.echo(checklists.give_out(system, found["body"], plan and plan["body"]), nl=False)
        else:
            with store.writing() as connection:
                found = system_of(connection, system)
                person, body = in_name_of(connection, name, "checklists are shaped"), checklists.take_in(text, system, found["body"])
                checklists.keep(connection, person, found, body, clock_of(os.environ).now())
    except (NoDocument, StoreError, OSError, ValueError) as error:
        raise click.ClickException(str(error)) from error
    finally:
        if store:
            store.close()


def system_of(connection, identity):
    """The newest revision of a system. Raises StoreError where there is no such document."""
    found = revisions.newest(connection, identity)
    if found["kind"] != "system":
        raise click.ClickException("%s is a %s, not a system." % (identity, found["kind"]))
    return found


def in_name_of(connection, name, what):
    """The supervisor or administrator of this name, in whose name something is taken in; what: what technicians do not, in words."""
    if not name:
        raise click.ClickException("Say with --by NAME in whose name it is taken in.")
    person = people.by_name(connection, name)
    if person["role"] == people.TECHNICIAN or not person["active"]:
        raise click.ClickException("%s is %s: %s by supervisors and administrators." % (
            name, "a technician" if person["active"] else "no longer let in", what))
    return person
