"""``passplot new``: a starter job and shop file that plan as they stand."""

from pathlib import Path

import click

from passplot.read import STARTER_KINDS, starter


@click.command()
@click.argument("kind", type=click.Choice(STARTER_KINDS))
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
    texts = {out / f"{kind}.toml": job_text, out / "shop.toml": shop_text}
    there = [path for path in texts if path.exists()]
    if there:
        raise click.ClickException(f"{there[0]} is there already; nothing was written over it")
    for path, text in texts.items():
        path.write_text(text, encoding="utf-8")
        click.echo(str(path))
