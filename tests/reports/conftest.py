"""The demo plant in a store, and its papers: made once, read by many tests."""
import pytest

from demo_site.load import load
from webapp import papers
from webapp.photos import PhotoFolder
from webapp.reports.base import Reader
from webapp.reports.span import Span
from webapp.store import Store, revisions

ADDRESS = "https://plant.example"
PLANT = "Brackwater Sawmill"
PERIOD = Span("2026-05-01", "2026-11-30")


@pytest.fixture(scope="session")
def plant(tmp_path_factory):
    """The demo plant's store."""
    folder = tmp_path_factory.mktemp("plant")
    store = Store("sqlite:///%s" % (folder / "plant.sqlite"))
    store.migrate()
    load(store, PhotoFolder(folder / "photos"))
    yield store
    store.close()


@pytest.fixture(scope="session")
def paper(plant):
    """paper(kind, system name, units): the PDF's bytes of the newest document of that kind."""
    made = {}

    def of(kind, name, units="metric"):
        if (kind, name, units) not in made:
            made[kind, name, units] = make(plant, kind, name, units)
        return made[kind, name, units]

    return of


def make(plant, kind, name, units="metric"):
    """The PDF's bytes of a kind; name: of a system, or PLANT for a paper of all of them."""
    of = papers.KINDS[kind].of
    with plant.reading() as connection:
        if of == papers.PLANT:
            about = papers.plant_of(connection)
        else:
            systems = {one["document"]: one["body"]["name"] for one in revisions.newest_of_kind(connection, "system")}
            about = [one for one in revisions.newest_of_kind(connection, of) if systems[one["body"].get("system", one["document"])] == name][-1]
        return papers.make(connection, kind, Reader(units, ADDRESS), about, PERIOD).pdf()
