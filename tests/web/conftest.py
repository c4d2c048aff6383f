"""An application on a store of its own, a small cast, and hands that use it. People, sites and passwords are invented."""
import shutil
import uuid
from unittest.mock import patch

import pytest
from argon2 import PasswordHasher
from argon2.profiles import CHEAPEST

from demo_site import plant
from webapp.app import create_app
from webapp.store import Store, people

SITE, OTHER_SITE = "North works", "South works"
PASSWORD = "invented password"
SECRET = "tests only: 8f3a1c7be2"
# name -> role, sites, all sites
CAST = {"technician": (people.TECHNICIAN, [SITE], False), "supervisor": (people.SUPERVISOR, [SITE], False),
        "administrator": (people.ADMINISTRATOR, [], True), "outsider": (people.SUPERVISOR, [OTHER_SITE], False)}
MADE_AT = "2026-11-23T09:05:00+01:00"


class Hand:
    """One browser. `token` is fetched fresh before every write, as the phone does."""

    def __init__(self, app, **options):
        self.http = app.test_client()
        self.options = options

    def token(self):
        return self.http.get("/api/token", **self.options).get_json()["token"]

    def get(self, path, **options):
        return self.http.get(path, **self.options, **options)

    def write(self, method, path, body):
        return self.http.open(path, method=method, json=body, headers={"X-CSRFToken": self.token()}, **self.options)

    def post_text(self, path, text, content_type="application/json"):
        return self.http.post(path, data=text, content_type=content_type, headers={"X-CSRFToken": self.token()}, **self.options)

    def sign_in(self, name, password=PASSWORD, phone=None):
        return self.write("POST", "/api/session", {"name": name, "password": password, "phone": phone})

    def send_raw(self, revisions):
        return self.write("POST", "/sync/send", {"revisions": revisions})

    def send(self, *revisions):
        """The results of a batch that the server must have taken as a whole."""
        reply = self.send_raw(list(revisions))
        assert reply.status_code == 200, reply.get_data(as_text=True)
        return reply.get_json()["results"]

    def feed(self, after=0, limit=200):
        return self.get("/sync/feed?after=%d&limit=%d" % (after, limit)).get_json()


@pytest.fixture(scope="session")
def filled_database(tmp_path_factory):
    """A SQLite file with the cast in it, their passwords hashed cheaply; tests copy it."""
    file = tmp_path_factory.mktemp("cast") / "plant.sqlite"
    store = Store("sqlite:///%s" % file)
    store.migrate()
    cheap = patch.object(people, "_hasher", PasswordHasher.from_parameters(CHEAPEST))
    with cheap, store.writing() as connection:
        for name, (role, sites, all_sites) in CAST.items():
            people.add(connection, name, PASSWORD, role, sites, all_sites)
    store.close()
    return file


@pytest.fixture
def database(filled_database, tmp_path):
    """The address of a database of this test's own, with the cast in it."""
    return "sqlite:///%s" % shutil.copy(filled_database, tmp_path / "plant.sqlite")


@pytest.fixture
def app(database):
    app = create_app(database, SECRET)
    yield app
    app.extensions["store"].close()


@pytest.fixture
def store(app):
    return app.extensions["store"]


@pytest.fixture
def hand(app):
    """hand("technician") is a browser with that person signed in; hand() one with nobody."""
    def make(name=None):
        made = Hand(app)
        if name:
            assert made.sign_in(name).status_code == 200
        return made
    return make


def new_id():
    return str(uuid.uuid4())


def a_system(site=SITE, **changes):
    """A system document that passes the check."""
    return dict(plant.head_rig(), id=new_id(), site=site, **changes)


def a_revision(body, parent=None, **changes):
    """A revision as a phone sends it; `parent` is the revision it was made from."""
    kind = body.get("format", "system/1").partition("/")[0]
    made = {"id": new_id(), "document": parent["document"] if parent else body["id"], "kind": kind,
            "parent": parent["id"] if parent else None, "also": None, "made_at": MADE_AT, "phone": None, "body": body,
            "deleted": False, "reason": None}
    return dict(made, **changes)


def a_round(system, **changes):
    """A round on a system, with one answered item."""
    return dict({"format": "round/1", "id": new_id(), "system": system["id"],
                 "items": [{"id": "pump", "ask": "Is the pump dry outside?", "answer": "ok"}]}, **changes)
