"""A round report of twenty pages with twelve photos: our PDF, and headless Chromium's of the same HTML, style, fonts and photos."""
import io
import shutil
import tempfile
import time
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright
from pypdf import PdfReader

from tests.reports.made import Photos, a_round, item, reader, revision, system
from webapp.reports import pdf
from webapp.reports.round_report import round_report

PAGES, PHOTOS = 20, 12


class _Noisy(Photos):
    """Photos as large as a phone's, since a plain one is ten times smaller as JPEG."""

    def photo(self, sha256):
        return self._by_hash[sha256] if sha256 in self._by_hash else None

    def held(self, number, **more):
        held = super().held(number, **more)
        out = io.BytesIO()
        Image.effect_noise((1600, 1200), 30 + number).convert("RGB").save(out, "JPEG", quality=70)
        self._by_hash[held["sha256"]] = out.getvalue()
        return held


def _paper():
    """A report of at least PAGES pages with PHOTOS photos."""
    photos, of, count = _Noisy(), system(), 100
    held = [photos.held(number) for number in range(PHOTOS)]
    while True:
        items = [item(number, "not ok" if number < PHOTOS else "ok", note="Looked at again", photos=held[number:number + 1]) for number in range(count)]
        made = round_report(reader(photos), revision(a_round(of, items), "round"), revision(of), "Vera")
        if len(PdfReader(io.BytesIO(made.pdf())).pages) >= PAGES:
            return made, held
        count += 10


def _timed(do):
    begin = time.perf_counter()
    out = do()
    return time.perf_counter() - begin, out


def _as_files(paper, held, folder):
    """The same paper as files that a browser opens; returns its address."""
    style = (pdf.HERE / "paper.css").read_text()
    for font in pdf.FONTS.glob("*.woff2"):
        shutil.copy(font, folder)
    (folder / "paper.css").write_text(style.replace("paper:", ""))
    html = paper.html.replace("paper:style", "paper.css")
    for one in held:
        (folder / (one["sha256"] + ".jpg")).write_bytes(paper.photo(one["sha256"]))
        html = html.replace("photo:" + one["sha256"], one["sha256"] + ".jpg")
    (folder / "paper.html").write_text(html)
    return (folder / "paper.html").as_uri()


def _by_chromium(address):
    """(seconds from no browser to the PDF, seconds with a browser that has printed it before, its pages)."""
    def printed(browser):
        page = browser.new_page()
        page.goto(address, wait_until="load")
        out = page.pdf(prefer_css_page_size=True, tagged=True)
        page.close()
        return out

    with sync_playwright() as playwright:
        def cold():
            browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
            return browser, printed(browser)
        cold_s, (browser, _) = _timed(cold)
        warm_s, out = _timed(lambda: printed(browser))
        browser.close()
    return cold_s, warm_s, len(PdfReader(io.BytesIO(out)).pages)


def of_the_papers():
    """{"ours_s", "pages", "cold_s", "warm_s", "their_pages"}: the library is loaded and warm, as in a server or worker that runs."""
    paper, held = _paper()
    ours_s, made = _timed(paper.pdf)
    with tempfile.TemporaryDirectory() as folder:
        cold_s, warm_s, their_pages = _by_chromium(_as_files(paper, held, Path(folder)))
    return {"ours_s": ours_s, "pages": len(PdfReader(io.BytesIO(made)).pages), "cold_s": cold_s, "warm_s": warm_s, "their_pages": their_pages}
