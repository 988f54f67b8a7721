"""``passplot new``: a starter job and shop file that plan as they stand."""

from pathlib import Path

import click

from passplot.read.starters import KINDS, starter


@click.command()
@click.argument("kind", type=click.Choice(KINDS))
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path(),
    help="Folder for the two files; the current one if left out.",
)
def new(kind: str, out: Path) -> None:
    """Write a commented job file for a KIND of feature, and a shop file beside it."""
    job_text, shop_text = starter(kind)
    out.mkdir(parents=True, exist_ok=True)
    for name, text in ((f"{kind}.toml", job_text), ("shop.toml", shop_text)):
        path = out / name
        if path.exists():
            raise click.ClickException(f"{path} is there already; nothing was written over it")
    for name, text in ((f"{kind}.toml", job_text), ("shop.toml", shop_text)):
        (out / name).write_text(text, encoding="utf-8")
        click.echo(str(out / name))
