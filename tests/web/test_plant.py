"""The supervisor's page: states, filters, papers, phones, and nothing of another site."""
from demo_site import plant
from tests.web.conftest import MADE_AT, OTHER_SITE, SITE, a_revision, a_round, a_system, new_id


def a_cold_system(**changes):
    """A system whose line cannot vent on the coldest morning."""
    return dict(plant.sorter_chain(), id=new_id(), site=SITE, **changes)


def page(hand, query="", name="supervisor"):
    return hand(name).get("/plant" + query).get_data(as_text=True)


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


def test_the_units_chosen_at_the_desk_are_followed(hand):
    hand("technician").send(a_revision(a_cold_system()))
    desk = hand("supervisor")
    assert " bar" in desk.get("/plant").get_data(as_text=True)
    chosen = desk.http.post("/units", data={"units": "us", "csrf_token": desk.token()})
    assert chosen.status_code == 302
    text = desk.get("/plant").get_data(as_text=True)
    assert " psi" in text and " bar" not in text
