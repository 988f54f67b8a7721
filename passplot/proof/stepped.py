"""Stepped walls: chains of short rows, measured as the one cut that they are.

A *chain* is an unbroken run of cut rows of one pass number that moves along X and along Y. What
each row says of itself is held to its own line of feed: both ways, the side of the metal, the
depth. What the cutter bears is not: while it is walked along a wall by rows of a few thousandths,
it cuts along the wall. Hence for rows no longer than the cutter's radius

- the *heading* at the start of a row is that of the chord from the start of the row before it to
  its own end (of the row itself where the chain begins);
- the width of cut of a row is the radial engagement there, across the heading, with metal on the
  asked-for side alone;
- a *slot* is metal on both sides of the heading, or a width that does not count and is above the
  width limit; over the halves of the chords where it was found, added up from row to row without
  a break;
- widths do not count within a cutter radius (along the rows) of such a place, over the last radius
  of the chain, and over the last radius before the heading has turned by more than ``CORNER`` to
  the side away from the metal: as at the end of a straight pass, running up to a corner (or into
  an arc not much larger than the cutter) widens the cut by itself.

Longer rows of a chain are measured as any other, but a slot runs on through them.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from passplot.proof.engagement import Bite
from passplot.proof.gauge import Floats
from passplot.proof.rows import Row
from passplot.records.plan import CUT

_TINY = 1e-300  # a row that does not move has no heading
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


def heading_of(before: Row | None, row: Row) -> tuple[Floats, float]:
    """Heading of a chain at the start of a row, and the length that the place stands for."""
    own = np.subtract(row.end[:2], row.start[:2])
    length = max(float(np.hypot(*own)), _TINY)
    if before is None:
        return own / length, length / 2
    chord = np.subtract(row.end[:2], before.start[:2])
    whole = float(np.hypot(*chord))
    # a row that goes straight back has no chord
    return (chord / whole, whole / 2) if whole > 0 else (own / length, 0.0)


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
    found: list[Bite] = []
    run = 0.0
    for link, bite, counts in zip(links, bites, counted, strict=True):
        joint = link.joint
        if joint is not None:
            buried = joint.both or (joint.width > widest and not counts)
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
    x, y = heading_of(None, link.row)[0].tolist()
    return x, y
