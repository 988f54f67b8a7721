"""``passplot dial``: what to turn and what the dial then shows, without a job."""

import json
from pathlib import Path

import click

from passplot.dials import Wheel, wheel_of
from passplot.read import read_shop_file
from passplot.records.shop import Shop

_SENSE = {"+": 1, "-": -1}
_AXES = ("x", "y", "z")


@click.command()
@click.argument("shop", type=click.Path(path_type=Path))
@click.option("--axis", type=click.Choice(_AXES), required=True, help="Which handwheel.")
@click.option("--from", "start", type=float, default=0.0, help="Where the cutter stands.")
@click.option("--to", "end", type=float, help="Where it is to go.")
@click.option(
    "--came",
    type=click.Choice(["+", "-"]),
    help="Which way it came to where it stands; the approach direction if left out.",
)
@click.option(
    "--approach",
    type=click.Choice(["+", "-"]),
    help="Which way positions are come to; if left out + along X and Y, - (knee up) along Z.",
)
@click.option("--multiples", type=click.IntRange(1, 1000), help="Table of so many whole turns.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
def dial(
    shop: Path,
    axis: str,
    start: float,
    end: float | None,
    came: str | None,
    approach: str | None,
    multiples: int | None,
    as_json: bool,
) -> None:
    """Say what to turn on a machine of SHOP, and what its dial then reads.

    Positions are the cutter's, in the shop file's unit.
    """
    if (end is None) == (multiples is None):
        raise click.UsageError("give either --to or --multiples")
    known = read_shop_file(shop)
    wheel = wheel_of(known.machine, axis.upper(), _SENSE[approach or ("-" if axis == "z" else "+")])
    if wheel is None:
        raise click.UsageError(f"the shop file has no [machine.dial.{axis}]")
    if multiples is not None:
        _table(wheel, multiples, as_json)
    elif end is not None:
        _move(known, wheel, (start, end), _SENSE[came] if came else wheel.approach, as_json)


def _table(wheel: Wheel, count: int, as_json: bool) -> None:
    """Travel of whole turns."""
    rows = [(turns, round(turns * wheel.lead, 6)) for turns in range(1, count + 1)]
    if as_json:
        click.echo(json.dumps([{"turns": turns, "travel": travel} for turns, travel in rows]))
        return
    for turns, travel in rows:
        click.echo(f"{turns:>5}  {travel:g}")


def _move(shop: Shop, wheel: Wheel, ends: tuple[float, float], came: int, as_json: bool) -> None:
    """One movement, and the go-past where it ends against the approach direction."""
    start, end = ends
    sense = 1 if end > start else -1
    before = wheel.mark(start, came)
    after = wheel.mark(end, sense)
    turn = wheel.turn(before, after, sense)
    reading, shown = round(before.reading, 6), round(turn.reading, 6)
    if as_json:
        answer = {"from": reading, "crank": turn.crank, "turns": turn.turns, "dial": shown}
        click.echo(json.dumps(answer))
        return
    known = shop.machine.dial(wheel.axis)
    name = f" ({known.wheel})" if known and known.wheel else ""
    click.echo(
        f"{wheel.axis}{name}: the dial reads {reading:g}; turn {turn.crank} {turn.turns} whole "
        f"turns and on to {shown:g}"
    )
    if sense != wheel.approach and wheel.backlash:
        way = "+" if wheel.approach > 0 else "-"
        click.echo(
            f"this ends against the approach direction ({way}): the reading allows for "
            f"{wheel.backlash:g} of backlash; where it matters go past and come back"
        )
