"""Reads the codes on a paper back, as a phone's camera would: from rendered pixels."""
import io
import subprocess

import zxingcpp
from PIL import Image


def pages(pdf, dots_per_inch=150):
    """A PDF's pages as pictures."""
    done = subprocess.run(["pdftoppm", "-png", "-r", str(dots_per_inch), "-"], input=pdf, capture_output=True, check=True)
    parts = done.stdout.split(b"\x89PNG")[1:]
    return [Image.open(io.BytesIO(b"\x89PNG" + part)) for part in parts]


def codes_on(picture):
    """Texts of the codes on a picture, from left to right and top to bottom, each with its place (x, y of its upper left corner)."""
    found = [(one.text, (one.position.top_left.x, one.position.top_left.y)) for one in zxingcpp.read_barcodes(picture)]
    return sorted(found, key=lambda one: (one[1][1] // 20, one[1][0]))
