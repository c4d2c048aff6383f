"""Small SVG writer for the pictures that phone and papers share. Coordinates become text through text.decimal only.

Every element carries a class; presentation attributes give the paper's black on white, style sheets override by class.
"""
from ..basics.text import MINUS, decimal

FONT = "Atkinson Hyperlegible Next, sans-serif"
_NARROW = "iljt.,:;'|!()[] f1rI"
_WIDE = "mwMW%@—"


def escaped(text):
    """Text made safe for SVG."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


def text_width(text, size):
    """Roughly the width of a text [px]: wide enough that what fits here fits on screen and paper."""
    width = 0.0
    for letter in text:
        width += 0.38 if letter in _NARROW else 0.95 if letter in _WIDE else 0.64
    return width * size


def shortened(text, size, room):
    """The text, cut with an ellipsis so that it fits into `room` [px]."""
    if text_width(text, size) <= room:
        return text
    while text and text_width(text + "…", size) > room:
        text = text[:-1]
    return text.rstrip() + "…"


def place(value):
    """A coordinate as attribute text."""
    return decimal(value, 1).replace(MINUS, "-")


class Drawing:
    """Collects elements; `svg(says)` gives the picture with its description for those who cannot see it."""

    def __init__(self, width, height):
        self.width, self.height, self.parts = width, height, []

    def path(self, css, points, thick=1.0, dash=None):
        """A line through points [(x, y)]."""
        words = ["%s%s %s" % ("M" if number == 0 else "L", place(x), place(y)) for number, (x, y) in enumerate(points)]
        self.parts.append('<path class="%s" d="%s" fill="none" stroke="#111111" stroke-width="%s"%s/>' % (
            css, " ".join(words), place(thick), ' stroke-dasharray="%s"' % dash if dash else ""))

    def area(self, css, points):
        """A filled area within points [(x, y)]."""
        self.parts.append('<path class="%s" d="M%s Z" fill="#d0d0d0"/>' % (css, " L".join(["%s %s" % (place(x), place(y)) for x, y in points])))

    def ring(self, css, x, y, radius):
        """A ring: a metering device."""
        self.parts.append('<circle class="%s" cx="%s" cy="%s" r="%s" fill="#ffffff" stroke="#111111" stroke-width="4"/>' % (
            css, place(x), place(y), place(radius)))

    def dot(self, css, x, y, radius):
        """A filled dot: a reading."""
        self.parts.append('<circle class="%s" cx="%s" cy="%s" r="%s" fill="#111111"/>' % (css, place(x), place(y), place(radius)))

    def diamond(self, css, x, y, half):
        """A diamond: a switch."""
        self.parts.append('<path class="%s" d="M%s %s L%s %s L%s %s L%s %s Z" fill="#ffffff" stroke="#111111" stroke-width="3"/>'
                          % (css, place(x), place(y - half), place(x + half), place(y), place(x), place(y + half),
                             place(x - half), place(y)))

    def square(self, css, x, y, half):
        """A filled square: the pump."""
        self.parts.append('<rect class="%s" x="%s" y="%s" width="%s" height="%s" fill="#111111"/>' % (
            css, place(x - half), place(y - half), place(2 * half), place(2 * half)))

    def text(self, css, x, y, text, size=15, anchor="start", bold=False):
        """One line of text; anchor start, middle or end."""
        self.parts.append('<text class="%s" x="%s" y="%s" font-family="%s" font-size="%d" text-anchor="%s"%s fill="#111111">%s'
                          '</text>' % (css, place(x), place(y), FONT, size, anchor, ' font-weight="700"' if bold else "",
                                       escaped(text)))

    def svg(self, says):
        """The whole picture."""
        return ('<svg xmlns="http://www.w3.org/2000/svg" role="img" class="drawing" viewBox="0 0 %s %s" width="%s" height="%s">'
                '<title>%s</title>%s</svg>' % (place(self.width), place(self.height), place(self.width), place(self.height),
                                               escaped(says), "".join(self.parts)))
