"""Stepped walls: chains of short rows, measured as the one cut that they are.

A *chain* is an unbroken run of cut rows of one pass number that moves along X and along Y. What
each row says of itself is held to its own line of feed: both ways, the side of the metal, the
depth. What the cutter bears is not: while it is walked along a wall by rows of a few thousandths,
it cuts along the wall. Hence for rows no longer than the cutter's radius

- the *heading* at the start of a row is the direction from the start of the second row before it
  to the end of the row after it (fewer where the chain, or a longer row, begins or ends);
- the width of cut of a row is the radial engagement there, across the heading, with metal on the
  asked-for side alone;
- a *slot* is metal on both sides of the heading, or a width that does not count and is above the
  width limit. Each place where it is found stands for half the straight way from the start of the
  row before to the end of its row; these add up from row to row. One place between two others does
  not break a slot: every other one is a corner backed off to the free side;
- widths do not count within a cutter radius (along the rows) of such a place, over the last radius
  of the chain, and over the last radius before the heading has turned by more than ``CORNER`` to
  the side away from the metal: as at the end of a straight pass, running up to a corner (or into
  an arc not much larger than the cutter) widens the cut by itself.

Longer rows of a chain are measured as any other, but a slot runs on through them.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from passplot.frozen import dataclass
from passplot.proof.engagement import Bite
from passplot.proof.gauge import Floats
from passplot.proof.rows import Row
from passplot.records.plan import CUT

_TINY = 1e-300  # a row that does not move has no heading
REACH = 2  # rows before and after a place that tell its heading
CORNER = np.pi / 6  # a turn away from the metal that counts as running into a corner


@dataclass(frozen=True, slots=True)
class Joint:
    """What a chain met where one of its rows starts.

    Attributes
    ----------
    heading : tuple of float
        Unit vector along the chain.
    chord : float
        Length that the place stands for, along the chain; job units.
    both : bool
        Whether metal is met on both sides of the heading.
    width : float
        Radial engagement where it is not.
    """

    heading: tuple[float, float]
    chord: float
    both: bool
    width: float


def chains(rows: Sequence[Row]) -> list[list[Row]]:
    """The chains of a table, in order."""
    runs: list[list[Row]] = []
    for before, row in pairwise([None, *rows]):
        if row is None or row.move != CUT or not row.pass_name:
            continue
        if before is not None and before.move == CUT and _same_pass(before, row):
            runs[-1].append(row)
        else:
            runs.append([row])
    return [run for run in runs if len({row.moved for row in run}) > 1]


def _same_pass(one: Row, two: Row) -> bool:
    return (one.pass_name, one.cutter, one.tip) == (two.pass_name, two.cutter, two.tip)


def length_of(row: Row) -> float:
    """Length of a row in the plan view."""
    return float(np.hypot(row.end[0] - row.start[0], row.end[1] - row.start[1]))


@dataclass(frozen=True, slots=True)
class Heading:
    """Unit vector along a chain where a row starts, and the length that the place stands for."""

    way: Floats
    chord: float


def headings(chain: Sequence[Row], radius: float) -> list[Heading]:
    """The heading at the start of every row of a chain that a cutter of ``radius`` walks."""
    places = np.array([chain[0].start[:2], *(row.end[:2] for row in chain)])
    far = [length_of(row) > radius for row in chain]
    found: list[Heading] = []
    for number in range(len(chain)):
        low, high = number, number + 1
        while low > max(number - REACH, 0) and not far[low - 1] and not far[number]:
            low -= 1
        while high < min(number + REACH, len(chain)) and not far[high] and not far[number]:
            high += 1
        chord = places[number + 1] - places[max(number - 1, 0)]
        found.append(Heading(_unit(places[high] - places[low]), float(np.hypot(*chord)) / 2))
    return found


def _unit(way: Floats) -> Floats:
    return way / max(float(np.hypot(*way)), _TINY)


@dataclass(frozen=True, slots=True)
class Link:
    """One row of a chain with what it met. ``joint`` is None for a row longer than the radius.

    ``lead``, ``trail`` are the both-ways lengths it begins and ends with (all of it: both).
    """

    row: Row
    joint: Joint | None
    lead: float = 0.0
    trail: float = 0.0


def settled(
    links: Sequence[Link],
    bites: Sequence[Bite],
    radius: float,
    cell: float,
    *,
    metal_on_left: bool,
    widest: float,
) -> list[Bite]:
    """The bites of a chain's rows with width and slot as the chain has them.

    ``widest`` is the width limit of its cutter.
    """
    counted = _counted(links, radius, metal_on_left)
    buried_at = _buried(links, counted, widest)
    found: list[Bite] = []
    run = 0.0
    for link, bite, counts, buried in zip(links, bites, counted, buried_at, strict=True):
        joint = link.joint
        if joint is not None:
            run = run + joint.chord if buried else 0.0
            width = joint.width if counts else 0.0
            deep = max(bite.depth, bite.both_depth)
            found.append(
                replace(
                    bite,
                    width=width,
                    steady=max(width - cell, 0.0),
                    slot=run,
                    depth=0.0 if buried else deep,
                    both_depth=deep if buried else 0.0,
                )
            )
            continue
        length = length_of(link.row)
        slot = max(bite.slot, run + link.lead)
        run = run + length if link.lead >= length else link.trail
        found.append(replace(bite, slot=slot))
    return found


def _buried(links: Sequence[Link], counted: Sequence[bool], widest: float) -> list[bool]:
    """Whether the cutter is in a slot at the start of each row."""
    deep = [
        link.joint is not None and (link.joint.both or (link.joint.width > widest and not counts))
        for link, counts in zip(links, counted, strict=True)
    ]
    around = zip([False, *deep], deep, [*deep[1:], False], strict=False)
    return [here or (before and after) for before, here, after in around]


def _counted(links: Sequence[Link], radius: float, metal_on_left: bool) -> list[bool]:
    """Whether the width at the start of each row counts."""
    lengths = np.array([length_of(link.row) for link in links])
    until = np.cumsum(lengths)
    start = until - lengths
    near_both = _near_both(links, start, until, radius)
    heading = np.array([_way(link) for link in links])
    away = -1.0 if metal_on_left else 1.0
    found: list[bool] = []
    for number, at in enumerate(start.tolist()):
        last = int(np.searchsorted(start, at + radius, side="right"))
        later = heading[number:last]
        x, y = heading[number]
        turn = away * np.arctan2(x * later[:, 1] - y * later[:, 0], later @ heading[number])
        corner = bool((turn > CORNER).any()) or at > until[-1] - radius
        found.append(not corner and not near_both[number])
    return found


def _near_both(links: Sequence[Link], start: Floats, until: Floats, radius: float) -> list[bool]:
    """Whether the start of each row lies within a radius of metal met on both sides."""
    places: list[float] = []
    for number, link in enumerate(links):
        if link.joint is not None and link.joint.both:
            places.append(float(start[number]))
        if link.lead > 0:
            places.append(float(start[number]))
        if link.trail > 0:
            places.append(float(until[number]))
    both = np.sort(np.array(places))
    low = np.searchsorted(both, start - radius)
    high = np.searchsorted(both, start + radius, side="right")
    return [bool(near) for near in high > low]


def _way(link: Link) -> tuple[float, float]:
    if link.joint is not None:
        return link.joint.heading
    (x0, y0, _), (x1, y1, _) = link.row.start, link.row.end
    x, y = _unit(np.array([x1 - x0, y1 - y0])).tolist()
    return x, y
