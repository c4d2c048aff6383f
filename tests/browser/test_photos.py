"""A photo's whole way: taken without signal, marked, through a dead battery, a cut connection and a killed server, and back from there."""
import io
import json
import random

import pytest
from PIL import Image

from .bench import HEAD_RIG, PASSWORD, STATIC, eventually
from .test_every_page import problems

PIECE = 256 * 1024
ALL_BUT_ONE = """async ([id, left]) => {
    const { draft, keepDraft } = await import('/static/app/documents.js');
    const [round, items] = [await draft(`round:${id}`), await draft(`items:round:${id}`)];
    for (const item of items) if (item.says !== left) round.answers[item.key] ??= { answer: 'ok', at: new Date().toISOString() };
    await keepDraft(`round:${id}`, round);
}"""
# what is old and named by nothing goes, and what the server has had for long, as the photo of this story, which is made old
TIDIED = """async () => {
    const { openDatabase } = await import('/static/app/database.js');
    const { tidy } = await import('/static/app/photos.js');
    const db = await openDatabase();
    const [sent] = await db.getAllKeys('photos');
    const keep = (sha256, days, waiting) => db.put('photos', {
        sha256, at: Date.now() - days * 86400000, bytes: new ArrayBuffer(9), ...(waiting ? { waiting } : {}) });
    await Promise.all([keep('old, named by nothing', 2, 'a'), keep('old, in a draft', 2, 'a'), keep('old, in a record to send', 2, 'a'),
        keep('new', 0.5, 'a'), keep('sent of late', 29), keep(sent, 31), db.put('drafts', { photos: [{ sha256: 'old, in a draft' }] }, 'x'),
        db.delete('facts', 'tidied'),
        db.put('outbox', { refused: true, revision: { body: { photos: [{ sha256: 'old, in a record to send' }] } } })]);
    await tidy();
    return (await db.getAllKeys('photos')).sort();
}"""
WIDTH = """async (href) => { const image = new Image(); image.src = href; await image.decode(); return image.naturalWidth; }"""


@pytest.fixture
def camera_file(tmp_path):
    """A large picture, held on its side, that says where it was taken."""
    exif = Image.Exif()
    exif[0x0112] = 6
    exif.get_ifd(0x8825).update({1: "N", 2: (47.0, 30.0, 12.5), 3: "E", 4: (8.0, 15.0, 3.25)})
    grain = Image.frombytes("RGB", (500, 375), random.Random(7).randbytes(3 * 500 * 375)).resize((2000, 1500), Image.Resampling.NEAREST)
    grain.save(tmp_path / "photo.jpg", exif=exif, quality=80)
    assert b"Exif" in (tmp_path / "photo.jpg").read_bytes()
    return tmp_path / "photo.jpg"


def a_round_but_for_one(phone):
    """A round in which all but the second item is answered, open at that item; returns what the item asks."""
    phone.open("/app/systems/%s/round" % HEAD_RIG)
    now = phone.page.locator(".now strong")
    first = now.inner_text()
    phone.page.locator(".now input").fill("3,2")
    phone.tap("Keep the reading")
    now.filter(has_not_text=first).wait_for()
    asks = now.inner_text()
    eventually(lambda: phone.has_kept('"value"', "round:" + HEAD_RIG))
    phone.open("/app/")
    phone.by_modules(ALL_BUT_ONE, [HEAD_RIG, asks])
    phone.open("/app/systems/%s/round" % HEAD_RIG)
    phone.page.locator(".now strong", has_text=asks).wait_for()
    return asks


def choose(phone, file):
    phone.page.locator("input[type=file]").last.set_input_files(file)


def without_room(phone, file):
    """The browser has no room left: the page says that the photo is not kept, and does not show it."""
    phone.page.evaluate("() => { IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); }; }")
    choose(phone, file)
    phone.page.get_by_text("This phone could not keep the photo").wait_for()
    assert phone.page.locator(".photos li").count() == 0
    phone.page.reload()


def taken_out_again(phone, file):
    """A second photo is chosen and taken out again: nothing of it stays on the phone."""
    choose(phone, file)
    phone.tap("Photo 2 of 2, look at it")
    answers = phone.kept("drafts", "round:" + HEAD_RIG)["answers"].values()
    (name,) = [answer["photos"][1]["sha256"] for answer in answers if answer.get("photos")]
    assert phone.kept("photos", name)
    phone.tap("Take the photo out…")
    phone.tap("Take it out")
    phone.page.get_by_text("0 of 1 photos on the server.").wait_for()
    eventually(lambda: phone.kept("photos", name) is None)


def focused(phone):
    return phone.page.evaluate("() => document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent")


def circle_by_keys(phone):
    """By keys alone: a circle put in the middle, moved by its arrows, taken away again. The focus goes along."""
    press = phone.page.keyboard.press
    phone.button("Circle").focus()
    for key in ("Enter", "Tab", "Enter"):
        press(key)
    circle = phone.page.get_by_role("group", name="Circle 2")
    circle.get_by_text("Its middle is 50 % across and 50 % down.").wait_for()
    eventually(lambda: focused(phone) == "Left")
    for key in ("ArrowRight", "ArrowRight", "ArrowUp"):
        press(key)
    circle.get_by_text("Its middle is 56 % across and 47 % down.").wait_for()
    assert phone.page.locator(".photo path").count() == 4
    phone.page.get_by_role("img", name="Photo 1 of 1, marked with arrow, circle").wait_for()
    assert problems(phone.page, True) == {}
    phone.button("Take this circle away").focus()
    press("Enter")
    circle.wait_for(state="detached")
    eventually(lambda: focused(phone) == "Arrow 1")
    assert phone.page.locator(".photo path").count() == 2


def arrow_drawn(phone):
    """Open the photo, draw an arrow by two taps, make it small again."""
    phone.tap("Photo 1 of 1, look at it")
    phone.tap("Arrow")
    picture = phone.page.locator(".photo svg")
    box = picture.bounding_box()
    for share, hint in ((0.2, "Tap what it points at."), (0.5, "Arrow or circle: then two taps on the photo.")):
        picture.click(position={"x": box["width"] * share, "y": box["height"] * share})
        phone.page.get_by_text(hint).wait_for()
    assert phone.page.locator(".photo path").count() == 2
    circle_by_keys(phone)
    phone.tap("Back to the photos")


def watched(phone):
    """Let one piece of a photo through and cut the connection in the next; returns the pieces: [(offset, bytes)]."""
    pieces = []

    def between(route):
        if route.request.method != "PUT":
            route.continue_()
            return
        pieces.append((int(route.request.headers["upload-offset"]), route.request.post_data_buffer))
        if len(pieces) == 2:
            route.abort("connectionreset")
        else:
            route.continue_()
    phone.context.route(lambda address: "/sync/photos/" in address, between)
    return pieces


def signed_in_again(phone):
    """The session ended while there was no signal."""
    phone.context.clear_cookies()
    phone.context.set_offline(False)
    phone.open("/app/sign-in")
    phone.page.fill("#name", "technician")
    phone.page.fill("#password", PASSWORD)
    phone.tap("Sign in")
    phone.page.locator("nav.rooms").wait_for()


def shown_with_the_round(phone, document, asks):
    """The round as it was walked shows the photo with its mark, also once its item is corrected."""
    phone.open("/app/systems/%s/rounds/%s" % (HEAD_RIG, document))
    photo = phone.page.locator(".photos li")
    photo.locator("image").wait_for()
    phone.page.get_by_role("button", name="Correct " + asks, exact=False).click()
    phone.page.fill("#note", "Oil on the floor")
    phone.page.fill("#reason", "Looked closer")
    phone.tap("Keep the correction")
    phone.page.get_by_role("heading", name="Corrected since").wait_for()
    photo.locator("image").wait_for()
    assert photo.locator("path").count() == 2 and "Not OK: Oil on the floor" in phone.page.inner_text("main")


def the_last_photo_of(phone, asks):
    """The photo of an item's last answer, in the round that is walked next."""
    phone.open("/app/systems/%s/round" % HEAD_RIG)
    phone.page.get_by_role("button", name="Answer " + asks, exact=False).click()
    return phone.page.locator(".photos li")


def test_from_a_place_without_signal_to_the_server_and_back(server, phone, camera_file):
    asks = a_round_but_for_one(phone)
    phone.context.set_offline(True)
    phone.tap("Not OK")
    phone.page.locator("#why").fill("Grease on the floor")
    without_room(phone, camera_file)
    choose(phone, camera_file)
    phone.page.get_by_text("0 of 1 photos on the server.").wait_for()
    arrow_drawn(phone)
    taken_out_again(phone, STATIC / "icons" / "icon-512.png")
    eventually(lambda: phone.has_kept('"shape"', "round:" + HEAD_RIG))
    phone.restart()
    phone.context.set_offline(True)
    phone.open("/app/systems/%s/round" % HEAD_RIG)
    phone.page.get_by_text("Not sent yet").wait_for()
    assert phone.page.locator(".photos li path").count() == 2 and phone.page.locator("#why").input_value() == "Grease on the floor"
    phone.tap("Keep it")
    phone.tap("Go to sign-off")
    phone.tap("Sign off the round")
    phone.page.wait_for_url("**/app/systems/" + HEAD_RIG)
    phone.open("/app/to-send")
    phone.wait_title("2 to send")

    pieces = watched(phone)
    signed_in_again(phone)
    phone.page.get_by_text("1 thing waits to be sent").wait_for()
    phone.page.get_by_text("No signal.").wait_for()
    assert len(pieces) == 2
    phone.open("/app/to-send")
    phone.wait_title("1 to send")
    assert "One photo" in phone.page.inner_text("main")
    (round_,) = [one for one in server.newest("round").values() if "Grease on the floor" in json.dumps(one["body"])]
    (entry,) = [photo for item in round_["body"]["items"] for photo in item.get("photos", [])]
    server.kill()
    server.start()
    phone.tap("Send and fetch now")
    phone.wait_title("Nothing to send")
    assert [offset for offset, _ in pieces[:3]] == [0, PIECE, PIECE] and len(pieces) > 3
    sent = b"".join(piece for number, (_, piece) in enumerate(pieces) if number != 1)
    assert b"Exif" not in sent and Image.open(io.BytesIO(sent)).size == (entry["width"], entry["height"]) == (1200, 1600)
    shown_with_the_round(phone, round_["document"], asks)
    assert phone.by_modules(TIDIED, None) == ["new", "old, in a draft", "old, in a record to send", "sent of late"]

    # it is on the server only now, as for any other phone: the next round shows it from there, where there is signal
    photo = the_last_photo_of(phone, asks)
    photo.locator("image").wait_for()
    assert phone.page.evaluate(WIDTH, photo.locator("image").get_attribute("href")) == 1200
    assert photo.locator("path").count() == 2
    phone.context.set_offline(True)
    the_last_photo_of(phone, asks).get_by_text("No signal: shown when there is.").wait_for()
