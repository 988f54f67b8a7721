"""The directions in which a sheet's passes are fed, and the side of the part each belongs to."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from passplot.frozen import dataclass
from passplot.records.plan import Pass

LEFT, RIGHT, TOP, BOTTOM = "left", "right", "top", "bottom"
COLUMN = "column"
"""A column right of the view: where pairs along X stand if the drawing's zone is wide and low."""

_MAIN_SHARE = 0.12
"""A direction with less than this share of the length is left to the table."""


@dataclass(frozen=True, slots=True)
class Feed:
    """A direction of feed: ``axis``, ``sign`` of the cutter's movement, ``side`` of the part."""

    axis: str
    sign: int
    side: str

    @property
    def cutter(self) -> str:
        """Where the cutter goes relative to the work."""
        return {
            ("X", 1): "right",
            ("X", -1): "left",
            ("Y", 1): "away",
            ("Y", -1): "toward you",
        }[self.axis, self.sign]

    @property
    def table(self) -> str:
        """Where the table goes: the opposite way (ISO 841)."""
        return Feed(self.axis, -self.sign, self.side).cutter


def sign_of(each: Pass) -> int:
    """Sign of a pass's feed along its axis."""
    step = each.end.x - each.start.x + each.end.y - each.start.y
    return 1 if step > 0 else -1


def feeds_of(passes: Sequence[Pass]) -> tuple[Feed, ...]:
    """The main directions of feed, each with the side of the part that its passes lie on."""
    lengths: dict[tuple[str, int], float] = {}
    moments: dict[tuple[str, int], float] = {}
    fixed: dict[str, list[float]] = {"X": [], "Y": []}
    for each in passes:
        if not each.straight:  # goes every way: its own sheet says which
            continue
        way = each.axis, sign_of(each)
        at = each.start.y if each.axis == "X" else each.start.x
        lengths[way] = lengths.get(way, 0.0) + each.length
        moments[way] = moments.get(way, 0.0) + each.length * at
        fixed[each.axis].append(at)
    if not lengths:
        return tuple(_first_steps(passes))
    total = sum(lengths.values())
    found: list[Feed] = []
    for (axis, sign), length in sorted(lengths.items(), key=lambda item: -item[1]):
        if length >= _MAIN_SHARE * total:
            middle = (min(fixed[axis]) + max(fixed[axis])) / 2
            found.append(Feed(axis, sign, _side(axis, moments[axis, sign] / length - middle)))
    if len(found) > 2:
        # round a pocket or a boss: one each way, the others are their opposites
        found = [next(feed for feed in found if feed.axis == axis) for axis in "XY"]
    return tuple(_apart(found))


def _first_steps(passes: Sequence[Pass]) -> Iterator[Feed]:
    """How each axis is first fed along a stepped wall; later the other way too."""
    steps = next((each.steps for each in passes if each.steps is not None), None)
    if steps is None:
        return
    for axis, key, side in (("X", "x", TOP), ("Y", "y", LEFT)):
        ways = (getattr(b, key) - getattr(a, key) for a, b in pairwise(steps.points))
        first = next((way for way in ways if way), 0.0)
        if first:
            yield Feed(axis, 1 if first > 0 else -1, side)


def beside(feeds: tuple[Feed, ...]) -> tuple[Feed, ...]:
    """The feeds with those along X moved to the column right of the view."""
    return tuple(
        Feed(feed.axis, feed.sign, COLUMN if feed.axis == "X" else feed.side) for feed in feeds
    )


def _side(axis: str, off_middle: float) -> str:
    if axis == "X":
        return BOTTOM if off_middle < -1e-9 else TOP
    return RIGHT if off_middle > 1e-9 else LEFT


def _apart(feeds: list[Feed]) -> list[Feed]:
    """The feeds, no two of them on one side."""
    opposite = {LEFT: RIGHT, RIGHT: LEFT, TOP: BOTTOM, BOTTOM: TOP}
    taken: set[str] = set()
    placed: list[Feed] = []
    for feed in feeds:
        side = opposite[feed.side] if feed.side in taken else feed.side
        taken.add(side)
        placed.append(Feed(feed.axis, feed.sign, side))
    return placed
