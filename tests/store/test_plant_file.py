"""A whole plant goes out and comes back with nothing different, on and between the databases; what is damaged leaves nothing behind."""
import csv
import hashlib
import io
import json
import zipfile

import pytest
from argon2 import PasswordHasher
from argon2.profiles import CHEAPEST
from sqlalchemy import select

from demo_site import plant
from tests.store.conftest import a_revision, new_id
from webapp import plant_file
from webapp.photos import PhotoFolder
from webapp.store import Store, people, revisions, whole
from webapp.store.schema import metadata

PASSWORD = "invented password"
ACCEPTED = "accepted"
AT = "2026-11-%02dT09:05:00+01:00"
SHA, PICTURE = "ab" * 32, b"the bytes of a picture"
KEPT = hashlib.sha256(PICTURE).hexdigest()


def a_record(kind, system, day, **body):
    record = dict({"format": kind + "/1", "id": new_id(), "system": system["document"], "made_at": AT % day}, **body)
    return a_revision(record["id"], kind=kind, body=record, made_at=AT % day)


def an_item(day, **changes):
    return dict({"id": "level", "ask": "Level?", "answer": "reading", "value": 3.25, "unit": "l", "at": AT % day}, **changes)


def fill(store):
    """A small plant in which something of everything is there."""
    with store.writing() as connection:
        who = people.add(connection, "Zoë", PASSWORD, people.TECHNICIAN, ["North works"])
        people.add(connection, "ann", PASSWORD, people.ADMINISTRATOR, [], True)
        gone = people.add(connection, "Left", PASSWORD, people.SUPERVISOR, ["South"])
        people.set_active(connection, gone, False)
        phone = new_id()
        people.seen_phone(connection, phone, who)
        people.sent_by(connection, phone, 3, "round")
        people.set_revoked(connection, phone, True)
        for what in ("added a person", "let in"):
            people.note(connection, "terminal", what, who)
        body = dict(plant.head_rig(), name="=HYPERLINK(\"x\") ü 日本 \U0001F6E2", area="a\0b", site="North works")
        system = a_revision(body=body, made_by=who, phone=phone)
        revisions.add(connection, system, ACCEPTED)
        other = a_revision(system["document"], parent=system["id"], body=dict(body, area="Yard"), reason="moved")
        revisions.add(connection, other, "clash", ["area"], [{"ours": other["id"], "theirs": system["id"], "fields": ["area"]}])
        signed = {"by": "Zoë", "at": AT % 3}
        photos = [{"sha256": SHA, "width": 10, "height": 10}]
        deleted = a_record("note", system, 4, text="Gone")
        for record in (
                a_record("round", system, 3, items=[an_item(3), an_item(3, id="pump", answer="not ok", photos=photos)], signed=signed),
                a_record("round", system, 2, items=[an_item(2, value=1.0), an_item(2, id="lid", answer="ok", note="-1+2")], signed=signed),
                a_record("round", system, 5, items=[an_item(5)]), a_record("refill", system, 3, refill_l=2.5, batch="@7"),
                a_record("defect", system, 3, where="pump", what="leaks", severity="untidy", points=["P1", "P2"]), deleted,
                a_revision(deleted["document"], kind="note", deleted=True, parent=deleted["id"], body={})):
            revisions.add(connection, record, ACCEPTED)
        connection.execute(metadata.tables["photo"].insert().values(sha256=SHA, received=7, complete=True, kept_sha256=KEPT, received_at=AT % 3))


def packed(store, photos, **options):
    stream = io.BytesIO()
    assert plant_file.write(store, photos, stream, **options) == []
    return stream.getvalue()


@pytest.fixture
def photos(tmp_path):
    """The folder of photos of the filled plant."""
    folder = PhotoFolder(tmp_path / "photos")
    folder.keep(SHA, PICTURE)
    return folder


@pytest.fixture
def no_photos(tmp_path):
    return PhotoFolder(tmp_path / "again")


def content(store):
    """All rows of all tables, in an order of their own; the audit's lines have no number outside the database."""
    with store.reading() as connection:
        return {name: sorted(([repr(value) for column, value in row._mapping.items() if (name, column) != ("audit", "id")]
                              for row in connection.execute(select(table)))) for name, table in metadata.tables.items()}


@pytest.fixture
def new_store(new_url, monkeypatch):
    monkeypatch.setattr(people, "_hasher", PasswordHasher.from_parameters(CHEAPEST))
    made = []

    def make(kind="sqlite"):
        made.append(Store(new_url(kind)))
        made[-1].migrate()
        return made[-1]

    yield make
    for store in made:
        store.close()


@pytest.mark.parametrize("to", ["sqlite", "postgresql"])
def test_a_plant_comes_back_with_nothing_different(store, new_store, photos, no_photos, to):
    fill(store)
    out, again = packed(store, photos, secrets=True), new_store(to)
    counts, without_password, without_picture = plant_file.read(again, no_photos, io.BytesIO(out))
    assert (counts["revisions"], counts["people"], counts["clashes"], without_password, without_picture) == (9, 3, 1, [], [])
    assert packed(again, no_photos, secrets=True) == out and no_photos.picture(SHA) == PICTURE
    assert content(again) == content(store)
    with again.writing() as connection:
        assert people.verify(connection, "ann", PASSWORD) and not people.verify(connection, "Left", PASSWORD)
        assert revisions.add(connection, a_revision(), ACCEPTED) == 10
        people.note(connection, "terminal", "goes on", "")


def test_without_secrets_nobody_gets_in_before_a_new_password(store, new_store, photos, no_photos):
    fill(store)
    out, again = packed(store, photos), new_store()
    with zipfile.ZipFile(io.BytesIO(out)) as pack:
        assert not [name for name in pack.namelist() if b"argon2" in pack.read(name) or "secret" in name]
    _, without_password, _ = plant_file.read(again, no_photos, io.BytesIO(out))
    assert without_password == ["Left", "Zoë", "ann"] and packed(again, no_photos) == out
    with again.writing() as connection:
        assert people.verify(connection, "ann", PASSWORD) is None and people.verify(connection, "ann", "") is None
        people.set_password(connection, people.by_name(connection, "ann")["id"], "another password")
        assert people.verify(connection, "ann", "another password")


def test_every_table_goes_out_or_is_made_anew():
    assert {column.table.name for columns in whole._COLUMNS.values() for column in columns} | set(whole.MADE_ANEW) == set(metadata.tables)


def test_a_plant_comes_into_an_empty_store_only(store, photos):
    fill(store)
    out = packed(store, photos, secrets=True)
    with pytest.raises(plant_file.NoPlantFile, match="holds something already"):
        plant_file.read(store, photos, io.BytesIO(out))
    assert packed(store, photos, secrets=True) == out


def changed(out, name, change):
    """The file with one of its members changed: a function from bytes to bytes, None takes it away."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(out)) as pack, zipfile.ZipFile(stream, "w") as new:
        for one in pack.namelist():
            if one != name:
                new.writestr(one, pack.read(one))
            elif change:
                new.writestr(one, change(pack.read(one)))
    return stream.getvalue()


def in_row(place, **values):
    """Change values in one row of JSON lines."""
    def change(text):
        lines = text.decode().splitlines()
        lines[place] = json.dumps(dict(json.loads(lines[place]), **values))
        return "\n".join(lines).encode()
    return change


DAMAGES = (
    ("manifest.json", None, "manifest.json is missing"), ("manifest.json", lambda _: b"[]", "cannot be read"),
    ("manifest.json", lambda _: b'{"format": "linewright-plant/2"}', "linewright-plant/2"),
    ("manifest.json", lambda text: text.replace(b'"audit"', b'"audits"'), "unknown here, the part audits"),
    ("manifest.json", lambda text: text.replace(b', "audit"', b""), "lacks the part audit"),
    ("phones.jsonl", None, "phones.jsonl is missing"), ("audit.jsonl", lambda text: text + b"{", "Line 3 of audit.jsonl .*not JSON"),
    ("audit.jsonl", lambda _: b"[" * 100000, "Line 1 of audit.jsonl .*not JSON"),
    ("audit.jsonl", lambda _: b"[1]", "it is no object"), ("people.jsonl", in_row(1, role=None), "Line 2 of people.jsonl .*role is missing"),
    ("people.jsonl", in_row(1, name="x" * 101), "longer than 100"), ("people.jsonl", in_row(1, active="yes"), "neither true nor false"),
    ("people.jsonl", in_row(0, name="\0"), "no text that can be kept"), ("phones.jsonl", in_row(0, sent=2 ** 40), "no number that fits"),
    ("secrets.jsonl", in_row(0, id="x"), "no such person"), ("revisions.jsonl", in_row(3, number=5), "its number is 5, and the one before it 3"),
    ("revisions.jsonl", in_row(2, kind="spell"), "the kind spell"), ("revisions.jsonl", in_row(2, body=[]), "body must be"),
    ("revisions.jsonl", in_row(2, body={"format": "round/1", "signed": {"by": "x"}, "items": [1], "system": "x"}),
     "Line 3 of revisions.jsonl .* the check of its round found at items.*group of fields"),
    ("revisions.jsonl", in_row(2, id="00000000-0000-4000-8000-000000000001", fields={}), "fields is not of its kind"),
    ("photos/%s.jpg" % SHA, lambda _: b"another", "not the picture that photos.jsonl names"),
    ("clashes.jsonl", in_row(0, id="00000000-0000-4000-8000-000000000009"), "no such document"),
    ("clashes.jsonl", lambda text: text.replace(b"[", b"NaN, [", 1), "not JSON"))


def test_what_is_damaged_is_named_and_leaves_nothing_behind(new_store, photos, no_photos):
    source, again = new_store(), new_store()
    fill(source)
    out, before = packed(source, photos, secrets=True), content(again)
    for name, change, says in DAMAGES:
        with pytest.raises(plant_file.NoPlantFile, match=says):
            plant_file.read(again, no_photos, io.BytesIO(changed(out, name, change)))
        assert content(again) == before and no_photos.picture(SHA) is None, (name, says)
    spoilt = bytearray(out)  # and files of which a part is missing or not as it was written
    middle = out.index(b"revisions.jsonl") + 100
    spoilt[middle:middle + 50] = bytes(50)
    for bad in (b"", b"no ZIP", out[:len(out) // 2], bytes(spoilt)):
        with pytest.raises(plant_file.NoPlantFile, match="Nothing was brought in|missing"):
            plant_file.read(again, no_photos, io.BytesIO(bad))
    assert content(again) == before


def test_a_photo_whose_file_is_gone_is_told_and_keeps_nothing_else_back(new_store, no_photos):
    source, again = new_store(), new_store()
    fill(source)
    stream = io.BytesIO()
    assert plant_file.write(source, no_photos, stream) == [SHA]
    brought = plant_file.read(again, no_photos, stream)
    assert (brought.without_picture, brought.counts["photos"]) == ([SHA], 1)


def test_a_name_that_leads_out_of_the_folder_is_no_photo(new_store, photos, no_photos):
    source, again = new_store(), new_store()
    fill(source)
    out = changed(packed(source, photos), "photos.jsonl", in_row(0, sha256="../x"))
    with zipfile.ZipFile(stream := io.BytesIO(out), "a") as pack:
        pack.writestr("photos/../x.jpg", PICTURE)
    with pytest.raises(plant_file.NoPlantFile, match="no name of a photo"):
        plant_file.read(again, no_photos, stream)
    assert not no_photos.folder.exists()


def test_tables_have_units_in_the_header_names_beside_ids_and_no_formulas(new_store, photos):
    source = new_store()
    fill(source)
    with zipfile.ZipFile(io.BytesIO(packed(source, photos))) as pack:
        tables = {name: list(csv.DictReader(io.StringIO(pack.read("tables/%s.csv" % name).decode("utf-8-sig"), newline="")))
                  for name in plant_file.TABLES}
    system, = tables["systems"]
    assert system["system_name"].startswith("'=HYPERLINK") and system["pump.relief_bar [bar]"] == repr(plant.head_rig()["pump"]["relief_bar"])
    points = [(row["id"], row["device"]) for row in tables["points"]]
    assert points == [(point["id"], point["device"]) for point in plant.head_rig()["points"]]
    readings = {(row["id"], row["record_made_at"]): row for row in tables["readings"]}
    assert readings["level", AT % 3]["value"] == "3.25" and readings["lid", AT % 2]["note"] == "'-1+2"
    assert len(readings) == 5 and {row["site"] for row in tables["readings"]} == {"North works"}
    refill, = tables["refills"]
    assert (refill["refill_l [l]"], refill["batch"]) == ("2.5", "'@7")
    defect, = tables["defects"]
    assert (defect["points"], tables["notes"]) == ("P1; P2", [])
