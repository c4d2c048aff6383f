"""A whole plant as one file: a ZIP of JSON lines (which come back), CSV tables (for spreadsheets) and photos. docs/formats.md has it.

The same plant gives the same bytes: nothing in the file tells when or where it was made.
"""
import hashlib
import json
import re
import zipfile
import zlib
from collections import namedtuple
from itertools import islice

from .envelope import envelope_fault, stops
from .store import StoreError
from .store.whole import PARTS, BadRow, Restoring, is_empty, rows
from .tables import TABLES, lines

FORMAT = "linewright-plant/1"
MANIFEST = "manifest.json"
SECRETS, PHOTOS = "secrets", "photos"
_LONGEST_LINE = 20_000_000
_AT_A_TIME = 100
_MADE = (1980, 1, 1, 0, 0, 0)  # the earliest that a ZIP can say


_HASH = re.compile("[0-9a-f]{64}")
_DAMAGED = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError)


class NoPlantFile(StoreError):
    """A file cannot be brought in; the text says why and where."""


def write(store, photos, stream, secrets=False):
    """Write the whole plant, as it stands now, into a binary stream; returns hashes of photos whose file is missing. Raises StoreError.

    photos   the folder of photos
    secrets  hashes of passwords, keys of sessions and calendars go along: such a file is as secret as the database
    """
    parts, missing = [part for part in PARTS if secrets or part != SECRETS], []
    with store.snapshot() as connection, zipfile.ZipFile(stream, "w") as pack:
        _add(pack, MANIFEST, [json.dumps({"format": FORMAT, "parts": parts}) + "\n"])
        for part in parts:
            _add(pack, part + ".jsonl", (json.dumps(row, ensure_ascii=False) + "\n" for row in rows(connection, part)))
        for table in TABLES:
            _add(pack, "tables/%s.csv" % table, lines(connection, table))
        for row in rows(connection, PHOTOS):
            picture = photos.picture(row["sha256"])
            if picture is None:
                missing.append(row["sha256"])
            else:
                pack.writestr(_info(_picture_name(row["sha256"]), zipfile.ZIP_STORED), picture)
    return missing


def _picture_name(sha256):
    return "photos/%s.jpg" % sha256


def _info(name, packed):
    info = zipfile.ZipInfo(name, _MADE)
    info.compress_type, info.external_attr = packed, 0o600 << 16
    return info


def _add(pack, name, texts):
    texts = iter(texts)
    with pack.open(_info(name, zipfile.ZIP_DEFLATED), "w", force_zip64=True) as out:
        while some := "".join(islice(texts, _AT_A_TIME)):
            out.write(some.encode())


# counts  part -> how many rows came in
# without_password  names of people who need a new one; without_picture: hashes of photos that the file says are here and has not
Brought = namedtuple("Brought", "counts without_password without_picture")


def read(store, photos, stream):
    """Bring a plant back into an empty store and its folder of photos: all of it, or nothing. Raises NoPlantFile and StoreError."""
    written = []
    try:
        with zipfile.ZipFile(stream) as pack:
            parts = _manifest(pack)
            with store.writing() as connection:
                if not is_empty(connection):
                    raise NoPlantFile("This store holds something already. A plant comes back into an empty one: name another DATA or "
                                      "DATABASE_URL.")
                restoring = Restoring(connection)
                counts = {part: _put_all(pack, part, restoring) for part in PARTS if part in parts}
                restoring.end()
                missing = _pictures(pack, rows(connection, PHOTOS), photos, written)
    except BaseException as error:
        for sha256 in written:
            photos.forget_picture(sha256)
        if isinstance(error, _DAMAGED):
            raise NoPlantFile("The file is damaged or no ZIP file (%s). Nothing was brought in: take one that `export` wrote." % error) from error
        raise
    return Brought(counts, sorted(restoring.without_password.values()), missing)


def _pictures(pack, photo_rows, photos, written):
    """Keep the pictures of these photos; `written` names those that are on disk. Returns hashes of those that are not in the file."""
    there, missing = set(pack.namelist()), []
    for row in photo_rows:
        name = _picture_name(row["sha256"])
        if name not in there:
            missing.append(row["sha256"])
            continue
        if not _HASH.fullmatch(row["sha256"]):
            raise NoPlantFile("%s is no name of a photo. Nothing was brought in." % name)
        picture = pack.read(name)
        if hashlib.sha256(picture).hexdigest() != row["kept_sha256"]:
            raise NoPlantFile("%s is not the picture that photos.jsonl names. Nothing was brought in." % name)
        written.append(row["sha256"])
        photos.keep(row["sha256"], picture)
    return missing


def _manifest(pack):
    """The parts that the file says it has."""
    try:
        with pack.open(MANIFEST) as file:
            manifest = json.loads(file.readline(_LONGEST_LINE))
        if manifest["format"] != FORMAT:
            raise NoPlantFile("The file has the format %s; this program reads %s." % (str(manifest["format"])[:60], FORMAT))
        unknown = sorted(set(manifest["parts"]) - set(PARTS))
        missing = [part for part in PARTS if part != SECRETS and part not in manifest["parts"]]
    except (KeyError, TypeError, ValueError) as error:
        raise NoPlantFile("This is no file of a plant: %s is missing in it or cannot be read." % MANIFEST) from error
    if unknown or missing:
        raise NoPlantFile("The file %s the part %s." % (("has, unknown here,", unknown[0]) if unknown else ("lacks", missing[0])))
    return manifest["parts"]


def _put_all(pack, part, restoring):
    name, number = part + ".jsonl", 0
    try:
        with pack.open(name) as file:
            for number, line in enumerate(iter(lambda: file.readline(_LONGEST_LINE), b""), 1):
                row = _row(line)
                fault = _fault(row) if part == "revisions" else None
                if fault:
                    raise BadRow(fault)
                restoring.put(part, row)
    except KeyError as error:
        raise NoPlantFile("%s is missing in the file. Nothing was brought in." % name) from error
    except BadRow as error:
        raise NoPlantFile("Line %d of %s cannot be brought in: %s. Nothing was brought in." % (
            number, name, str(error).rstrip("."))) from error
    return number


def _fault(revision):
    """What keeps a revision from being stored, as the wire would say it; None where nothing does."""
    fault = envelope_fault(revision)
    found = [] if fault or revision.get("deleted") else stops(revision["body"])
    if found:
        return "the check of its %s found at %s: %s" % (revision["kind"], found[0]["where"] or "the whole", found[0]["says"])
    return fault


def _no_number(name):
    raise ValueError("%s is no number" % name)


def _row(line):
    try:
        return json.loads(line.decode(), parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        raise BadRow("it is not JSON") from error
