"""`python -m tests.benchmarks.growth [--keep FOLDER]`: what pages of the server cost with one and with ten years of weekly rounds.

50 systems, 40 items a round, on SQLite in one process. The bars: 300 ms a page, and at most 1.5 times as long with ten years.
"""
import argparse
import gc
import gzip
import json
import tempfile
from contextlib import contextmanager
from pathlib import Path
from statistics import median
from time import perf_counter

from webapp import papers
from webapp.app import create_app
from webapp.reports.base import Reader
from webapp.reports.span import Span
from webapp.store import revisions
from webapp.verdicts import Verdicts

from .grown import NAME, PASSWORD, SYSTEMS, Grown, fill
from .machine import machine

YEARS = (1, 10)
BAR_MS, BAR_RATIO = 300, 1.5
_PASSES = 15
# a difference that no person and no machine feels
_NOTHING_MS = 2
PHONE_ROUNDS = 110
# page -> its address; {system} is one of them, {top} the newest number
PAGES = (
    ("Plant", "/plant"), ("  systems that hold, one hall", "/plant?state=holds&area=Hall+2"), ("What is due", "/plant/due"),
    ("Reservoirs and refills", "/plant/refills"), ("Points not confirmed fed", "/plant/fed"), ("Open defects", "/plant/defects"),
    ("Papers of a period", "/plant/papers"), ("System", "/plant/{system}"),
    ("  its newest 50 rounds", "/plant/{system}/round"), ("Who is signed in, as phones ask", "/api/session"),
    ("Feed from the start, a new phone's first page", "/sync/feed?after=0&limit=200&rounds=%d" % PHONE_ROUNDS),
    ("Feed, nothing new", "/sync/feed?after={top}&limit=200&rounds=%d" % PHONE_ROUNDS))


# what the summary of 30 days gathers and writes, all but laying it out as PDF; paper -> its kind and the period's last day
TODAY, LAST_MONTH = "2026-11-23", "2026-10-31"
GATHERED = (("Period summary of a system", "summary", TODAY), ("Period summary of all 50", "plant-summary", TODAY),
            ("  of a month that is over", "plant-summary", LAST_MONTH))


class Server:
    """The application over a grown plant, asked in this process by a signed-in supervisor."""

    def __init__(self, file, years):
        began, exists = perf_counter(), file.exists()
        self.app, grown = create_app("sqlite:///%s" % file, "benchmark only: 2f8a11c94"), Grown(years)
        self.store = self.app.extensions["store"]
        if not exists:
            fill(self.store, grown)
        filled = perf_counter()
        Verdicts(self.store).work()
        self.seconds = filled - began, perf_counter() - filled
        self.http, self.system = self.app.test_client(), grown.systems[7]["body"]["id"]
        token = self.http.get("/api/token").get_json()["token"]
        reply = self.http.post("/api/session", json={"name": NAME, "password": PASSWORD}, headers={"X-CSRFToken": token})
        assert reply.status_code == 200, reply.get_data(as_text=True)
        with self.store.reading() as connection:
            self.top = revisions.count(connection)

    def milliseconds(self, address):
        """How long one answer takes."""
        began = perf_counter()
        reply = self.http.get(address.format(system=self.system, top=self.top))
        taken = 1000 * (perf_counter() - began)
        assert reply.status_code == 200, (address, reply.status_code)
        return taken

    def gathered_ms(self, kind, last_day):
        """How long a paper's content takes."""
        began = perf_counter()
        with self.store.reading() as connection:
            about = papers.plant_of(connection) if papers.KINDS[kind].of == papers.PLANT else revisions.newest(connection, self.system)
            assert papers.make(connection, kind, Reader(), about, Span.last_days(last_day)).html
        return 1000 * (perf_counter() - began)

    def first_pull(self, query):
        """(revisions, compressed bytes, seconds on the server) of all pages of the feed from the start."""
        after, more, count, size, began = 0, True, 0, 0, perf_counter()
        while more:
            reply = self.http.get("/sync/feed?after=%d&limit=200%s" % (after, query), headers={"Accept-Encoding": "gzip"})
            answer = json.loads(gzip.decompress(reply.data))
            count, size = count + len(answer["revisions"]), size + len(reply.data)
            after, more = answer["cursor"], answer["more"]
        return count, size, perf_counter() - began


@contextmanager
def servers(keep):
    """One for each of YEARS, in a folder that is kept where it is named."""
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(keep or temporary)
        folder.mkdir(parents=True, exist_ok=True)
        made = [Server(folder / ("%d.sqlite" % years), years) for years in YEARS]
        gc.freeze()  # as commands/serve.py does
        yield made
        for one in made:
            one.store.close()


def medians(made, measure):
    """Of several passes, in turn so that what else runs on the machine falls on both, after one to warm up."""
    passes = [[measure(one) for one in made] for _ in range(_PASSES + 1)]
    return [median(times) for times in zip(*passes[1:])]


def rows(made):
    """(name, median milliseconds of each) of every page, then of every paper's content."""
    for name, address in PAGES:
        yield name, medians(made, lambda one, address=address: one.milliseconds(address))
    for name, *about in GATHERED:
        yield name + ", its PDF apart", medians(made, lambda one, about=about: one.gathered_ms(*about))


def verdict(small, large):
    kept = large <= BAR_MS and (large / small <= BAR_RATIO or large - small < _NOTHING_MS)
    return "kept" if kept else "missed"


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--keep", metavar="FOLDER", help="keep the databases there and use those that are there")
    with servers(parser.parse_args().keep) as (small, large):
        print(machine())
        for years, one in zip(YEARS, (small, large)):
            print("%2d years: %d systems, %d revisions; put in by an import in %.0f s, verdicts worked in %.0f s" % (
                years, SYSTEMS, one.top, *one.seconds))
        print("\n%-48s %9s %9s %7s   bars: %d ms, ratio %.1f" % ("", "1 year", "10 years", "ratio", BAR_MS, BAR_RATIO))
        for name, times in rows((small, large)):
            print("%-48s %6.1f ms %6.1f ms %7.2f   %s" % (name, *times, times[1] / times[0], verdict(*times)), flush=True)
        print("\nFirst pull of a new phone, all pages, ten years on the server (no bar)")
        for name, query in (("newest %d rounds of each system" % PHONE_ROUNDS, "&rounds=%d" % PHONE_ROUNDS), ("everything", "")):
            count, size, seconds = large.first_pull(query)
            print("  %-46s %6d revisions %7.2f MB compressed %6.1f s" % (name, count, size / 1e6, seconds), flush=True)


if __name__ == "__main__":
    main()
