"""Works the verdict on each system's newest revision in the background, so that no page and no phone waits for the engine."""
import hashlib
import logging
import threading
from functools import lru_cache

from .phone_engine import ENGINE
from .store import StoreError, verdicts
from .worked import unworded

_AT_A_TIME = 20
# after trouble with the database it is tried again without being woken
_AGAIN_S = 30
_BROKEN = {"severity": verdicts.STOP, "where": "", "id": "tonight.broken", "with": {}}


@lru_cache(maxsize=1)
def engine_version():
    """One hash over the engine's sources: verdicts of another engine are worked again."""
    digest = hashlib.sha256()
    for path in sorted(ENGINE.rglob("*.py")):
        digest.update(path.relative_to(ENGINE).as_posix().encode() + path.read_bytes())
    return digest.hexdigest()[:16]


def judged(system, body):
    """(stops and warnings, what is kept of a worked system), without texts and so for readers of any units; a bug of the program is
    told as one."""
    try:
        kept = unworded(body)
    except Exception:
        logging.exception("the engine failed on system %s", system)
        return [_BROKEN], {"worked": {"findings": [_BROKEN]}, "season": {}}
    return [entry for entry in kept["worked"]["findings"] if entry["severity"] in (verdicts.STOP, verdicts.WARN)], kept


class Verdicts:
    """Keeps the verdicts of one store: `work()` here and now, or `start()` once and `wake()` whenever a system came in."""

    def __init__(self, store):
        self._store, self._asked, self._lock = store, threading.Event(), threading.Lock()

    def work(self):
        """Work all that are not there yet, one after the other. Raises StoreError."""
        with self._lock:
            while self._some():
                pass

    def _some(self):
        with self._store.reading() as connection:
            waiting = verdicts.pending(connection, engine_version(), _AT_A_TIME)
        for system, revision, body in waiting:
            findings, kept = judged(system, body)
            with self._store.writing() as connection:
                verdicts.keep(connection, system, revision, engine_version(), findings, kept)
        return waiting

    def wake(self):
        """Something may wait: the thread that start() made looks."""
        self._asked.set()

    def start(self):
        """Work in a thread of its own from now on, for as long as the program runs."""
        threading.Thread(target=self._run, daemon=True, name="verdicts").start()

    def _run(self):
        pause = 0
        while True:
            self._asked.wait(pause)
            self._asked.clear()
            pause = None
            try:
                self.work()
            except StoreError as error:
                logging.warning("verdicts wait for the database: %s", error)
                pause = _AGAIN_S
            except Exception:  # a bug must not end the thread: pages would wait for ever
                logging.exception("verdicts could not be worked")
                pause = _AGAIN_S
