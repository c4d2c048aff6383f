"""What the phone keeps for work without signal: all of what its modules load, and nothing that is not on disk."""
import hashlib
import json
import re
from pathlib import PurePosixPath

import pytest

from webapp import phone_engine, phone_pages
from webapp.phone_pages import STATIC

# a module's address in: import ... from 'x', import('x'), new Worker('x'), fetch('x')
LOADED = re.compile(r"""(?:\bfrom\s*|\bimport\s*\(?\s*|\bnew Worker\(\s*|\bfetch\(\s*)(['"])([./][^'"]+)\1""")
OWN_FILES = [path for path in sorted(STATIC.rglob("*")) if path.suffix in (".js", ".css", ".mjs")
             and path.relative_to(STATIC).parts[0] in ("app", "style", "sw.js")]
# answered by the server from its data, not kept as files
CALLS = ("/api/", "/sync/")


@pytest.fixture
def kept(hand):
    """Address -> hash, as the service worker gets it."""
    return hand().get("/app-data/files.json").get_json()["files"]


def content(browser, address):
    reply = browser.get(address)
    assert reply.status_code == 200, address
    return reply.get_data()


def loaded_by(address, text):
    """Addresses that a module or a page loads."""
    folder = PurePosixPath(address).parent
    for _, target in LOADED.findall(text):
        yield target if target.startswith("/") else normal(folder / target)


def normal(path):
    parts = []
    for part in path.parts:
        if part == "..":
            parts.pop()
        elif part != ".":
            parts.append(part)
    return "/" + "/".join(parts[1:])


def test_every_file_that_is_kept_is_served_with_the_hash_that_is_listed(kept, hand):
    browser = hand()
    made = {"/app/", "/manifest.webmanifest"}
    for address, digest in kept.items():
        served = content(browser, address)
        if address not in made:
            assert hashlib.sha256(served).hexdigest().startswith(digest), address


def test_the_list_names_what_is_on_disk(kept):
    listed = [address for address in kept if address.startswith("/static/")]
    assert listed and all((STATIC / address.removeprefix("/static/")).is_file() for address in listed)


def test_everything_that_the_shell_and_its_modules_load_is_kept(kept, hand):
    browser = hand()
    shell = content(browser, "/app/").decode()
    waiting = re.findall(r'(?:href|src)="(/[^"]+)"', shell)
    seen = set()
    while waiting:
        address = waiting.pop()
        if address in seen:
            continue
        seen.add(address)
        assert address in kept, address
        if address.endswith((".js", ".mjs")):
            text = content(browser, address).decode()
            waiting += [found for found in loaded_by(address, text) if not found.startswith(CALLS)]
    assert {"/static/joined/app.js", "/static/app/engine-worker.js", "/static/vendor/micropython.mjs"} <= seen


def test_the_joined_script_holds_every_page(kept, hand):
    script = content(hand(), "/static/joined/app.js").decode()
    titles = [re.search(r"title: '([^']+)'", page.read_text()) for page in (STATIC / "app" / "pages").glob("*.js")]
    assert len([title for title in titles if title]) > 5
    assert [title[1] for title in titles if title and title[1] not in script] == []


def test_pages_that_changed_since_they_were_joined_are_not_served(monkeypatch, tmp_path):
    mark = tmp_path / "made-from"
    monkeypatch.setattr(phone_pages, "_MARK", mark)
    with pytest.raises(phone_pages.NotJoined, match="./set-up run"):
        phone_pages.need_joined()
    mark.write_text("of other files")
    with pytest.raises(phone_pages.NotJoined, match="./set-up run"):
        phone_pages.need_joined()


@pytest.mark.parametrize("spoiled", ["{", '{"made_from": "other files", "bundle": {}}'])
def test_the_engine_is_made_anew_where_what_was_kept_is_not_of_its_files(monkeypatch, tmp_path, spoiled):
    file = tmp_path / "engine.json"
    monkeypatch.setattr(phone_engine, "_KEPT", file)
    file.write_text(spoiled)
    made = phone_engine.bundle.__wrapped__()
    assert made == phone_engine.bundle() and json.loads(file.read_text())["bundle"] == made
    monkeypatch.setattr(phone_engine, "_made", lambda _: pytest.fail("made anew without need"))
    assert phone_engine.bundle.__wrapped__() == made


def test_everything_that_the_styles_load_is_kept(kept):
    for sheet in [*(STATIC / "style").glob("*.css"), *(STATIC / "joined").glob("*.css")]:
        for target in re.findall(r"""url\(\s*['"]?([^'")]+)""", sheet.read_text()):
            address = target if target.startswith("/") else normal(PurePosixPath("/static/style") / target)
            assert target.startswith("data:") or address in kept, (sheet.name, target)


def test_icons_of_the_manifest_are_kept(kept, hand):
    for icon in json.loads(content(hand(), "/manifest.webmanifest"))["icons"]:
        assert icon["src"] in kept


def test_the_worker_carries_the_version_of_the_list(hand):
    browser = hand()
    version = browser.get("/app-data/files.json").get_json()["version"]
    reply = browser.get("/sw.js")
    assert reply.get_data(as_text=True).startswith('const VERSION = "%s";' % version)
    assert reply.mimetype == "text/javascript"


def test_nothing_that_is_kept_is_private_or_a_redirect(kept):
    assert not [address for address in kept if address.startswith(CALLS + ("/people", "/plant"))]


@pytest.mark.parametrize("forbidden", [r"innerHTML", r"outerHTML", r"insertAdjacentHTML", r"document\.write", r"\beval\(",
                                       r"new Function", r"unsafe-html", r"unsafe-svg", r"unsafeHTML", r"unsafeSVG", r"\sstyle=",
                                       r"\.style\.", r"cssText", r"localStorage", r"sessionStorage", r"https?://(?!www\.w3\.org/)"])
def test_the_phones_own_code_does_not_use(forbidden):
    assert OWN_FILES
    for path in OWN_FILES:
        found = re.search(forbidden, re.sub(r"^\s*//.*$|/\*.*?\*/", "", path.read_text(), flags=re.M))
        assert not found, (path.name, found)


def test_only_one_module_knows_the_phones_database():
    knowing = {path.name for path in OWN_FILES if re.search(r"vendor/idb|indexedDB", path.read_text())}
    assert knowing == {"database.js"}


def test_views_neither_fetch_nor_know_the_database():
    for path in (STATIC / "app" / "views").glob("*.js"):
        assert not re.search(r"\bfetch\(|database\.js|documents\.js|outbox\.js|session\.js", path.read_text()), path.name
