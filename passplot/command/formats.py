"""The option that says which kinds of file to write."""

from collections.abc import Callable, Sequence
from typing import TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., object])


def formats_option(known: Sequence[str]) -> Callable[[Command], Command]:
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
