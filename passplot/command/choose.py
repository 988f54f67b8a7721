"""``passplot choose``: which cutter of the crib to pick up for each feature, and why."""

import json
import sys
from pathlib import Path

import click

from passplot.flow import choose_for
from passplot.records.choice import NO, FeatureChoice, Judged
from passplot.records.job import Job

_KW_PER_HP = 0.745_699_872


@click.command()
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option(
    "--out",
    type=click.Path(dir_okay=False, path_type=Path),
    default=None,
    help="Also write the table to this text file, to print and keep by the crib.",
)
def choose(job: Path, as_json: bool, out: Path | None) -> None:
    """Judge every cutter of the crib for each feature of JOB."""
    read, choices = choose_for(job)
    lines = [f"{read.title}: which cutter, in {read.stock.material}"]
    for each in choices:
        lines += ["", *_table(read, each)]
    if as_json:
        click.echo(json.dumps({"features": [_facts(read, each) for each in choices]}, indent=2))
    else:
        click.echo("\n".join(lines))
    if out is not None:
        out.write_text("\n".join(lines) + "\n", encoding="utf-8")
    lacking = [each for each in choices if each.chosen is None]
    for each in lacking:
        click.echo(f"{each.needs.feature}: no cutter of the crib will do", err=True)
        for one in each.cutters:
            click.echo(f"{each.needs.feature}: {one.cutter}: {'; '.join(one.reasons)}", err=True)
    if lacking:
        sys.exit(1)


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
