"""The commands `people`, `check`, `export` and `import`: what they do, one sentence on stderr where they cannot, and exit codes."""
import pytest
from argon2 import PasswordHasher
from argon2.profiles import CHEAPEST
from click.testing import CliRunner

from tests.web.conftest import CAST, a_revision, a_system
from webapp.__main__ import main
from webapp.store import Store, StoreError, people

PASSWORD = "a long password"


@pytest.fixture
def run(database, monkeypatch):
    """run("people", "list", input="...") runs a command on this test's database."""
    monkeypatch.setattr(people, "_hasher", PasswordHasher.from_parameters(CHEAPEST))

    def command(*arguments, given=PASSWORD, url=database):
        return CliRunner().invoke(main, arguments, input=given + "\n", env={"DATABASE_URL": url})
    return command


def fails(result, *words):
    """It failed with one sentence on stderr that holds these words, and said nothing else."""
    assert result.exit_code == 1 and result.stdout == ""
    assert result.stderr.startswith("Error: ") and result.stderr.count("\n") == 1
    assert all(word in result.stderr for word in words), result.stderr


def person(store, name):
    with store.reading() as connection:
        return people.by_name(connection, name)


# ---- people

@pytest.mark.parametrize("environment, says", [({"DATABASE_URL": "mysql://host/name"}, "no address of a database"),
                                              ({"DATABASE_URL": "postgresql://host:port/name"}, "no address of a database"),
                                              ({"DATA": "/proc/nowhere", "DATABASE_URL": ""}, "The folder /proc/nowhere cannot be used")])
def test_a_database_that_cannot_be_is_one_sentence(environment, says):
    fails(CliRunner().invoke(main, ["people", "list"], env=environment), says)


def test_an_empty_plant_says_how_to_begin(run, tmp_path):
    result = run("people", "list", url="sqlite:///%s" % (tmp_path / "new.sqlite"))
    assert result.exit_code == 0 and result.stdout == "" and "people add NAME administrator" in result.stderr


def test_everybody_is_listed(run):
    result = run("people", "list")
    assert result.exit_code == 0
    assert [line.split("\t")[0] for line in result.stdout.splitlines()] == sorted(CAST)
    assert "technician\ttechnician\tNorth works\tactive" in result.stdout


def test_a_person_is_added_and_can_sign_in(run, hand):
    result = run("people", "add", "new", "supervisor", "--site", "North works", "--site", "South works")
    assert (result.exit_code, result.output) == (0, "")
    reply = hand().sign_in("new", PASSWORD).get_json()["person"]
    assert (reply["role"], reply["sites"]) == ("supervisor", ["North works", "South works"])


def test_the_first_person_of_an_empty_database_is_added(run, tmp_path):
    url = "sqlite:///%s" % (tmp_path / "new.sqlite")
    assert run("people", "add", "first", "administrator", "--all-sites", url=url).exit_code == 0
    assert run("people", "list", url=url).stdout == "first\tadministrator\tall sites\tactive\n"


def test_a_password_is_set_and_ends_sessions(run, hand):
    technician = hand("technician")
    assert run("people", "password", "technician").exit_code == 0
    assert technician.get("/api/session").status_code == 401
    assert hand().sign_in("technician", PASSWORD).status_code == 200


def test_a_role_is_given(run, hand, store):
    technician = hand("technician")
    assert run("people", "role", "technician", "administrator").exit_code == 0
    assert technician.get("/people").status_code == 200


def test_sites_are_given_and_hold_at_once(run, hand, store):
    hand("administrator").send(a_revision(a_system("South works")))
    technician = hand("technician")
    assert technician.feed()["revisions"] == []
    assert run("people", "sites", "technician", "--site", "South works").exit_code == 0
    assert len(technician.feed()["revisions"]) == 1
    assert run("people", "sites", "technician", "--all-sites").exit_code == 0
    assert person(store, "technician")["all_sites"] is True


def test_somebody_is_kept_out_and_let_in_again(run, hand):
    technician = hand("technician")
    assert run("people", "disable", "technician").exit_code == 0
    assert technician.get("/api/session").status_code == 401
    assert "kept out" in run("people", "list").stdout
    assert run("people", "enable", "technician").exit_code == 0
    assert hand().sign_in("technician").status_code == 200


def test_what_was_done_is_in_the_audit_without_the_password(run, store):
    run("people", "password", "technician")
    with store.reading() as connection:
        line = people.audit(connection)[0]
    assert (line["who"], line["what"], line["about"]) == ("terminal", "set a password", person(store, "technician")["id"])


@pytest.mark.parametrize("arguments", [("password", "nobody"), ("role", "nobody", "supervisor"), ("disable", "nobody"),
                                       ("enable", "nobody"), ("sites", "nobody", "--all-sites")])
def test_a_name_that_nobody_has_is_named(run, arguments):
    fails(run("people", *arguments), "nobody")


def test_a_name_in_use_is_named(run):
    fails(run("people", "add", "technician", "technician", "--all-sites"), "technician is in use")


@pytest.mark.parametrize("given", ["", "short", "nine char"])
def test_a_short_password_is_refused_and_nothing_changes(run, hand, given):
    fails(run("people", "password", "technician", given=given), "at least 10")
    assert hand().sign_in("technician").status_code == 200


@pytest.mark.parametrize("command", [("add", "new", "technician"), ("sites", "technician"), ("sites", "technician", "--site", " ")])
def test_somebody_without_a_site_is_refused(run, command):
    fails(run("people", *command), "--site", "--all-sites")


@pytest.mark.parametrize("name", ["", "  ", "x" * 101, "a\0b"])
def test_a_name_that_cannot_be_is_refused(run, name):
    fails(run("people", "add", name, "technician", "--all-sites"), "1 to 100")


def test_a_role_that_does_not_exist_is_a_wrong_call(run):
    result = run("people", "role", "technician", "owner")
    assert result.exit_code == 2 and "owner" in result.stderr


# ---- check

def test_a_database_that_fails_on_the_way_is_said_where_it_did(run, monkeypatch):
    def fail(*_):
        raise StoreError("The database did not do it: it went away")

    monkeypatch.setattr("webapp.commands.check.revisions.latest", fail)
    result = run("check")
    assert result.exit_code == 1 and result.stdout.splitlines()[-1] == "clock      WRONG: The database did not do it: it went away"


def test_a_sound_plant_is_well(run, store):
    result = run("check")
    assert result.exit_code == 0
    assert [line.split()[:2] for line in result.stdout.splitlines()] == [
        ["database", "well:"], ["migrations", "well:"], ["clock", "well:"], ["photos", "well:"]]


@pytest.mark.parametrize("url", ["nonsense", "sqlite:////no/such/folder/plant.sqlite", "postgresql://plant@127.0.0.1:1/plant"])
def test_a_database_that_does_not_answer_is_wrong(run, url):
    result = run("check", url=url)
    assert result.exit_code == 1 and result.stdout.startswith("database   WRONG: ") and result.stdout.count("\n") == 1


def test_a_database_without_tables_is_wrong_and_stays_without(run, tmp_path):
    url = "sqlite:///%s" % (tmp_path / "new.sqlite")
    for _ in range(2):
        result = run("check", url=url)
        assert result.exit_code == 1 and "migrations WRONG: none yet" in result.stdout


def test_a_database_at_another_migration_is_wrong(run, store):
    with store.writing() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '9999'")
    result = run("check")
    assert result.exit_code == 1 and "migrations WRONG: the database is at 9999" in result.stdout


def test_a_clock_that_was_set_back_is_wrong(run, hand, store):
    hand("technician").send(a_revision(a_system()))
    with store.writing() as connection:
        connection.exec_driver_sql("UPDATE revision SET received_at = '2999-01-01T00:00:00.000+00:00'")
    result = run("check")
    assert result.exit_code == 1 and "clock      WRONG: " in result.stdout and "2999-01-01" in result.stdout


# ---- the whole plant

def test_a_plant_goes_out_and_comes_back_into_an_empty_store_by_two_commands(run, hand, tmp_path):
    sent = a_revision(a_system())
    hand("technician").send(sent)
    out, again, url = tmp_path / "out.zip", tmp_path / "again.zip", "sqlite:///%s" % (tmp_path / "new.sqlite")
    assert run("export", str(out)).exit_code == 0 and out.stat().st_mode & 0o777 == 0o600
    fails(run("export", str(out)), "is there already")
    fails(run("import", str(out)), "holds something already")
    result = run("import", str(out), url=url)
    assert result.exit_code == 0 and "1 revisions" in result.stdout and "new password" not in result.stdout
    assert run("export", str(again), url=url).exit_code == 0
    assert again.read_bytes() == out.read_bytes()
    assert sorted(path.name for path in tmp_path.glob("*.part")) == []


def test_a_plant_without_secrets_says_who_needs_a_password(run, tmp_path):
    out = tmp_path / "out.zip"
    assert run("export", str(out), "--without-secrets").exit_code == 0
    result = run("import", str(out), url="sqlite:///%s" % (tmp_path / "new.sqlite"))
    assert result.exit_code == 0 and "technician needs a new password: python -m webapp people password technician" in result.stdout


def test_a_file_that_is_no_plant_or_a_place_that_is_none_is_one_sentence(run, tmp_path):
    (tmp_path / "letter.zip").write_text("This is a letter.")
    fails(run("import", str(tmp_path / "letter.zip"), url="sqlite:///%s" % (tmp_path / "new.sqlite")), "no ZIP file")
    fails(run("export", str(tmp_path / "nowhere" / "out.zip")), "No such file or directory")


# ---- serve

@pytest.mark.parametrize("environment, words", [
    ({"SECRET_KEY": ""}, "SECRET_KEY is missing"), ({"SECRET_KEY": "short"}, "too short"),
    ({"SECRET_KEY": "changeme-changeme-changeme"}, "looks like a default"),
    ({"SECRET_KEY": "8f3a1c7be2d9460b5e71aa20", "DATABASE_URL": "nonsense"}, "no address of a database")])
def test_serve_does_not_start_with_what_is_missing_or_wrong(environment, words):
    fails(CliRunner().invoke(main, ["serve"], env=environment), words)


@pytest.mark.parametrize("port", ["x", "70000", "-1"])
def test_serve_does_not_start_on_what_is_no_port(port):
    result = CliRunner().invoke(main, ["serve"], env={"PORT": port})
    assert result.exit_code == 2 and port in result.stderr


def test_an_unknown_command_is_a_wrong_call():
    assert CliRunner().invoke(main, ["nothing"]).exit_code == 2


def test_every_command_has_help(run):
    for arguments in (["--help"], ["people", "--help"], ["check", "--help"], ["serve", "--help"]):
        result = run(*arguments)
        assert result.exit_code == 0 and len(result.stdout.splitlines()) > 4
