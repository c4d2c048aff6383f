"""Guessing passwords is slowed down: by name and address, and never for somebody who knows the password."""
import pytest

from tests.web.conftest import PASSWORD

TRIES = 10


@pytest.fixture
def guessed(hand):
    """A browser that has used up its tries for the technician's password."""
    browser = hand()
    assert {browser.sign_in("technician", "guess %d" % number).status_code for number in range(TRIES)} == {401}
    return browser


def test_after_ten_wrong_tries_the_next_gets_429(guessed):
    reply = guessed.sign_in("technician", "guess again")
    assert reply.status_code == 429
    assert reply.get_json()["error"]["do"]


def test_even_the_right_password_must_wait_then(guessed):
    assert guessed.sign_in("technician", PASSWORD).status_code == 429


def test_another_browser_at_the_same_address_does_not_help(guessed, hand):
    assert hand().sign_in("technician", PASSWORD).status_code == 429


def test_others_sign_in_as_usual(guessed, hand):
    assert hand().sign_in("supervisor", PASSWORD).status_code == 200


def test_right_passwords_are_not_counted(hand):
    assert {hand().sign_in("technician").status_code for _ in range(TRIES + 2)} == {200}


def test_the_form_at_the_door_is_slowed_as_well(hand):
    browser = hand()

    def enter(password):
        form = {"name": "technician", "password": password, "csrf_token": browser.token()}
        return browser.http.post("/", data=form).status_code

    assert {enter("guess %d" % number) for number in range(TRIES)} == {401}
    assert enter(PASSWORD) == 429


def test_the_same_name_in_other_letters_counts_as_the_same_tries(hand):
    """A person is found by the exact name only, so other letters never reach the technician's password."""
    browser = hand()
    assert {browser.sign_in(name, PASSWORD).status_code for name in ("TECHNICIAN", " technician", "technician ")} == {401}
