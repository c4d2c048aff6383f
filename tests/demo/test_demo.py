"""The demo: how it starts and ends, and that its systems are in the state that its text tells."""
import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest
import requests

from demo_site import plant, plant_kinds
from webapp.engine.bridge import ask
from webapp.engine.document.check import check

ROOT = Path(__file__).parents[2]


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@pytest.fixture
def start(tmp_path):
    """start(*arguments) starts the demo on a free port and returns (process, address) when it answers."""
    processes = []
    port = free_port()

    def begin(*arguments):
        process = subprocess.Popen([str(ROOT / "demo_site" / "start"), *arguments], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                   text=True, env=dict(os.environ, PORT=str(port), DATA=str(tmp_path / "data")))
        processes.append(process)
        line = process.stdout.readline()
        assert "http://127.0.0.1:%d/" % port in line, line + process.stderr.read()
        return process, "http://127.0.0.1:%d" % port

    yield begin
    for process in processes:
        process.kill()
        process.wait()


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_it_prints_one_line_answers_and_ends_cleanly(start, number):
    process, address = start()
    assert requests.get(address + "/health").json() == {"ok": True}
    process.send_signal(number)
    assert process.wait(15) == 0
    assert process.stdout.read() == "" and process.stderr.read() == ""


def test_a_second_start_keeps_what_was_changed_and_fresh_forgets_it(start):
    process, address = start()
    assert rename(address, "Renamed") == "Renamed"
    process.terminate()
    process.wait(15)
    process, address = start()
    assert "Renamed" in names(address)
    process.terminate()
    process.wait(15)
    _, address = start("--fresh")
    assert "Renamed" not in names(address)


def signed_in(address):
    client = requests.Session()
    client.headers["X-CSRFToken"] = client.get(address + "/api/token").json()["token"]
    reply = client.post(address + "/api/session", json={"name": "supervisor", "password": "brackwater", "phone": None}).json()
    client.headers["X-CSRFToken"] = reply["token"]
    return client


def systems(address):
    client, after, more, found = signed_in(address), 0, True, {}
    while more:
        page = client.get(address + "/sync/feed?after=%d&limit=500" % after).json()
        found.update({one["document"]: one for one in page["revisions"] if one["kind"] == "system"})
        after, more = page["cursor"], page["more"]
    return found


def names(address):
    return {one["body"]["name"] for one in systems(address).values()}


def rename(address, name):
    held = next(iter(systems(address).values()))
    revision = {"id": "0f8fad5b-d9cb-469f-a165-70867728950e", "document": held["document"], "kind": "system", "parent": held["id"],
                "also": None, "made_at": "2026-11-24T08:00:00+01:00", "phone": None, "deleted": False, "reason": None,
                "body": dict(held["body"], name=name)}
    result = signed_in(address).post(address + "/sync/send", json={"revisions": [revision]}).json()["results"][0]
    return name if result["state"] == "accepted" else result


def test_a_taken_port_is_said_in_one_sentence(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        done = subprocess.run([sys.executable, "-m", "demo_site"], cwd=ROOT, capture_output=True, text=True, timeout=60,
                              env=dict(os.environ, PORT=str(taken.getsockname()[1]), DATA=str(tmp_path)))
    assert done.returncode == 1 and done.stdout == ""
    assert done.stderr.count("\n") == 1 and "cannot be used" in done.stderr


def test_it_answers_on_the_loopback_address_only(start):
    _, address = start()
    port = "%04X" % int(address.rsplit(":", 1)[1])
    listening = [line.split()[1] for table in ("tcp", "tcp6") for line in Path("/proc/net", table).read_text().splitlines()[1:]
                 if line.split()[3] == "0A"]
    assert [one for one in listening if one.endswith(":" + port)] == ["0100007F:" + port]
    assert requests.get(address + "/", headers={"Host": "plant.example"}).status_code == 403


def test_one_tap_signs_in_as_technician_or_supervisor(start):
    _, address = start()
    for name, home in (("technician", "/app/"), ("supervisor", "/plant")):
        client = requests.Session()
        token = client.get(address + "/api/token").json()["token"]
        reply = client.post(address + "/demo/sign-in", data={"name": name, "csrf_token": token})
        assert reply.url == address + home


def worked(system):
    return ask({"do": "work", "document": system})


def test_every_system_passes_the_check_and_has_an_area():
    made = plant.systems()
    assert len(made) >= 3 and len({one["area"] for one in made}) >= 2
    assert [[finding for finding in check(one) if finding["severity"] == "stop"] for one in made] == [[]] * len(made)


def test_the_head_rig_is_fine():
    assert [one["id"] for one in worked(plant.head_rig())["findings"] if one["severity"] != "note"] == []


def test_the_sorter_chain_cannot_vent_on_the_coldest_morning():
    found = worked(plant.sorter_chain())
    assert found["line"]["resets_at_coldest"]["value"] is False
    assert any(one["severity"] == "stop" and "will not vent" in one["says"] for one in found["findings"])


def test_the_planer_over_feeds_half_of_its_points():
    points = worked(plant.planer_feed())["points"]
    assert sum(point["ratio"]["value"] > 2 for point in points) * 2 == len(points)


def test_the_debarker_s_switches_trip_in_the_wrong_order():
    assert "switches.order" in [one["id"] for one in worked(plant.debarker())["findings"]]


def test_the_trimmer_has_an_outlet_that_feeds_nothing():
    found = worked(plant_kinds.trimmer())["findings"]
    assert [(one["id"], one["where"]) for one in found if one["severity"] != "note"] == [("check.idle_outlet", "devices[1].outlets[5]")]


def test_the_stacker_vents_with_little_to_spare_on_the_coldest_morning():
    found = worked(plant_kinds.stacker())
    assert [one["id"] for one in found["findings"] if one["severity"] != "note"] == ["line.nearly_locked"]
    assert found["line"]["resets_at_coldest"]["value"] is True


def test_the_band_resaw_must_run_longer_than_its_controller_can_be_told():
    found = worked(plant_kinds.resaw())["findings"]
    assert [one["id"] for one in found if one["severity"] == "stop"] == ["timed.out_of_range"]
    assert "timed.unconfirmed" in [one["id"] for one in found]
