"""The demo plant in a store, and its papers: made once, read by many tests."""
import pytest

from demo_site.load import load
from webapp import papers
from webapp.photos import PhotoFolder
from webapp.store import Store, revisions


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
    document_kind, maker = papers.KINDS[kind]
    with plant.reading() as connection:
        systems = {one["document"]: one["body"]["name"] for one in revisions.newest_of_kind(connection, "system")}
        found = [one for one in revisions.newest_of_kind(connection, document_kind)
                 if systems[one["body"].get("system", one["document"])] == name]
        return maker(connection, found[-1], units)
