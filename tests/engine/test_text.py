"""Numbers as text for a reader."""
import pytest

from webapp.engine.basics.text import MINUS, MISSING, decimal, number, seconds, shown


@pytest.mark.parametrize("value, digits, text", [
    (0.5, 0, "1"), (2.5, 0, "3"), (0.125, 2, "0.13"), (2.675, 2, "2.68"), (1.005, 2, "1.01"), (0.15, 1, "0.2"),
    (14.449999999, 1, "14.4"), (915, -1, "920"), (99.96, 1, "100")])
def test_a_tie_goes_up_however_its_last_bits_fell(value, digits, text):
    assert decimal(value, digits) == text


@pytest.mark.parametrize("value, digits, text", [(-0.5, 0, MINUS + "1"), (-2.675, 2, MINUS + "2.68"), (-15, 1, MINUS + "15")])
def test_a_negative_number_is_rounded_by_its_size(value, digits, text):
    assert decimal(value, digits) == text


def test_a_number_that_rounds_to_nothing_has_no_sign():
    assert decimal(-0.001, 1) == "0"


def test_trailing_zeros_are_cut_but_not_those_before_the_point():
    assert [decimal(12.50, 2), decimal(100.0, 2), decimal(1200, 0)] == ["12.5", "100", "1200"]


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_is_no_number_is_not_known(value):
    assert decimal(value, 1) == MISSING
    assert number(value, "bar") == MISSING


@pytest.mark.parametrize("value, text", [
    (0, "0 s"), (0.04, "0 s"), (14.23, "14.2 s"), (59.94, "59.9 s"), (59.96, "1 min"), (60, "1 min"), (125, "2 min 5 s"),
    (3599.6, "1 h"), (3600, "1 h"), (13200, "3 h 40 min"), (13205, "3 h 40 min 5 s"), (13205.4, "3 h 40 min"),
    (360000, "100 h"), (-1, MISSING), (float("inf"), MISSING)])
def test_a_time_is_said_in_hours_minutes_and_seconds(value, text):
    assert seconds(value) == text


@pytest.mark.parametrize("value, unit, metric, us", [
    (62.7, "bar", "63 bar", "910 psi"), (4.25, "bar", "4.3 bar", "62 psi"), (10, "mm", "10 mm", "0.394 in"),
    (12.7, "mm", "12.7 mm", "0.5 in"), (0.0254, "mm", "0.0254 mm", "0.001 in"),
    (0.0127, "mm", "0.0127 mm", "0.0005 in"), (-15, "°C", MINUS + "15 °C", "5 °F"), (0.5, "cm³", "0.5 cm³", "0.0305 in³"),
    (6, "l", "6 l", "1.59 US gal"), (150, "mm²/s", "150 mm²/s", "150 cSt"), (6, "count", "6", "6")])
def test_a_quantity_is_said_in_the_reader_s_units(value, unit, metric, us):
    assert (shown(value, unit), shown(value, unit, "us")) == (metric, us)


def test_a_tiny_quantity_keeps_two_figures():
    assert shown(0.00000123, "cm³/h") == "0.0000012 cm³/h"


def test_a_list_is_joined():
    assert shown([1.5, 2], "m") == "1.5 m, 2 m"


def test_yes_no_text_and_nothing():
    assert [shown(True, "bool"), shown(False, "bool"), shown("steady", "text"), shown(None, "s")] == [
        "yes", "no", "steady", MISSING]
