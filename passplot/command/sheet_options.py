"""The options of commands that draw sheets: paper, which way up, kinds of file, date."""

from collections.abc import Callable, Sequence
from typing import TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., object])


def sheet_options(known: Sequence[str]) -> Callable[[Command], Command]:
    """``--paper``, ``--portrait``, ``--formats`` and ``--date``, in the order of the help."""

    def add(command: Command) -> Command:
        for option in reversed(
            (
                click.option(
                    "--paper",
                    type=click.Choice(["a4", "letter"]),
                    default="a4",
                    show_default=True,
                ),
                click.option("--portrait", is_flag=True, help="Sheets stand upright."),
                _formats(known),
                click.option(
                    "--date", default="", help="Date for the title block; blank if left out."
                ),
            )
        ):
            command = option(command)
        return command

    return add


def _formats(known: Sequence[str]) -> Callable[[Command], Command]:
    """``--formats``: some of ``known``, with commas between; all of them if left out."""

    def read(_: click.Context, __: click.Parameter, value: str) -> tuple[str, ...]:
        wanted = tuple(part.strip().lower() for part in value.split(",") if part.strip())
        unknown = [part for part in wanted if part not in known]
        if unknown or not wanted:
            raise click.BadParameter(
                f"{', '.join(unknown) or 'nothing'} is not written; choose from {','.join(known)}"
            )
        return wanted

    return click.option(
        "--formats",
        default=",".join(known),
        show_default=True,
        callback=read,
        help="Which files to write, with commas between.",
    )
