"""The supervisor's page: states, filters, papers, phones, and nothing of another site."""
import io
import threading
import zipfile

from demo_site import plant
from tests.web.conftest import MADE_AT, OTHER_SITE, SITE, a_revision, a_round, a_system, new_id
from webapp import plant as plant_room
from webapp.store import people
from webapp.verdicts import engine_version


def a_cold_system(**changes):
    """A system whose line cannot vent on the coldest morning."""
    return dict(plant.sorter_chain(), id=new_id(), site=SITE, **changes)


def page(hand, query="", name="supervisor"):
    """The plant page once all that came in has been worked."""
    desk = hand(name)
    desk.http.application.extensions["verdicts"].work()
    return desk.get("/plant" + query).get_data(as_text=True)


def test_the_worst_system_comes_first_with_what_to_do(hand):
    hand("technician").send(a_revision(a_system(name="Fine one", area="Hall")), a_revision(a_cold_system(name="Cold one", area="Yard")))
    text = page(hand)
    assert text.index("Cold one") < text.index("will not vent") < text.index("Fine one")


def test_filters_are_in_the_address(hand):
    hand("technician").send(a_revision(a_system(name="Fine one", area="Hall")), a_revision(a_cold_system(name="Cold one", area="Yard")))
    rows = {query: page(hand, query).partition("<h2>Phones")[0] for query in ("?state=stop", "?area=Hall", "?state=warn")}
    assert "Cold one" in rows["?state=stop"] and "Fine one" not in rows["?state=stop"]
    assert "Fine one" in rows["?area=Hall"] and "Cold one" not in rows["?area=Hall"]
    assert "No system fits this filter" in rows["?state=warn"]
    assert hand("supervisor").get("/plant?state=other").status_code == 400


def test_an_empty_plant_says_what_to_do(hand):
    assert "Register the first one" in page(hand)


def test_it_says_which_phone_sent_what(hand):
    phone = new_id()
    technician = hand()
    technician.sign_in("technician", phone=phone)
    technician.send(a_revision(a_system(name="Sent from the hall"), phone=phone))
    text = page(hand)
    assert phone[:8] in text.partition("<h2>Phones")[2] and "1 of 1" in text
    assert "Sent from the hall" in text.partition("<h2>Received lately")[2]


def test_signed_records_bring_their_papers(hand):
    system = a_system()
    made = a_round(system, signed={"by": "technician", "at": MADE_AT})
    hand("technician").send(a_revision(system), a_revision(made))
    assert "/papers/round/%s.pdf" % made["id"] in page(hand)


def test_a_clash_is_counted(hand):
    first = a_revision(a_system())
    sender = hand("technician")
    sender.send(first)
    for relief in (231, 232):
        results = sender.send(a_revision(dict(first["body"], pump=dict(first["body"]["pump"], relief_bar=relief)), parent=first))
    assert results[0]["state"] == "clash"
    assert "Two people changed the same thing" in page(hand)


def test_another_site_is_not_seen(hand):
    hand("administrator").send(a_revision(a_system(site=OTHER_SITE, name="Southern press")))
    assert "Southern press" not in page(hand) and "Southern press" in page(hand, name="outsider")


def test_the_history_shows_every_revision_with_its_reason(hand):
    first = a_revision(a_system())
    sender = hand("technician")
    sender.send(first)
    sender.send(a_revision(dict(first["body"], name="Renamed"), parent=first, reason="name plate read again"))
    text = hand("supervisor").get("/plant/" + first["document"]).get_data(as_text=True)
    assert "name plate read again" in text and text.count("accepted") == 2


def test_a_system_s_page_says_first_how_it_stands(hand):
    cold = a_cold_system(name="Cold one")
    sent = a_revision(cold)
    hand("technician").send(sent)
    desk = hand("supervisor")
    reply = desk.get("/plant/" + cold["id"])
    assert "Being worked" in reply.get_data(as_text=True) and reply.headers["Refresh"]
    desk.http.application.extensions["verdicts"].work()
    reply = desk.get("/plant/" + cold["id"])
    first = reply.get_data(as_text=True).partition("<h2>")[0]
    assert "Single-line" in first and "Stop" in first and "will not vent" in first and "Refresh" not in reply.headers
    hand("technician").send(a_revision(dict(cold), parent=sent, deleted=True, reason="scrapped"))
    assert "The system was deleted" in desk.get("/plant/" + cold["id"]).get_data(as_text=True).partition("<h2>")[0]


def test_a_day_of_another_year_is_told_with_its_year(hand, app):
    this = app.extensions["clock"].today()[:4]
    with app.test_request_context():
        moment = app.jinja_env.filters["moment"]
        assert [moment(year + "-03-05T08:45:00+00:00") for year in (this, "2019")] == ["5 Mar, 08:45", "5 Mar 2019, 08:45"]


def test_the_units_chosen_at_the_desk_are_followed(hand):
    hand("technician").send(a_revision(a_cold_system()))
    desk = hand("supervisor")
    desk.http.application.extensions["verdicts"].work()
    assert " bar" in desk.get("/plant").get_data(as_text=True)
    chosen = desk.http.post("/units", data={"units": "us", "csrf_token": desk.token()})
    assert chosen.status_code == 302
    text = desk.get("/plant").get_data(as_text=True)
    assert " psi" in text and " bar" not in text


def test_what_is_not_worked_yet_says_so_and_looks_again(hand):
    hand("technician").send(a_revision(a_cold_system(name="Cold one")))
    desk = hand("supervisor")
    reply = desk.get("/plant")
    assert "1 of 1</strong> being worked" in reply.get_data(as_text=True) and reply.headers["Refresh"]
    assert "Cold one" in desk.get("/plant?state=working").get_data(as_text=True)
    desk.http.application.extensions["verdicts"].work()
    reply = desk.get("/plant")
    assert "will not vent" in reply.get_data(as_text=True) and "Refresh" not in reply.headers


def test_another_engine_works_all_again(hand, app, monkeypatch):
    hand("technician").send(a_revision(a_cold_system(name="Cold one")))
    assert "will not vent" in page(hand)
    monkeypatch.setattr("webapp.pages.plant.engine_version", lambda: "another")
    assert "1 of 1</strong> being worked" in hand("supervisor").get("/plant").get_data(as_text=True)


def test_a_system_that_the_program_fails_on_is_told_and_stops_no_other(hand, monkeypatch):
    hand("technician").send(a_revision(a_system(name="Odd one")), a_revision(a_cold_system(name="Cold one")))

    def fail(body):
        if body["name"] == "Odd one":
            raise ZeroDivisionError
        return {"worked": {"findings": []}, "season": {}}

    monkeypatch.setattr("webapp.verdicts.unworded", fail)
    text = page(hand)
    assert "The program failed on this system" in text and "Cold one" in page(hand, "?state=holds")


def test_a_changed_system_is_worked_again_and_keeps_its_newest_name(hand):
    first = a_revision(a_cold_system(name="Cold one"))
    sender = hand("technician")
    sender.send(first)
    page(hand)
    sender.send(a_revision(dict(first["body"], name="Renamed"), parent=first))
    text = hand("supervisor").get("/plant").get_data(as_text=True)
    assert "Renamed" in text and "Cold one" not in text and "being worked" in text


def test_a_long_list_goes_on_over_pages(hand, monkeypatch):
    monkeypatch.setattr("webapp.plant.ROWS", 2)
    hand("technician").send(*[a_revision(a_system(name="Line %d" % number)) for number in range(5)])
    first, last = page(hand, "?area="), page(hand, "?from=4")
    assert "1 to 2 of 5" in first and "Line 1" in first and "from=2" in first
    assert "5 to 5 of 5" in last and "Line 4" in last.partition("<h2>Phones")[0] and "from=2" in last
    assert hand("supervisor").get("/plant?from=x").status_code == 400


def test_older_records_are_a_step_away(hand, monkeypatch):
    monkeypatch.setattr("webapp.plant.NEWEST", 2)
    system = a_system()
    walked = [a_round(system, made_at="2026-11-%02dT09:05:00+01:00" % day, note="Round %d" % day) for day in range(1, 6)]
    hand("technician").send(a_revision(system), *[a_revision(one, made_at=one["made_at"]) for one in walked])
    desk = hand("supervisor")
    assert "/plant/%s/round?from=2" % system["id"] in desk.get("/plant/" + system["id"]).get_data(as_text=True)
    text = desk.get("/plant/%s/round?from=2" % system["id"]).get_data(as_text=True)
    assert all("Round %d" % day in text for day in (1, 2, 3)) and "Round 4" not in text and "from=0" in text and "Older" not in text
    assert "none as old" in desk.get("/plant/%s/round?from=9" % system["id"]).get_data(as_text=True)
    assert desk.get("/plant/%s/nothing" % system["id"]).status_code == 404


def test_the_whole_plant_is_downloaded_without_secrets_and_noted(hand, app):
    hand("technician").send(a_revision(a_system(name="Line")))
    desk = hand("administrator")
    assert "Download the whole plant" in desk.get("/plant-file").get_data(as_text=True)
    reply = desk.http.post("/plant-file", data={"csrf_token": desk.token()})
    assert reply.headers["Content-Disposition"].startswith("attachment; filename=plant-") and reply.headers["Cache-Control"] == "no-store"
    with zipfile.ZipFile(io.BytesIO(reply.data)) as pack:
        assert b"Line" in pack.read("tables/systems.csv") and "secrets.jsonl" not in pack.namelist()
    with app.extensions["store"].reading() as connection:
        assert people.audit(connection, 1)[0]["what"] == "downloaded the whole plant"


def test_settings_of_a_system_are_those_kept_with_its_verdict(hand, app, monkeypatch):
    system = a_revision(a_cold_system())
    hand("technician").send(system)
    with app.extensions["store"].reading() as connection:
        worked = plant_room.settings(connection, system, engine_version(), "us")
    app.extensions["verdicts"].work()
    monkeypatch.setattr("webapp.plant.worked", None)
    with app.extensions["store"].reading() as connection:
        kept = plant_room.settings(connection, system, engine_version(), "us")
    assert kept and [[one[name] for name in ("name", "label", "shown", "value", "reason")] for one in kept] == [
        [one[name] for name in ("name", "label", "shown", "value", "reason")] for one in worked]


def test_a_bug_does_not_end_the_thread_that_works_verdicts(app, monkeypatch):
    from webapp import verdicts
    tried, over = [], threading.Event()

    def work(_):
        tried.append(len(tried))
        if len(tried) == 1:
            raise ZeroDivisionError
        over.set()

    monkeypatch.setattr(verdicts, "_AGAIN_S", 0)
    monkeypatch.setattr(verdicts.Verdicts, "work", work)
    app.extensions["verdicts"].start()
    assert over.wait(60) and tried == [0, 1]
