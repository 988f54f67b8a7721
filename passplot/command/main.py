"""The command group: what every command shares."""

import gc
import sys
from importlib import import_module
from typing import Any

import click

from passplot import __version__
from passplot.errors import PassplotError

COMMANDS = ("choose", "dial", "new", "sheet", "speeds")
"""Each the only command of the module of its name, which is imported when it is asked for."""


class Group(click.Group):
    """A group that shows passplot's own errors plainly and ends with their exit code."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of all commands."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """A command by its name; a run does not pay for what only the others need."""
        for name in (cmd_name,) if cmd_name in COMMANDS else COMMANDS:  # all, to suggest one
            if name not in self.commands:
                self.add_command(getattr(import_module(f"passplot.command.{name}"), name))
        return super().get_command(ctx, cmd_name)

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; one line a fault on standard error, no traceback."""
        try:
            return super().invoke(ctx)
        except PassplotError as error:
            for line in error.lines():
                click.echo(line, err=True)
            sys.exit(error.exit_code)


@click.group(cls=Group)
@click.version_option(__version__, prog_name="passplot")
def main() -> None:
    """Plan, prove and print pass sheets for a hand-cranked milling machine."""


def program() -> None:
    """The installed command: ``main`` in a process that does nothing else and then ends.

    What a run no longer needs is freed by counting references; searching for cycles as well would
    take a tenth of the time and free next to nothing. The interpreter searches once more at its
    end; what is frozen then is left out.
    """
    gc.disable()
    try:
        main()
    finally:
        gc.freeze()
