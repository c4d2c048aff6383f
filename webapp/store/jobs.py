"""Papers that are asked for and made in the background: what waits, how far it is, what came of it.

A job is waiting, working, done, stopped or failed. One worker works at a time; so a job that is found working belongs to one that died.
"""
import json
import uuid
from datetime import datetime, timedelta, timezone

from sqlalchemy import delete, insert, select, update

from . import schema
from .times import now

WAITING, WORKING, DONE, STOPPED, FAILED = "waiting", "working", "done", "stopped", "failed"
OPEN = (WAITING, WORKING)
# times that a job is begun without getting on before it is given up
MOST_TAKEN = 3
KEPT_DAYS = 14

_job = schema.job
_BROKE_OFF = ("It broke off %d times at the same place. Choose fewer systems or another kind of paper, and tell your administrator."
              % MOST_TAKEN)


def _read(row):
    return dict({column.name: getattr(row, column.name) for column in _job.columns}, request=json.loads(row.request))


def ask(connection, person, request):
    """A new job; returns its id. `request`: plain JSON that says what is wanted."""
    identity = str(uuid.uuid4())
    connection.execute(insert(_job).values(id=identity, asked_by=person, asked_at=now(), request=json.dumps(request, ensure_ascii=False),
                                           state=WAITING, done=0, total=0, taken=0))
    return identity


def get(connection, identity):
    """One job, or None."""
    row = connection.execute(select(_job).where(_job.c.id == identity)).first()
    return _read(row) if row else None


def every(connection, person=None):
    """All jobs, or those that a person asked for, the newest first."""
    query = select(_job).order_by(_job.c.asked_at.desc(), _job.c.id)
    return [_read(row) for row in connection.execute(query if person is None else query.where(_job.c.asked_by == person))]


def is_any_open(connection, person=None):
    """True where a job waits or is worked at, of a person or of anybody."""
    query = select(_job.c.id).where(_job.c.state.in_(OPEN)).limit(1)
    return connection.execute(query if person is None else query.where(_job.c.asked_by == person)).first() is not None


def take(connection):
    """The next job to work at, now marked as working, or None; one that a dead worker left comes first."""
    # "working" stands behind "waiting" in the order of letters
    query = select(_job).where(_job.c.state.in_(OPEN)).order_by(_job.c.state.desc(), _job.c.asked_at, _job.c.id).limit(1)
    while True:
        row = connection.execute(query).first()
        if row is None:
            return None
        given_up = row.taken >= MOST_TAKEN
        values = {"state": FAILED, "says": _BROKE_OFF} if given_up else {"state": WORKING, "taken": row.taken + 1}
        connection.execute(update(_job).where(_job.c.id == row.id).values(worked_at=now(), **values))
        if not given_up:
            return dict(_read(row), state=WORKING)


def _working(identity):
    return update(_job).where(_job.c.id == identity, _job.c.state == WORKING)


def progress(connection, identity, done, total, says):
    """How far it is; False where it was stopped meanwhile."""
    return connection.execute(_working(identity).values(done=done, total=total, says=says, worked_at=now(), taken=0)).rowcount == 1


def finish(connection, identity, file):
    """Done: `file` is the name of what came of it. False where it was stopped meanwhile."""
    return connection.execute(_working(identity).values(state=DONE, file=file, says=None, done=_job.c.total, worked_at=now())).rowcount == 1


def fail(connection, identity, says):
    """It cannot be made; `says` is the sentence for whoever asked."""
    connection.execute(_working(identity).values(state=FAILED, says=says, worked_at=now()))


def stop(connection, identity):
    """Whoever asked wants it no more; what is over stays as it is."""
    connection.execute(update(_job).where(_job.c.id == identity, _job.c.state.in_(OPEN)).values(state=STOPPED, worked_at=now()))


def forget_old(connection):
    """Forget jobs that were asked for long ago; returns the ids of those that are left."""
    before = (datetime.now(timezone.utc) - timedelta(days=KEPT_DAYS)).isoformat(timespec="milliseconds")
    connection.execute(delete(_job).where(_job.c.asked_at < before, _job.c.state.not_in(OPEN)))
    return set(connection.execute(select(_job.c.id)).scalars())
