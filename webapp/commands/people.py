"""`people`: who may work with the plant, from the server's terminal."""
import os
import sys
from contextlib import contextmanager

import click

from ..store import Store, StoreError, is_text, people as everyone
from .serve import database_url

LONGEST_NAME = 100
_sites = click.option("--site", "sites", multiple=True, help="A site that the person works on; may be given again.")
_all_sites = click.option("--all-sites", is_flag=True, help="The person works on all sites.")
_role = click.argument("role", type=click.Choice(everyone.ROLES))


@contextmanager
def _writing():
    """A connection that writes; what goes wrong ends in one sentence."""
    store = None
    try:
        store = Store(database_url(os.environ))
        store.migrate()
        with store.writing() as connection:
            yield connection
    except (StoreError, OSError) as error:
        raise click.ClickException(str(error)) from error
    finally:
        if store:
            store.close()


def _change(connection, name, what, change, *values):
    identity = everyone.by_name(connection, name)["id"]
    change(connection, identity, *values)
    everyone.note(connection, "terminal", what, identity)


def _password():
    """A password asked for on the terminal, or the first line of standard input."""
    if sys.stdin.isatty():
        password = click.prompt("Password", hide_input=True, confirmation_prompt=True)
    else:
        password = sys.stdin.readline().rstrip("\r\n")
    if len(password) < everyone.SHORTEST_PASSWORD or not is_text(password):
        raise click.ClickException("The password is too short: at least %d characters." % everyone.SHORTEST_PASSWORD)
    return password


def _some_sites(sites, all_sites):
    named = [site.strip() for site in sites if site.strip()]
    if not named and not all_sites:
        raise click.ClickException("Somebody without a site sees nothing: give --site NAME or --all-sites.")
    return named


@click.group()
def people():
    """Add people, list them, and change what they may do. The database comes from DATABASE_URL or DATA.

    Passwords are asked for on the terminal, or read from the first line of standard input; they are no option, since
    others on the machine could read them.
    """


@people.command("list")
def list_():
    """List everybody: name, role, sites, and who is kept out."""
    with _writing() as connection:
        everybody = everyone.everybody(connection)
        if not everybody:
            click.echo("Nobody yet: add the first with people add NAME administrator --all-sites.", err=True)
        for person in everybody:
            sites = "all sites" if person["all_sites"] else ", ".join(person["sites"]) or "no site"
            click.echo("%s\t%s\t%s\t%s" % (person["name"], person["role"], sites, "active" if person["active"] else "kept out"))


@people.command()
@click.argument("name")
@_role
@_sites
@_all_sites
def add(name, role, sites, all_sites):
    """Add a person NAME with a ROLE."""
    if not name.strip() or len(name) > LONGEST_NAME or not is_text(name):
        raise click.ClickException("A name has 1 to %d letters." % LONGEST_NAME)
    sites = _some_sites(sites, all_sites)
    password = _password()
    with _writing() as connection:
        identity = everyone.add(connection, name, password, role, sites, all_sites)
        everyone.note(connection, "terminal", "added a person", identity)


@people.command()
@click.argument("name")
def password(name):
    """Set a new password for NAME and end their sessions."""
    new = _password()
    with _writing() as connection:
        _change(connection, name, "set a password", everyone.set_password, new)


@people.command()
@click.argument("name")
@_role
def role(name, role):
    """Give NAME another ROLE."""
    with _writing() as connection:
        _change(connection, name, "set a role", everyone.set_role, role)


@people.command()
@click.argument("name")
@_sites
@_all_sites
def sites(name, sites, all_sites):
    """Let NAME work on these sites and no others."""
    sites = _some_sites(sites, all_sites)
    with _writing() as connection:
        _change(connection, name, "set sites", everyone.set_sites, sites, all_sites)


@people.command()
@click.argument("name")
def disable(name):
    """Keep NAME out and end their sessions."""
    with _writing() as connection:
        _change(connection, name, "kept out", everyone.set_active, False)


@people.command()
@click.argument("name")
def enable(name):
    """Let NAME in again."""
    with _writing() as connection:
        _change(connection, name, "let in", everyone.set_active, True)
