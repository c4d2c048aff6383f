"""A sample of lubricant: what it looks like must be one of a few words."""
from tests.web.conftest import a_revision, a_system
from tests.web.records import a_record


def test_what_it_looks_like_is_one_of_a_few_words(hand):
    system = a_system()
    results = hand("technician").send(a_revision(system), a_revision(a_record("sample", system)), a_revision(a_record("sample", system, look="green")))
    assert [one["state"] for one in results] == ["accepted", "accepted", "refused"]
    assert "milky" in results[2]["says"] + results[2]["findings"][0]["do"]
