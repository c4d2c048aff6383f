"""HTML to PDF: our own fonts, style and photos only, tagged, documents attached, no clock and no chance in it."""
import gc
import hashlib
import json
from contextlib import contextmanager
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
PHOTO = "photo:"
_VARIANT = "pdf/ua-1"
_OWN = {"paper:style": (HERE / "paper.css", "text/css")}
_OWN.update({"paper:%s" % path.name: (path, "font/woff2") for path in FONTS.glob("*.woff2")})


class Refused(FatalURLFetchingError):
    """A paper asked for something that is not its own: rendering stops."""


class _OwnFiles(URLFetcher):
    """Gives a paper its style, fonts and photos and refuses everything else."""

    def __init__(self, photo):
        super().__init__()
        self._photo = photo

    def fetch(self, url, headers=None):
        if url.startswith(PHOTO):
            picture = self._photo(url[len(PHOTO):])
            if picture is None:
                raise Refused("The photo %s is not here." % url)
            return URLFetcherResponse(url, picture, {"Content-Type": "image/jpeg"})
        if url not in _OWN:
            raise Refused("A paper may not load %s." % url)
        path, kind = _OWN[url]
        return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": kind})


@contextmanager
def _without_collecting():
    """Python's collector walks through all boxes of all pages again and again for nothing: a third of the time of a long paper."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


@_without_collecting()
def laid_out(paper, fonts):
    """A paper's pages, laid out; `fonts` is one FontConfiguration for all papers of a file."""
    return HTML(string=paper.html, url_fetcher=_OwnFiles(paper.photo), base_url="paper:").render(font_config=fonts, pdf_variant=_VARIANT)


def _attachments(papers):
    """Attachments of each paper, in a file of many numbered by its place."""
    out = []
    for number, paper in enumerate(papers, 1):
        when = datetime.fromisoformat(paper.made_at.replace("Z", "+00:00")).astimezone(timezone.utc)
        for name, thing in sorted(paper.attached.items()):
            name = name if len(papers) == 1 else "%03d-%s" % (number, name)
            out.append(Attachment(string=json.dumps(thing, ensure_ascii=False, indent=1, sort_keys=True), name=name,
                                  description="%s: %s" % (paper.title, name), created=when, modified=when))
    return out


@_without_collecting()
def to_pdf(papers, title=None, laid=None):
    """The bytes of one PDF of these papers, the same for the same input.

    title  of the whole file; else that of the first paper
    laid   the papers' pages where they are laid out already
    Raises Refused when the HTML names anything beyond our own style, fonts and photos.
    """
    if laid is None:
        fonts = FontConfiguration()
        laid = [laid_out(paper, fonts) for paper in papers]
    whole = laid[0].copy([page for document in laid for page in document.pages])
    whole.metadata.title = title or whole.metadata.title
    mark = hashlib.md5("".join(paper.html for paper in papers).encode()).digest()
    return whole.write_pdf(attachments=_attachments(papers), pdf_identifier=mark, pdf_variant=_VARIANT)
