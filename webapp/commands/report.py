"""`report`: the same PDF as the page gives, labels among them."""
import os
import re
from pathlib import Path

import click

from .. import papers
from ..clock import clock_of
from ..engine.basics.text import READERS
from ..engine.document.documents import KINDS
from ..photos import PhotoFolder, folder_for
from ..reports.base import Reader
from ..reports.labels import LABELS, STANDARD, Sheet, label_sheets, labels_for
from ..reports.span import Span
from ..store import NotFound, Store, StoreError, revisions
from .serve import database_url

_LABELS = "labels"
_OF = dict({kind: one.of for kind, one in papers.KINDS.items()}, **{_LABELS: papers.PLANT})
_NAMES = dict({kind: one.name for kind, one in papers.KINDS.items()}, **{_LABELS: "Sheets of labels"})
_CALLED = dict({of: "a %s's id" % name.lower() for of, (name, _) in KINDS.items()}, **{
    "settings-entry": "the id of settings entered", papers.PLANT: "a system's id, a site's name or `all`"})
_KINDS = "\n".join("%s: %s; ID is %s" % (kind, _NAMES[kind], _CALLED[of]) for kind, of in _OF.items())
_SHEETS = "\n".join("%s: %s" % (key, words) for key, (words, _) in STANDARD.items())
_OWN = "A4,3,8,70,37,0,0.5"
_SIZES = re.compile(r"(A4|Letter|label),(\d{1,4}),(\d{1,4}),(\d{1,3}(?:\.\d+)?(?:,\d{1,3}(?:\.\d+)?){3,5})")


def _about(connection, kind, identity):
    """What the paper is about: a revision, or a Plant by `all`, a site's name or a system's id."""
    if _OF[kind] == papers.PLANT:
        if identity == "all":
            return papers.plant_of(connection)
        held = revisions.document(connection, identity)
        return papers.plant_of(connection, systems=[identity]) if held else papers.plant_of(connection, sites=[identity])
    found = revisions.newest(connection, identity)
    if found["kind"] != _OF[kind]:
        raise click.ClickException("%s is a %s, not a %s." % (identity, found["kind"], _OF[kind]))
    return found


def _nothing(kind, identity):
    """Why there is no such paper, and what to give instead."""
    if _OF[kind] != papers.PLANT:
        return "There is no document %s: look its id up on its page." % identity
    if identity == "all":
        return "There is no system yet to make it of: register one on the phone first."
    return "There is no system and no site of the name %s: give %s." % (identity, _CALLED[papers.PLANT])


def _sheet(text):
    """A Sheet by its name, or by its paper, columns, rows, width, height, left, top and gaps. Raises ValueError with a sentence."""
    if text in STANDARD:
        return STANDARD[text][1]
    written = _SIZES.fullmatch(text)
    if not written:
        raise ValueError("There is no sheet \"%s\": name one that --help lists, or write its sizes like %s." % (text, _OWN))
    paper, columns, rows, lengths = written.groups()
    return Sheet(paper, int(columns), int(rows), *map(float, lengths.split(",")))


def _paper(connection, kind, identity, reader, span, chosen):
    about = _about(connection, kind, identity)
    if kind == _LABELS:
        labels = labels_for([one["body"] for one in about.systems], chosen["wanted"])
        return label_sheets(reader, labels, _sheet(chosen["sheet"]), chosen["start"])
    return papers.make(connection, kind, reader, about, span)


@click.command(help="Write the paper KIND of ID as PDF. The database comes from DATABASE_URL or DATA, days and times are those of "
                    "TIMEZONE.\n\n\b\n%s\n\n\b\n"
                    "Sheets of labels:\n%s" % (_KINDS, _SHEETS))
@click.argument("kind", type=click.Choice(list(_OF)), metavar="KIND")
@click.argument("identity", metavar="ID")
@click.option("-o", "--output", required=True, type=click.Path(dir_okay=False), help="The file to write.")
@click.option("--units", type=click.Choice(READERS), default=READERS[0], show_default=True, help="US units are printed on Letter.")
@click.option("--since", help="First day of the period (2026-11-01); 30 days in all where it is left out.")
@click.option("--until", help="Its last day; today where it is left out, and at the latest.")
@click.option("--address", envvar="ADDRESS", default="", help="Where phones reach the server (https://…), for the code on the paper; "
              "from ADDRESS where it is left out; without any, no code is printed, and no label.")
@click.option("--for", "wanted", type=click.Choice(list(LABELS)), default="both", show_default=True,
              help="Labels for systems, points or both.")
@click.option("--sheet", default="a4-3x8", show_default=True,
              help="A sheet of labels listed above, or its sizes in mm: paper (A4, Letter; label: one a page), columns, "
              "rows, width and height of a label, left and upper margin, gaps across and down: %s." % _OWN)
@click.option("--start", type=int, default=1, show_default=True, help="The first label of the sheet to print on, counted row by row.")
def report(kind, identity, output, units, since, until, address, **chosen):
    store = None
    try:
        clock = clock_of(os.environ)
        span = Span.asked(since, until, clock)
        store = Store(database_url(os.environ))
        store.migrate()
        with store.reading() as connection:
            photos = PhotoFolder(folder_for(store.url, os.environ.get("DATA")))
            reader = Reader(units, address, photos.picture, clock)
            paper = _paper(connection, kind, identity, reader, span, chosen)
        Path(output).write_bytes(paper.pdf())
    except NotFound as error:
        raise click.ClickException(_nothing(kind, identity)) from error
    except OSError as error:
        raise click.ClickException("%s cannot be written: %s. Name another file." % (error.filename or output, error.strerror)) from error
    except (StoreError, ValueError) as error:
        raise click.ClickException(str(error)) from error
    finally:
        if store:
            store.close()
