"""A technician's whole day without signal: nine systems, a long round with photos, two test runs, a defect, a refill, the battery dead twice.
In the evening the server and a second phone hold the same as the first, photo for photo."""
import re

from demo_site import plant
from demo_site.parts import SAW_HALL, SOFT, made, pump, stated, switch

from .bench import HEAD_RIG, PLANER, SORTER, STATIC, eventually

LONG, COPY = "b5ac0000-0000-4000-8000-000000000091", "b5ac0000-0000-4000-8000-000000000092"
# taps on until an item of one of these places is open or the round is done: OK, or what else an item offers
THUMB = """async (places) => {
    const shown = (find) => new Promise((done) => { const look = () => { const found = find(); if (found) done(found); else requestAnimationFrame(look); }; look(); });
    const button = (name) => [...document.querySelectorAll('button')].find((one) => one.innerText === name);
    const enter = (field, text) => { field.value = text; field.dispatchEvent(new InputEvent('input', { bubbles: true })); };
    for (;;) {
        const item = await shown(() => document.querySelector('.spine > li.now') ?? button('Go to sign-off'));
        if (item.matches('button') || places.some((place) => item.innerText.startsWith(`${place}\\n`))) return item.innerText;
        const title = document.querySelector('h1').innerText;
        if (item.querySelector('button.ok')) item.querySelector('button.ok').click();
        else {
            if (!item.querySelector('textarea')) button('Does not apply…').click();
            enter(await shown(() => document.querySelector('.now textarea')), 'None at hand.');
            button('Keep it').click();
        }
        await shown(() => document.querySelector('h1').innerText !== title);
    }
}"""
BAD = {"Roller 7": "icon-512.png", "Roller 15": "icon-192.png", "Roller 22": "icon-maskable.png"}
BODIES = """async () => {
    const { list } = await import('/static/app/documents.js');
    const kinds = await Promise.all(['round', 'test-run', 'defect', 'refill'].map((kind) => list(kind)));
    return Object.fromEntries(kinds.flat().map(({ document, body }) => [document, body]));
}"""
SEEN = """async (sha256) => {
    const { find } = await import('/static/app/photos.js');
    const { picture } = await find(sha256);
    const bitmap = await createImageBitmap(picture);
    return [bitmap.width, bitmap.height];
}"""


def two_more_systems(server):
    """A long line whose round asks some 150 items, and one more: nine in all."""
    stops = [(None, 3, 16, "steel", (0.05, 0.6, 0.05), [("Roller %d" % number, stated(0.05))]) for number in range(1, 25)]
    long = dict(made(1, "Long conveyor", SAW_HALL, SOFT, stops, [switch("PS1", "N24")], pump(120, 6)), id=LONG)
    copy = dict(plant.head_rig(), id=COPY, name="Second edger")
    send(server, [{"id": "%s%d" % (body["id"][:-1], number), "document": body["id"], "kind": "system", "parent": None, "also": None, "made_at": "2026-11-25T08:00:00+01:00",
                   "phone": None, "body": body, "deleted": False, "reason": None} for number, body in enumerate((long, copy), 7)])


def send(server, revisions):
    reply = server.session("technician").post(server.address + "/sync/send", json={"revisions": revisions}, headers={"Referer": server.address})
    assert {result["state"] for result in reply.json()["results"]} == {"accepted"}, reply.text


def run_timed(phone, system, name):
    phone.open("/app/systems/%s/test-run" % system)
    phone.tap("I have read this")
    for button in ("Pump starts now", "Switch tripped", "Back at rest"):
        phone.tap(button)
    phone.tap("Sign off 1 run as the baseline")
    phone.wait_title(name)


def not_ok(phone, place, picture):
    phone.page.locator(".now").get_by_text(place, exact=True).wait_for()
    phone.tap("Not OK")
    phone.page.fill("#why", "Feed line torn off")
    phone.page.locator("input[type=file]").last.set_input_files(STATIC / "icons" / picture)
    phone.page.locator(".now").get_by_text("0 of 1 photos on the server.").wait_for()
    phone.tap("Keep it")
    phone.page.locator(".now").get_by_text("Feed line attached").wait_for(state="detached")


def walk_the_long_line(phone):
    """A round of more than 145 items, each tapped: three are not ok, with a photo, and at the first of them the battery dies."""
    phone.open("/app/systems/%s/round" % LONG)
    phone.page.locator(".now input").fill("3,2")
    phone.tap("Keep the reading")
    phone.wait_title(re.compile("^1 of "))
    left = dict(BAD)
    for place, picture in BAD.items():
        phone.page.evaluate(THUMB, list(left))
        not_ok(phone, place, left.pop(place))
        if len(left) == 2:
            eventually(lambda: phone.has_kept("torn off", "round:" + LONG))
            phone.restart()
            phone.open("/app/systems/%s/round" % LONG)
    phone.page.evaluate(THUMB, [])
    assert int(phone.title().split()[0]) >= 145, phone.title()
    phone.tap("Go to sign-off")
    phone.tap("Sign off the round")
    phone.wait_title("Long conveyor")


def raise_the_defect(phone):
    phone.open("/app/systems/%s/defects/new" % LONG)
    phone.page.select_option("#part", label="Roller 7")
    phone.page.fill("#what", "Feed line of roller 7 torn off")
    phone.button("starving", False).click()
    phone.tap("Keep the defect")
    phone.wait_title("Open defect")


def fill_up(phone):
    phone.open("/app/systems/%s/add/refill" % PLANER)
    phone.enter("refill_l", "1.5")
    phone.page.locator("button.main:enabled").wait_for()
    phone.tap("Keep it")
    phone.wait_title("Planer feed rolls")


def test_a_day_without_signal_reaches_the_server_and_a_second_phone(server, new_phone):
    two_more_systems(server)
    phone = new_phone()
    phone.sign_in()
    phone.keep_modules()
    before = set(phone.by_modules(BODIES, None))
    server.stop()
    phone.open("/app/systems")
    assert phone.page.locator(".rows > li").count() == 9
    walk_the_long_line(phone)
    run_timed(phone, HEAD_RIG, "Head rig and edger")
    run_timed(phone, SORTER, "Sorter chain")
    raise_the_defect(phone)
    fill_up(phone)
    phone.restart()
    phone.open("/app/to-send")
    phone.wait_title("10 to send")  # a round, its three photos, two runs with their systems, a defect, a refill

    server.start()
    phone.sign_in()  # the browser was killed before it wrote its session down
    phone.open("/app/to-send")
    phone.wait_title("Nothing to send")
    first = {document: body for document, body in phone.by_modules(BODIES, None).items() if document not in before}
    assert sorted(body["format"] for body in first.values()) == ["defect/1", "refill/1", "round/1", "test-run/1", "test-run/1"]
    stored = {document: one["body"] for kind in ("round", "test-run", "defect", "refill") for document, one in server.newest(kind).items()}
    assert {document: stored[document] for document in first} == first
    photos = [one for body in first.values() for item in body.get("items", []) for one in item.get("photos", [])]
    assert len(photos) == 3
    desk = server.session("supervisor")
    for photo in photos:
        assert desk.get("%s/sync/photos/%s" % (server.address, photo["sha256"])).content.startswith(b"\xff\xd8\xff")

    other = new_phone()
    other.sign_in("supervisor")
    assert {document: body for document, body in other.by_modules(BODIES, None).items() if document in first} == first
    for photo in photos:
        assert other.by_modules(SEEN, photo["sha256"]) == [photo["width"], photo["height"]], photo
