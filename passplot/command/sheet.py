"""``passplot sheet``: from a job file to a proven pass sheet."""

from pathlib import Path

import click

from passplot.command.sheet_options import sheet_options
from passplot.flow import FORMATS, run


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path(),
    help="Folder for the files; the current one if left out.",
)
@sheet_options(FORMATS)
def sheet(
    job: Path, out: Path, paper: str, portrait: bool, formats: tuple[str, ...], date: str
) -> None:
    """Plan JOB, prove the plan and write its sheets and tables."""
    outcome = run(job, out, paper=paper, portrait=portrait, formats=formats, date=date)
    plan, proof = outcome.plan, outcome.proof
    click.echo(
        f"{plan.job.title}: {len(plan.passes)} passes in {len(plan.moves)} rows, proven: "
        f"gouge {proof.gouge:.4f}, left uncut {proof.left_uncut:.4f}, "
        f"conventional {100 * proof.conventional_share:.1f} %"
        if not plan.job.climb
        else f"{plan.job.title}: {len(plan.passes)} passes in {len(plan.moves)} rows, proven"
    )
    for note in plan.notes:
        click.echo(note)
    for path in outcome.files:
        click.echo(str(path))
