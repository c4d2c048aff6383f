"""Draws the README's pictures from the demo plant: three screens and a page of the settings sheet."""
import os
import shutil
import socket
import subprocess
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from .load import PASSWORD

ROOT = Path(__file__).parent.parent
PICTURES = Path(__file__).parent / "pictures"
SORTER = "b5ac0000-0000-4000-8000-000000000002"
SCREENS = (("result", "/app/systems/" + SORTER, "text=Along the line"),
           ("walking", "/app/systems/%s/edit/line" % SORTER, ".spine"),
           ("round", "/app/systems/%s/round" % SORTER, ".spine > li.now"))


def _screens(page, address):
    page.goto(address + "/app/sign-in")
    page.fill("#name", "technician")
    page.fill("#password", PASSWORD)
    page.get_by_role("button", name="Sign in", exact=True).click()
    page.get_by_text("All on the server.").wait_for()
    for name, path, there in SCREENS:
        page.goto(address + path)
        page.wait_for_selector(there)
        if name == "walking":
            page.evaluate("() => window.scrollTo({ top: document.querySelector('.spine').offsetTop - 60, behavior: 'instant' })")
            page.wait_for_timeout(300)  # sticky bars settle
        page.screenshot(path=str(PICTURES / (name + ".png")))


def _sheet(folder):
    pdf = Path(folder) / "sheet.pdf"
    subprocess.run([sys.executable, "-m", "webapp", "report", "settings", SORTER, "-o", str(pdf)], cwd=ROOT, check=True,
                   env=dict(os.environ, DATA=folder))
    subprocess.run(["pdftoppm", "-png", "-r", "62", "-f", "1", "-l", "1", "-singlefile", str(pdf), str(PICTURES / "sheet")], check=True)


def main():
    """Needs what the tests need: Debian's Chromium and pdftoppm."""
    PICTURES.mkdir(exist_ok=True)
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    with tempfile.TemporaryDirectory() as folder:
        server = subprocess.Popen([sys.executable, "-m", "demo_site"], cwd=ROOT, stdout=subprocess.PIPE, text=True,
                                  env=dict(os.environ, PORT=str(port), DATA=folder))
        try:
            address = server.stdout.readline().split()[-1].rstrip("/")
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
                _screens(browser.new_page(viewport={"width": 360, "height": 740}), address)
                browser.close()
            _sheet(folder)
        finally:
            server.terminate()
            server.wait()


if __name__ == "__main__":
    main()
