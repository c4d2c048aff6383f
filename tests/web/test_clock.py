"""A plant has one local day: at the desk by the zone it is given, on the phone by its own; days are counted over changes of the clock."""
import json
import os
import subprocess

import pytest

from webapp.clock import Clock, clock_of
from webapp.phone_engine import node_command
from webapp.reports.span import Span

VIENNA = Clock("Europe/Vienna")  # 29 March 2026 has 23 hours there, 25 October 25


@pytest.mark.parametrize("text, day", [
    ("2026-11-22T23:30:00Z", "2026-11-23"), ("2026-07-22T22:30:00+00:00", "2026-07-23"), ("2026-11-23", "2026-11-23"),
    ("2026-11-23T00:30:00+02:00", "2026-11-22"), ("2026-11-23T00:30:00+01:00", "2026-11-23"), ("soon", "soon")])
def test_a_stored_time_falls_on_a_day_of_the_plant(text, day):
    assert VIENNA.day(text) == day


@pytest.mark.parametrize("zone, day, begin, end", [
    ("Europe/Vienna", "2026-03-29", "2026-03-29T00:00:00+01:00", "2026-03-29T23:59:59+02:00"),
    ("Europe/Vienna", "2026-10-25", "2026-10-25T00:00:00+02:00", "2026-10-25T23:59:59+01:00"),
    ("UTC", "2026-10-25", "2026-10-25T00:00:00+00:00", "2026-10-25T23:59:59+00:00")])
def test_a_day_begins_and_ends_where_the_clocks_change(zone, day, begin, end):
    assert (Clock(zone).begin(day), Clock(zone).end(day)) == (begin, end)


def test_a_period_holds_its_days_to_the_second():
    span = Span("2026-10-25", "2026-10-25", VIENNA)
    times = ("2026-10-24T21:59:59Z", "2026-10-24T22:00:00Z", "2026-10-25T22:59:59Z", "2026-10-25T23:00:00Z", None)
    assert [span.holds(text) for text in times] == [False, True, True, False, False]


@pytest.mark.parametrize("environment, name", [
    ({"TIMEZONE": "Asia/Tokyo", "TZ": "UTC"}, "Asia/Tokyo"), ({"TZ": ":Asia/Tokyo"}, "Asia/Tokyo")])
def test_the_zone_comes_from_its_own_variable_before_the_machine_s(environment, name):
    assert clock_of(environment).name == name


@pytest.mark.parametrize("name", ["Atlantis", "../etc/passwd", "Europe", "\0"])
def test_a_zone_nobody_knows_is_one_sentence(name):
    with pytest.raises(ValueError, match="no time zone"):
        clock_of({"TIMEZONE": name})


@pytest.mark.parametrize("script, told", [
    ("dayHere(7, Date.parse('2026-10-20T00:30:00+02:00'))", "2026-10-27"),
    ("dayHere(7, Date.parse('2026-03-24T23:30:00+01:00'))", "2026-03-31"),
    ("byClockHere('2026-11-22T23:30:00Z')", "2026-11-23T00:30:00.000+01:00"), ("byClockHere('2026-11-23')", "2026-11-23"),
    ("byClockHere(null)", None)])
def test_a_phone_counts_days_of_the_calendar_by_its_own_clock(script, told):
    code = "import { byClockHere, dayHere } from './static/app/days.js'; console.log(JSON.stringify(%s))" % script
    printed = subprocess.run([node_command(), "--input-type=module", "-e", code], capture_output=True, text=True, check=True,
                             env=dict(os.environ, TZ="Europe/Vienna")).stdout
    assert json.loads(printed) == told
