"""`report`: the same PDF as the page gives."""
import os
from pathlib import Path

import click

from ..engine.basics.text import READERS
from ..papers import KINDS
from ..store import NotFound, Store, StoreError, revisions
from .serve import database_url


@click.command()
@click.argument("kind", type=click.Choice(sorted(KINDS)))
@click.argument("document")
@click.option("-o", "--output", required=True, type=click.Path(dir_okay=False), help="The file to write.")
@click.option("--units", type=click.Choice(READERS), default=READERS[0], show_default=True)
def report(kind, document, output, units):
    """Write the paper KIND of DOCUMENT (its id) as PDF. The database comes from DATABASE_URL or DATA."""
    name, make = KINDS[kind]
    store = Store(database_url(os.environ))
    try:
        store.migrate()
        with store.reading() as connection:
            found = revisions.newest(connection, document)
            if found["kind"] != name:
                raise click.ClickException("%s is a %s, not a %s." % (document, found["kind"], name))
            Path(output).write_bytes(make(connection, found, units))
    except NotFound as error:
        raise click.ClickException("There is no document %s: look its id up on its page." % document) from error
    except (StoreError, OSError) as error:
        raise click.ClickException(str(error)) from error
    finally:
        store.close()
