"""People and phones at the desk: a form says what is missing, a button does what it says however old its page is."""
import pytest

from tests.web.conftest import PASSWORD, new_id
from webapp.store import people


@pytest.fixture
def press(hand):
    """press(address, to="out") presses a button on the page of people."""
    desk = hand("administrator")

    def button(address, **form):
        return desk.http.post(address, data=dict(form, csrf_token=desk.token()), follow_redirects=True)
    return button


def identity(store, name):
    with store.reading() as connection:
        return people.by_name(connection, name)["id"]


@pytest.mark.parametrize("changes, says", [
    ({"sites": " , "}, "name one, or tick all sites"), ({"name": " "}, "Enter a name"), ({"name": "a\0b"}, "cannot be kept"),
    ({"password": "short"}, "10 to 300 characters"), ({"password": "long enough\0"}, "cannot be kept"),
    ({"name": "technician"}, "in use already")])
def test_who_cannot_be_added_is_told_why(press, changes, says):
    form = {"name": "New", "password": "long enough", "role": "technician", "sites": "North works", **changes}
    reply = press("/people", **form)
    assert reply.status_code == 422 and says in reply.get_data(as_text=True)


def test_a_person_is_added_for_sites_or_for_all(press, hand):
    form = {"password": "long enough", "role": "technician"}
    assert press("/people", name=" Ann ", sites="North works, South works", **form).status_code == 200
    assert press("/people", name="Bob", all_sites="y", **form).status_code == 200
    assert hand().sign_in("Ann", "long enough").get_json()["person"]["sites"] == ["North works", "South works"]
    assert hand().sign_in("Bob", "long enough").status_code == 200


def test_two_who_keep_somebody_out_do_not_let_them_in(press, hand, store):
    address = "/people/%s/active" % identity(store, "technician")
    for _ in range(2):
        press(address, to="out")
        assert hand().sign_in("technician").status_code == 401
    press(address, to="in")
    assert hand().sign_in("technician").status_code == 200
    assert press(address).status_code == 400


def test_nobody_keeps_themselves_out(press, hand, store):
    assert "another administrator can" in press("/people/%s/active" % identity(store, "administrator"), to="out").get_data(as_text=True)
    assert hand().sign_in("administrator").status_code == 200


def test_a_phone_that_is_revoked_twice_stays_revoked_and_an_unknown_one_is_not_found(press, hand):
    phone = new_id()
    assert hand().sign_in("technician", PASSWORD, phone).status_code == 200
    for _ in range(2):
        press("/phones/%s/revoked" % phone, to="out")
        assert hand().sign_in("technician", PASSWORD, phone).status_code == 403
    press("/phones/%s/revoked" % phone, to="in")
    assert hand().sign_in("technician", PASSWORD, phone).status_code == 200
    assert press("/phones/%s/revoked" % new_id(), to="out").status_code == 404
