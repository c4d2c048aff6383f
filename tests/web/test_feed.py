"""What the feed gives: in order, without gaps, and only what a person may see."""
import gzip
import json

import pytest

from tests.web.conftest import OTHER_SITE, SITE, a_revision, a_round, a_system
from webapp.sync import MOST_IN_FEED


@pytest.fixture
def technician(hand):
    return hand("technician")


def ids(answer):
    return [revision["id"] for revision in answer["revisions"]]


def numbers(answer):
    return [revision["number"] for revision in answer["revisions"]]


def test_an_empty_store_gives_an_empty_feed(technician):
    assert technician.feed() == {"revisions": [], "cursor": 0, "more": False}


def test_revisions_come_in_order_of_number_and_as_they_were_sent(technician):
    sent = [a_revision(a_system()) for _ in range(3)]
    technician.send(*sent)
    answer = technician.feed()
    assert (ids(answer), numbers(answer)) == ([one["id"] for one in sent], [1, 2, 3])
    assert [one["body"] for one in answer["revisions"]] == [one["body"] for one in sent]
    assert set(answer["revisions"][0]) == {
        "id", "number", "document", "kind", "site", "parent", "also", "made_at", "made_by", "phone", "received_at", "deleted",
        "reason", "state", "body", "fields"}


def test_the_feed_goes_out_compressed_to_who_takes_it(technician):
    technician.send(a_revision(a_system()))
    packed, plain = technician.get("/sync/feed?after=0", headers={"Accept-Encoding": "gzip"}), technician.get("/sync/feed?after=0")
    assert packed.headers["Content-Encoding"] == "gzip" and "Content-Encoding" not in plain.headers
    assert json.loads(gzip.decompress(packed.data)) == plain.get_json()
    assert packed.headers["Cache-Control"] == "no-store" and len(packed.data) < len(plain.data)


def test_pieces_joined_by_the_cursor_are_the_whole(technician):
    technician.send(*[a_revision(a_system()) for _ in range(5)])
    found, after, more = [], 0, True
    while more:
        answer = technician.feed(after, 2)
        found += numbers(answer)
        after, more = answer["cursor"], answer["more"]
    assert (found, after) == ([1, 2, 3, 4, 5], 5)


def test_nothing_comes_after_the_cursor_until_something_is_sent(technician):
    technician.send(a_revision(a_system()))
    cursor = technician.feed()["cursor"]
    assert technician.feed(cursor) == {"revisions": [], "cursor": cursor, "more": False}
    later = a_revision(a_system())
    technician.send(later)
    assert ids(technician.feed(cursor)) == [later["id"]]


def test_the_revision_that_joins_two_comes_with_the_feed(technician):
    first = a_revision(a_system())
    theirs, ours = a_revision(dict(first["body"], area="Yard"), first), a_revision(dict(first["body"], name="New"), first)
    technician.send(first, theirs, ours)
    joined = technician.feed()["revisions"][-1]
    assert (joined["parent"], joined["also"], joined["phone"]) == (theirs["id"], ours["id"], None)
    assert (joined["body"]["area"], joined["body"]["name"]) == ("Yard", "New")


def test_refused_revisions_are_not_in_the_feed(technician):
    technician.send(a_revision(a_system(OTHER_SITE)))
    assert technician.feed()["revisions"] == []


def test_only_documents_of_ones_own_sites_come(hand):
    here, there = a_system(SITE), a_system(OTHER_SITE)
    hand("administrator").send(a_revision(here), a_revision(there), a_revision(a_round(there)))
    assert numbers(hand("technician").feed()) == [1]
    assert numbers(hand("outsider").feed()) == [2, 3]
    assert numbers(hand("administrator").feed()) == [1, 2, 3]


def test_the_cursor_passes_what_somebody_may_not_see(hand):
    hand("administrator").send(a_revision(a_system(OTHER_SITE)))
    assert hand("technician").feed() == {"revisions": [], "cursor": 1, "more": False}


@pytest.fixture
def moved(hand):
    """A system that moved from the technician's site to the outsider's, with a round of before and one of since: {name: revision}."""
    system = a_system()
    made = {"first": a_revision(system), "before": a_revision(a_round(system))}
    made["move"] = a_revision(dict(system, site=OTHER_SITE, area="Yard"), made["first"])
    made["since"] = a_revision(a_round(system))
    made["elsewhere"] = a_revision(a_system(OTHER_SITE))
    hand("administrator").send(made["first"], made["before"], made["elsewhere"])
    made["cursor"] = hand("outsider").feed()["cursor"]
    assert {one["state"] for one in hand("administrator").send(made["move"], made["since"])} == {"accepted"}
    return made


def test_a_system_that_moved_comes_whole_to_its_new_site_by_a_feed_from_the_start(hand, moved):
    assert ids(hand("outsider").feed()) == [moved[name]["id"] for name in ("first", "before", "elsewhere", "move", "since")]
    assert [one["body"]["area"] for one in hand("outsider").feed(moved["cursor"])["revisions"][:1]] == ["Yard"]


def test_to_its_old_site_it_is_deleted_and_nothing_of_what_it_became_is_told(hand, moved):
    seen, = hand("technician").feed()["revisions"]
    assert (seen["id"], seen["number"], seen["deleted"], seen["body"], seen["site"]) == (moved["move"]["id"], 4, True, {}, "")
    assert seen["reason"] == "It moved to a site where you do not work."
    assert hand("technician").feed(4)["revisions"] == []


def test_a_system_that_came_back_comes_whole_again(hand, moved):
    back = a_revision(dict(moved["move"]["body"], site=SITE), moved["move"])
    hand("administrator").send(back)
    assert ids(hand("technician").feed()) == [one["id"] for one in (moved["first"], moved["before"], moved["move"], moved["since"], back)]
    assert [(one["id"], one["deleted"]) for one in hand("outsider").feed(5)["revisions"]] == [(back["id"], True)]


def test_a_system_changed_by_one_and_moved_by_another_stays_where_it_went(hand, moved):
    late = a_revision(dict(moved["first"]["body"], name="Another"), moved["first"])
    assert hand("administrator").send(late)[0]["state"] == "merged"
    head = hand("outsider").feed(5)["revisions"][-1]
    assert (head["body"]["name"], head["body"]["site"], head["site"]) == ("Another", OTHER_SITE, OTHER_SITE)
    assert hand("technician").feed(4)["revisions"] == []


def test_a_deletion_comes_to_those_who_had_the_document(technician):
    first = a_revision(a_system())
    technician.send(first, a_revision({}, first, deleted=True))
    assert [revision["deleted"] for revision in technician.feed()["revisions"]] == [False, True]


def test_a_cursor_of_the_future_is_given_back(technician):
    assert technician.feed(1000)["cursor"] == 1000


@pytest.mark.parametrize("query", ["after=x", "after=-1", "after=1.5", "after=²", "after=", "after=%s" % ("9" * 5000),
                                   "limit=x", "limit=%d" % (MOST_IN_FEED + 1), "rounds=x", "rounds=-1", "rounds=1000001"])
def test_what_is_no_whole_number_gets_400(technician, query):
    assert technician.get("/sync/feed?" + query).status_code == 400


def test_a_limit_of_nothing_gives_one_so_that_a_loop_ends(technician):
    technician.send(a_revision(a_system()), a_revision(a_system()))
    assert numbers(technician.feed(0, 0)) == [1]


def test_a_phone_gets_the_newest_rounds_and_whoever_asks_for_no_number_gets_all(technician):
    system = a_system()
    walked = [a_round(system, made_at="2026-11-%02dT09:05:00+01:00" % day, signed={"by": "technician", "at": "2026-11-%02dT10:00:00+01:00" % day})
              for day in (3, 1, 2)]
    technician.send(a_revision(system), *[a_revision(one, made_at=one["made_at"]) for one in walked])

    def documents(query):
        return [one["document"] for one in technician.get("/sync/feed?after=0" + query).get_json()["revisions"]]

    assert documents("&rounds=1") == [system["id"], walked[0]["id"]]
    assert documents("&rounds=2") == [system["id"], walked[0]["id"], walked[2]["id"]]
    assert documents("") == documents("&rounds=0") == [system["id"]] + [one["id"] for one in walked]
    assert technician.get("/sync/feed?after=0&limit=1&rounds=1").get_json()["more"] is True
