"""A real server, killed with SIGKILL at the worst moments: what it said it had, it has."""
import os
import signal
import socket
import subprocess
import sys
import time
from contextlib import closing
from threading import Thread

import pytest
import requests

from tests.web.conftest import PASSWORD, a_revision, a_system
from webapp.store import Store, revisions

SECRET = "tests only: 8f3a1c7be2d9460b"


def free_port():
    with closing(socket.socket()) as sock:
        sock.bind(("127.0.0.1", 0))
        return sock.getsockname()[1]


class Server:
    """`python -m webapp serve` on a port and a database that outlive it."""

    def __init__(self, database):
        self.database, self.port = database, free_port()
        self.address = "http://127.0.0.1:%d" % self.port
        self.process = None

    def start(self):
        environment = dict(os.environ, DATABASE_URL=self.database, SECRET_KEY=SECRET, PORT=str(self.port))
        self.process = subprocess.Popen([sys.executable, "-m", "webapp", "serve"], env=environment, stdout=subprocess.PIPE,
                                        text=True)
        assert self.address in self.process.stdout.readline()  # it says so when its port answers

    def kill(self):
        self.process.send_signal(signal.SIGKILL)
        self.process.wait(timeout=10)
        self.process.stdout.close()

    def restart(self):
        self.kill()
        self.start()


class Browser:
    """Somebody's browser; the session's cookie lives through the server's death."""

    def __init__(self, server):
        self.server, self.http = server, requests.Session()

    def write(self, method, path, body):
        token = self.http.get(self.server.address + "/api/token", timeout=10).json()["token"]
        return self.http.request(method, self.server.address + path, json=body, headers={"X-CSRFToken": token}, timeout=10)

    def sign_in(self):
        assert self.write("POST", "/api/session", {"name": "technician", "password": PASSWORD}).status_code == 200

    def send(self, *batch):
        reply = self.write("POST", "/sync/send", {"revisions": list(batch)})
        assert reply.status_code == 200, reply.text
        return reply.json()["results"]

    def feed(self):
        return self.http.get(self.server.address + "/sync/feed", timeout=10).json()["revisions"]


@pytest.fixture
def server(database):
    server = Server(database)
    server.start()
    yield server
    server.kill()


@pytest.fixture
def technician(server):
    browser = Browser(server)
    browser.sign_in()
    return browser


def a_batch(size):
    return [a_revision(a_system()) for _ in range(size)]


def suppressed(call, *arguments):
    """The answer, or None where the connection broke: the phone does not know then, and sends again."""
    try:
        return call(*arguments)
    except requests.RequestException:
        return None


def stored(store):
    with store.reading() as connection:
        return revisions.count(connection)


def test_what_was_answered_is_there_after_the_kill_and_sending_again_gives_the_same(server, technician):
    batch = a_batch(20)
    answered = technician.send(*batch)
    server.restart()
    assert [(held["id"], held["body"]) for held in technician.feed()] == [(sent["id"], sent["body"]) for sent in batch]
    assert technician.send(*batch) == answered
    assert len(technician.feed()) == 20


def test_killed_right_after_each_answer_nothing_is_lost(server, technician):
    first = a_revision(a_system())
    answered, parent = technician.send(first), first
    for number in range(2):
        server.restart()
        parent = a_revision(dict(parent["body"], name="Name %d" % number), parent)
        answered += technician.send(parent)
    server.restart()
    assert [held["number"] for held in technician.feed()] == [result["number"] for result in answered] == [1, 2, 3]


@pytest.mark.parametrize("after_s", [0.0, 0.05])
def test_killed_between_request_and_answer_the_batch_is_there_whole_or_not_at_all(server, technician, after_s):
    batch, outcome = a_batch(60), []
    sending = Thread(target=lambda: outcome.append(suppressed(technician.send, *batch)))
    sending.start()
    time.sleep(after_s)  # the moment of the kill, not a wait for something
    server.restart()
    sending.join()
    held = technician.feed()
    assert len(held) in ((60,) if outcome[0] else (0, 60))
    results = technician.send(*batch)
    assert [(result["state"], result["number"]) for result in results] == [("accepted", number) for number in range(1, 61)]
    assert [one["body"] for one in technician.feed()] == [sent["body"] for sent in batch]


def test_killed_when_it_has_stored_and_nobody_has_read_the_answer(server, technician, store):
    batch = a_batch(5)
    sending = Thread(target=lambda: suppressed(technician.send, *batch))
    sending.start()
    while not stored(store):
        assert sending.is_alive() or stored(store)
    server.restart()
    sending.join()
    assert [result["number"] for result in technician.send(*batch)] == [1, 2, 3, 4, 5]
    assert stored(store) == 5


def test_killed_while_a_request_comes_in_nothing_is_half_stored(server, technician):
    """The request names more bytes than came before the kill."""
    with closing(socket.create_connection(("127.0.0.1", server.port), timeout=10)) as sock:
        sock.sendall(b"POST /sync/send HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 5000\r\n\r\n{\"rev")
        server.restart()
    assert technician.feed() == []


def test_the_session_lives_through_a_restart(server, technician):
    server.restart()
    assert technician.http.get(server.address + "/api/session", timeout=10).json()["person"]["name"] == "technician"


def test_after_the_session_ended_sending_gets_401_and_goes_on_after_signing_in(server, technician):
    first, later = a_revision(a_system()), a_revision(a_system())
    technician.send(first)
    technician.http.cookies.clear()  # the session has run out
    reply = technician.write("POST", "/sync/send", {"revisions": [first, later]})
    assert reply.status_code == 401 and "results" not in reply.json()
    technician.sign_in()
    assert [held["id"] for held in technician.feed()] == [first["id"]]
    assert [result["number"] for result in technician.send(first, later)] == [1, 2]


def test_the_database_is_sound_after_a_kill(server, technician, database):
    technician.send(*a_batch(3))
    server.process.send_signal(signal.SIGKILL)
    server.process.wait(timeout=10)
    store = Store(database)
    with store.reading() as connection:
        assert connection.exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
        assert revisions.count(connection) == 3
    store.close()
