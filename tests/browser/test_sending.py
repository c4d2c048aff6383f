"""What a person sees of sending: sessions end, two people edit, the server dies, and nothing is lost."""
import os
import subprocess
import sys
import uuid

from .bench import HEAD_RIG, PASSWORD, PLANER, ROOT, eventually

HERE, ELSEWHERE = "Brackwater Sawmill", "Elsewhere"


def move(server, system, site):
    """Somebody who works on both sites moves a system."""
    held, session = server.newest("system", "administrator")[system], server.session("administrator")
    made = {"id": str(uuid.uuid4()), "document": system, "kind": "system", "parent": held["id"], "also": None, "made_at": held["made_at"],
            "phone": None, "deleted": False, "reason": None, "body": dict(held["body"], site=site)}
    result, = session.post(server.address + "/sync/send", json={"revisions": [made]}).json()["results"]
    assert result["state"] == "accepted", result


def fetch(phone):
    phone.open("/app/to-send")
    phone.tap("Send and fetch now")
    phone.button("Send and fetch now").wait_for()


def give_sites(server, name, site):
    subprocess.run([sys.executable, "-m", "webapp", "people", "sites", name, "--site", site], cwd=ROOT, check=True,
                   env=dict(os.environ, DATA=str(server.folder)))


def change(phone, place, text, part="line", system=PLANER):
    phone.open("/app/systems/%s/edit/%s" % (system, part))
    phone.enter(place, text)
    phone.page.get_by_text("Build-up, pause").wait_for()
    phone.tap("Save", exact=False)
    phone.page.wait_for_url("**/app/systems/" + system)


def test_an_ended_session_keeps_everything_and_goes_on_after_signing_in(server, phone):
    phone.context.clear_cookies()
    change(phone, "pump.relief_bar", "251")
    phone.page.get_by_role("link", name="Sign in to send").click()
    phone.page.fill("#password", PASSWORD)
    phone.button("Sign in").click()
    phone.wait_title("Planer feed rolls")  # where the person was
    phone.page.get_by_text("On the server.").wait_for()
    assert server.newest("system")[PLANER]["body"]["pump"]["relief_bar"] == 251


def test_another_person_on_the_phone_sees_none_of_it_and_destroys_none_of_it(server, phone):
    server.stop()
    change(phone, "pump.relief_bar", "252")
    server.start()
    phone.context.clear_cookies()
    phone.sign_in("supervisor")
    phone.open("/app/to-send")
    phone.wait_title("Nothing to send")
    assert server.newest("system")[PLANER]["body"]["pump"]["relief_bar"] != 252
    phone.context.clear_cookies()
    phone.sign_in("technician")
    eventually(lambda: server.newest("system")[PLANER]["body"]["pump"]["relief_bar"] == 252)


def test_two_phones_change_different_fields_and_both_changes_stand(server, new_phone):
    one, two = new_phone("technician"), new_phone("supervisor")
    server.stop()
    change(one, "pump.relief_bar", "253")
    change(two, "pump.reservoir_l", "7")
    server.start()
    for phone in (one, two):
        phone.open("/app/to-send")
        phone.wait_title("Nothing to send")
    pump = server.newest("system")[PLANER]["body"]["pump"]
    assert [pump["relief_bar"], pump["reservoir_l"]] == [253, 7]


def test_two_phones_change_the_same_field_and_a_person_settles_it(server, new_phone):
    one, two = new_phone("technician"), new_phone("supervisor")
    server.stop()
    change(one, "pump.relief_bar", "254")
    change(two, "pump.relief_bar", "255")
    server.start()
    for phone in (one, two, one):
        phone.open("/app/to-send")
        phone.tap("Send and fetch now")
        phone.page.get_by_text("All on the server.").wait_for()
    one.open("/app/systems/" + PLANER)
    row = one.page.get_by_role("row", name="pump.relief_bar")
    row.wait_for()
    assert [cell.inner_text() for cell in row.locator("td").all()] == ["255", "254"]
    one.tap("The other stands")
    one.page.get_by_text("Two people changed the same field").wait_for(state="detached")
    eventually(lambda: server.newest("system")[PLANER]["body"]["pump"]["relief_bar"] == 254)


def test_the_server_killed_while_a_phone_works_loses_nothing(server, phone):
    server.kill()
    change(phone, "pump.relief_bar", "256")
    phone.page.get_by_text("1 thing waits to be sent").wait_for()
    phone.restart()
    server.start()
    phone.open("/app/to-send")
    phone.wait_title("Nothing to send")
    assert server.newest("system")[PLANER]["body"]["pump"]["relief_bar"] == 256


def test_what_the_server_refuses_stays_marked_editable_and_can_be_taken_as_a_file(server, phone):
    phone.open("/app/systems/" + HEAD_RIG)
    phone.by_modules("""async (id) => {
        const { get, save } = await import('/static/app/documents.js');
        const held = await get(id);
        await save('system', id, { ...held.body, pump: { ...held.body.pump, relief_bar: -4 } });
    }""", HEAD_RIG)
    phone.open("/app/to-send")
    phone.page.get_by_text("Not accepted: ", exact=False).first.wait_for()
    with phone.page.expect_download() as download:
        phone.tap("As a file")
    assert "-4" in open(download.value.path(), encoding="utf-8").read()
    phone.page.get_by_role("link", name="Correct it").click()
    phone.page.get_by_role("link", name="Pump and pipe").click()
    phone.enter("pump.relief_bar", "250")
    phone.page.get_by_text("Build-up, pause").wait_for()
    phone.tap("Save", exact=False)
    eventually(lambda: server.newest("system")[HEAD_RIG]["body"]["pump"]["relief_bar"] == 250)
    phone.page.get_by_text("On the server.").wait_for()


def test_more_than_the_server_takes_at_once_is_sent_in_parts(server, phone):
    phone.open("/app/systems/" + HEAD_RIG)
    phone.by_modules("""async (id) => {
        const { get, save } = await import('/static/app/documents.js');
        const { body } = await get(id);
        for (let n = 1; n <= 6; n += 1) await save('system', id, { ...body, area: `Yard ${n}`, kept: 'x'.repeat(1_000_000) });
    }""", HEAD_RIG)
    phone.open("/app/to-send")
    phone.wait_title("Nothing to send")
    assert server.newest("system")[HEAD_RIG]["body"]["area"] == "Yard 6"


def test_a_phone_that_cannot_keep_something_says_so_before_the_person_walks_on(phone):
    phone.open("/app/systems/%s/edit/machine" % HEAD_RIG)
    phone.page.evaluate("""() => { IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); }; }""")
    phone.enter("name", "Another name")
    phone.page.get_by_role("alert").get_by_text("could not keep").wait_for()
    assert phone.page.input_value("#f-name") == "Another name"


def test_who_is_not_signed_in_and_scans_a_label_sees_it_after_signing_in(new_phone):
    phone = new_phone()
    for asked, there, title in (("/app/systems/%s?point=P1" % HEAD_RIG, "/app/systems/%s?point=P1" % HEAD_RIG, "Head rig and edger"),
                                ("/app/sign-in?from=https://elsewhere.example/", "/app/", "Today")):
        phone.open(asked)
        phone.wait_title("Sign in")
        phone.page.fill("#name", "technician")
        phone.page.fill("#password", PASSWORD)
        phone.button("Sign in").click()
        phone.wait_title(title)
        assert phone.page.url == phone.address + there
        phone.open("/app/this-phone")
        phone.tap("Sign out")
        phone.wait_title("Sign in")


def test_a_site_given_later_brings_what_was_there_before(server, new_phone):
    give_sites(server, "technician", ELSEWHERE)
    phone = new_phone()
    phone.sign_in()
    assert phone.kept("documents", PLANER) is None
    give_sites(server, "technician", HERE)
    phone.open("/app/systems")
    phone.page.get_by_text("Planer feed rolls").wait_for()


def test_what_was_not_accepted_is_tried_again_when_a_person_sends(server, phone):
    give_sites(server, "technician", ELSEWHERE)
    change(phone, "pump.relief_bar", "257")
    phone.page.get_by_role("link", name="1 not accepted").click()
    phone.page.get_by_text("Not accepted: You do not work on this site").wait_for()
    give_sites(server, "technician", HERE)
    phone.tap("Send and fetch now")
    phone.wait_title("Nothing to send")
    assert server.newest("system")[PLANER]["body"]["pump"]["relief_bar"] == 257
    phone.open("/app/systems/" + PLANER)
    phone.page.get_by_text("On the server.").wait_for()


def test_a_system_that_moves_comes_whole_to_phones_of_the_new_site_and_leaves_those_of_the_old(server, new_phone):
    give_sites(server, "technician", ELSEWHERE)
    there, here = new_phone(), new_phone("supervisor")
    there.sign_in()
    assert there.kept("documents", PLANER) is None
    give_sites(server, "supervisor", HERE)
    walked = [one["document"] for one in server.newest("round", "administrator").values() if one["body"]["system"] == PLANER]
    here.open("/app/systems")
    answers = here.kept("answered", PLANER)
    server.stop()
    change(here, "pump.relief_bar", "259", system=HEAD_RIG)
    server.start()
    for system in (PLANER, HEAD_RIG):
        move(server, system, ELSEWHERE)
    there.open("/app/systems")
    there.page.get_by_text("Planer feed rolls").wait_for()
    eventually(lambda: all(there.kept("documents", document) for document in walked))
    assert there.kept("answered", PLANER) == answers
    here.open("/app/to-send")
    here.page.get_by_text("Not accepted: You do not work on this site").wait_for()
    here.open("/app/systems/" + PLANER)
    here.page.get_by_text("moved to a site where you do not work").wait_for()
    here.open("/app/systems/" + HEAD_RIG)
    here.page.get_by_text("The server did not accept it: You do not work on this site").wait_for()
    move(server, PLANER, HERE)
    fetch(here)
    here.open("/app/systems/" + PLANER)
    here.wait_title("Planer feed rolls")
    fetch(there)
    there.open("/app/systems/" + PLANER)
    there.page.get_by_text("moved to a site where you do not work").wait_for()
