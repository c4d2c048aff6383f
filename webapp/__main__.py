"""`python -m webapp COMMAND`: joins the commands of all rooms. A command's module is loaded only when it is wanted."""
from importlib import import_module
from keyword import iskeyword

import click

from .commands import COMMANDS


class _Rooms(click.Group):
    """Finds commands by the list in webapp/commands."""

    def list_commands(self, ctx):
        return sorted(COMMANDS)

    def get_command(self, ctx, cmd_name):
        if cmd_name not in COMMANDS:
            return None
        name = cmd_name + "_" if iskeyword(cmd_name) else cmd_name
        return getattr(import_module("webapp.commands." + COMMANDS[cmd_name]), name)


@click.command(cls=_Rooms)
def main():
    """Linewright: sets up, proves and looks after automatic centralized lubrication systems."""


if __name__ == "__main__":
    main(prog_name="python -m webapp")
