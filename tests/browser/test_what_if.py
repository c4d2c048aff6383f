"""Faults tried on the phone without the server: alarm, dry points, times and both traces are shown, and nothing of it is kept."""
import json

import pytest

from .bench import HEAD_RIG, RESAW, STACKER, TRIM_SAW
from .test_every_page import problems

# every record of every database of this site, with the keys
EVERYTHING = """async () => {
    const all = {};
    for (const { name } of await indexedDB.databases()) {
        const database = await new Promise((done) => { const open = indexedDB.open(name); open.onsuccess = () => done(open.result); });
        for (const store of database.objectStoreNames) {
            const rows = database.transaction(store).objectStore(store);
            const read = (request) => new Promise((done) => { request.onsuccess = () => done(request.result); });
            all[`${name}/${store}`] = [await read(rows.getAllKeys()), await read(rows.getAll())];
        }
        database.close();
    }
    return JSON.stringify(all);
}"""


def opened(phone, server, system):
    server.stop()
    phone.open("/app/systems/%s/what-if" % system)
    phone.page.wait_for_selector("#f-fault")


def seen(phone):
    phone.page.get_by_role("heading", name="What you would see").wait_for()
    phone.page.get_by_role("slider", name="Moment of the cycle").wait_for()
    return phone.page.inner_text("main")


def test_several_faults_leave_no_trace_in_the_phone_s_database(server, phone):
    opened(phone, server, HEAD_RIG)
    before = phone.page.evaluate(EVERYTHING)
    assert HEAD_RIG in before and "/outbox" in before
    phone.choose("fault", "device")
    phone.page.select_option("#f-place", "D3")
    phone.tap("Try it")
    assert "No alarm comes, and points get nothing." in seen(phone) and "These do not move: D3." in seen(phone)
    phone.choose("fault", "pump")
    phone.page.select_option("#f-size", "0")
    phone.tap("Try it as well")
    phone.page.get_by_text("The pressure alarm comes").wait_for()
    text = seen(phone)
    assert "Never block a device" in text and "Isolate and lock out before anything is changed at a pump" in text
    assert "Build-up" in text and "never" in text
    assert problems(phone.page, True) == {}
    phone.tap("Take away: A worn pump. It gives nothing")
    phone.page.get_by_text("No alarm comes, and points get nothing.").wait_for()
    phone.tap("Coldest temperature")
    seen(phone)
    slider = phone.page.get_by_role("slider", name="Moment of the cycle")
    slider.press("Home")
    slider.press("ArrowRight")
    phone.open("/app/systems/" + HEAD_RIG)
    phone.open("/app/systems/%s/what-if" % HEAD_RIG)
    phone.page.wait_for_selector("#f-fault")
    assert not phone.page.get_by_role("heading", name="Tried together").count()
    assert phone.page.get_by_text("waits to be sent").count() == 0


def test_the_whole_local_database_is_the_same_before_and_after(server, phone):
    opened(phone, server, STACKER)
    before = json.loads(phone.page.evaluate(EVERYTHING))
    assert {name.rpartition("/")[2] for name in before} == {"answered", "documents", "drafts", "facts", "outbox", "photos", "worked"}
    for fault in phone.page.locator("#f-fault option").evaluate_all("(all) => all.map((one) => one.value)"):
        phone.choose("fault", fault)
        phone.button("Try it", exact=False).first.click()
    seen(phone)
    phone.tap("Coldest temperature")
    seen(phone)
    phone.page.get_by_role("slider", name="Moment of the cycle").press("End")
    assert json.loads(phone.page.evaluate(EVERYTHING)) == before


@pytest.mark.parametrize("system, offered, missing", [(TRIM_SAW, "switch", "vent"), (RESAW, "vent", "switch"), (STACKER, "contact", None)])
def test_each_kind_is_offered_its_own_faults(server, phone, system, offered, missing):
    opened(phone, server, system)
    names = phone.page.locator("#f-fault option").evaluate_all("(all) => all.map((one) => one.value)")
    assert offered in names and missing not in names
    phone.choose("fault", offered)
    phone.tap("Try it")
    seen(phone)
    assert phone.page.locator(".scrub svg .trace-healthy").count() == 2
