"""`calculate` and `simulate` as somebody at a terminal uses them."""
import json
import math
import xml.etree.ElementTree as ElementTree

import pytest
import yaml
from click.testing import CliRunner

from demo_site import plant
from webapp.__main__ import main


def run(*arguments, typed=None):
    return CliRunner().invoke(main, [str(one) for one in arguments], input=typed)


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "system.json"
    path.write_text(json.dumps(plant.head_rig()), encoding="utf-8")
    return path


def test_a_file_is_worked(file):
    done = run("calculate", file)
    assert done.exit_code == 0 and json.loads(done.stdout)["interval"]["pause"]["unit"] == "s"


def test_yaml_and_standard_input_give_the_same(file, tmp_path):
    other = tmp_path / "system.yaml"
    other.write_text(yaml.safe_dump(plant.head_rig()), encoding="utf-8")
    assert run("calculate", other).stdout == run("calculate", "-", typed=file.read_text()).stdout == run("calculate", file).stdout


def leaves(thing, way=""):
    """(place, value) of everything in a document."""
    inner = thing.items() if isinstance(thing, dict) else enumerate(thing) if isinstance(thing, list) else None
    if inner is None:
        return [(way, thing)]
    return [leaf for key, part in inner for leaf in leaves(part, "%s/%s" % (way, key))]


def test_the_phone_s_interpreter_prints_the_same_document(file):
    here, there = (leaves(json.loads(run("calculate", file, *more).stdout)) for more in ((), ("--on", "phone")))
    assert [place for place, _ in here] == [place for place, _ in there]
    assert [pair for pair in zip(here, there) if pair[0] != pair[1] and not (
        isinstance(pair[0][1], float) and math.isclose(pair[0][1], pair[1][1], rel_tol=1e-9))] == []


def test_us_units_are_followed(file):
    assert json.loads(run("calculate", file, "--units", "us").stdout)["line"]["drop_usual"]["shown"].endswith(" psi")


def test_a_kind_that_lacks_what_it_needs_says_where_and_exits_2(file):
    done = run("calculate", "-", typed=json.dumps(dict(plant.head_rig(), kind="dual-line")))
    found = json.loads(done.stdout)["findings"]
    assert done.exit_code == 2 and (found[0]["where"], found[0]["id"]) == ("points[0].side", "check.missing")


@pytest.mark.parametrize("system", plant.systems()[4:], ids=lambda one: one["kind"])
def test_every_kind_is_worked(system):
    done = run("calculate", "-", typed=json.dumps(system))
    assert done.exit_code == 0 and json.loads(done.stdout)["settings"]


def test_faults_are_simulated_several_at_a_time(file):
    healthy, ill = (json.loads(run("simulate", file, *more).stdout)
                    for more in ((), ("--fault", "pump=0.5", "--fault", "air=0.03")))
    assert ill["trip_s"][0] > 2 * healthy["trip_s"][0]


def test_a_fault_that_cannot_be_tried_is_one_sentence_and_exit_2(file):
    done = run("simulate", file, "--fault", "leak=nowhere:1")
    assert done.exit_code == 2 and done.stdout == ""
    assert done.stderr.startswith("Error: leak=nowhere:1 cannot be tried.") and done.stderr.count("\n") == 1


@pytest.mark.parametrize("typed", ["{", "[1, 2", "\x00"])
def test_what_is_no_document_is_one_sentence_on_standard_error(typed):
    done = run("calculate", "-", typed=typed)
    assert done.exit_code == 1 and done.stdout == "" and done.stderr.count("\n") == 1


@pytest.mark.parametrize("typed, says", [("", "is empty"), ("{", "Standard input: Line 1, column 2 is not JSON"),
                                         ('{"format": "round/1"}', "Standard input is of the format round/1: one of the format system/1 is wanted")])
def test_what_is_another_document_says_what_it_is_and_which_is_wanted(typed, says):
    done = run("simulate", "-", typed=typed)
    assert done.exit_code == 1 and says in done.stderr and done.stdout == "" and done.stderr.count("\n") == 1


def test_a_missing_file_is_one_sentence_on_standard_error(tmp_path):
    done = run("calculate", tmp_path / "none.json")
    assert done.exit_code == 1 and done.stdout == "" and done.stderr.count("\n") == 1


def test_a_simulation_runs_colder_and_several_times(file):
    usual, cold = (json.loads(run("simulate", file, *more).stdout) for more in ((), ("--at", "-10", "--cycles", "2")))
    assert usual["format"] == "trace/1" and usual["at_c"] == plant.head_rig()["ambient"]["usual_c"]
    assert cold["at_c"] == -10 and len(cold["trip_s"]) == 2 and cold["trip_s"][0] > usual["trip_s"][0]


def test_with_a_limit_the_run_ends_there(file):
    trace = json.loads(run("simulate", file, "--limit", "5").stdout)
    assert trace["completed"] is False and trace["trip_s"] == [None] and trace["why"]


def test_the_picture_is_svg(file):
    assert ElementTree.fromstring(run("simulate", file, "--svg").stdout).tag.endswith("svg")
