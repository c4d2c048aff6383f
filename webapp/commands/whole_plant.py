"""`export` and `import`: a whole plant as one file, out and in."""
import os
from contextlib import contextmanager
from pathlib import Path

import click

from .. import plant_file
from ..photos import PhotoFolder, folder_for
from ..store import Store, StoreError
from .serve import database_url


@contextmanager
def _store():
    """The store and the folder of photos; what goes wrong ends in one sentence."""
    try:
        url = database_url(os.environ)
        store = Store(url)
        store.migrate()
        yield store, PhotoFolder(folder_for(url, os.environ.get("DATA")))
        store.close()
    except StoreError as error:
        raise click.ClickException(str(error)) from error
    except OSError as error:
        place = str(error.filename or "The file").removesuffix(".part")  # a file is written beside its place first
        raise click.ClickException("%s cannot be read or written: %s. Choose another place." % (place, error.strerror)) from error


@click.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--without-secrets", is_flag=True, help="Leave out hashes of passwords: everybody needs a new one when it comes back.")
def export(file, without_secrets):
    """Write the whole plant into one file.

    FILE is a ZIP of JSON lines, CSV tables and photos. The database comes from DATABASE_URL or DATA.

    The file holds hashes of passwords and keys, so that it can come back with nothing different: keep it as you keep the
    database. It may be written while the plant is served.
    """
    if file.exists():
        raise click.ClickException("%s is there already: name another file." % file)
    part = file.with_name(file.name + ".part")
    with _store() as (store, photos):
        try:
            with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as stream:
                missing = plant_file.write(store, photos, stream, secrets=not without_secrets)
                stream.flush()
                os.fsync(stream.fileno())
            os.replace(part, file)
        finally:
            part.unlink(missing_ok=True)
    click.echo("The plant is in %s, %.1f MB." % (file, file.stat().st_size / 1e6))
    _without_picture(missing)


def _without_picture(missing):
    if missing:
        click.echo("%d photos have no picture, the first is %s: bring them back from a backup." % (len(missing), missing[0]), err=True)


@click.command("import")
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
def import_(file):
    """Bring a plant back from one file.

    FILE is what `export` wrote. It goes into an empty store: all of it, or nothing. The database comes from DATABASE_URL or DATA."""
    with _store() as (store, photos), file.open("rb") as stream:
        brought = plant_file.read(store, photos, stream)
    click.echo("Brought in: " + ", ".join("%d %s" % (count, part) for part, count in brought.counts.items()) + ".")
    _without_picture(brought.without_picture)
    for name in brought.without_password:
        click.echo("%s needs a new password: python -m webapp people password %s" % (name, name))
