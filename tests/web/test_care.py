"""What is due, refills, points not confirmed fed at the desk, and the calendar that a program opens without a session."""
import re
from datetime import date, datetime, timedelta, timezone

import pytest
import vobject

from demo_site import plant
from tests.engine.cared import answered
from tests.engine.test_season import slow_in_the_cold
from tests.web.conftest import OTHER_SITE, SITE, a_revision, a_system, new_id
from webapp.clock import Clock
from webapp.store import people

TODAY = datetime.now(timezone.utc).date()
ITEMS = [{"id": "own:1", "ask": "Is the guard in place?", "every": "round", "own": True}]


def days_ago(days):
    return (datetime.now(timezone.utc) - timedelta(days=days)).isoformat(timespec="seconds")


def a_round(system, at, **changes):
    """A signed round that found all well, but for the changes."""
    return {"format": "round/1", "id": new_id(), "system": system["id"], "made_at": at, "signed": {"by": "technician", "at": at},
            "items": list(answered(system, at, **changes).values())}


def record(kind, system, at, **fields):
    return dict({"format": kind + "/1", "id": new_id(), "system": system["id"], "made_at": at}, **fields)


def sent(hand, *bodies, name="administrator"):
    results = hand(name).send(*[a_revision(body) for body in bodies])
    assert {one["state"] for one in results} == {"accepted"}, results


def text(hand, path, name="supervisor"):
    reply = hand(name).get(path)
    assert reply.status_code == 200
    return re.sub(r"\s+", " ", reply.get_data(as_text=True))


@pytest.fixture
def walked(hand):
    """A system with a round nine days ago, its reservoir nearly at low level then, and one walked today."""
    late = a_system(name="Edger", area="Hall")
    fine = a_system(name="Planer", area="Mill")
    sent(hand, late, fine, a_round(late, days_ago(9), reservoir_level__pump={"value": 0.62}), a_round(fine, days_ago(0)),
         record("checklist", fine, days_ago(20), round_every_d=30, walked_by="Vera", items=ITEMS))
    return late, fine


def test_what_is_due_is_sorted_into_overdue_today_and_coming(hand, walked):
    page = text(hand, "/plant/due")
    overdue, coming = page.partition("<h2>Overdue")[2].partition("<h2>Coming")[::2]
    assert "Edger" in overdue and "Round" in overdue and "2 days" in overdue
    assert "Edger" in page.partition("A route for today")[2].partition("</ol>")[0] and "Planer" not in coming
    assert "Take along" in page and "3.42 l" in page and "GP00C-40" in page


def test_it_is_filtered_by_person_and_area(hand, walked):
    sent(hand, record("defect", walked[1], days_ago(3), where="Roll 2", what="Hose chafed", severity="failing", owner="Vera"))
    assert "Hose chafed" in text(hand, "/plant/due") and "Hose chafed" in text(hand, "/plant/due?person=Vera")
    assert "Hose chafed" not in text(hand, "/plant/due?area=Hall") and "Edger" in text(hand, "/plant/due?area=Hall")
    sent(hand, record("defect", walked[0], days_ago(3), where="Roll 2", what="Clamp loose", severity="failing", owner="Otto"))
    assert "Clamp loose" not in text(hand, "/plant/due?person=Vera")


def test_nothing_due_and_nothing_there_are_told_apart(hand):
    assert "Register the first one" in text(hand, "/plant/due") and "Register the first one" in text(hand, "/plant/refills")
    system = a_system()
    run = record("test-run", system, days_ago(0), runs=[{"id": "1", "started_at": days_ago(0), "build_s": 80.0, "counts": True}],
                 signed={"by": "technician", "at": days_ago(0)})
    sent(hand, system, run, a_round(system, days_ago(0)), record("checklist", system, days_ago(0), round_every_d=60, items=ITEMS))
    assert "Nothing is due in the next 14 days." in text(hand, "/plant/due")


def test_refills_say_when_how_much_and_of_what(hand, walked):
    page = text(hand, "/plant/refills")
    assert page.index("Edger") < page.index("Planer") and "3.42 l" in page
    assert "To carry" in page and "by its doses" in page
    assert hand("supervisor").get("/plant/refills?day=soon").status_code == 400
    assert "To carry" not in text(hand, "/plant/refills?area=Mill")
    assert "To carry" in text(hand, "/plant/refills?area=Mill&day=%s" % (TODAY + timedelta(days=900)))


def test_measured_use_is_shown_beside_the_doses(hand, walked):
    filled = ((60, 1), (30, 0.5), (1, 0.5))
    sent(hand, *[record("refill", walked[1], days_ago(days), refill_l=litres, level_after_l=4) for days, litres in filled])
    assert "by its refills" in text(hand, "/plant/refills")


def test_a_system_whose_level_nobody_read_is_named(hand):
    sent(hand, a_system(name="New line"))
    page = text(hand, "/plant/refills")
    assert "New line" in page.partition("No level known")[2]


def test_the_first_number_at_the_plant_is_of_points_not_confirmed_fed(hand, walked):
    found = text(hand, "/plant")
    assert re.search(r"<strong>0 of 12</strong> <a[^>]*>points not confirmed fed", found)
    sent(hand, record("defect", walked[0], days_ago(2), where="Saw 3", what="Hose torn off", severity="starving", points=["P2", "P3"]))
    found = text(hand, "/plant")
    assert re.search(r"<strong>2 of 12</strong> <a[^>]*>points not confirmed fed</a>, the longest for 2 days", found)
    listed = text(hand, "/plant/fed")
    assert listed.count("Open defect: Hose torn off") == 1 and "Head rig, right guide; Edger infeed bearing" in listed
    assert "Every point here is confirmed fed." in text(hand, "/plant/fed?area=Mill")


def test_a_system_that_cannot_vent_is_not_confirmed(hand):
    chain = dict(plant.sorter_chain(), id=new_id(), site=SITE)
    sent(hand, chain, a_round(chain, days_ago(0)))
    assert "will not vent" in text(hand, "/plant/fed") and "7 of 7" in text(hand, "/plant/fed")


def test_nothing_of_another_site_is_seen(hand, walked):
    sent(hand, a_system(site=OTHER_SITE, name="Southern press"))
    for path in ("/plant/due", "/plant/refills", "/plant/fed", "/plant"):
        assert "Southern press" not in text(hand, path) and ">Edger</a>" not in text(hand, path, "outsider")


@pytest.mark.parametrize("zone", ["Pacific/Pago_Pago", "Pacific/Kiritimati"])  # never the same day: 25 hours apart
def test_every_list_counts_by_the_plant_s_own_day(app, hand, walked, zone):
    app.extensions["clock"] = clock = Clock(zone)
    due = Clock("Pacific/Pago_Pago").today()
    sent(hand, record("defect", walked[1], days_ago(3), where="Roll 2", what="Hose chafed", severity="failing", due=due, owner="Vera"))
    late = zone == "Pacific/Kiritimati"
    assert ("Hose chafed" in text(hand, "/plant/due").partition("<h2>Overdue")[2].partition("<h2>Today")[0]) is late
    assert ("1 overdue" in text(hand, "/plant")) is late
    assert 'value="%s"' % clock.today() in text(hand, "/plant/refills")
    last = re.search(r'name="until" value="([^"]+)"', text(hand, "/plant/papers")).group(1)
    event, = (one for one in events(hand, make(hand, "supervisor")).values() if "Hose chafed" in one.summary.value)
    assert last == clock.today() and str(event.dtend.value) == (date.fromisoformat(clock.today()) + timedelta(days=1)).isoformat()


# ---- the calendar

def make(hand, name="technician"):
    """The address that a person makes for themselves, as a path."""
    browser = hand(name)
    assert browser.http.post("/calendar", data={"csrf_token": browser.token()}).status_code == 302
    return re.search(r'value="http://localhost(/calendar/[\w-]+\.ics)"', browser.get("/calendar").get_data(as_text=True)).group(1)


def events(hand, path):
    reply = hand().get(path)
    assert (reply.status_code, reply.content_type) == (200, "text/calendar; charset=utf-8")
    return {event.uid.value: event for event in vobject.readOne(reply.get_data(as_text=True)).contents.get("vevent", [])}


def test_a_calendar_program_opens_the_address_without_a_session(hand, walked):
    late, fine = walked
    found = events(hand, make(hand))
    event = found["round-%s@linewright" % late["id"]]
    due = TODAY - timedelta(days=2)
    assert (event.dtstart.value, event.dtend.value) == (due, TODAY + timedelta(days=1)) and isinstance(event.dtstart.value, date)
    assert event.summary.value == "Edger: Round" and event.url.value.endswith("/app/systems/" + late["id"])
    assert event.dtstamp.value.tzinfo and event.last_modified.value == event.dtstamp.value


def test_a_technician_gets_what_names_them_or_nobody_and_a_supervisor_all(hand, walked):
    round_of_vera = "round-%s@linewright" % walked[1]["id"]
    assert round_of_vera not in events(hand, make(hand)) and round_of_vera in events(hand, make(hand, "supervisor"))
    assert events(hand, make(hand, "outsider")) == {}


def test_the_same_records_give_the_same_bytes_and_the_identity_stays(hand, walked):
    path = make(hand)
    first = hand().get(path).get_data()
    assert hand().get(path).get_data() == first
    identity = "round-%s@linewright" % walked[0]["id"]
    before = events(hand, path)[identity]
    sent(hand, a_round(walked[0], days_ago(0)))
    after = events(hand, path)[identity]
    assert after.dtstart.value == TODAY + timedelta(days=7) > before.dtstart.value
    assert after.last_modified.value >= before.last_modified.value


def test_a_new_address_ends_the_old_one_and_revoking_ends_it_for_good(hand):
    old = make(hand)
    new = make(hand)
    assert old != new and hand().get(old).status_code == 404 and hand().get(new).status_code == 200
    browser = hand("technician")
    browser.http.post("/calendar/revoke", data={"csrf_token": browser.token()})
    assert hand().get(new).status_code == 404 and "no address yet" in text(hand, "/calendar", "technician")


def test_an_administrator_makes_and_revokes_it_for_anybody_and_it_is_noted(hand, store):
    admin = hand("administrator")
    with store.reading() as connection:
        identity = people.by_name(connection, "technician")["id"]
    for _ in range(2):
        admin.http.post("/people/%s/calendar" % identity, data={"csrf_token": admin.token()})
        shown = re.search(r"/calendar/[\w-]+\.ics", admin.get("/people").get_data(as_text=True))
        if shown:
            path = shown.group(0)
            assert hand().get(path).status_code == 200
    assert hand().get(path).status_code == 404
    with store.reading() as connection:
        assert [row["what"] for row in people.audit(connection, 2)] == ["revoked a calendar address", "made a calendar address"]


def test_who_is_kept_out_has_no_calendar(hand, store):
    path = make(hand)
    with store.writing() as connection:
        people.set_active(connection, people.by_name(connection, "technician")["id"], False)
    assert hand().get(path).status_code == 404


def test_guessing_addresses_is_slowed(hand):
    browser = hand()
    statuses = [browser.get("/calendar/%s.ics" % number).status_code for number in range(40)]
    assert statuses[0] == 404 and statuses[-1] == 429


def test_a_kept_system_and_one_that_just_came_in_say_the_same(hand, app):
    """What is kept with the verdict, without texts, gives what is worked within the request."""
    hand("technician").send(a_revision(a_system()))
    desk = hand("supervisor")
    pages = ("/plant/due", "/plant/fed", "/plant/refills", "/plant/refills?units=us")

    def shown():
        return [desk.get(page).get_data(as_text=True).partition("<main")[2] for page in pages]

    before = shown()
    app.extensions["verdicts"].work()
    assert shown() == before
# ---- the season

def test_settings_of_the_other_season_are_due_once_the_cold_was_read_until_they_are_entered(hand):
    system = dict(slow_in_the_cold(), id=new_id(), site=SITE, name="Cold line")
    sent(hand, system, a_round(system, days_ago(0), line_temperature__whole={"value": -5.0}))
    page = text(hand, "/plant/due")
    limit = re.search(r"Winter settings: −5 °C was read, they begin below [\d.]+ °C. Time limit ([^<]+?)<", page).group(1).strip()
    entries = [{"name": "time_limit", "shown": limit, "at": days_ago(0)}]
    sent(hand, record("settings-entry", system, days_ago(0), entries=entries, signed={"by": "technician", "at": days_ago(0)}))
    assert "Winter settings" not in text(hand, "/plant/due")


def test_names_with_signs_of_the_calendar_s_own_come_through(hand):
    system = a_system(name="Säge; Halle 2, Nord \\ Süd", area="Werk, alt")
    sent(hand, system, a_round(system, days_ago(3)))
    event = events(hand, make(hand, "administrator"))["round-%s@linewright" % system["id"]]
    assert event.summary.value == "Säge; Halle 2, Nord \\ Süd: Round" and event.location.value == "Werk, alt, " + SITE
