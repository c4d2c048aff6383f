"""The wiring: running and while the pump starts, at the pump and at the vent valve, with direct and alternating current."""
import pytest

from webapp.engine.bridge import ask
from webapp.engine.wiring.conductors import GAUGES, RESISTANCE

from .systems import plain_system


def wired(pump=None, valve_a=0.5, controller=None, **wiring):
    """The plain system on 5 m of 2.5 mm², its pump starting with what it runs with, and what differs."""
    document = plain_system(vent_valve={"current_a": valve_a})
    document["pump"].update({"starting_current_a": document["pump"]["current_a"]}, **(pump or {}))
    document["controller"].update(controller or {})
    document["wiring"].update(wiring)
    return document


def electrical(document):
    return ask({"do": "work", "document": document, "simulate": False})["electrical"]


def said(document):
    """[(severity, where, id)] of the findings on the wiring."""
    return [(entry["severity"], entry["where"], entry["id"]) for entry in
            ask({"do": "work", "document": document, "simulate": False})["findings"] if entry["id"].startswith("wiring.")]


def found(document, identifier):
    """The one finding of this id."""
    entry, = [one for one in ask({"do": "work", "document": document, "simulate": False})["findings"] if one["id"] == identifier]
    return entry


def values(document, *names):
    figures = electrical(document)
    return [figures[name]["value"] for name in names]


def test_a_sound_wiring_has_nothing_to_say():
    assert said(wired()) == []


def test_a_starting_current_is_taken_as_entered_and_guessed_where_it_is_not():
    entered = electrical(wired({"starting_current_a": 11}))["starting_current"]
    assert (entered["value"], entered["estimate"]) == (11.5, False)
    guessed = electrical(wired({"starting_current_a": None}))["starting_current"]
    assert (guessed["value"], guessed["estimate"]) == (6 * 3 + 0.5, True) and "from memory" in guessed["source"]


def test_the_cable_keeps_more_from_the_pump_while_it_starts_but_never_all():
    running, starting = values(wired({"starting_current_a": 20}), "voltage_drop_percent", "voltage_drop_start_percent")
    assert running < starting < 100
    assert values(wired({"starting_current_a": 9000}, cable_m=900), "voltage_drop_start_percent")[0] < 100


def test_a_thicker_cable_never_loses_more_and_a_longer_one_never_less():
    by_size = [values(wired(conductor_mm2=size), "voltage_drop", "voltage_drop_start_percent") for size, _ in RESISTANCE]
    by_length = [values(wired(cable_m=metres), "voltage_drop", "voltage_drop_start_percent") for metres in (40, 12, 5, 0)]
    for several in (by_size, by_length):
        assert [one for one, _ in several] == sorted([one for one, _ in several], reverse=True)
        assert [one for _, one in several] == sorted([one for _, one in several], reverse=True)


def test_a_valve_on_the_pump_s_cable_loses_what_the_pump_loses():
    figures = electrical(wired())
    assert figures["vent_drop"]["value"] == figures["voltage_drop"]["value"]
    assert figures["vent_drop_start_percent"]["value"] == figures["voltage_drop_start_percent"]["value"]


def test_a_valve_with_its_own_cable_loads_that_alone():
    shared, own = electrical(wired()), electrical(wired(vent_cable_m=20))
    assert own["voltage_drop"]["value"] == pytest.approx(shared["voltage_drop"]["value"] * 3 / 3.5)
    assert own["vent_drop"]["value"] == pytest.approx(shared["voltage_drop"]["value"] * 0.5 / 3.5 * 20 / 5)
    assert own["current"]["value"] == shared["current"]["value"] and "vent_drop_start_percent" not in own


def test_without_a_valve_there_is_no_voltage_at_it():
    assert "vent_drop" not in electrical(wired(valve_a=0, vent_cable_m=20))


def test_a_thin_cable_to_the_valve_is_warned_of_and_the_size_named_would_do():
    document = wired(valve_a=2, vent_cable_m=60, vent_conductor_mm2=0.5)
    entry = found(document, "wiring.drop_size")
    assert (entry["severity"], entry["where"]) == ("warn", "wiring.vent_conductor_mm2") and "vent valve's cable" in entry["says"]
    document["wiring"]["vent_conductor_mm2"] = entry["with"]["size"]["value"]
    assert said(document) == []


def test_the_smallest_conductor_meets_the_limit_and_the_next_thinner_does_not():
    sizes = [size for size, _ in RESISTANCE]
    for metres in (4, 11, 23, 52, 70):
        size, = values(wired(cable_m=metres), "conductor")
        assert values(wired(cable_m=metres, conductor_mm2=size), "voltage_drop_percent")[0] <= 5
        if size > sizes[0]:
            thinner = sizes[sizes.index(size) - 1]
            assert values(wired(cable_m=metres, conductor_mm2=thinner), "voltage_drop_percent")[0] > 5


def test_a_cable_described_by_gauge_is_told_its_gauge():
    document = wired(cable_m=40, conductor_mm2=None, awg=18)
    gauge, = values(document, "conductor_awg")
    entry = found(document, "wiring.drop_size")
    assert "AWG %d" % gauge in entry["do"]
    for awg, within in ((gauge, True), (GAUGES[GAUGES.index(gauge) - 1], False)):
        assert (values(wired(cable_m=40, conductor_mm2=None, awg=awg), "voltage_drop_percent")[0] <= 5) is within


def test_no_conductor_of_the_table_is_said_where_none_is_thick_enough():
    document = wired(cable_m=900)
    assert "conductor" not in electrical(document)
    assert ("warn", "wiring.conductor_mm2", "wiring.drop") in said(document)


def test_alternating_current_counts_what_is_in_phase():
    direct, = values(wired({"supply_v": 230, "supply": "dc"}), "voltage_drop")
    half = electrical(wired({"supply_v": 230, "supply": "ac", "power_factor": 0.5}))["voltage_drop"]
    assert half["value"] == pytest.approx(direct * 2 / 3.5) and "reactance is left out" in half["source"]
    unknown = electrical(wired({"supply_v": 230, "supply": "ac"}))["voltage_drop"]
    assert unknown["value"] == pytest.approx(direct) and unknown["inputs"]["pf"]["estimate"]


def test_a_power_factor_of_a_direct_supply_changes_nothing():
    assert values(wired({"power_factor": 0.5}), "voltage_drop") == values(wired(), "voltage_drop")


def test_high_direct_voltage_is_noted_for_its_contacts_and_alternating_is_not():
    assert said(wired({"supply_v": 230})) == [("note", "pump.supply", "wiring.arc")]
    assert said(wired({"supply_v": 230, "supply": "ac"})) == []


def test_an_unknown_start_is_one_note_that_names_all_it_may_hurt():
    document = wired({"starting_current_a": None}, cable_m=15, fuse_a=4.5, controller={"outputs_a": 8, "fuse_a": 4.5})
    assert said(document) == [("note", "pump.starting_current_a", "wiring.start_unknown")]
    assert found(document, "wiring.start_unknown")["with"]["what"] == (
        "the controller's contacts, the voltage at the pump, the voltage at the vent valve, the fuse, "
        "the controller's own fuse")


def test_a_known_start_is_judged_place_by_place():
    assert said(wired({"starting_current_a": 18}, cable_m=15, fuse_a=4.5, controller={
        "outputs_a": 8, "outputs_rated_for": "resistive", "fuse_a": 4.5})) == [
            ("warn", "controller.outputs_a", "wiring.contact_start"),
            ("warn", "pump.starting_current_a", "wiring.voltage_drop_start"),
            ("warn", "vent_valve.current_a", "wiring.vent_drop_start"), ("warn", "wiring.fuse_a", "wiring.fuse_start"),
            ("warn", "controller.fuse_a", "wiring.fuse_start")]


@pytest.mark.parametrize("rated, severities", [("resistive", ["warn"]), (None, ["note"]), ("motor", [])])
def test_contacts_rated_for_motors_bear_the_start(rated, severities):
    document = wired({"starting_current_a": 9}, controller={"outputs_a": 8, "outputs_rated_for": rated})
    assert [severity for severity, _, identifier in said(document) if identifier == "wiring.contact_start"] == severities


def test_a_relay_takes_the_start_from_the_controller():
    document = wired({"current_a": 7, "starting_current_a": 40}, controller={"outputs_a": 8, "fuse_a": 2}, cable_m=0)
    assert said(document) == [("note", "controller.outputs_a", "wiring.relay")]
    assert values(document, "relay_contact", "contact_use") == [16, 100 * 7.5 / 8]


def test_a_quick_fuse_asks_for_a_larger_one_than_a_slow_fuse():
    slow, quick = (values(wired({"starting_current_a": 40}, fuse_kind=kind), "fuse_start")[0] for kind in ("slow", "quick"))
    assert slow == 15 and quick == 25
    assert values(wired({"starting_current_a": 40}), "fuse") == [5]


def test_a_fuse_larger_than_its_conductor_carries_is_warned_of():
    assert said(wired(fuse_a=30)) == [("warn", "wiring.fuse_a", "wiring.fuse_cable")]
    assert said(wired(fuse_a=25)) == []


@pytest.mark.parametrize("size", [0.5, 16])
def test_a_conductor_outside_of_the_table_is_not_said_to_carry_anything(size):
    document = wired(cable_m=2, conductor_mm2=size, fuse_a=90)
    assert "conductor_carries" not in electrical(document) and said(document) == []


def test_the_controller_s_own_fuse_is_judged_unless_a_relay_goes_past_it():
    assert said(wired(controller={"fuse_a": 4})) == [("warn", "controller.fuse_a", "wiring.built_in")]
    assert said(wired(controller={"fuse_a": 4, "outputs_a": 2})) == [("note", "controller.outputs_a", "wiring.relay")]


def test_a_start_below_the_running_current_is_stopped():
    findings = ask({"do": "check", "document": wired({"starting_current_a": 2})})["findings"]
    assert [(entry["severity"], entry["where"], entry["id"]) for entry in findings] == [
        ("stop", "pump.starting_current_a", "check.start_below")] and "2 A" in findings[0]["says"]


def test_a_valve_s_cable_without_any_conductor_is_stopped():
    document = wired(cable_m=None, conductor_mm2=None, vent_cable_m=9)
    assert [entry["where"] for entry in ask({"do": "check", "document": document})["findings"]] == ["wiring.vent_conductor_mm2"]
