"""A fleet check: which of many systems will not work at one temperature. Both cores, the worst first."""
import logging
import os
import signal
import threading
import uuid
from collections import Counter
from contextlib import contextmanager
from copy import deepcopy
from multiprocessing import get_context

from .engine.basics.text import shown
from .engine.words.present import present
from .engine.year.margins import AS_SET, IDLE, RELIEF, RESET, TIME_LIMIT
from .engine.year.tonight import CLOSED, SIMULATED, tonight
from .units import read, unit_table

# the coldest and the hottest that a system may be asked for [°C], as in its own entries
LOWEST_C, HIGHEST_C = -70.0, 150.0
LIMITS = {RESET: "does not reset", RELIEF: "relief pressure", TIME_LIMIT: "longest time limit", AS_SET: "time limit as set",
          IDLE: "not all is fed"}
# more systems than this are spread over the cores: starting those takes longer than this many
FEW = 40
_CHUNK = 8
# a check in the background lets those who ask for a page go first
_NICER = 10
_BROKEN = {"severity": "stop", "where": "", "id": "tonight.broken", "with": {}}


def temperature(typed, units):
    """The temperature typed [°C], without a unit in the reader's. Raises ValueError with a sentence for whoever typed it."""
    at_c = read(typed, "°C", unit_table()["units"]["°C"][units])
    if not LOWEST_C <= at_c <= HIGHEST_C:
        raise ValueError("Enter a temperature from %s to %s." % (shown(LOWEST_C, "°C", units), shown(HIGHEST_C, "°C", units)))
    return at_c


def judged(job):
    """(key, `tonight/1`) of (key, document, at_c). A system that the program cannot work is judged apart and does not stop the others."""
    key, document, at_c = job
    try:
        return key, tonight(document, at_c)
    except Exception:  # a bug of the program: told and logged, while ten thousand others wait for their answer
        logging.exception("the fleet check failed on system %s", key)
        return key, {"works": None, "by": "failure", "limits": {}, "findings": [_BROKEN]}


def _worker(nicer):
    """A worker leaves Ctrl-C to whoever started it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    os.nice(nicer)


@contextmanager
def _spread(count, nicer):
    """A way to map `judged` over jobs in any order: on this core for few, else on all of them."""
    workers = min(os.cpu_count() or 1, 1 + count // FEW)
    if workers == 1:
        yield map
        return
    with get_context("spawn").Pool(workers, _worker, (nicer,)) as pool:  # leaving it ends its processes
        yield lambda work, jobs: pool.imap_unordered(work, jobs, _CHUNK)


class Check:
    """One check of {key: document} at a temperature [°C]; `done` of `total` are judged so far.

    verdicts  key -> `tonight/1` without texts, of those judged
    """

    def __init__(self, documents, at_c):
        self.at_c, self.total, self.verdicts, self.failed = at_c, len(documents), {}, False
        self._documents, self._stop = documents, threading.Event()

    @property
    def done(self):
        return len(self.verdicts)

    @property
    def stopped(self):
        """True where it was stopped before all were judged."""
        return self._stop.is_set() and self.done < self.total

    @property
    def over(self):
        return self._stop.is_set() or self.failed or self.done == self.total

    def stop(self):
        """Judge no more."""
        self._stop.set()

    def run(self, told=None, nicer=0):
        """Judge them all, or until stop(); `told(self)` is called after each. nicer: by how much the workers let others go first."""
        jobs = [(key, document, self.at_c) for key, document in self._documents.items()]
        with _spread(self.total, nicer) as spread:
            for key, verdict in spread(judged, jobs):
                if self._stop.is_set():
                    break
                self.verdicts[key] = verdict
                if told:
                    told(self)
        self._documents = {}

    def in_background(self):
        """Run in a thread of its own; `over` says when it ends, `failed` that it broke."""
        def run():
            try:
                self.run(nicer=_NICER)
            except Exception:
                logging.exception("a fleet check broke off")
                self.failed = True

        threading.Thread(target=run, daemon=True).start()


class Busy(RuntimeError):
    """A check in the background is running already: both cores are taken."""


class Desk:
    """The last check of each person, kept until the server ends; at most one runs in the background.

    A check is kept as {"id", "check", "area", "at" (when it was started), "about": {key: {"name", "area", "site"}}}.
    """

    def __init__(self):
        self._last, self._lock = {}, threading.Lock()

    def begin(self, person, found, at_c, area, now):
        """Start a check of revisions of systems; few are judged before it returns. Raises Busy."""
        check = Check({row["document"]: row["body"] for row in found}, at_c)
        about = {row["document"]: {"name": row["body"].get("name") or "No name yet", "area": row["body"].get("area") or "",
                                   "site": row["site"]} for row in found}
        kept = {"id": str(uuid.uuid4()), "check": check, "area": area, "at": now, "about": about}
        if check.total < FEW:
            check.run()
            self._last[person] = kept
            return kept
        with self._lock:
            if any(not other["check"].over for other in self._last.values()):
                raise Busy("A check is running already. Wait until it is done, or stop it.")
            self._last[person] = kept
            check.in_background()
        return kept

    def last(self, person, identity=None):
        """The person's last check, or None; with `identity` only that one."""
        kept = self._last.get(person)
        return kept if kept and identity in (None, kept["id"]) else None


def most_used(verdict):
    """(limit of which most is used, share of it)."""
    return max(verdict["limits"].items(), key=lambda entry: entry[1])


def sorted_out(verdicts):
    """{"fails", "works", "apart": [keys]}: those that will not work the worst first, those that work the nearest to a limit first."""
    out = {"fails": [], "works": [], "apart": []}
    for key, verdict in verdicts.items():
        out["apart" if verdict["works"] is None else "works" if verdict["works"] else "fails"].append(key)
    for group in ("fails", "works"):
        out[group].sort(key=lambda key: (-most_used(verdicts[key])[1], key))
    out["apart"].sort()
    return out


def counted(verdicts):
    """How many were decided by what."""
    by = Counter(verdict["by"] for verdict in verdicts.values())
    return {"closed": by[CLOSED], "simulated": by[SIMULATED]}


def told(verdict, units):
    """A copy of the verdict with its sentences in the reader's units."""
    return present(deepcopy(verdict), units)
