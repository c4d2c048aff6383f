"""A fleet check: the page of supervisors, the check in the background, the command. Systems are the tests' own, all invented."""
import json
import time

import pytest
from click.testing import CliRunner

from tests.engine.systems import any_system, plain_system
from tests.web.conftest import OTHER_SITE, SITE, a_revision, new_id
from webapp import fleet
from webapp.__main__ import main

PAGE = "/plant/tonight"


def a_plain(site=SITE, **changes):
    return plain_system(**dict({"id": new_id(), "site": site}, **changes))


def asked(browser, temperature, area=""):
    """The answer to a temperature typed on the page, whatever it leads to."""
    return browser.http.post(PAGE, data={"temperature": temperature, "area": area, "csrf_token": browser.token()}, follow_redirects=True)


def answered(browser, temperature, area=""):
    return asked(browser, temperature, area).get_data(as_text=True)


def test_the_worst_comes_first_with_its_limit_and_what_to_do(hand):
    thin = [{"id": "S0", "from": "pump", "to": "N0", "length_m": 40, "bore_mm": 6}]
    hand("technician").send(*map(a_revision, (a_plain(name="Fine one"), a_plain(name="Cold one", sections=thin),
                                              a_plain(name="Colder one", sections=[dict(thin[0], length_m=80)]))))
    text = answered(hand("supervisor"), "-15")
    assert text.index("Will not work") < text.index("Colder one") < text.index("does not reset") < text.index("Cold one")
    assert "stay locked in" in text and "feed by hand" in text and "Fine one" not in text.partition("close to a limit")[0]


def test_every_row_leads_to_its_system(hand):
    system = a_plain(name="Cold one", sections=[{"id": "S0", "from": "pump", "to": "N0", "length_m": 80, "bore_mm": 6}])
    hand("technician").send(a_revision(system))
    assert 'href="/plant/%s"' % system["id"] in answered(hand("supervisor"), "-30")


def test_all_that_work_are_said_to(hand):
    hand("technician").send(a_revision(a_plain()))
    assert "Every system that can be judged works at 20 °C" in answered(hand("supervisor"), "20")


def test_a_document_with_stops_is_listed_apart_with_the_reason(hand, monkeypatch):
    """The server takes none today; one stored before the check knew better is still there."""
    monkeypatch.setattr("webapp.receive.stops", lambda body: [])
    hand("technician").send(a_revision(a_plain(name="Half a draft", sections=[])))
    text = answered(hand("supervisor"), "0").partition("<h2>Cannot be judged")[2]
    assert "Half a draft" in text and "<p><strong>" in text


@pytest.mark.parametrize("typed, says", [("", "Enter a number"), ("cold", "cannot be read"), ("-12 bar", "does not fit"),
                                         ("-200", "Enter a temperature from −70 °C to 150 °C")])
def test_what_is_no_temperature_is_one_sentence(hand, typed, says):
    hand("technician").send(a_revision(a_plain()))
    reply = asked(hand("supervisor"), typed)
    assert reply.status_code == 422 and says in reply.get_data(as_text=True)


def test_temperatures_are_typed_and_shown_in_the_readers_units(hand):
    hand("technician").send(a_revision(a_plain()))
    desk = hand("supervisor")
    assert "At −12.2 °C" in answered(desk, "10 °F")
    desk.http.post("/units", data={"units": "us", "csrf_token": desk.token()})
    assert "At 10 °F" in answered(desk, "10")


def test_an_area_is_checked_alone_and_an_empty_plant_says_what_to_do(hand):
    desk = hand("supervisor")
    assert "Register the first one" in desk.get(PAGE).get_data(as_text=True)
    hand("technician").send(a_revision(a_plain(area="Yard")), a_revision(a_plain(area="Hall")))
    assert "1</strong> will work" in answered(desk, "20", "Yard") and "2</strong> will work" in answered(desk, "20")
    assert asked(desk, "20", "Attic").status_code == 422


def test_another_site_is_neither_checked_nor_anybodys_check_seen_by_others(hand):
    hand("administrator").send(a_revision(a_plain(site=OTHER_SITE, name="Southern press", sections=[])), a_revision(a_plain()))
    reply = asked(hand("supervisor"), "20")
    assert "Southern press" not in reply.get_data(as_text=True)
    assert hand("administrator").get(reply.request.path).status_code == 404


@pytest.fixture
def many(hand):
    """More systems than are judged within a request."""
    hand("technician").send(*[a_revision(a_plain(name="Line %d" % number)) for number in range(fleet.FEW + 20)])


def until_over(browser, path):
    for _ in range(600):
        text = browser.get(path).get_data(as_text=True)
        if "<progress" not in text:
            return text
        time.sleep(0.1)
    raise AssertionError("the check does not end")


def test_many_are_judged_in_the_background_and_the_page_looks_again(hand, many):
    desk = hand("supervisor")
    reply = asked(desk, "20")
    assert "<progress" in reply.get_data(as_text=True) and reply.headers["Refresh"]
    assert "%d</strong> will work" % (fleet.FEW + 20) in until_over(desk, reply.request.path)
    assert "Your last check" in desk.get(PAGE).get_data(as_text=True)


def test_a_check_can_be_stopped_and_a_second_one_waits_for_that(hand, many, monkeypatch):
    monkeypatch.setattr(fleet.Check, "run", lambda check, told=None, nicer=0: check._stop.wait(60))
    desk = hand("supervisor")
    path = asked(desk, "20").request.path
    busy = asked(desk, "10")
    assert busy.status_code == 409 and "running already" in busy.get_data(as_text=True)
    stopped = desk.http.post(path + "/stop", data={"csrf_token": desk.token()}, follow_redirects=True).get_data(as_text=True)
    assert "The check was stopped: 0 of" in stopped


def test_a_check_that_breaks_off_says_so(hand, many, monkeypatch):
    def broken(check, told=None, nicer=0):
        raise OSError("no more processes")

    monkeypatch.setattr(fleet.Check, "run", broken)
    assert "The check broke off" in until_over(hand("supervisor"), asked(hand("supervisor"), "20").request.path)


def test_a_failure_of_the_program_is_listed_apart_and_stops_no_other(monkeypatch):
    whole = fleet.tonight
    monkeypatch.setattr(fleet, "tonight", lambda document, at_c: whole(document, at_c) if document["name"] != "Broken" else 1 / 0)
    check = fleet.Check({"a": plain_system(name="Broken"), "b": plain_system()}, 20)
    check.run()
    assert fleet.sorted_out(check.verdicts) == {"fails": [], "works": ["b"], "apart": ["a"]}
    assert "program failed" in fleet.told(check.verdicts["a"], "metric")["findings"][0]["says"]


def test_two_cores_say_what_one_says(monkeypatch):
    documents = {str(seed): any_system(seed) for seed in range(60)}
    spread = fleet.Check(documents, -12)
    spread.run()
    monkeypatch.setattr(fleet, "FEW", 1000)
    alone = fleet.Check(documents, -12)
    alone.run()
    assert spread.verdicts == alone.verdicts


def run(*arguments):
    return CliRunner().invoke(main, ["fleet", *map(str, arguments)])


@pytest.fixture
def folder(tmp_path):
    """A folder with a system that works, one that does not in frost, a list of two and a file that is none."""
    thin = [{"id": "S0", "from": "pump", "to": "N0", "length_m": 80, "bore_mm": 6}]
    for name, content in (("fine.json", plain_system(name="Fine one")),
                          ("cold.json", plain_system(name="Cold one", sections=thin, area="Yard")),
                          ("list.json", [plain_system(name="First"), plain_system(name="Draft", sections=[])])):
        (tmp_path / name).write_text(json.dumps(content), encoding="utf-8")
    (tmp_path / "none.json").write_text("{", encoding="utf-8")
    return tmp_path


def test_the_command_prints_the_worst_first_and_what_cannot_be_judged(folder):
    done = run("--temperature", "-15", folder)
    assert done.exit_code == 2 and done.stdout.startswith("At −15 °C: 1 of 5 systems will not work, 2 will, 2 cannot be judged.")
    assert done.stdout.index("Cold one") < done.stdout.index("stay locked in") < done.stdout.index("Cannot be judged")
    assert "is not JSON" in done.stdout


def test_a_file_that_cannot_be_read_is_no_success(folder):
    assert run("--temperature", "20", folder / "none.json").exit_code == 1
    assert run("--temperature", "20", folder / "fine.json").exit_code == 0
    assert run("--temperature", "20", folder / "list.json").exit_code == 1  # one of the two is a draft


def test_the_command_prints_json(folder):
    answer = json.loads(run("--temperature", "5 °F", "--json", folder).stdout)
    assert answer["format"] == "fleet/1" and answer["at_c"] == pytest.approx(-15) and answer["systems"] == 5
    assert [row["name"] for row in answer["fails"]] == ["Cold one"] and answer["fails"][0]["limit"] == "reset"
    assert len(answer["works"]) == 2 and len(answer["apart"]) == 2 and answer["closed"] + answer["simulated"] == 3


def test_the_command_reads_the_store_and_one_area(folder, monkeypatch, database, hand):
    hand("technician").send(a_revision(a_plain(name="Stored", area="Yard")), a_revision(a_plain(area="Hall")))
    monkeypatch.setenv("DATABASE_URL", database)
    answer = json.loads(run("--temperature", "20", "--area", "Yard", "--json").stdout)
    assert [row["name"] for row in answer["works"]] == ["Stored"] and answer["systems"] == 1


@pytest.mark.parametrize("arguments, says", [(["--temperature", "warm"], "--temperature: “warm” cannot be read"),
                                             (["--temperature", "151"], "from −70 °C to 150 °C"),
                                             (["--temperature", "0", "--area", "Attic"], "There is no system in the area Attic")])
def test_the_command_refuses_in_one_sentence(folder, arguments, says):
    done = run(*arguments, folder / "fine.json")
    assert done.exit_code == 1 and says in done.stderr and done.stderr.count("\n") == 1
