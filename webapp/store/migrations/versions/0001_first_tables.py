"""The first tables: revisions with their counter, documents, people, phones, audit."""
import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def _text(name, length, nullable=False, **options):
    return sa.Column(name, sa.String(length), nullable=nullable, **options)


def _revisions():
    op.create_table("counter", _text("plant", 50, primary_key=True), sa.Column("number", sa.Integer, nullable=False))
    op.execute("INSERT INTO counter (plant, number) VALUES ('plant', 0)")
    op.create_table(
        "revision", _text("id", 64, primary_key=True), sa.Column("number", sa.Integer, nullable=False, unique=True),
        _text("document", 64), _text("kind", 40), _text("site", 300), _text("parent", 64, True), _text("also", 64, True),
        _text("made_at", 40), _text("made_by", 64), _text("phone", 64, True), _text("received_at", 40),
        sa.Column("deleted", sa.Boolean, nullable=False), sa.Column("reason", sa.Text), _text("state", 20),
        sa.Column("fields", sa.Text, nullable=False), sa.Column("body", sa.Text, nullable=False))
    op.create_index("ix_revision_document_number", "revision", ["document", "number"])
    op.create_index("ix_revision_site_number", "revision", ["site", "number"])
    op.create_table(
        "document", _text("id", 64, primary_key=True), _text("kind", 40), _text("site", 300), _text("system", 64, True),
        _text("head", 64), sa.Column("deleted", sa.Boolean, nullable=False), sa.Column("clash", sa.Text, nullable=False))
    op.create_index("ix_document_system", "document", ["system"])


def _people():
    op.create_table(
        "person", _text("id", 64, primary_key=True), _text("name", 100, unique=True), _text("password", 300), _text("role", 20),
        sa.Column("sites", sa.Text, nullable=False), sa.Column("all_sites", sa.Boolean, nullable=False),
        sa.Column("active", sa.Boolean, nullable=False), _text("session_key", 64))
    op.create_table(
        "phone", _text("id", 64, primary_key=True), _text("person", 64), _text("first_seen", 40), _text("last_seen", 40),
        _text("last_sent", 40, True), _text("last_kind", 40, True), sa.Column("sent", sa.Integer, nullable=False),
        sa.Column("revoked", sa.Boolean, nullable=False))
    op.create_table(
        "audit", sa.Column("id", sa.Integer, primary_key=True, autoincrement=True), _text("at", 40), _text("who", 64),
        _text("what", 100), sa.Column("about", sa.Text, nullable=False))


def upgrade():
    _revisions()
    _people()


def downgrade():
    for table in ("audit", "phone", "person", "document", "revision", "counter"):
        op.drop_table(table)
