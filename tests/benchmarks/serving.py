"""A demo server of one's own, and a relay in front of it that counts what goes over the wire."""
import os
import socket
import subprocess
import sys
import tempfile
import threading
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextmanager
def demo():
    """The demo, freshly loaded, on a free port; gives the port."""
    port = free_port()
    with tempfile.TemporaryDirectory() as folder:
        process = subprocess.Popen([sys.executable, "-m", "demo_site"], cwd=ROOT, stdout=subprocess.PIPE, text=True,
                                   env=dict(os.environ, PORT=str(port), DATA=folder))
        try:
            if "http" not in process.stdout.readline():
                raise RuntimeError("the demo did not start")
            yield port
        finally:
            process.terminate()
            process.wait(timeout=10)
            process.stdout.close()


class Relay:
    """Passes connections on to a port. `down` and `up` count every byte, headers included; `port` is where to knock."""

    def __init__(self, target):
        self.target, self.down, self.up = target, 0, 0
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.port = self.listener.getsockname()[1]
        threading.Thread(target=self._accept, daemon=True).start()

    def _accept(self):
        while True:
            try:
                browser, _ = self.listener.accept()
            except OSError:
                return
            server = socket.create_connection(("127.0.0.1", self.target))
            for source, sink, name in ((browser, server, "up"), (server, browser, "down")):
                threading.Thread(target=self._pass_on, args=(source, sink, name), daemon=True).start()

    def _pass_on(self, source, sink, name):
        try:
            while content := source.recv(65536):
                setattr(self, name, getattr(self, name) + len(content))
                sink.sendall(content)
            sink.shutdown(socket.SHUT_WR)
        except OSError:
            pass

    def close(self):
        self.listener.close()
