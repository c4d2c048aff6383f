"""A store on each database that is supported. PostgreSQL is Debian's, started once a session in a folder of its own."""
import os
import shutil
import subprocess
import tempfile
import uuid
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from argon2.profiles import CHEAPEST

from webapp.store import Store, people

PROGRAMS = max(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda path: int(path.parent.name), default=None)
# it refuses to run as root, and then needs folders that its own user may enter
USER = {"user": "postgres", "group": "postgres", "extra_groups": []} if os.geteuid() == 0 else {}


def run(*command):
    subprocess.run([str(part) for part in command], check=True, stdout=subprocess.DEVNULL, cwd="/", **USER)


@pytest.fixture(scope="session")
def postgresql():
    """Address of a PostgreSQL that lives as long as the session, reached by a socket in its own folder."""
    assert PROGRAMS, "PostgreSQL is not installed: run ./set-up test"
    folder = Path(tempfile.mkdtemp(prefix="pg-", dir="/tmp"))
    if USER:
        shutil.chown(folder, USER["user"], USER["group"])
    data = folder / "data"
    run(PROGRAMS / "initdb", "--pgdata", data, "--username=plant", "--auth=trust", "--encoding=UTF8", "--no-sync")
    run(PROGRAMS / "pg_ctl", "--pgdata", data, "--log", folder / "log", "--wait", "start",
        "--options=-c listen_addresses='' -c unix_socket_directories=%s -c fsync=off" % folder)
    yield "postgresql://plant@/%s?host=" + str(folder)
    run(PROGRAMS / "pg_ctl", "--pgdata", data, "--mode=immediate", "stop")
    shutil.rmtree(folder)


@pytest.fixture
def new_url(request, tmp_path):
    """new_url("sqlite") is the address of one more empty database of this test's own."""
    made = []

    def make(kind):
        name = "t" + uuid.uuid4().hex
        if kind == "sqlite":
            return "sqlite:///%s" % (tmp_path / (name + ".sqlite"))
        server = request.getfixturevalue("postgresql")
        made.append((server.partition("host=")[2], name))
        run(PROGRAMS / "createdb", "--host", made[-1][0], "--username=plant", name)
        return server % name

    yield make
    for folder, name in made:
        run(PROGRAMS / "dropdb", "--host", folder, "--username=plant", "--force", name)


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request, new_url):
    """Address of an empty database of this test's own."""
    return new_url(request.param)


@pytest.fixture
def store(url, monkeypatch):
    """A migrated store."""
    monkeypatch.setattr(people, "_hasher", PasswordHasher.from_parameters(CHEAPEST))
    store = Store(url)
    store.migrate()
    yield store
    store.close()


def new_id():
    return str(uuid.uuid4())


def a_revision(document=None, **changes):
    """A revision as the store takes it."""
    document = document or new_id()
    made = {"id": new_id(), "document": document, "kind": "system", "site": "North works", "parent": None, "also": None,
            "made_at": "2026-11-23T09:05:00+01:00", "made_by": "somebody", "phone": None, "deleted": False, "reason": None,
            "body": {"format": "system/1", "name": "Line"}}
    return dict(made, **changes)
