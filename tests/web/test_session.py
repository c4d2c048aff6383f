"""Signing in and out over the wire, and what ends a session."""
from datetime import timedelta

import pytest

from tests.web.conftest import PASSWORD, SITE, Hand, a_revision, a_system, new_id
from webapp.store import people


def test_it_tells_who_is_signed_in_and_gives_a_token(hand):
    reply = hand().sign_in("technician")
    assert reply.status_code == 200
    person = reply.get_json()["person"]
    assert (person["name"], person["role"], person["sites"]) == ("technician", "technician", [SITE])
    assert set(person) == {"id", "name", "role", "sites"}


def test_the_token_of_the_answer_serves_the_next_write(hand):
    browser = hand()
    token = browser.sign_in("technician").get_json()["token"]
    reply = browser.http.post("/sync/send", json={"revisions": []}, headers={"X-CSRFToken": token})
    assert reply.status_code == 200


def test_somebody_who_works_on_all_sites_gets_their_names(hand):
    administrator = hand("administrator")
    administrator.send(a_revision(a_system("Mill B")), a_revision(a_system("Mill A")))
    assert administrator.get("/api/session").get_json()["person"]["sites"] == ["Mill A", "Mill B"]


def test_the_session_is_found_again(hand):
    technician = hand("technician")
    assert technician.get("/api/session").get_json()["person"]["name"] == "technician"


def test_the_session_lasts_while_the_phone_asks_for_it(hand):
    assert "Expires=" in hand("technician").get("/api/session").headers["Set-Cookie"]


def test_nobody_gets_401(hand):
    assert hand().get("/api/session").status_code == 401


@pytest.mark.parametrize("name, password", [("technician", "wrong password"), ("nobody", "invented password"), ("", "")])
def test_a_wrong_name_or_password_gets_401_and_the_same_words(hand, name, password):
    reply = hand().sign_in(name, password)
    assert reply.status_code == 401
    assert reply.get_json()["error"]["says"] == "Name or password is wrong."


@pytest.mark.parametrize("body", [{}, {"name": "technician"}, {"name": 3, "password": []},
                                  {"name": "technician", "password": "invented password", "phone": "not a uuid"}])
def test_what_is_no_sign_in_gets_400(hand, body):
    assert hand().write("POST", "/api/session", body).status_code == 400


@pytest.mark.parametrize("name", ["a\0b", "\ud800", "x" * 5000])
def test_a_name_nobody_can_have_is_only_a_wrong_name(hand, name):
    assert hand().sign_in(name).status_code == 401


def test_a_password_that_is_no_text_of_unicode_is_only_wrong(hand):
    assert hand().sign_in("technician", "\ud800").status_code == 401


def test_signing_out_ends_the_session(hand):
    technician = hand("technician")
    assert technician.write("DELETE", "/api/session", {}).get_json() == {"ended": True}
    assert technician.get("/api/session").status_code == 401


def test_a_new_password_ends_all_sessions(hand, store):
    technician = hand("technician")
    with store.writing() as connection:
        people.set_password(connection, people.by_name(connection, "technician")["id"], "another password")
    assert technician.get("/api/session").status_code == 401
    assert hand().sign_in("technician", "another password").status_code == 200


def test_somebody_kept_out_loses_the_session_and_cannot_come_back(hand, store):
    technician = hand("technician")
    with store.writing() as connection:
        people.set_active(connection, people.by_name(connection, "technician")["id"], False)
    assert technician.get("/api/session").status_code == 401
    assert hand().sign_in("technician").status_code == 401


def test_a_revoked_phone_loses_its_session_and_cannot_sign_in(app, store):
    phone, browser = new_id(), Hand(app)
    browser.sign_in("technician", phone=phone)
    with store.writing() as connection:
        people.set_revoked(connection, phone, True)
    assert browser.get("/api/session").status_code == 401
    assert Hand(app).sign_in("technician", phone=phone).status_code == 403
    assert Hand(app).sign_in("technician", phone=new_id()).status_code == 200


def test_a_session_made_with_another_secret_is_none(hand, app):
    technician = hand("technician")
    app.secret_key = "another secret: 55a0c1"
    assert technician.get("/api/session").status_code == 401


def test_when_the_session_has_run_out_nothing_is_half_stored_and_sending_goes_on_after_signing_in(app, hand):
    technician, old = hand("technician"), a_revision(a_system())
    token = technician.token()
    app.config["PERMANENT_SESSION_LIFETIME"] = timedelta(seconds=-1)  # as if fourteen days had passed
    assert technician.http.post("/sync/send", json={"revisions": [old]}, headers={"X-CSRFToken": token}).status_code == 400
    assert technician.get("/api/session").status_code == 401
    app.config["PERMANENT_SESSION_LIFETIME"] = timedelta(days=14)
    technician.sign_in("technician")
    assert technician.feed()["revisions"] == []
    assert technician.send(old)[0]["number"] == 1


def test_signing_in_and_sending_are_noted(hand, store):
    phone, browser = new_id(), hand()
    browser.sign_in("technician", phone=phone)
    browser.send(a_revision(a_system(), phone=phone))
    with store.reading() as connection:
        assert people.audit(connection)[0]["what"] == "signed in"
        assert [(row["id"], row["sent"], row["last_kind"]) for row in people.phones(connection)] == [(phone, 1, "system")]


def enter(browser):
    return browser.http.post("/", data={"name": "supervisor", "password": PASSWORD, "csrf_token": browser.token()})


@pytest.mark.parametrize("asked", ["/plant/defects?state=closed&owner=Mara+%26+S%C3%B8n", "/plant/rounds/%s" % new_id(), "/papers/defects.pdf"])
def test_who_signs_in_at_the_door_reaches_the_page_that_was_asked_for(hand, asked):
    browser = hand()
    assert browser.get(asked).location == "/"
    assert browser.http.post("/", data={"name": "supervisor", "password": "wrong", "csrf_token": browser.token()}).status_code == 401
    assert enter(browser).location == asked
    browser.http.post("/sign-out", data={"csrf_token": browser.token()})
    assert enter(browser).location == "/plant"


@pytest.mark.parametrize("asked", [
    "/?asked=https://elsewhere.example/", "/?next=//elsewhere.example", "//elsewhere.example/plant", "/plant//elsewhere.example",
    "/\\elsewhere.example", "/%2F%2Felsewhere.example", "https://elsewhere.example/plant"])
def test_the_door_leads_nowhere_else(hand, asked):
    browser = hand()
    browser.get(asked)
    assert enter(browser).location in ("/plant", "/plant/elsewhere.example")


def test_a_form_whose_session_ended_is_not_sent_again_by_signing_in(hand):
    browser = hand()
    assert browser.http.post("/plant/labels", data={"csrf_token": browser.token()}).status_code == 302
    assert enter(browser).location == "/plant"
