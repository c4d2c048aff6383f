"""Every write needs a token: JSON in X-CSRFToken, forms in csrf_token. Walks all routes, so that none is forgotten."""
import re

import pytest

from tests.web.conftest import SECRET, Hand, a_revision, a_system, new_id
from webapp.app import create_app
from webapp.store import people

WRITES = {"POST", "PUT", "PATCH", "DELETE"}


def writes(app):
    """(method, path) of every route that writes; names in the path are filled in."""
    return [(method, re.sub("<[^>]*>", new_id(), rule.rule)) for rule in app.url_map.iter_rules()
            for method in sorted(rule.methods & WRITES)]


def test_there_are_writes_to_look_at(app):
    assert ("POST", "/sync/send") in writes(app) and ("POST", "/people") in writes(app)


@pytest.mark.parametrize("sent", [{"json": {}}, {"data": {"name": "x"}}, {"json": {}, "headers": {"X-CSRFToken": "made up"}},
                                  {"data": {"csrf_token": "made up"}}], ids=["JSON", "form", "JSON, made up", "form, made up"])
def test_no_write_goes_through_without_a_token(app, hand, sent):
    administrator = hand("administrator")
    for method, path in writes(app):
        reply = administrator.http.open(path, method=method, **sent)
        assert (reply.status_code, "token is" in reply.get_data(as_text=True)) == (400, True), (method, path)


def test_a_token_of_another_browser_is_none(hand):
    technician = hand("technician")
    reply = technician.http.post("/sync/send", json={"revisions": []}, headers={"X-CSRFToken": hand("technician").token()})
    assert reply.status_code == 400


def test_nothing_is_stored_without_a_token(hand):
    technician = hand("technician")
    technician.http.post("/sync/send", json={"revisions": [a_revision(a_system())]})
    assert technician.feed()["revisions"] == []


def test_a_token_dies_after_an_hour_and_a_fresh_one_serves(app, hand):
    technician = hand("technician")
    old = technician.token()
    app.config["WTF_CSRF_TIME_LIMIT"] = -1  # as if the hour had passed
    reply = technician.http.post("/sync/send", json={"revisions": []}, headers={"X-CSRFToken": old})
    assert reply.status_code == 400 and reply.get_json()["error"]["what"] == "token"
    app.config["WTF_CSRF_TIME_LIMIT"] = 3600
    assert technician.send_raw([]).status_code == 200


def test_over_tls_the_page_it_came_from_must_be_ours(database):
    app = create_app(database, SECRET, secure=True)
    browser = Hand(app, base_url="https://plant.example")
    sign_in = {"name": "technician", "password": "invented password"}

    def reply_from(referrer):
        return browser.http.post("/api/session", base_url="https://plant.example", json=sign_in,
                                 headers={"X-CSRFToken": browser.token()} | referrer)

    assert reply_from({}).status_code == 400
    assert reply_from({"Referer": "https://elsewhere.example/"}).status_code == 400
    assert reply_from({"Referer": "https://plant.example/app/"}).status_code == 200
    app.extensions["store"].close()


def form_fields(html, action):
    """Hidden fields of the form with this action, as the browser would send them."""
    form = re.search('<form[^>]*action="%s(?:#[^"]*)?".*?</form>' % re.escape(action), html, re.S).group()
    return dict(re.findall('name="(csrf_token)"[^>]*value="([^"]*)"', form))


def test_the_form_at_the_door_signs_in(hand):
    browser = hand()
    fields = form_fields(browser.get("/").get_data(as_text=True), "/")
    reply = browser.http.post("/", data=fields | {"name": "technician", "password": "invented password"})
    assert (reply.status_code, reply.location) == (302, "/app/")


def test_every_form_on_the_page_of_people_carries_its_token(hand, store):
    administrator = hand("administrator")
    html = administrator.get("/people").get_data(as_text=True)
    with store.reading() as connection:
        technician = people.by_name(connection, "technician")["id"]
    for action in ("/people", "/people/%s/password" % technician, "/people/%s/active" % technician, "/sign-out"):
        assert administrator.http.post(action, data=form_fields(html, action) | {"to": "in"}).status_code != 400, action
