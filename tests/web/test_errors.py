"""Every failing JSON reply has one shape and the fitting status."""
import pytest

from tests.web.conftest import a_revision, a_system, new_id
from webapp.store import StoreError, people

JSON = "application/json"


def says_it_in_the_one_shape(reply, status):
    assert reply.status_code == status
    assert reply.mimetype == JSON
    body = reply.get_json()
    assert set(body) == {"error"} and set(body["error"]) == {"what", "says", "do"}
    assert all(isinstance(text, str) and text for text in body["error"].values())


def without_token(browser):
    return browser.http.post("/api/session", json={"name": "x", "password": "y"})


CALLS = {
    "400 no token": (400, without_token),
    "400 no object": (400, lambda browser: browser.write("POST", "/sync/send", [])),
    "400 broken JSON": (400, lambda browser: browser.post_text("/sync/send", "{")),
    "400 no number": (400, lambda browser: browser.get("/sync/feed?after=x")),
    "401 wrong password": (401, lambda browser: browser.sign_in("technician", "wrong password")),
    "404 no such call": (404, lambda browser: browser.get("/sync/nothing")),
    "404 no such data": (404, lambda browser: browser.get("/app-data/nothing.json")),
    "404 no demo": (404, lambda browser: browser.get("/api/demo")),
    "405 wrong method": (405, lambda browser: browser.get("/sync/send")),
    "413 too many": (413, lambda browser: browser.send_raw([{}] * 201)),
    "413 too large": (413, lambda browser: browser.post_text("/sync/send", "x" * (5 * 1024 * 1024 + 1))),
    "413 too large to sign in": (413, lambda browser: browser.post_text("/api/session", "x" * (7 * 1024 * 1024))),
    "415 no JSON": (415, lambda browser: browser.post_text("/sync/send", "a=b", "application/x-www-form-urlencoded")),
}


@pytest.mark.parametrize("status, call", CALLS.values(), ids=CALLS)
def test_a_failing_call_answers_in_one_shape(hand, status, call):
    says_it_in_the_one_shape(call(hand("technician")), status)


@pytest.mark.parametrize("method, path", [("GET", "/api/session"), ("GET", "/sync/feed"), ("POST", "/sync/send")])
def test_without_a_session_a_call_answers_401_in_the_same_shape(hand, method, path):
    says_it_in_the_one_shape(hand().write(method, path, {"revisions": []}), 401)


def test_a_revoked_phone_is_told_in_the_same_shape(hand, store):
    phone = new_id()
    hand().sign_in("technician", phone=phone)
    with store.writing() as connection:
        people.set_revoked(connection, phone, True)
    says_it_in_the_one_shape(hand().sign_in("technician", phone=phone), 403)


def test_a_wrong_method_is_told_which_are_right(hand):
    assert "POST" in hand().get("/sync/send").headers["Allow"]


def test_a_database_that_fails_is_our_fault_in_the_same_shape(hand, app, store, monkeypatch):
    def fails(*_):
        raise StoreError("The database did not do it: disk I/O error")

    technician = hand("technician")
    monkeypatch.setattr("webapp.store.revisions.add", fails)
    reply = technician.send_raw([a_revision(a_system())])
    says_it_in_the_one_shape(reply, 500)
    assert "I/O" not in reply.get_data(as_text=True)


def test_a_bug_is_our_fault_in_the_same_shape_and_shows_nothing_of_itself(hand, monkeypatch):
    def fails(*_):
        raise KeyError("inner name")

    technician = hand("technician")
    monkeypatch.setattr("webapp.store.revisions.feed", fails)
    reply = technician.get("/sync/feed")
    says_it_in_the_one_shape(reply, 500)
    assert "inner name" not in reply.get_data(as_text=True)


def test_health_fails_when_the_database_does(hand, store):
    assert hand().get("/health").get_json() == {"ok": True}
    with store.writing() as connection:
        connection.exec_driver_sql("ALTER TABLE counter RENAME TO elsewhere")
    says_it_in_the_one_shape(hand().get("/health"), 500)


@pytest.mark.parametrize("path, status", [("/nothing", 404), ("/people", 403)])
def test_people_get_a_page_with_words(hand, path, status):
    reply = hand("technician").get(path)
    assert (reply.status_code, reply.mimetype) == (status, "text/html")
    assert "Back to the start" in reply.get_data(as_text=True)


def test_people_get_a_page_with_words_when_the_database_fails(hand, monkeypatch):
    def fails(*_, **__):
        raise StoreError("The database did not do it: disk I/O error")

    supervisor = hand("supervisor")
    monkeypatch.setattr("webapp.store.people.get", fails)
    reply = supervisor.get("/plant")
    text = reply.get_data(as_text=True)
    assert (reply.status_code, reply.mimetype) == (500, "text/html") and "tell your administrator" in text and "I/O" not in text
