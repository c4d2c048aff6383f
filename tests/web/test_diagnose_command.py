"""`diagnose` as somebody at a terminal uses it."""
import json

import pytest
from click.testing import CliRunner

from demo_site import plant
from webapp.__main__ import main


@pytest.fixture
def ask(tmp_path):
    """ask(readings) runs the command on the demo's head rig; (exit code, what it printed as JSON)."""
    def run(readings):
        system, read = tmp_path / "system.json", tmp_path / "readings.json"
        system.write_text(json.dumps(plant.head_rig()), encoding="utf-8")
        read.write_text(json.dumps(readings), encoding="utf-8")
        done = CliRunner().invoke(main, ["diagnose", str(system), str(read)])
        return done.exit_code, json.loads(done.stdout)
    return run


def test_causes_come_in_the_order_of_checks(ask):
    code, printed = ask({"format": "readings/1", "tripped_at_once": True})
    assert code == 0 and printed["format"] == "diagnosis/1" and printed["causes"][0]["cause"] == "contact=PS1"
    assert sum(entry["likelihood"] for entry in printed["causes"]) == pytest.approx(1)
    assert {"cause", "likelihood", "because", "check", "caution"} <= set(printed["causes"][0])


def test_what_was_looked_for_in_vain_stands_further_back(ask):
    nothing, tried = ({"format": "readings/1"}, {"format": "readings/1", "tried": [{"cause": "empty", "answer": "not found"}]})
    (_, before), (_, after) = ask(nothing), ask(tried)
    assert before["causes"][0]["cause"] == "empty" and after["causes"][0]["cause"] != "empty"
    code, printed = ask({"format": "readings/1", "tried": [{"cause": "empty", "answer": "perhaps"}]})
    assert code == 2 and printed["findings"][0]["where"] == "tried[0]"


def test_bad_readings_are_findings_and_exit_2(ask):
    code, printed = ask({"format": "readings/1", "vent_s": "long"})
    assert code == 2 and printed["findings"][0]["where"] == "readings.vent_s" and printed["findings"][0]["do"]


def test_a_system_in_place_of_readings_is_one_sentence(tmp_path):
    file = tmp_path / "system.json"
    file.write_text('{"format": "system/1"}', encoding="utf-8")
    done = CliRunner().invoke(main, ["diagnose", str(file), str(file)])
    assert done.exit_code == 1 and "of the format system/1: one of the format readings/1 is wanted" in done.stderr and done.stderr.count("\n") == 1


def test_a_file_that_is_missing_is_one_sentence(tmp_path):
    done = CliRunner().invoke(main, ["diagnose", str(tmp_path / "none.json"), str(tmp_path / "none.json")])
    assert done.exit_code == 1 and done.stderr.startswith("Error: ") and done.stderr.count("\n") == 1
