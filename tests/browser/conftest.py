"""One server a test, phones of its own, and no fault in any page that a test does not expect."""
import shutil

import pytest
from playwright.sync_api import sync_playwright

from .bench import Phone, Server, eventually


@pytest.fixture(scope="session")
def playwright():
    with sync_playwright() as running:
        yield running


@pytest.fixture(scope="session")
def loaded(playwright, tmp_path_factory):
    """A server with the demo plant in it and every system worked, stopped; beside its data lie the folders of two people's phones whose
    Today has worked all. Copied for each test, since making them takes longer than most tests."""
    folder = tmp_path_factory.mktemp("loaded")
    one = Server(folder / "data")
    one.start()
    desk = one.session("supervisor")
    eventually(lambda: "being worked" not in desk.get(one.address + "/plant").text, 120)
    for person in ("technician", "supervisor"):
        phone = Phone(playwright, folder / person, one.address)
        phone.sign_in(person)
        phone.open("/app/")
        phone.wait_all_worked()
        phone.close()
    one.stop()
    return one


@pytest.fixture
def server(loaded, tmp_path):
    one = Server(shutil.copytree(loaded.folder, tmp_path / "data"), loaded.port)
    one.start()
    yield one
    one.kill()


@pytest.fixture
def new_phone(playwright, loaded, server, tmp_path):
    """Makes phones: new ones, or one of a person who signed in before; at the end each is closed, and none may have thrown an error in a page."""
    phones = []

    def make(person=None, **options):
        folder = tmp_path / (person or "phone%d" % len(phones))
        if person:
            shutil.copytree(loaded.folder.with_name(person), folder)
        phones.append(Phone(playwright, folder, server.address, **options))
        return phones[-1]

    yield make
    for phone in phones:
        phone.close()
    assert [fault for phone in phones for fault in phone.faults] == []


@pytest.fixture
def phone(new_phone):
    """The technician's."""
    return new_phone("technician")
