"""Draws the PNG icons from icon.svg; run by hand after a change: python static/icons/draw.py (needs the test tools)."""
import io
import shutil
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent


def draw(page, name, size, share):
    """One icon; `share` of its width is the drawing, the rest is margin for masks."""
    page.set_viewport_size({"width": size, "height": size})
    svg = (HERE / "icon.svg").read_text()
    page.set_content("<style>body{margin:0;background:#0b5563;display:grid;place-items:center;height:100vh}"
                     "svg{width:%d%%}</style>%s" % (round(100 * share), svg))
    # two colours and the shades of their edges: a third of the bytes that every phone loads
    picture = Image.open(io.BytesIO(page.screenshot())).convert("RGB").quantize(16, dither=Image.Dither.NONE)
    picture.save(HERE / name, optimize=True)


with sync_playwright() as playwright:
    browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
    sheet = browser.new_page()
    for icon in (("icon-192.png", 192, 1), ("icon-512.png", 512, 1), ("icon-maskable.png", 512, 0.76)):
        draw(sheet, *icon)
    browser.close()
