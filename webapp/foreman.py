"""Sees to it on the server that a worker runs while papers wait, and that it ends with the server."""
import logging
import os
import subprocess
import sys
import threading

from .store import StoreError, jobs


class Foreman:
    """Starts `python -m webapp work` as a process whenever something waits: once at the start, then at each call of `wake`.

    environment  DATABASE_URL, DATA and TIMEZONE of the server, for the worker
    """

    def __init__(self, store, environment):
        self._store, self._environment = store, dict(os.environ, **environment)
        self._wanted, self._process, self._over, self._lock = threading.Event(), None, False, threading.Lock()

    def start(self):
        """Watch from now on; what a former server left is taken up at once."""
        threading.Thread(target=self._watch, daemon=True).start()
        if self._waits():
            self.wake()

    def wake(self):
        """Something waits."""
        self._wanted.set()

    def _waits(self):
        try:
            with self._store.reading() as connection:
                return jobs.is_any_open(connection)
        except StoreError:
            logging.exception("cannot see whether papers wait")
            return False

    def _watch(self):
        while True:
            self._wanted.wait()
            self._wanted.clear()
            while not self._over and self._waits():
                with self._lock:
                    if self._over:
                        return
                    # it reads its input: when that ends, however the server ended, it ends too
                    self._process = subprocess.Popen([sys.executable, "-m", "webapp", "work", "--with-server"], stdin=subprocess.PIPE,
                                                     stdout=subprocess.DEVNULL, env=self._environment)
                if self._process.wait() not in (0, -15) and not self._over:
                    logging.error("the worker broke off; it is started again")

    def end(self):
        """End the worker and wait for it."""
        with self._lock:
            self._over = True
            if self._process and self._process.poll() is None:
                self._process.terminate()
        if self._process:
            self._process.wait()
