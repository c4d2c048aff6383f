"""What years of records ask for: a place in time of each document, last answers, photos, work for papers, calendars."""
import json
from datetime import datetime, timezone

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def _text(name, length, nullable=False, **options):
    return sa.Column(name, sa.String(length), nullable=nullable, **options)


def _utc(text):
    try:
        return datetime.fromisoformat(text.replace("Z", "+00:00")).astimezone(timezone.utc).isoformat(timespec="seconds")
    except (AttributeError, ValueError, OverflowError):
        return str(text)[:40]


_INDEXES = (["kind", "system", "made_at"], ["kind", "made_at"])


def _document():
    with op.batch_alter_table("document") as table:
        table.add_column(_text("made_at", 40, server_default=sa.text("''")))
        table.add_column(sa.Column("open", sa.Boolean, nullable=False, server_default=sa.true()))
    for columns in _INDEXES:
        op.create_index("ix_document_" + "_".join(columns), "document", columns)
    op.create_index("ix_document_open", "document", ["kind", "made_at"], sqlite_where=sa.text("open = 1"), postgresql_where=sa.text("open"))
    connection = op.get_bind()
    for identity, made_at, body in connection.execute(sa.text(
            "SELECT document.id, revision.made_at, revision.body FROM document JOIN revision ON revision.id = document.head")).all():
        body = json.loads(body)
        connection.execute(sa.text("UPDATE document SET made_at = :made_at, open = :open WHERE id = :id"), {
            "id": identity, "made_at": _utc(body.get("made_at") or made_at), "open": not (body.get("signed") or body.get("closed"))})


def _answers():
    """The last answer to every item, from the signed rounds that are there."""
    connection, last = op.get_bind(), {}
    for document, made_at, body in connection.execute(sa.text(
            "SELECT document.id, revision.made_at, revision.body FROM document JOIN revision ON revision.id = document.head"
            " WHERE document.kind = 'round' AND NOT document.deleted AND NOT document.open ORDER BY revision.number")).all():
        body = json.loads(body)
        for item in body["items"]:
            at = _utc(item.get("at") or made_at)
            if item.get("answer") and at >= last.get((body["system"], item["id"]), {"at": ""})["at"]:
                last[body["system"], item["id"]] = {"system": body["system"], "item": item["id"], "at": at, "document": document,
                                                    "answer": json.dumps(item, ensure_ascii=False)}
    if last:
        table = sa.table("answered", *[sa.column(name) for name in ("system", "item", "at", "document", "answer")])
        op.bulk_insert(table, list(last.values()))


def _verdict():
    """Every system as a list shows it; what the engine says is worked when the program runs."""
    op.create_table(
        "verdict", _text("system", 64, primary_key=True), _text("revision", 64), *[
            sa.Column(name, sa.Text, nullable=False) for name in ("name", "area")],
        sa.Column("points", sa.Integer, nullable=False), _text("engine", 64), _text("state", 20),
        *[sa.Column(name, sa.Text, nullable=False) for name in ("findings", "worked")])
    op.create_index("ix_verdict_engine", "verdict", ["engine"])
    connection, rows = op.get_bind(), []
    for identity, head, body in connection.execute(sa.text(
            "SELECT document.id, revision.id, revision.body FROM document JOIN revision ON revision.id = document.head"
            " WHERE document.kind = 'system'")).all():
        body = json.loads(body)
        rows.append({"system": identity, "revision": head, "engine": "", "state": "", "findings": "[]", "worked": "{}",
                     "points": len(body.get("points") or []),
                     **{name: str(body.get(name) or "").replace("\0", "") for name in ("name", "area")}})
    if rows:
        op.bulk_insert(sa.table("verdict", *[sa.column(name) for name in rows[0]]), rows)


def upgrade():
    _document()
    _verdict()
    op.create_table(
        "answered", _text("system", 64, primary_key=True), _text("item", 200, primary_key=True), _text("at", 40),
        _text("document", 64), sa.Column("answer", sa.Text, nullable=False))
    _answers()
    op.create_table(
        "photo", _text("sha256", 64, primary_key=True), sa.Column("received", sa.Integer, nullable=False),
        sa.Column("complete", sa.Boolean, nullable=False), _text("kept_sha256", 64, True), _text("received_at", 40))
    op.create_table("photo_of", _text("sha256", 64, primary_key=True), _text("document", 64, primary_key=True))
    op.create_index("ix_photo_of_document", "photo_of", ["document"])
    op.create_table(
        "job", _text("id", 64, primary_key=True), _text("asked_by", 64), _text("asked_at", 40), sa.Column("request", sa.Text, nullable=False),
        _text("state", 20), sa.Column("done", sa.Integer, nullable=False), sa.Column("total", sa.Integer, nullable=False),
        sa.Column("says", sa.Text), _text("file", 300, True), _text("worked_at", 40, True), sa.Column("taken", sa.Integer, nullable=False))
    with op.batch_alter_table("person") as table:
        table.add_column(_text("calendar_key", 64, True))


def downgrade():
    with op.batch_alter_table("person") as table:
        table.drop_column("calendar_key")
    for table in ("job", "photo_of", "photo", "answered", "verdict"):
        op.drop_table(table)
    for name in ["open"] + ["_".join(columns) for columns in _INDEXES]:
        op.drop_index("ix_document_" + name, "document")
    with op.batch_alter_table("document") as table:
        table.drop_column("open")
        table.drop_column("made_at")
