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
def loaded(tmp_path_factory):
    """A folder with the demo plant in it and every system worked, to be copied: loading it takes as long as a short test."""
    one = Server(tmp_path_factory.mktemp("loaded"))
    one.start()
    desk = one.session("supervisor")
    eventually(lambda: "being worked" not in desk.get(one.address + "/plant").text, 120)
    one.stop()
    return one.folder


@pytest.fixture
def server(loaded, tmp_path):
    one = Server(shutil.copytree(loaded, tmp_path / "data"))
    one.start()
    yield one
    one.kill()


@pytest.fixture
def new_phone(playwright, server, tmp_path):
    """Makes phones; at the end each is closed, and none may have thrown an error in a page."""
    phones = []

    def make(**options):
        phones.append(Phone(playwright, tmp_path / ("phone%d" % len(phones)), server.address, **options))
        return phones[-1]

    yield make
    for phone in phones:
        phone.close()
    assert [fault for phone in phones for fault in phone.faults] == []


@pytest.fixture
def phone(new_phone):
    return new_phone()
