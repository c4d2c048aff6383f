"""`report`: the same PDF as the page gives."""
import os
from pathlib import Path

import click

from .. import papers
from ..clock import clock_of
from ..engine.basics.text import READERS
from ..photos import PhotoFolder, folder_for
from ..reports.base import Reader
from ..reports.span import Span
from ..store import NotFound, Store, StoreError, revisions
from .serve import database_url

_KINDS = "\n".join("%s: %s of %s" % (kind, one.name, "one or many systems" if one.of == papers.PLANT else "a " + one.of)
                   for kind, one in papers.KINDS.items())


def _about(connection, kind, identity):
    """What the paper is about: a revision, or a Plant by `all`, a site's name or a system's id."""
    if papers.KINDS[kind].of == papers.PLANT:
        if identity == "all":
            return papers.plant_of(connection)
        held = revisions.document(connection, identity)
        return papers.plant_of(connection, systems=[identity]) if held else papers.plant_of(connection, sites=[identity])
    found = revisions.newest(connection, identity)
    if found["kind"] != papers.KINDS[kind].of:
        raise click.ClickException("%s is a %s, not a %s." % (identity, found["kind"], papers.KINDS[kind].of))
    return found


@click.command(help="Write the paper KIND of ID as PDF. The database comes from DATABASE_URL or DATA, days and times are those of TIMEZONE.\n\nID is the document's id; for a paper of "
                    "many systems it is a system's id, a site's name or `all`.\n\n\b\n%s" % _KINDS)
@click.argument("kind", type=click.Choice(list(papers.KINDS)), metavar="KIND")
@click.argument("identity", metavar="ID")
@click.option("-o", "--output", required=True, type=click.Path(dir_okay=False), help="The file to write.")
@click.option("--units", type=click.Choice(READERS), default=READERS[0], show_default=True, help="US units are printed on Letter.")
@click.option("--since", help="First day of the period (2026-11-01); 30 days in all where it is left out.")
@click.option("--until", help="Its last day; today where it is left out, and at the latest.")
@click.option("--address", envvar="ADDRESS", default="", help="Where phones reach the server (https://…), for the code on the paper; "
              "from ADDRESS where it is left out; without any, no code is printed.")
def report(kind, identity, output, units, since, until, address):
    store = None
    try:
        clock = clock_of(os.environ)
        span = Span.asked(since, until, clock)
        store = Store(database_url(os.environ))
        store.migrate()
        with store.reading() as connection:
            photos = PhotoFolder(folder_for(store.url, os.environ.get("DATA")))
            paper = papers.make(connection, kind, Reader(units, address, photos.picture, clock), _about(connection, kind, identity), span)
        Path(output).write_bytes(paper.pdf())
    except NotFound as error:
        raise click.ClickException("There is no document %s: look its id up on its page." % identity) from error
    except (StoreError, OSError, ValueError) as error:
        raise click.ClickException(str(error)) from error
    finally:
        if store:
            store.close()
