"""The command group: what every command shares."""

import gc
import sys
from typing import Any

import click

from passplot import __version__
from passplot.command.choose import choose
from passplot.command.dial import dial
from passplot.command.new import new
from passplot.command.sheet import sheet
from passplot.command.speeds import speeds
from passplot.errors import PassplotError


class Group(click.Group):
    """A group that shows passplot's own errors plainly and ends with their exit code."""

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


main.add_command(sheet)
main.add_command(new)
main.add_command(choose)
main.add_command(speeds)
main.add_command(dial)


def program() -> None:
    """The installed command: ``main`` in a process that does nothing else and then ends.

    What a run no longer needs is freed by counting references; searching for cycles as well would
    take a tenth of the time and free next to nothing.
    """
    gc.disable()
    main()
