"""A real server and a real browser, each of which can be killed in the middle of anything."""
import contextlib
import json
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

import requests

ROOT = Path(__file__).parents[2]
STATIC = ROOT / "static"
# a window without an address bar, as an installed app has it: the bar's suggestions take longer to start than the rest of the browser
_WINDOW = ("--no-sandbox", "--app=data:text/html,")
PASSWORD = "brackwater"
SORTER = "b5ac0000-0000-4000-8000-000000000002"
PLANER = "b5ac0000-0000-4000-8000-000000000003"
TRIM_SAW = "b5ac0000-0000-4000-8000-000000000005"
STACKER = "b5ac0000-0000-4000-8000-000000000006"
RESAW = "b5ac0000-0000-4000-8000-000000000007"
DEFECT = "aa9f228b-9874-5f38-a9fd-a5ec7845f6a8"  # open, at the resaw, with a photo that was added later
ROUND = "ac094ab4-1b7b-5725-95f3-98a0eb30bfe0"  # of the head rig
RUN = "a847b10c-5c93-54bf-8166-2d0c8b552753"
HEAD_RIG = "b5ac0000-0000-4000-8000-000000000001"


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class Server:
    """The demo as a process of its own, on a port that stays the same when it comes back."""

    def __init__(self, folder, port=None):
        self.folder, self.port, self.process = folder, port or free_port(), None
        self.address = "http://127.0.0.1:%d" % self.port

    def start(self):
        environment = dict(os.environ, PORT=str(self.port), DATA=str(self.folder))
        self.process = subprocess.Popen([sys.executable, "-m", "demo_site"], cwd=ROOT, env=environment,
                                        stdout=subprocess.PIPE, text=True)
        assert self.address in self.process.stdout.readline()

    def stop(self):
        self.process.terminate()
        self.process.wait(20)

    def kill(self):
        self.process.kill()
        self.process.wait(20)

    def session(self, name):
        """A program that is signed in as somebody."""
        client = requests.Session()
        token = client.get(self.address + "/api/token").json()["token"]
        reply = client.post(self.address + "/api/session", json={"name": name, "password": PASSWORD, "phone": None},
                            headers={"X-CSRFToken": token})
        client.headers["X-CSRFToken"] = reply.json()["token"]
        return client

    def newest(self, kind, name="supervisor"):
        """{document: newest revision} of a kind, as the feed tells it."""
        session, after, more, found = self.session(name), 0, True, {}
        while more:
            page = session.get(self.address + "/sync/feed?after=%d&limit=500" % after).json()
            found.update({one["document"]: one for one in page["revisions"] if one["kind"] == kind})
            after, more = page["cursor"], page["more"]
        return found


# by the browser's own means: the app's modules come joined, and without signal no other is there
_READ = """([store, key]) => new Promise(async (found, failed) => {
    const phone = (await indexedDB.databases()).find(({ name }) => name.startsWith('linewright-'));
    const opening = indexedDB.open(phone.name);
    opening.onerror = () => failed(opening.error);
    opening.onsuccess = () => {
        const asked = opening.result.transaction(store).objectStore(store).get(key);
        asked.onerror = () => failed(asked.error);
        asked.onsuccess = () => { opening.result.close(); found(asked.result ?? null); };
    };
})"""


class Phone:
    """A browser with a folder of its own, so that it keeps what it has when it is killed."""

    def __init__(self, playwright, folder, address, **options):
        self.playwright, self.folder, self.address = playwright, folder, address
        self.options = dict({"viewport": {"width": 360, "height": 740}, "locale": "en-GB"}, **options)
        self.faults = []
        self.start()

    def start(self):
        self.context = self.playwright.chromium.launch_persistent_context(
            str(self.folder), executable_path=shutil.which("chromium"), args=_WINDOW, **self.options)
        self.context.set_default_timeout(60_000)
        self.page = self.context.pages[0]
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))

    def kill(self):
        """The battery dies: every process of this browser at once."""
        for entry in Path("/proc").iterdir():
            with contextlib.suppress(OSError, ValueError):
                if entry.name.isdecimal() and str(self.folder).encode() in (entry / "cmdline").read_bytes():
                    os.kill(int(entry.name), signal.SIGKILL)
        with contextlib.suppress(Exception):  # the driver complains that its browser is gone, which is the point
            self.context.close()

    def restart(self):
        self.kill()
        self.start()

    def close(self):
        with contextlib.suppress(Exception):  # killed already
            self.context.close()

    def open(self, path):
        self.page.goto(self.address + path)
        self.page.wait_for_selector("h1")

    def sign_in(self, name="technician"):
        """Sign in and wait until the first visit has brought everything to the phone."""
        self.open("/app/sign-in")
        self.page.fill("#name", name)
        self.page.fill("#password", PASSWORD)
        self.page.get_by_role("button", name="Sign in", exact=True).click()
        self.wait_title("Today")  # it comes once everything is here, and then works every system: what a test needs it opens itself
        self.page.get_by_role("link", name="This phone").click()
        self.wait_title(name)
        self.page.wait_for_function("() => navigator.serviceWorker.ready.then(() => true)")
        self.page.get_by_text("All on the server.").wait_for()

    def wait_all_worked(self):
        """Today: wait until every system is worked and what is due is known."""
        self.page.locator("ul.rows").first.wait_for()
        self.page.get_by_text(re.compile("^Working ")).wait_for(state="detached")
        self.page.get_by_role("heading", name="Everything else holds").wait_for()

    def wait_worked(self):
        """A system's page: wait until its figures are those of the simulation."""
        self.page.get_by_role("heading", name="Along the line").wait_for()
        self.page.get_by_text("Simulating the cycle").wait_for(state="detached")

    def title(self):
        return self.page.inner_text("h1")

    def wait_title(self, text):
        self.page.get_by_role("heading", level=1, name=text).wait_for()

    def button(self, name, exact=True):
        return self.page.get_by_role("button", name=name, exact=exact)

    def tap(self, name, exact=True):
        self.button(name, exact).first.click()

    def enter(self, place, text):
        """Type into the field of a place of the document."""
        self.page.fill("#f-" + place.replace("[", "-").replace("]", "-").replace(".", "-"), text)

    def choose(self, place, text):
        self.page.select_option("#f-" + place.replace("[", "-").replace("]", "-").replace(".", "-"), text)

    def kept(self, store, key):
        """One record of the person's own storage on this phone, or None."""
        return self.page.evaluate(_READ, [store, key])

    def keep_modules(self):
        """Keep the single modules on the phone as well, for by_modules() without signal."""
        names = [path.relative_to(STATIC).as_posix() for folder in ("app", "vendor") for path in (STATIC / folder).rglob("*.js")]
        self.page.evaluate("""async (names) => {
            const cache = await caches.open((await caches.keys()).find((name) => name.startsWith('linewright-')));
            await cache.addAll(names.map((name) => `/static/${name}`));
        }""", names)

    def by_modules(self, script, argument):
        """Run a script that imports single modules of the app, as the person who is signed in; needs the server, or
        keep_modules() before it stopped. The open page has its own, joined: it sees what was kept when it is opened next."""
        self.page.evaluate("async () => { await (await import('/static/app/session.js')).resume(); }")
        return self.page.evaluate(script, argument)

    def has_kept(self, text, key):
        """True when the draft under a key holds a text."""
        return text in json.dumps(self.kept("drafts", key), ensure_ascii=False)


def eventually(thing, seconds=20):
    """Wait until `thing()` is true and return it; AssertionError when it never is."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        found = thing()
        if found:
            return found
        time.sleep(0.05)
    raise AssertionError("waited %d s in vain" % seconds)


def walk_round(phone, readings=None):
    """A whole round up to its sign-off sheet: OK to everything, these readings, what else asks for one does not apply."""
    phone.wait_title(re.compile("^0 of "))
    done = 0
    while phone.title() != "%d of %d" % (done, done):
        done += 1
        item = phone.page.locator(".spine > li.now")
        typed = next((text for label, text in (readings or {}).items() if item.locator("input[aria-label*='%s']" % label).count()), None)
        if typed:
            item.locator("input").fill(typed)
            phone.tap("Keep the reading")
        elif item.locator("textarea").count():
            item.locator("textarea").fill("None.")
            phone.tap("Keep it")
        elif item.locator("input").count():
            item.get_by_role("button", name="Does not apply…").click()
            phone.page.fill("#why", "No gauge at hand.")
            phone.tap("Keep it")
        else:
            item.get_by_role("button", name="OK", exact=True).click()
        phone.wait_title(re.compile("^%d of " % done))
    phone.tap("Go to sign-off")
