"""``passplot speeds``: a quick answer, a material and a cutter, no job file."""

import json
from pathlib import Path

import click

from passplot.flow import quick_speeds

MATERIALS = ("carbide", "high-speed steel", "cobalt")


@click.command()
@click.option("--material", required=True, help="Material of the work, such as 1018.")
@click.option("--cutter", default="", help="Id of a cutter of the shop file.")
@click.option("--shop", type=click.Path(path_type=Path), default=None, help="The shop file.")
@click.option("--diameter", type=click.FloatRange(min=0, min_open=True), default=None)
@click.option("--flutes", type=click.IntRange(1, 40), default=None)
@click.option("--of", "made_of", type=click.Choice(MATERIALS), default="high-speed steel")
@click.option("--units", type=click.Choice(["inch", "mm"]), default=None)
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
def speeds(
    material: str,
    cutter: str,
    shop: Path | None,
    diameter: float | None,
    flutes: int | None,
    made_of: str,
    units: str | None,
    as_json: bool,
) -> None:
    """Speed and feed for a cutter: --cutter of a --shop, or --diameter, --flutes and --of."""
    if cutter and shop is None:
        raise click.UsageError("a cutter's id needs the shop file it is in: --shop")
    if not cutter and (diameter is None or flutes is None):
        raise click.UsageError("give --cutter and --shop, or --diameter and --flutes")
    size = None if diameter is None or flutes is None else (diameter, flutes, made_of)
    answer, inch = quick_speeds(material, shop, cutter, size, units)
    data = answer.data
    if as_json:
        facts = {
            "spindle_speed": data.spindle_speed_rpm,
            "cutting_speed": data.cutting_speed,
            "feed_per_tooth": data.feed_per_tooth,
            "feed": data.feed,
            "seconds_per_turn": {axis.lower(): value for axis, value in answer.seconds_per_turn},
            "fluid": answer.fluid,
            "sources": list(data.sources),
        }
        click.echo(json.dumps(facts, indent=2))
        return
    speed, feed, tooth = ("ft/min", "in/min", "in") if inch else ("m/min", "mm/min", "mm")
    click.echo(f"{data.spindle_speed_rpm:.0f} rev/min ({data.cutting_speed:.0f} {speed})")
    click.echo(f"{data.feed:.3g} {feed} ({data.feed_per_tooth:.2g} {tooth} a tooth)")
    for axis, value in answer.seconds_per_turn:
        if value is not None:
            click.echo(f"{axis} handwheel: {value:.1f} s a turn")
    click.echo(answer.fluid)
    for source in data.sources:
        click.echo(source)
