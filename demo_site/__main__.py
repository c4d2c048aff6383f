"""The demo: loads Brackwater Sawmill once into DATA and serves it on the loopback address."""
import os
import shutil
import signal
import sys
from pathlib import Path

import click

from webapp.app import create_app, random_secret
from webapp.clock import clock_of
from webapp.commands.serve import run

from .load import load

HERE = Path(__file__).parent


def _secret(folder):
    """A secret of this demo's own, made once."""
    file = folder / "secret"
    if not file.exists():
        file.write_text(random_secret())
        file.chmod(0o600)
    return file.read_text()


@click.command()
@click.option("--fresh", is_flag=True, help="Begin anew: forget what was changed in the demo.")
@click.option("--port", envvar="PORT", type=click.IntRange(0, 65535), default=8080, hidden=True)
def main(fresh, port):
    """Serve the demo plant. PORT (8080) and DATA (a folder) come from the environment."""
    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, lambda *_: sys.exit(0))
    folder = Path(os.environ.get("DATA") or HERE / "data")
    folder.mkdir(parents=True, exist_ok=True)
    if fresh:
        for file in folder.glob("plant.sqlite*"):
            file.unlink()
        for made in ("photos", "papers"):
            shutil.rmtree(folder / made, ignore_errors=True)
    app = create_app("sqlite:///%s" % (folder.resolve() / "plant.sqlite"), _secret(folder), demo=True, clock=clock_of(os.environ))
    load(app.extensions["store"], app.extensions["photos"])
    run(app, "127.0.0.1", port, lambda address: print("Linewright demo: " + address, flush=True))


if __name__ == "__main__":
    main()
