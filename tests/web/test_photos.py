"""Photos on the wire: pieces that can be resumed, nothing that is no picture, and only what the server made itself goes out."""
import hashlib
import io
import random
import socket
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing

import pytest
from click.testing import CliRunner
from PIL import Image

from tests.web.conftest import OTHER_SITE, PASSWORD, a_revision, a_round, a_system, new_id
from tests.web.test_killed_server import Browser, Server
from webapp import photos as photo_files
from webapp.commands.check import check
from webapp.store import photos as rows

PLACE = {1: "N", 2: (47.0, 30.0, 12.5), 3: "E", 4: (8.0, 15.0, 3.25)}


def noise(width, height):
    """A picture that no format makes small."""
    return Image.frombytes("RGB", (width, height), random.Random(3).randbytes(3 * width * height))


def a_photo(kind="JPEG", size=(320, 240), picture=None, **options):
    """Bytes of a picture as a phone might send them, with the place where it was taken unless told otherwise."""
    exif = Image.Exif()
    exif[0x010F] = "Maker of nothing"
    exif.get_ifd(0x8825).update(PLACE)
    out = io.BytesIO()
    (picture or noise(*size)).save(out, kind, **{"exif": exif, **options})
    return out.getvalue()


def name_of(content):
    return hashlib.sha256(content).hexdigest()


def put(browser, sha256, piece, offset=0, length=None, **options):
    headers = {"X-CSRFToken": browser.token(), "Upload-Offset": str(offset)}
    if length is not None:
        headers["Upload-Length"] = str(length)
    return browser.http.put("/sync/photos/" + sha256, data=piece, headers=headers, **options)


def record_with(browser, *contents, site=None):
    """A round that names these photos, sent."""
    system = a_system(**({"site": site} if site else {}))
    entries = [{"sha256": name_of(content), "width": 320, "height": 240} for content in contents]
    round_ = a_round(system, items=[{"id": "pump", "ask": "Is the pump dry outside?", "answer": "not ok", "photos": entries}])
    assert [result["state"] for result in browser.send(a_revision(system), a_revision(round_))] == ["accepted"] * 2


@pytest.fixture
def technician(hand):
    return hand("technician")


@pytest.fixture
def photo(technician):
    """A photo that a stored record names."""
    content = a_photo()
    record_with(technician, content)
    return content


def files_of(app):
    folder = app.extensions["photos"].folder
    return sorted(path.suffix for path in folder.rglob("*") if path.is_file()) if folder.exists() else []


# ---- pieces

def test_a_photo_goes_up_in_pieces_and_comes_back_as_another_file(technician, photo, app):
    name, half = name_of(photo), len(photo) // 2
    assert put(technician, name, photo[:half]).get_json() == {"received": half, "complete": False}
    assert technician.get("/sync/photos/" + name).status_code == 404
    assert put(technician, name, photo[half:], half).get_json() == {"received": len(photo), "complete": True}
    served = technician.get("/sync/photos/" + name)
    assert (served.status_code, served.mimetype) == (200, "image/jpeg")
    assert served.data != photo and Image.open(io.BytesIO(served.data)).size == (320, 240)
    assert files_of(app) == [".jpg"]


@pytest.mark.parametrize("with_length", [True, False])
def test_any_pieces_make_the_same(technician, photo, with_length):
    cuts, sent = [0, 1, 11, 700, len(photo) - 2, len(photo) - 1, len(photo)], []
    for begin, end in zip(cuts, cuts[1:]):
        reply = put(technician, name_of(photo), photo[begin:end], begin, len(photo) if with_length else None)
        sent.append((reply.status_code, reply.get_json()))
    assert sent == [(200, {"received": end, "complete": end == len(photo)}) for end in cuts[1:]]


@pytest.mark.parametrize("offset", [0, 99, 101, 10 ** 9])
def test_a_wrong_offset_is_told_the_right_one_and_changes_nothing(technician, photo, offset):
    put(technician, name_of(photo), photo[:100])
    reply = put(technician, name_of(photo), photo[:100], offset)
    assert (reply.status_code, reply.headers["Upload-Offset"]) == (409, "100")
    body = reply.get_json()
    assert (body["received"], body["complete"], set(body["error"])) == (100, False, {"what", "says", "do"})
    assert put(technician, name_of(photo), photo[100:], 100).get_json()["complete"] is True


def test_what_is_complete_stays_so_whatever_is_sent_again(technician, photo):
    for piece, offset in ((photo, 0), (photo, 0), (photo[50:], 50), (b"", 0), (b"something else", 7)):
        assert put(technician, name_of(photo), piece, offset).get_json() == {"received": len(photo), "complete": True}


def test_an_empty_piece_completes_what_was_whole_when_the_server_died(technician, photo, app, store):
    app.extensions["photos"].append(name_of(photo), 0, photo)
    with store.writing() as connection:
        rows.received(connection, name_of(photo), len(photo))
    assert put(technician, name_of(photo), b"", len(photo)).get_json() == {"received": len(photo), "complete": True}


def test_bytes_that_were_written_and_not_acknowledged_are_written_again(technician, photo, app):
    put(technician, name_of(photo), photo[:100])
    app.extensions["photos"].append(name_of(photo), 100, b"a piece of which the server died")
    assert put(technician, name_of(photo), photo[100:], 100).get_json()["complete"] is True


def cut_within_a_piece(server, browser, path, piece):
    """A request that ends in the middle of its bytes, as when the signal goes."""
    token = browser.http.get(server.address + "/api/token", timeout=10).json()["token"]
    cookie = "; ".join("%s=%s" % pair for pair in browser.http.cookies.items())
    head = "PUT %s HTTP/1.1\r\nHost: x\r\nCookie: %s\r\nX-CSRFToken: %s\r\nUpload-Offset: 0\r\nContent-Length: %d\r\n\r\n" % (
        path, cookie, token, len(piece) + 1)
    with closing(socket.create_connection(("127.0.0.1", server.port), timeout=10)) as sock:
        sock.sendall(head.encode() + piece)


@pytest.mark.parametrize("seed", range(8))
def test_whatever_happened_to_the_pieces_the_photo_is_whole_at_the_end(technician, photo, app, seed):
    """Pieces of any size come, come again, at wrong places, spoiled, or with a crash before they are counted."""
    chance, received, name, files = random.Random(seed), 0, name_of(photo), app.extensions["photos"]
    while received < len(photo):
        offset = chance.choice([received, received, received, chance.randrange(len(photo) + 9)])
        piece = photo[offset:offset + chance.choice([0, 1, 500, len(photo) // 4])]
        if chance.random() < 0.15:
            files.append(name, received, b"written, and then the power went")
        reply = put(technician, name, piece, offset, len(photo))
        status = 200 if offset == received else 409
        received += len(piece) if status == 200 else 0
        assert (reply.status_code, reply.get_json()["received"]) == (status, received)
    assert reply.get_json()["complete"] is True
    assert technician.get("/sync/photos/" + name).status_code == 200 and files_of(app) == [".jpg"]


def test_killed_between_pieces_it_goes_on_where_it_was(database):
    """A real server, killed after each piece, the connection cut within one; 409 says where to go on."""
    server = Server(database)
    server.start()
    try:
        browser = Browser(server)
        browser.sign_in()
        content, system = a_photo(), a_system()
        entry = {"sha256": name_of(content), "width": 320, "height": 240}
        items = [{"id": "pump", "ask": "Is the pump dry outside?", "answer": "not ok", "photos": [entry]}]
        browser.send(a_revision(system), a_revision(a_round(system, items=items)))
        address, cut, states = server.address + "/sync/photos/" + name_of(content), len(content) // 2, []
        for offset, piece in ((0, content[:cut]), (0, content), (cut, content[cut:]), (0, content)):
            token = browser.http.get(server.address + "/api/token", timeout=10).json()["token"]
            reply = browser.http.put(address, data=piece, headers={"X-CSRFToken": token, "Upload-Offset": str(offset)}, timeout=20)
            states.append((reply.status_code, reply.json()["received"], reply.json()["complete"]))
            cut_within_a_piece(server, browser, "/sync/photos/" + name_of(content), piece)
            if reply.status_code == 200 and len(states) < 4:
                server.restart()
        assert states == [(200, cut, False), (409, cut, False), (200, len(content), True), (200, len(content), True)]
        assert browser.http.get(address, timeout=10).headers["Content-Type"] == "image/jpeg"
    finally:
        server.kill()


def test_sent_by_many_at_once_it_is_taken_once(technician, photo, hand):
    def send(browser):
        return put(browser, name_of(photo), photo)

    browsers = [hand("technician") for _ in range(6)]
    with ThreadPoolExecutor(6) as pool:
        replies = list(pool.map(send, browsers))
    assert {reply.status_code for reply in replies} <= {200, 409} and any(reply.get_json()["complete"] for reply in replies)
    assert put(technician, name_of(photo), b"", len(photo)).get_json() == {"received": len(photo), "complete": True}


# ---- what is not taken

@pytest.mark.parametrize("length", [None, "right"])
def test_a_wrong_hash_at_the_end_is_refused_and_forgets_the_pieces(technician, photo, app, length):
    other = a_photo(size=(300, 200))
    length = len(other) if length else None
    put(technician, name_of(photo), other[:500], 0, length)
    reply = put(technician, name_of(photo), other[500:], 500, length)
    assert reply.status_code == 422 and "SHA-256" in reply.get_json()["error"]["says"]
    assert files_of(app) == []
    assert put(technician, name_of(photo), photo).get_json()["complete"] is True


@pytest.mark.parametrize("content, words", [
    (b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>", "no JPEG"), (b"GIF89a" + bytes(40), "no JPEG"),
    (b"\xff\xd8\xff\xe0" + bytes(60), "no JPEG"), (a_photo()[:2000], "damaged"), (b"%PDF-1.7 and more of it", "no JPEG")])
def test_what_is_no_picture_is_refused_though_its_hash_is_right(technician, app, content, words):
    record_with(technician, content)
    reply = put(technician, name_of(content), content, 0, len(content))
    assert reply.status_code == 422 and words in reply.get_json()["error"]["says"]
    assert technician.get("/sync/photos/" + name_of(content)).status_code == 404
    assert files_of(app) == []


@pytest.mark.parametrize("side", [5000, 14000])
def test_a_small_file_that_unfolds_to_too_many_pixels_is_refused(technician, side):
    bomb = a_photo("PNG", picture=Image.new("1", (side, side)))
    record_with(technician, bomb)
    reply = put(technician, name_of(bomb), bomb)
    assert len(bomb) < 300_000 and reply.status_code == 422 and "million" in reply.get_json()["error"]["says"]


def test_more_bytes_than_a_photo_has_are_refused_and_forgotten(technician, photo, app, monkeypatch):
    monkeypatch.setattr("webapp.sync_photos.MOST_BYTES", 1 << 20)
    put(technician, name_of(photo), photo[:100])
    for piece, offset, length in ((bytes(1 << 20), 100, None), (b"", 0, (1 << 20) + 1)):
        reply = put(technician, name_of(photo), piece, offset, length)
        assert reply.status_code == 413 and "1 MB" in reply.get_json()["error"]["says"]
    assert files_of(app) == []


@pytest.mark.parametrize("headers, status", [({}, 400), ({"Upload-Offset": "-1"}, 400), ({"Upload-Offset": "x"}, 400),
                                             ({"Upload-Offset": "0", "Upload-Length": "1e3"}, 400)])
def test_a_piece_says_where_it_belongs(technician, photo, headers, status):
    reply = technician.http.put("/sync/photos/" + name_of(photo), data=photo, headers={"X-CSRFToken": technician.token(), **headers})
    assert reply.status_code == status and set(reply.get_json()) == {"error"}


def test_a_form_is_no_piece(technician, photo):
    reply = put(technician, name_of(photo), photo, content_type="application/x-www-form-urlencoded")
    assert reply.status_code == 415 and "octet-stream" in reply.get_json()["error"]["do"]


def test_without_a_token_nothing_is_taken(technician, photo, app):
    reply = technician.http.put("/sync/photos/" + name_of(photo), data=photo, headers={"Upload-Offset": "0"})
    assert reply.status_code == 400 and reply.get_json()["error"]["what"] == "token" and files_of(app) == []


# ---- whose

def test_a_photo_that_no_record_names_is_not_taken(technician, app):
    photo = a_photo()
    reply = put(technician, name_of(photo), photo)
    assert reply.status_code == 404 and "Send the record first" in reply.get_json()["error"]["do"]
    assert files_of(app) == []


def test_another_site_neither_sends_nor_sees_it(technician, photo, hand):
    outsider = hand("outsider")
    assert put(outsider, name_of(photo), photo).status_code == 404
    put(technician, name_of(photo), photo)
    for reply in (outsider.get("/sync/photos/" + name_of(photo)), put(outsider, name_of(photo), photo)):
        assert reply.status_code == 404 and "names this photo" in reply.get_json()["error"]["says"]
    assert hand("supervisor").get("/sync/photos/" + name_of(photo)).status_code == 200


def test_who_works_on_one_of_the_sites_that_name_it_may_see_it(technician, photo, hand):
    put(technician, name_of(photo), photo)
    record_with(hand("outsider"), photo, site=OTHER_SITE)
    assert hand("outsider").get("/sync/photos/" + name_of(photo)).status_code == 200


@pytest.mark.parametrize("name", ["0" * 64, "A" * 64, "..%2f..%2fplant.sqlite", "x", "0" * 500])
def test_a_name_that_is_no_photos_is_not_found(technician, name):
    assert technician.get("/sync/photos/" + name).status_code == put(technician, name, b"x").status_code == 404


def test_what_is_called_photos_in_a_record_and_is_none_harms_nothing(technician, store):
    system = a_system()
    readings = {"photos": 5, "more": {"photos": [{"sha256": "x" * 300}, {"sha256": 7}, 8]}}
    case = {"format": "fault-case/1", "id": new_id(), "system": system["id"], "readings": readings}
    results = technician.send(a_revision(system), a_revision(case))
    assert [result["state"] for result in results] == ["accepted"] * 2
    with store.reading() as connection:
        assert rows.sites_of(connection, "x" * 300) == set()


# ---- what is served

def sent_and_served(browser, content):
    record_with(browser, content)
    assert put(browser, name_of(content), content).get_json()["complete"] is True
    return browser.get("/sync/photos/" + name_of(content)).data


@pytest.mark.parametrize("kind, options", [("JPEG", {"comment": b"Maker of nothing"}), ("JPEG", {"progressive": True}),
                                           ("PNG", {}), ("WEBP", {})])
def test_place_maker_and_comments_are_gone(technician, kind, options):
    content = a_photo(kind, **options)
    assert b"Maker of nothing" in content
    served = sent_and_served(technician, content)
    picture = Image.open(io.BytesIO(served))
    assert (picture.format, dict(picture.getexif())) == ("JPEG", {})
    assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert b"Maker" not in served and b"Exif" not in served


def test_what_follows_the_picture_in_its_file_is_gone(technician):
    content = a_photo() + b"<script>alert(1)</script>"
    assert b"script" not in sent_and_served(technician, content)


def test_a_picture_held_on_its_side_is_turned_upright(technician):
    exif = Image.Exif()
    exif[0x0112] = 6  # the camera was turned: the first row of pixels is the right edge
    picture = Image.new("RGB", (400, 200), "blue")
    picture.paste("red", (0, 0, 200, 200))
    served = Image.open(io.BytesIO(sent_and_served(technician, a_photo(picture=picture, exif=exif))))
    assert served.size == (200, 400)
    assert served.getpixel((100, 20))[0] > 200 and served.getpixel((100, 380))[2] > 200


@pytest.mark.parametrize("mode, colour", [("RGBA", (0, 0, 0, 0)), ("P", 0), ("L", 0), ("1", 0), ("I;16", 0), ("CMYK", (0, 0, 0, 0)),
                                          ("LA", (0, 0))])
def test_every_kind_of_pixels_becomes_plain_colour(technician, mode, colour):
    kind = "JPEG" if mode == "CMYK" else "PNG"
    served = sent_and_served(technician, a_photo(kind, picture=Image.new(mode, (2000, 30), colour)))
    assert (Image.open(io.BytesIO(served)).mode, Image.open(io.BytesIO(served)).size) == ("RGB", (1600, 24))


def test_it_is_private_and_asked_for_anew_each_time(technician, photo, hand):
    put(technician, name_of(photo), photo)
    reply = technician.get("/sync/photos/" + name_of(photo))
    assert reply.headers["Cache-Control"] == "private, no-cache" and reply.headers["X-Content-Type-Options"] == "nosniff"
    assert "default-src 'self'" in reply.headers["Content-Security-Policy"]
    again = {"If-None-Match": reply.headers["ETag"]}
    assert technician.get("/sync/photos/" + name_of(photo), headers=again).status_code == 304
    assert hand("outsider").get("/sync/photos/" + name_of(photo), headers=again).status_code == 404
    assert hand().get("/sync/photos/" + name_of(photo), headers=again).status_code == 401


# ---- where it lies, and the check

@pytest.mark.parametrize("url, data, folder", [
    ("sqlite:////srv/plant/plant.sqlite", None, "/srv/plant/photos"), ("sqlite:///plant.sqlite", None, "photos"),
    ("postgresql://plant@db/plant", "/srv/plant", "/srv/plant/photos"), ("postgresql://plant@db/plant", None, "data/photos"),
    ("sqlite:////srv/plant/plant.sqlite", "/other", "/other/photos")])
def test_photos_lie_in_data_or_beside_the_database(url, data, folder):
    assert str(photo_files.folder_for(url, data)) == folder


def test_the_check_misses_a_picture_and_a_folder_that_cannot_be_written_to(technician, photo, app, database, monkeypatch):
    def run():
        result = CliRunner().invoke(check, env={"DATABASE_URL": database, "DATA": None})
        return result.exit_code, result.stdout.splitlines()[-1]

    put(technician, name_of(photo), photo)
    assert run()[0] == 0 and "photos     well: 1 in " in run()[1]
    next(app.extensions["photos"].folder.rglob("*.jpg")).unlink()
    assert run()[0] == 1 and "photos     WRONG: 1 of 1" in run()[1] and name_of(photo) in run()[1]
    assert technician.get("/sync/photos/" + name_of(photo)).status_code == 404

    def refused(dir):
        raise OSError(30, "Read-only file system")
    monkeypatch.setattr("webapp.photos.tempfile.TemporaryFile", refused)
    assert run()[0] == 1 and "Read-only file system" in run()[1]


def test_only_a_signed_in_person_may(hand, photo):
    stranger = hand()
    assert stranger.get("/sync/photos/" + name_of(photo)).status_code == put(stranger, name_of(photo), photo).status_code == 401
    assert hand().sign_in("technician", PASSWORD).status_code == 200


def test_making_papers_does_not_let_damaged_photos_pass():
    import webapp.reports.pdf  # noqa: F401, it loads WeasyPrint, which sets Pillow to take what is cut short
    with pytest.raises(photo_files.NoPicture, match="damaged"):
        photo_files.made_anew(a_photo()[:2000])
    assert not photo_files.is_whole(a_photo()[:2000])
