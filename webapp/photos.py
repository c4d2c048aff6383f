"""Photos as files: pieces as they come, and the picture made anew from them. Only the latter is ever served.

A photo is called by the hash that the phone gave it; what is kept under that name is another file, without place, time or maker.
"""
import hashlib
import os
import tempfile
from io import BytesIO
from pathlib import Path
from threading import Lock

from PIL import Image, ImageOps

MOST_BYTES = 8 * 1024 * 1024
MOST_PIXELS = 24_000_000
LONGEST_SIDE = 1600
QUALITY = 85
FORMATS = ("JPEG", "PNG", "WEBP")
_TOO_MANY = "It has too many pixels: at most %d million are taken." % (MOST_PIXELS // 1_000_000)
_ONE_AT_A_TIME = Lock()  # a large picture unfolds to a hundred megabytes
_HEAD = 12  # bytes by which the three are told from anything else


class NoPicture(ValueError):
    """What came cannot be kept as a photo; the text says why in one sentence."""


def folder_for(database_url, data=None):
    """Where a plant's photos lie: in its folder DATA where that is named, or else beside its SQLite file."""
    kind, _, file = database_url.partition(":///")
    return (Path(data) if data else Path(file).parent if kind == "sqlite" and file else Path("data")) / "photos"


def begins_as_picture(content):
    """False once the first bytes show that it is none of the FORMATS."""
    head = content[:_HEAD]
    return len(head) < _HEAD or head.startswith((b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n")) or (head[:4] == b"RIFF" and head[8:] == b"WEBP")


def _opened(content):
    """The picture in these bytes, its pixels not read yet. Raises NoPicture."""
    try:
        picture = Image.open(BytesIO(content), formats=FORMATS)
    except Image.DecompressionBombError as error:
        raise NoPicture(_TOO_MANY) from error
    except Exception as error:  # a spoiled file makes Pillow raise nearly anything
        raise NoPicture("It is no JPEG, PNG or WebP picture that opens.") from error
    if picture.width * picture.height > MOST_PIXELS:
        raise NoPicture(_TOO_MANY)
    return picture


def is_whole(content):
    """True when these bytes make a whole picture, so that nothing more of it can come."""
    try:
        with _ONE_AT_A_TIME:
            _opened(content).load()
    except Exception:  # cut off anywhere, it may fail in any way
        return False
    return True


def made_anew(content):
    """JPEG bytes of the picture: turned upright, at most LONGEST_SIDE pixels long, nothing in them but pixels. Raises NoPicture."""
    picture = _opened(content)
    try:
        with _ONE_AT_A_TIME:
            picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
            seen = ImageOps.exif_transpose(picture)
            seen = seen.convert("RGBA" if seen.has_transparency_data else "RGB")
    except Exception as error:
        raise NoPicture("The picture is damaged: it does not open to its end.") from error
    plain = Image.new("RGB", seen.size, "white")  # a new one, since comments and profiles stay with the old
    plain.paste(seen, mask=seen if seen.mode == "RGBA" else None)
    out = BytesIO()
    plain.save(out, "JPEG", quality=QUALITY)
    return out.getvalue()


class PhotoFolder:
    """Files of photos by hash. A crash at any moment leaves each file as it was or as it should be."""

    def __init__(self, folder):
        self.folder = Path(folder)

    def _file(self, sha256, ending):
        return self.folder / sha256[:2] / (sha256 + ending)

    def append(self, sha256, offset, piece):
        """Put a piece at its offset and on disk; returns all bytes so far. What lay beyond the offset was never acknowledged and goes."""
        file = self._file(sha256, ".part")
        file.parent.mkdir(parents=True, exist_ok=True)
        with open(file, "r+b" if file.exists() else "w+b") as out:
            out.truncate(offset)
            out.seek(offset)
            out.write(piece)
            _to_disk(out)
        _entries_to_disk(file.parent)
        return file.read_bytes()

    def forget_pieces(self, sha256):
        """Take the pieces away."""
        self._file(sha256, ".part").unlink(missing_ok=True)

    def keep(self, sha256, picture):
        """Keep the picture made anew, whole or not at all. Returns its hash."""
        file = self._file(sha256, ".jpg")
        with tempfile.NamedTemporaryFile(dir=file.parent, delete=False) as out:
            out.write(picture)
            _to_disk(out)
        os.replace(out.name, file)
        _entries_to_disk(file.parent)
        return hashlib.sha256(picture).hexdigest()

    def picture(self, sha256):
        """Bytes of the picture as it is served, or None where its file is missing."""
        try:
            return self._file(sha256, ".jpg").read_bytes()
        except FileNotFoundError:
            return None

    def missing(self, hashes):
        """Those of these photos whose file is not here."""
        return [sha256 for sha256 in hashes if not self._file(sha256, ".jpg").is_file()]

    def write_fault(self):
        """Why nothing can be written into the folder, in the system's words; None where it can, or is not needed yet."""
        if not self.folder.exists():
            return None
        try:
            tempfile.TemporaryFile(dir=self.folder).close()
        except OSError as error:
            return error.strerror
        return None


def _to_disk(file):
    file.flush()
    os.fsync(file.fileno())


def _entries_to_disk(folder):
    """A file is found after a power cut only when its folder is on disk as well."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
