"""`serve`: a plant for real, by waitress."""
import gc
import logging
import os
import signal
from pathlib import Path

import click
from waitress import create_server

from ..app import create_app
from ..clock import clock_of
from ..foreman import Foreman
from ..pages import phone
from ..phone_pages import NotJoined
from ..store import StoreError

SHORTEST_SECRET = 24
_KNOWN_SECRETS = ("change", "secret", "default", "example", "password")


def secret_fault(secret):
    """Why a SECRET_KEY cannot be used, in one sentence; None where it can."""
    if not secret:
        return "SECRET_KEY is missing: set it to at least %d random characters." % SHORTEST_SECRET
    if len(secret) < SHORTEST_SECRET:
        return "SECRET_KEY is too short: at least %d random characters." % SHORTEST_SECRET
    if len(set(secret)) < 8 or secret.lower().startswith(_KNOWN_SECRETS):
        return "SECRET_KEY looks like a default: use random characters."
    return None


def database_url(environment):
    """DATABASE_URL, or SQLite in the folder DATA. Raises StoreError where that cannot be."""
    if environment.get("DATABASE_URL"):
        return environment["DATABASE_URL"]
    folder = Path(environment.get("DATA", "data"))
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise StoreError("The folder %s cannot be used: %s. Let DATA name another." % (folder, error.strerror)) from error
    return "sqlite:///%s" % (folder.resolve() / "plant.sqlite")


def run(app, host, port, ready=None):
    """Serve until SIGTERM or SIGINT; `ready` is called with the address when the port answers."""
    try:
        phone.files()  # made before any thread asks: CPython 3.11 cannot parse syntax trees in two threads at once (its issue 106905)
        server = create_server(app, host=host, port=port, threads=8, ident=None)
    except NotJoined as error:
        raise click.ClickException(str(error)) from error
    except OSError as error:
        raise click.ClickException("Port %d on %s cannot be used: %s." % (port, host, error.strerror)) from error

    logging.getLogger("waitress.queue").setLevel(logging.ERROR)  # that a request waits for a thread is no news

    def end(*_):
        raise SystemExit(0)

    signal.signal(signal.SIGTERM, end)
    signal.signal(signal.SIGINT, end)
    app.extensions["verdicts"].start()
    foreman = Foreman(app.extensions["store"], {"DATABASE_URL": app.extensions["store"].url, "DATA": str(app.config["PAPERS"].parent),
                                                 "TIMEZONE": app.extensions["clock"].name})
    app.extensions["wake"] = foreman.wake
    foreman.start()
    gc.freeze()  # all that is here now stays: a search for garbage, dear in long pages, need not go through it
    if ready:
        ready("http://%s:%d/" % (host, port))
    try:
        server.run()
    finally:
        foreman.end()
        server.close()
        app.extensions["store"].close()


@click.command()
@click.option("--port", envvar="PORT", type=click.IntRange(0, 65535), default=8080, hidden=True, show_envvar=True)
def serve(port):
    """Serve a plant. Environment: SECRET_KEY (needed), DATABASE_URL or DATA (a folder, photos and papers lie in it too), PORT (8080),
    HOST (127.0.0.1), TRUST_PROXY=1 behind a proxy that does TLS, TIMEZONE (the machine's; by it the plant's days are counted)."""
    fault = secret_fault(os.environ.get("SECRET_KEY"))
    if fault:
        raise click.ClickException(fault)
    behind_proxy = os.environ.get("TRUST_PROXY") == "1"
    try:
        app = create_app(database_url(os.environ), os.environ["SECRET_KEY"], secure=behind_proxy, trust_proxy=behind_proxy,
                         data=os.environ.get("DATA"), clock=clock_of(os.environ))
    except (StoreError, OSError, ValueError) as error:
        raise click.ClickException(str(error)) from error
    run(app, os.environ.get("HOST", "127.0.0.1"), port,
        lambda address: click.echo("Linewright serves %s" % address))
