"""HTML to PDF: our own fonts and style only, tagged, documents attached, no clock and no chance in it."""
import hashlib
import json
from datetime import datetime, timezone
from pathlib import Path

from PIL import ImageFile
from weasyprint import HTML, Attachment
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

# WeasyPrint lets Pillow open pictures that are cut short, for the whole program: a photo of which pieces are missing would pass for whole
ImageFile.LOAD_TRUNCATED_IMAGES = False

HERE = Path(__file__).parent
FONTS = HERE.parent.parent / "static" / "vendor" / "fonts"
_OWN = {"paper:style": (HERE / "paper.css", "text/css")}
_OWN.update({"paper:%s" % path.name: (path, "font/woff2") for path in FONTS.glob("*.woff2")})


class Refused(FatalURLFetchingError):
    """A paper asked for something that is not its own: rendering stops."""


class _OwnFiles(URLFetcher):
    """Gives a paper its style and fonts and refuses everything else."""

    def fetch(self, url, headers=None):
        if url not in _OWN:
            raise Refused("A paper may not load %s." % url)
        path, kind = _OWN[url]
        return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": kind})


def to_pdf(html, made_at, attached):
    """The bytes of a PDF, the same for the same input.

    made_at   RFC 3339 time; it dates the attachments
    attached  documents to attach: name -> thing that becomes JSON
    Raises Refused when the HTML names anything beyond our own style and fonts.
    """
    when = datetime.fromisoformat(made_at.replace("Z", "+00:00")).astimezone(timezone.utc)
    attachments = [Attachment(string=json.dumps(thing, ensure_ascii=False, indent=1, sort_keys=True), name=name,
                              description=name, created=when, modified=when) for name, thing in sorted(attached.items())]
    return HTML(string=html, url_fetcher=_OwnFiles(), base_url="paper:").write_pdf(
        font_config=FontConfiguration(), attachments=attachments, pdf_identifier=hashlib.md5(html.encode()).digest(),
        pdf_variant="pdf/ua-1")
