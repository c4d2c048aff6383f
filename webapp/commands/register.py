"""`register`: a system's points, devices, pipes and switches given out or taken in as CSV."""
import os
from pathlib import Path

import click

from .. import register as tables
from ..clock import clock_of
from ..documents import NoDocument, read_text
from ..store import Store, StoreError
from .checklist import in_name_of, system_of
from .serve import database_url


@click.command()
@click.argument("system")
@click.option("--out", "folder", type=click.Path(path_type=Path, file_okay=False), help="Write the tables into this folder.")
@click.option("--in", "files", multiple=True, type=click.Path(path_type=Path, dir_okay=False),
              help="Take in this table; may be given once for each. Its name begins with points, devices, sections or switches.")
@click.option("--by", "name", help="The supervisor or administrator in whose name they are taken in.")
def register(system, folder, files, name):
    """Give out a system's tables as CSV, or take them in.

    SYSTEM is its id. Of what is taken in, all rows count, or nothing. The database comes from DATABASE_URL or DATA. What the
    tables hold is described in docs/formats.md.
    """
    if bool(folder) == bool(files):
        raise click.ClickException("Say either --out FOLDER or --in FILE.")
    store = None
    try:
        read = [(tables.name_of(file.name), read_text(str(file))) for file in files]
        if len(dict(read)) < len(read):
            raise click.ClickException("Two files hold the same table: name one of them.")
        store = Store(database_url(os.environ))
        store.migrate()
        if folder:
            with store.reading() as connection:
                _write(system_of(connection, system), folder)
        else:
            with store.writing() as connection:
                person = in_name_of(connection, name, "tables are taken in")
                result = tables.take_in(connection, person, system_of(connection, system), dict(read), clock_of(os.environ).now())
            click.echo("%s as number %d." % (result["state"].capitalize(), result["number"]) if result
                       else "Nothing differs: nothing was changed.")
    except OSError as error:
        raise click.ClickException("%s cannot be written: %s. Name another folder." % (error.filename, error.strerror)) from error
    except (NoDocument, StoreError, ValueError) as error:
        raise click.ClickException(str(error)) from error
    finally:
        if store:
            store.close()


def _write(system, folder):
    folder.mkdir(parents=True, exist_ok=True)
    for name in tables.NAMES:
        if (folder / (name + ".csv")).exists():
            raise click.ClickException("%s is there already: name another folder." % (folder / (name + ".csv")))
    for name in tables.NAMES:
        (folder / (name + ".csv")).write_text(tables.give_out(system, name), encoding="utf-8", newline="")
