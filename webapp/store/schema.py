"""The tables. Alembic's migrations make them; a test holds both together."""
from sqlalchemy import Boolean, Column, Index, Integer, MetaData, String, Table, Text, text, true

metadata = MetaData(naming_convention={
    "ix": "ix_%(column_0_label)s", "uq": "uq_%(table_name)s_%(column_0_name)s", "pk": "pk_%(table_name)s"})

counter = Table(
    "counter", metadata,
    Column("plant", String(50), primary_key=True),
    Column("number", Integer, nullable=False))

revision = Table(
    "revision", metadata,
    Column("id", String(64), primary_key=True),
    Column("number", Integer, nullable=False, unique=True),
    Column("document", String(64), nullable=False),
    Column("kind", String(40), nullable=False),
    Column("site", String(300), nullable=False),
    Column("parent", String(64)),
    Column("also", String(64)),
    Column("made_at", String(40), nullable=False),
    Column("made_by", String(64), nullable=False),
    Column("phone", String(64)),
    Column("received_at", String(40), nullable=False),
    Column("deleted", Boolean, nullable=False),
    Column("reason", Text),
    Column("state", String(20), nullable=False),
    Column("fields", Text, nullable=False),
    Column("body", Text, nullable=False))
Index("ix_revision_document_number", revision.c.document, revision.c.number)
Index("ix_revision_site_number", revision.c.site, revision.c.number)

document = Table(
    "document", metadata,
    Column("id", String(64), primary_key=True),
    Column("kind", String(40), nullable=False),
    Column("site", String(300), nullable=False),
    Column("system", String(64)),
    Column("head", String(64), nullable=False),
    Column("deleted", Boolean, nullable=False),
    Column("clash", Text, nullable=False),
    # of the newest body: when it was made, and whether it is still open (neither signed off nor closed)
    Column("made_at", String(40), nullable=False, server_default=text("''")),
    Column("open", Boolean, nullable=False, server_default=true()))
Index("ix_document_system", document.c.system)
Index("ix_document_kind_system_made_at", document.c.kind, document.c.system, document.c.made_at)
Index("ix_document_kind_made_at", document.c.kind, document.c.made_at)
# few are open: a whole index by `open` would be taken for the last signed one of a system, and walk past those of all others
Index("ix_document_open", document.c.kind, document.c.made_at, sqlite_where=text("open = 1"), postgresql_where=text("open"))

# each system as a list shows it, and the engine's verdict on its newest revision: worked in the background by the engine named
verdict = Table(
    "verdict", metadata,
    Column("system", String(64), primary_key=True),
    Column("revision", String(64), nullable=False),
    Column("name", Text, nullable=False),
    Column("area", Text, nullable=False),
    Column("points", Integer, nullable=False),
    Column("engine", String(64), nullable=False),
    Column("state", String(20), nullable=False),
    Column("findings", Text, nullable=False),
    Column("worked", Text, nullable=False))
Index("ix_verdict_engine", verdict.c.engine)

# the last answer to each item of a system's rounds, as signed: what is due follows from it without reading old rounds
answered = Table(
    "answered", metadata,
    Column("system", String(64), primary_key=True),
    Column("item", String(200), primary_key=True),
    Column("at", String(40), nullable=False),
    Column("document", String(64), nullable=False),
    Column("answer", Text, nullable=False))

# a photo as it came in pieces, by the hash that the phone gave it; kept_sha256 names the picture made anew from it
photo = Table(
    "photo", metadata,
    Column("sha256", String(64), primary_key=True),
    Column("received", Integer, nullable=False),
    Column("complete", Boolean, nullable=False),
    Column("kept_sha256", String(64)),
    Column("received_at", String(40), nullable=False))

# which documents name a photo: who may see one of them may see it
photo_of = Table(
    "photo_of", metadata,
    Column("sha256", String(64), primary_key=True),
    Column("document", String(64), primary_key=True))
Index("ix_photo_of_document", photo_of.c.document)

# papers that are made in the background
job = Table(
    "job", metadata,
    Column("id", String(64), primary_key=True),
    Column("asked_by", String(64), nullable=False),
    Column("asked_at", String(40), nullable=False),
    Column("request", Text, nullable=False),
    Column("state", String(20), nullable=False),
    Column("done", Integer, nullable=False),
    Column("total", Integer, nullable=False),
    Column("says", Text),
    Column("file", String(300)),
    Column("worked_at", String(40)),
    # how often it was begun without getting on: work that breaks its worker each time is given up
    Column("taken", Integer, nullable=False))

person = Table(
    "person", metadata,
    Column("id", String(64), primary_key=True),
    Column("name", String(100), nullable=False, unique=True),
    Column("password", String(300), nullable=False),
    Column("role", String(20), nullable=False),
    Column("sites", Text, nullable=False),
    Column("all_sites", Boolean, nullable=False),
    Column("active", Boolean, nullable=False),
    Column("session_key", String(64), nullable=False),
    Column("calendar_key", String(64)))

phone = Table(
    "phone", metadata,
    Column("id", String(64), primary_key=True),
    Column("person", String(64), nullable=False),
    Column("first_seen", String(40), nullable=False),
    Column("last_seen", String(40), nullable=False),
    Column("last_sent", String(40)),
    Column("last_kind", String(40)),
    Column("sent", Integer, nullable=False),
    Column("revoked", Boolean, nullable=False))

audit = Table(
    "audit", metadata,
    Column("id", Integer, primary_key=True, autoincrement=True),
    Column("at", String(40), nullable=False),
    Column("who", String(64), nullable=False),
    Column("what", String(100), nullable=False),
    Column("about", Text, nullable=False))
