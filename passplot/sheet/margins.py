"""Paper kept round the plan view: for numbers off the passes, readings and pairs of arrows."""

from collections.abc import Iterator

from passplot.frozen import dataclass
from passplot.records.plan import Pass
from passplot.records.shapes import Line
from passplot.sheet.feeds import BOTTOM, COLUMN, LEFT, RIGHT, TOP, Feed, sign_of
from passplot.sheet.lettering import width_of
from passplot.sheet.numbers import printed
from passplot.sheet.ordinates import column_width, row_height
from passplot.sheet.paper import MEDIUM
from passplot.sheet.round_marks import bores
from passplot.sheet.rounds import reach_of
from passplot.sheet.scene import Scene

PAIR_MM = 15.5
"""Room beside the part for a pair of direction arrows."""
COLUMN_MM = 80.0
"""Room for pairs of arrows in a column right of the view."""
FAN_MM = 7.0
"""From the tails of the passes to their numbers."""
NUMBER_PITCH_MM = MEDIUM * 1.4
MOST_WALLS = 4
"""Walls with a reading on a pass sheet, an axis; the set-up sheet has them all."""
_AXES_MM = 4.0
_CLAMP_MM = 7.0


@dataclass(frozen=True, slots=True)
class Margins:
    """Paper kept round the plan view on each side: numbers first, then all together.

    ``all_ends`` says that every pass with an open end has its number off that end; ``readings``
    are the longest that may stand below the view.
    """

    numbers: dict[str, float]
    left: float
    top: float
    right: float
    bottom: float
    all_ends: bool
    readings: tuple[str, ...] = ()

    def reading_row(self, width_mm: float) -> float:
        """Height of the row of readings below or above a view of that width."""
        return row_height(self.readings, width_mm)


def fan_sides(scene: Scene, *, all_ends: bool) -> set[str]:
    """Sides at which numbers stand off the ends of passes.

    Passes that run straight through have their numbers off their tails; with ``all_ends`` so
    have all others that start or stop clear. None where a sheet's passes mostly end in metal and
    their lines have room for the numbers.
    """
    through = [row for row in scene.rows if row.first.start_clear and row.first.end_clear]
    if 2 * len(through) < len(scene.rows) and not all_ends:
        return set()
    rows = scene.rows if all_ends else through
    sides = {number_side(row.first, all_ends=all_ends) for row in rows} - {""}
    return sides if len(sides) <= 2 else set()


def number_side(each: Pass, *, all_ends: bool) -> str:
    """The side that a pass's number stands off at; empty where it stands in the line."""
    if each.turn is not None:
        return ""
    tail = tail_side(each.axis, sign_of(each))
    if each.start_clear and (each.end_clear or all_ends):
        return tail
    if each.end_clear and all_ends:
        return {LEFT: RIGHT, RIGHT: LEFT, TOP: BOTTOM, BOTTOM: TOP}[tail]
    return ""


def tail_side(axis: str, sign: int) -> str:
    """The side of the part that a feed comes in from."""
    if axis == "X":
        return LEFT if sign > 0 else RIGHT
    return BOTTOM if sign > 0 else TOP


def margins_of(scene: Scene, feeds: tuple[Feed, ...], *, all_ends: bool) -> Margins:
    """The margins of a scene, readings below a view aside: they depend on its width."""
    pairs = dict.fromkeys((feed.side for feed in feeds), PAIR_MM)
    firsts = [str(row.first.number) for row in scene.rows]
    widest = max((width_of(text, MEDIUM, True) for text in firsts), default=0.0)
    numbers: dict[str, float] = {}
    for side in sorted(fan_sides(scene, all_ends=all_ends)):
        numbers[side] = FAN_MM + (NUMBER_PITCH_MM if side in (TOP, BOTTOM) else widest + 1)
    need = {
        side: pairs.get(side, 0.0) + numbers.get(side, 0.0) + 1.0
        for side in (LEFT, TOP, RIGHT, BOTTOM)
    }
    if any(feed.side == COLUMN for feed in feeds):
        need[RIGHT] += COLUMN_MM
    if scene.job.keep_outs:
        need[TOP] += _CLAMP_MM
    need[RIGHT] += column_width(_wall_texts(scene, "Y"))
    if not scene.passes:
        need[LEFT] += _AXES_MM
    around = need[LEFT], need[TOP], need[RIGHT], need[BOTTOM]
    return Margins(numbers, *around, all_ends, _wall_texts(scene, "X"))


def _wall_texts(scene: Scene, axis: str) -> tuple[str, ...]:
    """The longest readings that may stand along an axis."""
    stock = scene.job.stock
    low, high = stock.x if axis == "X" else stock.y
    walls = {edge for edge in _read_edges(scene, axis.lower()) if low < edge < high}
    if not scene.passes:
        walls |= {low, high}
    texts = [printed(scene.style.at(wall), scene.job.inch) for wall in walls if wall]
    texts.sort(key=len, reverse=True)
    return (*texts[: MOST_WALLS if scene.passes else None], "0") if walls else ()


def _read_edges(scene: Scene, key: str) -> Iterator[float]:
    """Coordinates that may be read off: straight walls across the axis, centres of circles."""
    for feature in scene.now:
        for loop in (*feature.area, *feature.keep):
            for edge in loop.edges:
                if isinstance(edge, Line) and edge.level:
                    yield getattr(edge.start, key)
                    yield getattr(edge.end, key)
    for arc in bores(scene.now):
        yield getattr(arc.center, key)


def feature_edges(scene: Scene, axis: str) -> list[float]:
    """Coordinates of the corners of the features, held to the stock; its own for holes alone."""
    stock = scene.job.stock
    low, high = stock.x if axis == "X" else stock.y
    corners = (
        getattr(corner, axis.lower())
        for feature in scene.now
        for loop in (*feature.area, *feature.keep)
        for corner in reach_of(loop)
    )
    return [min(max(corner, low), high) for corner in corners] or [low, high]
