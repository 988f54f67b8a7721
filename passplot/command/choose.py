"""``passplot choose``: which cutter of the crib to pick up for each feature, and why."""

import json
import sys
from pathlib import Path

import click

from passplot.command.sheet_options import sheet_options
from passplot.flow import CHOICE_FORMATS, Chosen, choose_for, write_choice
from passplot.records.choice import NO, FeatureChoice, Judged
from passplot.records.job import Job

_KW_PER_HP = 0.745_699_872


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=None,
    help="Folder for a sheet of the answer, to keep by the crib; none is written if left out.",
)
@sheet_options(CHOICE_FORMATS)
def choose(
    job: Path,
    as_json: bool,
    out: Path | None,
    paper: str,
    portrait: bool,
    formats: tuple[str, ...],
    date: str,
) -> None:
    """Judge every cutter of the crib for each feature of JOB."""
    chosen = choose_for(job)
    lacking = [each for each in chosen.choices if each.chosen is None]
    files: tuple[Path, ...] = ()
    if out is not None and chosen.choices and not lacking:
        stem = f"{job.stem}-choose"
        files = write_choice(
            chosen, out, stem, paper=paper, portrait=portrait, formats=formats, date=date
        )
    if as_json:
        click.echo(json.dumps(_answer(chosen), indent=2))
    else:
        click.echo("\n".join([*_lines(chosen), *map(str, files)]))
    for each in lacking:
        click.echo(f"{each.needs.feature}: no cutter of the crib will do", err=True)
        for one in each.cutters:
            click.echo(f"{each.needs.feature}: {one.cutter}: {'; '.join(one.reasons)}", err=True)
    if lacking:
        sys.exit(1)


def _lines(chosen: Chosen) -> list[str]:
    """The answer for the screen."""
    job, crew = chosen.job, chosen.crew
    lines = [f"{job.title}: which cutter, in {job.stock.material}"]
    if crew is not None and len(crew.cutters) > 1:
        shared = "; ".join(f"{name}: {', then '.join(mine)}" for name, mine in crew.features)
        lines.append(f"for the whole job {' and '.join(crew.cutters)} ({shared}): {crew.why}")
    elif crew is not None:
        lines.append(f"for the whole job {crew.cutters[0]}")
    for each in chosen.choices:
        lines += ["", *_table(job, each)]
    return lines


def _answer(chosen: Chosen) -> dict[str, object]:
    """The answer for other programs."""
    features = [_facts(chosen.job, each) for each in chosen.choices]
    answer: dict[str, object] = {"features": features}
    if chosen.crew is not None:
        cutters = [{"feature": name, "cutters": list(mine)} for name, mine in chosen.crew.features]
        answer["whole_job"] = {"features": cutters, "why": chosen.crew.why}
    return answer


def _table(job: Job, choice: FeatureChoice) -> list[str]:
    """A feature's cutters, the one to pick up first: verdict, numbers, reasons."""
    needs = choice.needs
    head = f"{needs.feature} ({needs.kind}), {needs.depth:g} deep"
    if needs.narrowest is not None:
        head += f", narrowest place {needs.narrowest:.4g}"
    if needs.inside_radius is not None:
        head += f", inside radius {needs.inside_radius:g}"
    wide = max((len(one.cutter) for one in choice.cutters), default=0)
    rate = "in/min" if job.inch else "mm/min"
    lines = [head]
    for one in choice.cutters:
        numbers = f"{one.spindle_speed:5.0f} rev/min {one.feed:6.4g} {rate}"
        if one.verdict == NO:
            numbers = " " * len(numbers)
        lines.append(f"  {one.cutter:<{wide}}  {one.verdict:<8}  {numbers}  {one.reasons[0]}")
        blank = " " * (wide + len(numbers) + 16)
        lines += [blank + reason for reason in one.reasons[1:]]
    return lines


def _facts(job: Job, choice: FeatureChoice) -> dict[str, object]:
    needs = choice.needs
    return {
        "name": needs.feature,
        "needs": {
            "kind": needs.kind,
            "depth": round(needs.depth, 6),
            "area": round(needs.area, 6),
            "narrowest": needs.narrowest,
            "inside_radius": needs.inside_radius,
            "material": job.stock.material,
        },
        "cutters": [_judged(job, one) for one in choice.cutters],
    }


def _judged(job: Job, one: Judged) -> dict[str, object]:
    power = 1.0 if job.inch else _KW_PER_HP
    return {
        "id": one.cutter,
        "verdict": one.verdict,
        "reasons": list(one.reasons),
        "spindle_speed": one.spindle_speed,
        "feed": one.feed,
        "seconds_per_turn": {axis.lower(): value for axis, value in one.seconds_per_turn},
        "width_of_cut": one.width,
        "depth_of_cut": one.depth,
        "deflection": one.deflection,
        "power": one.power_hp * power,
        "motor_power": one.motor_hp * power,
        "power_unit": "hp" if job.inch else "kW",
    }
