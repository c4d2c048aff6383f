"""A technician's whole day without signal: nine systems, a long round with a photo, two test runs, a defect, a refill, the battery dead twice.
In the evening the server and a second phone hold the same as the first, photo for photo."""
import json

from demo_site import plant
from demo_site.parts import SAW_HALL, SOFT, made, pump, stated, switch

from .bench import HEAD_RIG, PLANER, SORTER, STATIC, eventually

LONG, COPY = "b5ac0000-0000-4000-8000-000000000091", "b5ac0000-0000-4000-8000-000000000092"
# everything but one item is answered as a thumb would, one after the other, and kept
THUMB = """async ([id, left]) => {
    const { draft, keepDraft } = await import('/static/app/documents.js');
    const [round, items] = [await draft(`round:${id}`), await draft(`items:round:${id}`)];
    for (const item of items) if (item.key !== left) round.answers[item.key] ??= { answer: item.answer === 'ok' ? 'ok' : 'not applicable', note: item.answer === 'ok' ? '' : 'No gauge.', at: new Date().toISOString() };
    await keepDraft(`round:${id}`, round);
    return items.length;
}"""
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


def walk_the_long_line(phone):
    """The round: begun, the battery dead, all answered but one, which is not ok, with a photo; signed off."""
    phone.open("/app/systems/%s/round" % LONG)
    phone.page.locator(".now input").fill("3,2")
    phone.tap("Keep the reading")
    eventually(lambda: phone.has_kept('"value"', "round:" + LONG))
    phone.restart()
    phone.open("/app/")
    count = phone.by_modules(THUMB, [LONG, "point_line:P7"])
    assert count >= 145, count
    phone.open("/app/systems/%s/round" % LONG)
    phone.page.locator(".now").get_by_text("Roller 7").wait_for()
    phone.tap("Not OK")
    phone.page.fill("#why", "Feed line torn off")
    phone.page.locator("input[type=file]").last.set_input_files(STATIC / "icons" / "icon-512.png")
    phone.page.get_by_text("0 of 1 photos on the server.").wait_for()
    phone.tap("Keep it")
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
    phone.wait_title("8 to send")  # a round, its photo, two runs with their systems, a defect, a refill

    server.start()
    phone.sign_in()  # the browser was killed, and its session with it
    phone.open("/app/to-send")
    phone.wait_title("Nothing to send")
    first = {document: body for document, body in phone.by_modules(BODIES, None).items() if document not in before}
    assert sorted(body["format"] for body in first.values()) == ["defect/1", "refill/1", "round/1", "test-run/1", "test-run/1"]
    stored = {document: one["body"] for kind in ("round", "test-run", "defect", "refill") for document, one in server.newest(kind).items()}
    assert {document: stored[document] for document in first} == first
    (photo,) = [one for body in first.values() for item in body.get("items", []) for one in item.get("photos", [])]
    assert server.session("supervisor").get("%s/sync/photos/%s" % (server.address, photo["sha256"])).content.startswith(b"\xff\xd8\xff")

    other = new_phone()
    other.sign_in("supervisor")
    assert {document: body for document, body in other.by_modules(BODIES, None).items() if document in first} == first
    assert other.by_modules(SEEN, photo["sha256"]) == [photo["width"], photo["height"]], json.dumps(photo)
