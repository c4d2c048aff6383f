"""Papers made in the background: asked for at the desk, worked at by a process of its own, fetched by those who may."""
import fcntl
import io
import os
import signal
import subprocess
import sys
import time
import zipfile

import pytest
from pypdf import PdfReader

from tests.web.conftest import OTHER_SITE, SECRET, SITE, a_revision, a_system, new_id
from tests.web.test_killed_server import Server
from webapp import worker
from webapp.app import create_app
from webapp.store import Store, jobs
from webapp.worker import work

PERIOD = {"since": "2026-11-01", "until": "2026-11-25"}


@pytest.fixture
def app(database, tmp_path):
    app = create_app(database, SECRET, data=tmp_path)
    yield app
    app.extensions["store"].close()


@pytest.fixture
def folder(app):
    return app.config["PAPERS"]


@pytest.fixture
def systems(hand):
    """Two systems of the site and one of another, the first with a signed round and a defect."""
    made = [a_system(name="Long chain, äöü / 1"), a_system(name="Short chain"), a_system(OTHER_SITE, name="Elsewhere")]
    walked = {"format": "round/1", "id": new_id(), "system": made[0]["id"], "made_at": "2026-11-20T08:00:00+01:00",
              "items": [{"id": "pump", "ask": "Is the pump dry outside?", "answer": "ok"}]}
    defect = {"format": "defect/1", "id": new_id(), "system": made[0]["id"], "made_at": "2026-11-20T08:10:00+01:00", "where": "Pump",
              "what": "Relief valve weeps", "severity": "failing"}
    hand("administrator").send(*[a_revision(one) for one in (*made, walked, defect)])
    return made


def asked(browser, **changes):
    form = dict({"kind": ["defects", "round"], "as": "zip", "csrf_token": browser.token()}, **PERIOD) | changes
    return browser.http.post("/plant/papers", data=form)


def the_job(store):
    with store.reading() as connection:
        return jobs.every(connection)[0]


def test_a_zip_holds_a_paper_of_each_system_and_one_of_all(hand, store, folder, systems):
    browser = hand("supervisor")
    assert asked(browser, kind=["defects", "settings", "round"]).status_code == 303
    assert "waits for the worker" in browser.get("/plant/papers").get_data(as_text=True)
    work(store, folder)
    job = the_job(store)
    assert (job["state"], job["done"], job["total"]) == (jobs.DONE, 4, 4)
    reply = browser.get("/plant/papers/%s/file" % job["id"])
    assert reply.headers["Content-Disposition"].endswith("papers-2026-11-01-to-2026-11-25.zip")
    packed = zipfile.ZipFile(io.BytesIO(reply.data))
    assert [name.rpartition("-")[0] for name in packed.namelist()] == [
        "", "001-Long-chain--äöü---1-settings", "001-Long-chain--äöü---1-round", "002-Short-chain-settings"]
    assert "Relief valve weeps" in PdfReader(io.BytesIO(packed.read("defects.pdf"))).pages[0].extract_text()
    assert sorted(path.name for path in folder.iterdir()) == [job["file"], "worker.lock"]


def test_one_pdf_holds_them_all_tagged_and_with_their_records(hand, store, folder, systems):
    browser = hand("supervisor")
    asked(browser, **{"as": "pdf"})
    work(store, folder)
    content = browser.get("/plant/papers/%s/file" % the_job(store)["id"]).data
    read = PdfReader(io.BytesIO(content))
    text = "\n".join(page.extract_text() for page in read.pages)
    assert "Relief valve weeps" in text and "Is the pump" in text and "Elsewhere" not in text
    assert set(read.attachments) == {"001-defects.json", "002-round.json", "002-system.json"}
    assert read.trailer["/Root"]["/MarkInfo"]["/Marked"] and read.metadata.title == "North works, 1 Nov 2026 to 25 Nov 2026"


def test_one_pdf_of_too_many_pages_comes_in_parts_that_hold_them_all(hand, store, folder, systems, monkeypatch):
    monkeypatch.setattr(worker, "MOST_PAGES", 2)
    browser = hand("supervisor")
    asked(browser, kind=["defects", "round", "refills"], **{"as": "pdf"})
    work(store, folder)
    reply = browser.get("/plant/papers/%s/file" % the_job(store)["id"])
    assert reply.headers["Content-Disposition"].endswith(".zip") and "comes in parts" in browser.get("/plant/papers").get_data(as_text=True)
    packed = zipfile.ZipFile(io.BytesIO(reply.data))
    parts = [PdfReader(io.BytesIO(packed.read(name))) for name in packed.namelist()]
    assert packed.namelist() == ["part-01.pdf", "part-02.pdf"] and [len(part.pages) for part in parts] == [2, 1]
    assert [part.metadata.title.rpartition(", ")[2] for part in parts] == ["part 1", "part 2"]
    assert all(part.trailer["/Root"]["/MarkInfo"]["/Marked"] for part in parts)
    text = "".join(page.extract_text() for part in parts for page in part.pages)
    assert [one for one in ("Defect list", "Refill list", "Round report") if one not in text] == []
    assert sorted(path.name for path in folder.iterdir()) == [the_job(store)["file"], "worker.lock"]


def test_the_same_papers_give_the_same_bytes(hand, store, folder, systems):
    for form in ("zip", "pdf"):
        made = []
        for _ in range(2):
            asked(hand("supervisor"), **{"as": form})
            work(store, folder)
            made.append((folder / the_job(store)["file"]).read_bytes())
        assert made[0] == made[1], form


@pytest.mark.parametrize("changes, status, words", [
    ({"kind": []}, 422, "at least one kind"), ({"as": "doc"}, 422, "one PDF or a ZIP"), ({"since": "x"}, 422, "is no day"),
    ({"since": "2999-12-01"}, 422, "before it begins"), ({"area": "nowhere"}, 422, "no system"), ({"system": [new_id()]}, 422, "no system")])
def test_what_cannot_be_asked_for_is_said_in_a_sentence(hand, store, systems, changes, status, words):
    reply = asked(hand("supervisor"), **changes)
    assert reply.status_code == status and words in reply.get_data(as_text=True)
    with store.reading() as connection:
        assert jobs.every(connection) == []


def test_a_person_waits_for_one_at_a_time(hand, systems):
    assert [asked(hand("supervisor")).status_code for _ in range(2)] == [303, 409]
    assert asked(hand("administrator")).status_code == 303


def test_nothing_to_print_is_said(hand, store, folder, systems):
    browser = hand("supervisor")
    asked(browser, kind=["commissioning"])
    work(store, folder)
    assert "There was nothing to print" in browser.get("/plant/papers").get_data(as_text=True)


def test_what_was_stopped_is_not_made_and_leaves_nothing(hand, store, folder, systems):
    browser = hand("supervisor")
    asked(browser)
    identity = the_job(store)["id"]
    assert browser.http.post("/plant/papers/%s/stop" % identity, data={"csrf_token": browser.token()}).status_code == 303
    work(store, folder)
    assert the_job(store)["state"] == jobs.STOPPED and [path.name for path in folder.iterdir()] == ["worker.lock"]
    assert "was stopped" in browser.get("/plant/papers").get_data(as_text=True)


def test_stopped_in_the_middle_it_ends_at_the_next_paper(hand, store, folder, systems, monkeypatch):
    asked(hand("supervisor"))
    whole = worker.write_whole

    def stop_after_one(path, content):
        whole(path, content)
        with store.writing() as connection:
            jobs.stop(connection, the_job(store)["id"])

    monkeypatch.setattr(worker, "write_whole", stop_after_one)
    work(store, folder)
    job = the_job(store)
    assert (job["state"], job["done"]) == (jobs.STOPPED, 0) and [path.name for path in folder.iterdir()] == ["worker.lock"]


def test_only_supervisors_of_its_sites_get_at_it(hand, store, folder, systems):
    asked(hand("administrator"))  # of both sites
    work(store, folder)
    path = "/plant/papers/%s" % the_job(store)["id"]
    for who, status in (("administrator", 200), ("supervisor", 404), ("outsider", 404), ("technician", 403)):
        browser = hand(who)
        assert browser.get(path + "/file").status_code == status
        if status != 200:
            assert browser.http.post(path + "/stop", data={"csrf_token": browser.token()}).status_code == status
    assert "is ready" not in hand("supervisor").get("/plant/papers").get_data(as_text=True)
    asked(hand("supervisor"))
    work(store, folder)
    assert hand("administrator").get("/plant/papers/%s/file" % the_job(store)["id"]).status_code == 200
    assert SITE in the_job(store)["request"]["sites"]


def test_old_ones_are_taken_away_and_open_ones_are_not(hand, store, folder, systems):
    asked(hand("supervisor"))
    work(store, folder)
    asked(hand("supervisor"))
    (folder / "left-over").mkdir()
    with store.writing() as connection:
        connection.exec_driver_sql("UPDATE job SET asked_at = '2020-01-01T00:00:00.000+00:00'")
    work(store, folder)
    with store.reading() as connection:
        left = jobs.every(connection)
    assert [job["state"] for job in left] == [jobs.DONE]
    assert sorted(path.name for path in folder.iterdir()) == sorted([left[0]["file"], "worker.lock"])


def test_a_paper_that_breaks_its_worker_each_time_is_given_up(hand, store, systems):
    asked(hand("supervisor"))
    for _ in range(jobs.MOST_TAKEN):
        with store.writing() as connection:
            assert jobs.take(connection)["state"] == jobs.WORKING  # and dies
    with store.writing() as connection:
        assert jobs.take(connection) is None
    assert "broke off 3 times" in the_job(store)["says"]


def a_worker(database, folder):
    return subprocess.Popen([sys.executable, "-m", "webapp", "work", "--with-server"], stdin=subprocess.PIPE,
                            env=dict(os.environ, DATABASE_URL=database, DATA=str(folder.parent)))


def wait_for(what):
    """Until it holds; the suite's own time limit ends it where it never does."""
    while not what():
        time.sleep(0.01)


def test_a_worker_killed_in_the_middle_leaves_what_the_next_one_finishes(hand, store, folder, systems, database):
    asked(hand("supervisor"), kind=["season"])
    first = a_worker(database, folder)
    wait_for(lambda: list(folder.glob("*/*.pdf")) if folder.exists() else [])
    first.send_signal(signal.SIGKILL)
    first.wait()
    first.stdin.close()
    assert the_job(store)["state"] == jobs.WORKING
    kept = [path.read_bytes() for path in folder.glob("*/*.pdf")]
    second = a_worker(database, folder)
    assert second.wait() == 0
    second.stdin.close()
    job = the_job(store)
    assert job["state"] == jobs.DONE and len(kept) == 1
    with zipfile.ZipFile(folder / job["file"]) as packed:
        assert len(packed.namelist()) == 2 and packed.testzip() is None
        assert packed.read(packed.namelist()[0]) == kept[0] and b"%%EOF" in packed.read(packed.namelist()[1])[-10:]


def test_a_worker_ends_with_whoever_started_it(hand, store, folder, systems, database):
    asked(hand("supervisor"), kind=["season"])
    with Store(database).writing():  # nobody else writes: it waits for its first job
        worker = a_worker(database, folder)
        worker.stdin.close()
        assert worker.wait() in (0, -signal.SIGTERM)
    assert the_job(store)["state"] == jobs.WAITING


@pytest.fixture
def server(database, tmp_path, monkeypatch):
    monkeypatch.setenv("DATA", str(tmp_path))
    server = Server(database)
    server.start()
    yield server
    if server.process.poll() is None:
        server.kill()


def test_a_server_killed_with_its_worker_at_work_finishes_the_papers_after_its_next_start(server, hand, store, folder, systems):
    """The server that runs is another process on the same database; the form is posted to this one, so that it has to find what waits."""
    asked(hand("supervisor"), kind=["season"])
    server.restart()
    wait_for(lambda: list(folder.glob("*/*.pdf")))
    server.restart()
    wait_for(lambda: the_job(store)["state"] == jobs.DONE)
    assert len(zipfile.ZipFile(folder / the_job(store)["file"]).namelist()) == 2


def test_a_server_told_to_end_ends_its_worker_first(server, hand, store, folder, systems):
    asked(hand("supervisor"), kind=["season"])
    server.restart()
    wait_for(lambda: the_job(store)["state"] == jobs.WORKING)
    server.process.terminate()
    assert server.process.wait() == 0
    with (folder / "worker.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)  # nobody holds it any more
    assert the_job(store)["state"] == jobs.WORKING and server.process.stdout.read() == ""
    server.process.stdout.close()
