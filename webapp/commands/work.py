"""`work`: makes the papers that people asked for. `serve` starts it by itself whenever something waits."""
import os
import signal
import sys
import threading

import click

from ..clock import clock_of
from ..photos import PhotoFolder, folder_for
from ..store import Store, StoreError
from ..worker import papers_folder
from ..worker import work as work_at
from .serve import database_url


_NICER = 10


def _end(*_):
    raise SystemExit(0)


def _end_with_input():
    """End this process when its input ends: whoever started it is gone."""
    sys.stdin.read()
    os.kill(os.getpid(), signal.SIGTERM)


@click.command()
@click.option("--with-server", is_flag=True, help="End when standard input ends, as the server that starts it wants.")
def work(with_server):
    """Make the papers that wait, then end. The server does this by itself; by hand it is of use where the server does not run.

    The database comes from DATABASE_URL or DATA, the zone of days and times from TIMEZONE; the papers go to the folder `papers` in DATA. What
    was begun and broke off is taken up again.
    """
    signal.signal(signal.SIGTERM, _end)
    signal.signal(signal.SIGINT, signal.SIG_IGN if with_server else _end)
    if with_server:
        threading.Thread(target=_end_with_input, daemon=True).start()
    os.nice(_NICER)  # those who ask for a page go first
    store = None
    try:
        store = Store(database_url(os.environ))
        store.migrate()
        place = database_url(os.environ), os.environ.get("DATA")
        work_at(store, papers_folder(*place), PhotoFolder(folder_for(*place)).picture, clock_of(os.environ))
    except (StoreError, OSError, ValueError) as error:
        raise click.ClickException(str(error)) from error
    finally:
        if store:
            store.close()
