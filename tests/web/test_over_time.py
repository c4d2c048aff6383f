"""A system over time at the desk: what its rounds call, set aside with a reason, and back with a worse reading."""
from datetime import date, timedelta

from tests.engine.test_trend import steady
from tests.web.conftest import a_revision, a_system, new_id


def a_timed_round(system, day, seconds, at_c=8):
    made_at = "%sT07:30:00+01:00" % day
    items = [{"id": key, "ask": "One reading", "answer": "reading", "value": value, "unit": unit, "at": made_at}
             for key, value, unit in (("line_temperature:whole", at_c, "°C"), ("timed_cycle:whole", seconds, "s"))]
    return {"format": "round/1", "id": new_id(), "system": system["id"], "made_at": made_at, "made_by": "technician", "items": items,
            "signed": {"by": "technician", "at": made_at}}


def drifting(hand, begin=date(2026, 1, 5)):
    """A system whose last seven of 37 weekly rounds take longer and longer, sent; (system, day of a week)."""
    system = a_system()
    seconds = steady(30) + [80 * (1 + 0.02 * week) for week in range(1, 8)]
    days = [begin + timedelta(weeks=week) for week in range(60)]
    hand("technician").send(a_revision(system), *[a_revision(a_timed_round(system, day, one)) for day, one in zip(days, seconds)])
    return system, days


def page(desk, system, query=""):
    reply = desk.get("/plant/%s/over-time%s" % (system["id"], query))
    assert reply.status_code == 200
    return reply.get_data(as_text=True)


def set_aside(desk, system, why, finding="trend.build_up.rises"):
    return desk.http.post("/plant/%s/set-aside" % system["id"], data={"finding": finding, "why": why, "csrf_token": desk.token()})


def test_a_call_is_set_aside_with_a_reason_and_comes_back_with_a_worse_reading(hand):
    system, days = drifting(hand)
    desk = hand("supervisor")
    called = "<strong>The timed cycle takes 14 % longer"
    assert called in page(desk, system) and "fault-finding?says=The%20timed%20cycle%20takes%2014" in page(desk, system)
    refused = set_aside(desk, system, "  ")
    assert refused.status_code == 422 and "Say in a few words" in refused.get_data(as_text=True)
    assert set_aside(desk, system, "Pump is renewed on Friday.").status_code == 303
    text = page(desk, system)
    assert "Set aside: The timed cycle takes 14 % longer" in text and "Pump is renewed on Friday.</strong> supervisor" in text
    assert called not in text
    assert set_aside(desk, system, "Once more.").status_code == 422, "it does not stand any more"
    hand("technician").send(a_revision(a_timed_round(system, days[37], 96)))
    assert '<strong>The timed cycle takes 20 % longer' in page(desk, system)


def test_one_picture_holds_everything_and_the_span_is_in_the_address(hand):
    system, days = drifting(hand)
    desk = hand("supervisor")
    whole, quarter = page(desk, system), page(desk, system, "?span=quarter")
    assert 'viewBox="0 0 1180' in whole and "Timed cycles: 37" in whole and "Timed cycles: 14" in quarter
    assert desk.get("/plant/%s/over-time?span=week" % system["id"]).status_code == 400
    assert "/over-time" in desk.get("/plant/" + system["id"]).get_data(as_text=True)


def test_a_system_without_records_and_one_that_cannot_be_worked_say_so(hand):
    empty, broken = a_system(), a_system(sections=[])
    hand("technician").send(a_revision(empty))
    assert "Nothing to show yet" in page(hand("supervisor"), empty)
    results = hand("technician").send(a_revision(broken))
    if results[0]["state"] == "accepted":
        assert "Nothing to show yet" in page(hand("supervisor"), broken)


def test_the_readers_units_are_followed(hand):
    system, _ = drifting(hand)
    desk = hand("supervisor")
    assert "46 °F" in page(desk, system, "?units=us") and "8 °C" in page(desk, system)
