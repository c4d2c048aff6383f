"""Photos as rows: how much of each came, which picture was made of it, and on which sites it may be seen."""
from sqlalchemy import delete, insert, select, update

from . import schema
from .times import now

_TABLE = schema.photo


def get(connection, sha256):
    """{"received" (bytes), "complete", "kept_sha256"} of a photo; nothing received where no piece of it came."""
    row = connection.execute(select(_TABLE).where(_TABLE.c.sha256 == sha256)).first()
    if row is None:
        return {"received": 0, "complete": False, "kept_sha256": None}
    return {"received": row.received, "complete": row.complete, "kept_sha256": row.kept_sha256}


def received(connection, sha256, count):
    """Note that the first `count` bytes of a photo are here."""
    values = {"received": count, "received_at": now()}
    if not connection.execute(update(_TABLE).where(_TABLE.c.sha256 == sha256).values(**values)).rowcount:
        connection.execute(insert(_TABLE).values(sha256=sha256, complete=False, **values))


def completed(connection, sha256, kept_sha256):
    """Note that all of a photo came and which picture was made of it."""
    connection.execute(update(_TABLE).where(_TABLE.c.sha256 == sha256).values(complete=True, kept_sha256=kept_sha256))


def forget(connection, sha256):
    """Forget the pieces of a photo that is not complete."""
    connection.execute(delete(_TABLE).where(_TABLE.c.sha256 == sha256, ~_TABLE.c.complete))


def sites_of(connection, sha256):
    """Sites of the documents that name a photo; none where no document does."""
    of = schema.photo_of.c
    return set(connection.execute(select(schema.document.c.site).join(
        schema.photo_of, of.document == schema.document.c.id).where(of.sha256 == sha256)).scalars())


def complete(connection, hashes):
    """Those of these photos that are here as a whole."""
    return set(connection.execute(select(_TABLE.c.sha256).where(_TABLE.c.sha256.in_(list(hashes)), _TABLE.c.complete)).scalars())


def all_complete(connection):
    """{sha256: kept_sha256} of all photos that are complete."""
    return dict(connection.execute(select(_TABLE.c.sha256, _TABLE.c.kept_sha256).where(_TABLE.c.complete)).all())
