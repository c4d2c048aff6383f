"""A system's tables: out and in with no difference, each wrong row named, nobody's newer work overwritten."""
import csv
import io

import pytest
from click.testing import CliRunner

from demo_site import plant
from tests.web.conftest import a_revision, a_system, new_id
from webapp import register
from webapp.__main__ import main
from webapp.store import revisions

SYSTEMS = plant.systems()


def given(system, revision=None):
    """The newest revision of a system that is not stored, as the store gives it."""
    return {"id": revision or new_id(), "document": system["id"], "body": system, "deleted": False}


def cells(text, separator=","):
    return list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), delimiter=separator))


def typed(rows, separator=",", decimal="."):
    """Rows as another program writes them."""
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=separator, lineterminator="\n").writerows([
        [cell.replace(".", decimal) if number and cell.replace(".", "").isdigit() else cell for cell in row] for number, row in enumerate(rows)])
    return out.getvalue()


@pytest.fixture
def system(hand):
    """A stored system's newest revision."""
    sent = a_revision(a_system())
    hand("technician").send(sent)
    return sent


@pytest.fixture
def newest(store, system):
    def read():
        with store.reading() as connection:
            return revisions.newest(connection, system["document"])
    return read


@pytest.fixture
def out(newest):
    return lambda name: register.give_out(newest(), name)


@pytest.fixture
def take_in(hand, system):
    """take_in({file name: text}, who): the answer of the desk."""
    def post(files, who="supervisor"):
        browser = hand(who)
        sent = [(io.BytesIO(text.encode() if isinstance(text, str) else text), name) for name, text in files.items()]
        return browser.http.post("/plant/%s/register" % system["document"], data={"csrf_token": browser.token(), "file": sent},
                                 content_type="multipart/form-data", follow_redirects=True)
    return post


def refused(reply, *words):
    """Nothing was taken in, and one sentence says why."""
    text = reply.get_data(as_text=True).replace("&#34;", '"')
    assert reply.status_code == 422 and "Nothing was changed." in text
    assert all(word in text for word in words), text[text.index("Nothing was changed"):]
    return text


@pytest.mark.parametrize("body", SYSTEMS, ids=[one["name"] for one in SYSTEMS])
@pytest.mark.parametrize("separator, decimal", [(",", "."), (";", ","), ("\t", ".")])
def test_every_table_comes_back_as_it_went_for_every_kind(store, body, separator, decimal):
    found = given(body)
    with store.writing() as connection:
        revisions.add(connection, dict(a_revision(body), id=found["id"], site="", made_by="x"), "accepted")
        files = {name: typed(cells(register.give_out(found, name)), separator, decimal) for name in register.NAMES}
        assert register.take_in(connection, {"all_sites": True}, found, files) is None


def test_the_desk_gives_out_what_it_takes_in_and_says_that_nothing_differs(hand, system, take_in, newest):
    browser, before = hand("supervisor"), newest()
    files = {}
    for name in register.NAMES:
        reply = browser.get("/plant/%s/register/%s.csv" % (system["document"], name))
        assert reply.data.startswith(b"\xef\xbb\xbf") and b"\r\n" in reply.data
        files["%s (1).csv" % name] = reply.data
    assert "nothing was changed" in take_in(files).get_data(as_text=True) and newest() == before


def test_a_new_point_a_changed_figure_and_a_row_taken_out_make_a_revision(take_in, out, newest):
    rows, before = cells(out("points")), newest()
    head, figure = rows[0], rows[0].index(FIGURE)
    rows[1][figure] = "0.1"
    rows.append([{"id": "P99", "name": "=New, \"guide\""}.get(name, cell) for name, cell in zip(head, rows[1])])
    rows[-1][head.index("name")] = "'=New; \"guide\""
    gone = rows.pop(3)
    assert "taken in" in take_in({"points.csv": typed(rows, ";", ",")}).get_data(as_text=True)
    made, points = newest(), {one["id"]: one for one in newest()["body"]["points"]}
    assert made["parent"] == before["id"] and made["reason"] == "taken in from tables: points" and made["state"] == "accepted"
    assert points["P99"]["name"] == "=New; \"guide\"" and points["P99"]["need"] == points[rows[1][0]]["need"] and gone[0] not in points
    first, = (one for one in before["body"]["points"] if one["id"] == rows[1][0])
    assert points[rows[1][0]] == dict(first, need=dict(first["need"], cm3_per_h=0.1))


FIGURE = "need.cm3_per_h [cm³/h]"


def put(line, column, text):
    """A change of one cell, of a row or (line 0) of the header, by its column's header or number."""
    def change(rows):
        rows[line][rows[0].index(column) if isinstance(column, str) else column] = text
    return change


@pytest.mark.parametrize("change, words", [
    (put(2, 0, ""), ("points.csv, line 3, column id: nothing is entered", "an id of its own")),
    (put(3, 0, "P1"), ("points.csv, line 4: the id P1 is there twice, first in line 2",)),
    (put(1, FIGURE, "4o"), ("line 2, column %s: “4o” is no number" % FIGURE, "12.5")),
    (put(1, FIGURE, "1,5"), ("line 2, column %s: “1,5” is no number" % FIGURE, "12.5")),
    (put(1, FIGURE, "9" * 400), ("is no number",)),
    (put(1, FIGURE, "-3"), ("line 2, column %s: " % FIGURE, "the least that makes sense")),
    (put(1, "need.method", "magic"), ("line 2, column need.method: “magic” is not known", "Use one of: ")),
    (put(1, "need.conditions.outer_ring_turns", "perhaps"), ("“perhaps” is neither true nor false",)),
    (put(1, "device", "D77"), ("line 2, column device: ", "D77", "Choose one of the devices")),
    (lambda rows: rows[2].pop(), ("line 3: it has", "cells and the header has")),
    (put(0, FIGURE, "need.cm3_per_h [in³/h]"), ("line 1", "must be \"%s\"" % FIGURE)),
    (put(0, 1, "colour"), ("line 1: the column \"colour\" (number 2) is not known",)),
    (put(0, 1, "id"), ("line 1: the column \"id\" is there twice",)),
    (lambda rows: [row.pop(0) for row in rows], ("line 1: the column id is missing",)),
    (lambda rows: [row.pop() for row in rows], ("line 1: the column that names the revision is missing",)),
    (put(0, -1, "revision 7"), ("line 1: the column that names the revision",)),
    (put(0, -1, "revision " + new_id()), ("points.csv was given out of another system",)),
    (lambda rows: rows.clear(), ("line 1: the header is missing",))])
def test_what_is_wrong_is_one_sentence_with_its_place_and_changes_nothing(take_in, out, newest, change, words):
    rows, before = cells(out("points")), newest()
    change(rows)
    refused(take_in({"points.csv": typed(rows)}), *words)
    assert newest() == before


def test_every_wrong_row_is_told_once(take_in, out):
    rows = cells(out("points"))
    figure, method = rows[0].index(FIGURE), rows[0].index("need.method")
    for row in rows[1:4]:
        row[figure], row[method] = "?", "?"
    assert refused(take_in({"points.csv": typed(rows)})).count("points.csv, line") == 3


@pytest.mark.parametrize("files, words", [
    ({}, ("No file was chosen",)), ({"list.csv": "id"}, ("list.csv: its name must begin with",)),
    ({"points.csv": b"\xff\xfei\0d\0"}, ("not UTF-8",)), ({"points.csv": 'id,"na\nme'}, ("points.csv, line 1: the quotes do not close",)),
    ({"points.csv": "id", "points-2.csv": "id"}, ("Two files hold points",))])
def test_files_that_are_no_tables_are_refused(take_in, files, words):
    refused(take_in(files), *words)


def test_tables_of_different_revisions_do_not_mix(take_in, hand, out, system):
    points = out("points")
    hand("technician").send(a_revision(dict(system["body"], area="Yard"), system))
    refused(take_in({"points.csv": points, "devices.csv": out("devices")}), "points.csv was given out at another time than devices.csv")


def test_what_others_changed_meanwhile_is_united_and_the_same_field_becomes_a_clash(take_in, hand, out, system, newest):
    rows = cells(out("points"))
    name = rows[0].index("name")
    theirs = dict(system["body"], area="Yard", points=[dict(one) for one in system["body"]["points"]])
    theirs["points"][1]["name"] = "Theirs"
    hand("technician").send(a_revision(theirs, system))
    rows[1][name] = "Ours"
    assert "united with what was changed meanwhile" in take_in({"points.csv": typed(rows)}).get_data(as_text=True)
    body = newest()["body"]
    assert body["area"] == "Yard" and [one["name"] for one in body["points"][:2]] == ["Ours", "Theirs"]
    rows[2][name] = "Ours too"
    assert "both are kept" in take_in({"points.csv": typed(rows)}).get_data(as_text=True)
    assert newest()["state"] == "clash" and newest()["body"]["area"] == "Yard"


# ---- the command

@pytest.fixture
def run(database, system):
    return lambda *arguments: CliRunner().invoke(main, ["register", system["document"], *map(str, arguments)],
                                                 env={"DATABASE_URL": database})


def test_the_command_gives_out_and_takes_in(run, tmp_path, newest):
    assert (run("--out", tmp_path / "tables").exit_code, newest()["number"]) == (0, 1)
    files = [option for name in register.NAMES for option in ("--in", tmp_path / "tables" / (name + ".csv"))]
    assert run(*files, "--by", "supervisor").output == "Nothing differs: nothing was changed.\n"
    points = tmp_path / "tables" / "points.csv"
    rows = cells(points.read_text(encoding="utf-8-sig"))
    rows[1][rows[0].index("name")] = "Renamed"
    points.write_text(typed(rows))
    assert run("--in", points, "--by", "supervisor").output == "Accepted as number 2.\n"
    assert newest()["body"]["points"][0]["name"] == "Renamed" and newest()["made_at"][:4].isdigit()


@pytest.mark.parametrize("options, words", [
    ((), "either --out FOLDER or --in FILE"), (("--in", "points.csv"), "--by NAME"),
    (("--in", "points.csv", "--by", "technician"), "a technician"),
    (("--in", "points-2.csv", "--by", "supervisor"), "points-2.csv cannot be read"),
    (("--in", "list.csv", "--by", "supervisor"), "its name must begin")])
def test_the_command_says_in_one_sentence_what_it_cannot(run, options, words, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "points.csv").write_text("id")
    result = run(*options)
    assert result.exit_code == 1 and result.stderr.startswith("Error: ") and words in result.stderr


def test_the_command_overwrites_no_table_and_leaves_other_sites_alone(run, tmp_path):
    assert run("--out", tmp_path).exit_code == 0
    assert "is there already" in run("--out", tmp_path).stderr
    points = tmp_path / "points.csv"
    rows = cells(points.read_text(encoding="utf-8-sig"))
    rows[1][rows[0].index("name")] = "Renamed"
    points.write_text(typed(rows))
    assert "You do not work on this site" in run("--in", points, "--by", "outsider").stderr
