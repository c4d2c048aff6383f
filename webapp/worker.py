"""The worker: a process of its own that makes the papers people asked for, one job after the other, and ends when nothing waits.

Every paper of a ZIP is a file of its own in the job's folder as soon as it is made, written under another name and then renamed.
So a worker that was killed loses one paper: the next one takes the job up where it was left.
"""
import fcntl
import gc
import logging
import os
import shutil
import zipfile
from collections import namedtuple
from contextlib import contextmanager
from pathlib import Path

from . import papers
from .clock import Clock
from .photos import folder_for
from .reports.base import Reader
from .reports.span import Span
from .store import NotFound, jobs

# a tagged PDF is laid out in memory as a whole, some 2 MB a page: what is more than this goes on in a second file
MOST_PAGES = 500
_NOTHING = "There was nothing to print: no record of the kinds chosen was made on these systems in this period."
_OUR_FAULT = "The paper \"%s\" could not be made: a fault of the program. Leave it out, and tell your administrator."


def papers_folder(database_url, data=None):
    """Where a plant's papers are kept: beside its photos."""
    return (folder_for(database_url, data).parent / "papers").resolve()


class Stopped(Exception):
    """Whoever asked wants it no more."""


class CannotBe(Exception):
    """The job cannot be done; the text says why in one sentence."""


# one paper of a job. about: a revision, or None for all systems chosen. name: as a file. says: to whoever waits for it
Piece = namedtuple("Piece", "kind about name says")


def planned(connection, request, span):
    """(The Plant chosen, its Pieces in order): papers of all systems first, then system by system."""
    wanted = request["kinds"]
    plant = papers.plant_of(connection, systems=request["systems"])
    pieces = [Piece(kind, None, kind, papers.KINDS[kind].name) for kind in wanted if papers.KINDS[kind].of == papers.PLANT]
    since, until = span.in_utc()
    records = {kind: [one for one in plant.records(papers.KINDS[kind].of, since=since, until=until) if span.holds(one["body"]["made_at"])]
               for kind in wanted if papers.KINDS[kind].of not in (papers.PLANT, "system")}
    for number, system in enumerate(plant.systems, 1):
        for kind in wanted:
            if papers.KINDS[kind].of == papers.PLANT:
                continue
            found = [one for one in records[kind] if one["body"]["system"] == system["document"]] if kind in records else [system]
            name = plant.names[system["document"]]
            pieces += [Piece(kind, one, "%03d-%s-%s-%s" % (number, _as_file(name), kind, one["document"][:8]),
                             "%s of %s" % (papers.KINDS[kind].name, name)) for one in found]
    return plant, pieces


def _as_file(name):
    """A system's name as part of a file's: letters and digits alone."""
    return "".join(letter if letter.isalnum() else "-" for letter in name)[:40]


def write_whole(path, content):
    """Write a file so that it is there whole or not at all."""
    partly = path.with_name(path.name + ".part")
    with partly.open("wb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())
    partly.replace(path)


class Job:
    """One job being worked at, in a folder of its own until it is done."""

    def __init__(self, store, folder, held, photo, clock):
        self.store, self.id, self.request = store, held["id"], held["request"]
        self.result = folder / ("%s.%s" % (self.id, self.request["as"]))
        self.folder = folder / self.id
        self.reader = Reader(self.request["units"], self.request["address"], photo, clock)
        self.span = Span(self.request["since"], self.request["until"], clock)

    def work(self):
        """Make it. Raises Stopped and CannotBe."""
        with self.store.reading() as connection:
            plant, pieces = planned(connection, self.request, self.span)
        if not pieces:
            raise CannotBe(_NOTHING)
        self.folder.mkdir(exist_ok=True)
        self._tell(0, len(pieces), "")
        (self._one_pdf if self.request["as"] == "pdf" else self._zip)(plant, pieces)
        with self.store.writing() as connection:
            kept = jobs.finish(connection, self.id, self.result.name)
        if not kept:
            raise Stopped

    def _tell(self, done, total, says):
        with self.store.writing() as connection:
            if not jobs.progress(connection, self.id, done, total, says):
                raise Stopped

    def _paper(self, plant, piece):
        try:
            with self.store.reading() as connection:
                return papers.make(connection, piece.kind, self.reader, piece.about or plant.again(connection), self.span)
        except Exception as error:
            logging.exception("a paper could not be made")
            raise CannotBe(_OUR_FAULT % piece.says) from error

    def _zip(self, plant, pieces):
        files = []
        for number, piece in enumerate(pieces):
            file = self.folder / (piece.name + ".pdf")
            files.append(file)
            if not file.exists():
                self._tell(number, len(pieces), piece.says)
                write_whole(file, self._paper(plant, piece).pdf())
        self._pack(files)

    def _pack(self, files):
        partly = self.result.with_name(self.result.name + ".part")
        with zipfile.ZipFile(partly, "w") as packed:
            for file in files:  # PDFs are compressed within; the date is fixed, so that the same papers give the same bytes
                packed.writestr(zipfile.ZipInfo(file.name), file.read_bytes())
        partly.replace(self.result)

    def _one_pdf(self, plant, pieces):
        """One file, or where it has too many pages several of them in a ZIP."""
        from weasyprint.text.fonts import FontConfiguration
        from .reports.pdf import laid_out
        made, laid, files, fonts = [], [], [], FontConfiguration()
        for number, piece in enumerate(pieces, 1):
            self._tell(number - 1, len(pieces), piece.says)
            made.append(self._paper(plant, piece))
            laid.append(laid_out(made[-1], fonts))
            if number == len(pieces) or sum(len(one.pages) for one in laid) >= MOST_PAGES:
                files.append(self._part(plant, made, laid, len(files) + 1, number == len(pieces)))
                made, laid = [], []
                gc.collect()
        if len(files) == 1:
            files[0].replace(self.result)
        else:
            self.result = self.result.with_suffix(".zip")
            self._pack(files)

    def _part(self, plant, made, laid, number, last):
        """Write the papers laid out so far; returns the file."""
        from .reports.pdf import to_pdf
        title = "%s, %s" % (plant.where, self.span)
        file = self.folder / ("part-%02d.pdf" % number)
        write_whole(file, to_pdf(made, title if number == 1 and last else "%s, part %d" % (title, number), laid))
        return file


def _one(store, folder, held, photo, clock):
    job = Job(store, folder, held, photo, clock)
    try:
        job.work()
    except Stopped:
        job.result.unlink(missing_ok=True)
    except (CannotBe, NotFound, OSError) as error:
        with store.writing() as connection:
            jobs.fail(connection, job.id, str(error))
    shutil.rmtree(job.folder, ignore_errors=True)


def _clear(store, folder):
    """Take away what belongs to no job."""
    with store.writing() as connection:
        kept = jobs.forget_old(connection)
    for path in folder.iterdir():
        if path.name != _LOCK and path.name.partition(".")[0] not in kept:
            shutil.rmtree(path) if path.is_dir() else path.unlink()


_LOCK = "worker.lock"


@contextmanager
def _alone(folder):
    """Wait until no other worker is at work here; the system lets go of the lock when a worker dies, however it dies."""
    folder.mkdir(parents=True, exist_ok=True)
    with (folder / _LOCK).open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def work(store, folder, photo=lambda sha256: None, clock=None):
    """Work at what waits until nothing does. folder: where papers are kept; photo and clock: as Reader has them."""
    folder = Path(folder)
    with _alone(folder):
        _clear(store, folder)
        while True:
            with store.writing() as connection:
                held = jobs.take(connection)
            if held is None:
                return
            _one(store, folder, held, photo, clock or Clock())
