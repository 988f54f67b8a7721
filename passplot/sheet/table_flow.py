"""Where the parts of a pass table stand: headings and rows, column by column."""

from passplot.frozen import dataclass
from passplot.sheet.areas import TableRoom
from passplot.sheet.listing import COLUMN, SAID, Line, Listing, listing_of, timed
from passplot.sheet.scene import Scene
from passplot.sheet.table_plan import (
    HEAD_MM,
    NOTE_MM,
    ROW_MM,
    TablePlan,
    above_lines,
    columned,
    heading_height,
    said_once_height,
    top_height,
)

_MOST_COLUMNS = 3
_HAIR = 1e-6
_FINE_MM = 0.2
_KEPT_ROWS = 2
"""Rows that stay with their heading."""

Heights = tuple[tuple[float, tuple[float, ...]], ...]
"""Of each listing: height of its heading, heights of its rows."""


@dataclass(frozen=True, slots=True)
class Place:
    """A part of the table: a heading, a row of column heads, or a row.

    ``what`` is ``"heading"``, ``"heads"`` or ``"row"``; ``y`` its distance below the top of the
    runs; ``line`` the line of a row.
    """

    what: str
    listing: Listing
    column: int
    y: float
    line: Line | None = None


def row_height(table: TablePlan, one: Line) -> float:
    """Height of a row with what stands above it."""
    return ROW_MM + NOTE_MM * len(above_lines(table, one)) if one.above else ROW_MM


def heights_of(table: TablePlan) -> Heights:
    """Heights of the heading and the rows of each listing."""
    return tuple(
        (heading_height(table, listing), tuple(row_height(table, one) for one in listing.lines))
        for listing in table.listings
    )


def flowed(
    table: TablePlan, height: float, heights: Heights | None = None
) -> tuple[Place, ...] | None:
    """Where everything stands in columns of that height; None where it finds no room.

    ``heights`` are those of the table, where they are known.
    """
    found: list[Place] = []
    column, y, top = 0, 0.0, 0.0
    for listing, (heading, rows) in zip(table.listings, heights or heights_of(table), strict=True):
        least = heading + HEAD_MM + sum(rows[:_KEPT_ROWS])
        if y and y + least > height + _HAIR:
            column, y = column + 1, 0.0
        found.append(Place("heading", listing, column, y))
        y += heading
        if table.alone:
            top = y
        found.append(Place("heads", listing, column, y))
        y += HEAD_MM
        for one, high in zip(listing.lines, rows, strict=True):
            if y + high > height + _HAIR:
                column, y = column + 1, top + HEAD_MM
                found.append(Place("heads", listing, column, top))
                if column >= table.columns or y + high > height + _HAIR:
                    return None
            found.append(Place("row", listing, column, y, one))
            y += high
    return tuple(found) if column < table.columns else None


def fits(table: TablePlan) -> bool:
    """Whether the table finds room."""
    return flowed(table, table.room.height - top_height(table)) is not None


def used_height(table: TablePlan) -> float:
    """The least height that holds the table, its columns evenly filled."""
    top = top_height(table)
    low, high = 0.0, table.room.height - top
    heights = heights_of(table)
    if flowed(table, high, heights) is None:
        return table.room.height
    while high - low > _FINE_MM:
        middle = (low + high) / 2
        room = flowed(table, middle, heights)
        low, high = (middle, high) if room is None else (low, middle)
    return max(top + high, said_once_height(table))


def timed_tables(scene: Scene, room: TableRoom) -> tuple[TablePlan, ...]:
    """The tables of a scene that find room, measured, from best to barest.

    The minutes each pass takes have a column in the first, are said once in the next; the last
    says nothing of them. Beside a drawing a table has the fewest columns that hold it, else as many
    as there is room for; only where these do not do are the cells packed tighter. Below a drawing
    it has the columns that leave the drawing most room.
    """
    listings = tuple(listing_of(scene, run) for run in scene.runs)
    bare = _columned(scene, room, listings)
    found = [
        _columned(scene, room, tuple(timed(each, how) for each in listings))
        for how in (COLUMN, SAID)
    ]
    return (*(table for table in found if _as_good(table, bare)), bare)


def holds(scene: Scene, room: TableRoom, listings: tuple[Listing, ...]) -> bool:
    """Whether the table of a scene finds room; ``listings`` are those of its runs."""
    return fits(_columned(scene, room, listings))


def _as_good(table: TablePlan, bare: TablePlan) -> bool:
    """Whether a table with minutes leaves a drawing about the room it has beside a bare one."""
    if fits(table) < fits(bare) or table.tight > bare.tight:
        return False
    if table.room.below:
        return used_height(table) <= used_height(bare) + NOTE_MM + _FINE_MM
    return table.width <= max(bare.width, table.room.most_wide)


def _columned(scene: Scene, room: TableRoom, listings: tuple[Listing, ...]) -> TablePlan:
    """The table in as many columns as suit its room."""
    table = columned(scene, room, listings, 1, tight=False)
    if fits(table) and not room.below:
        return table
    found = [table]
    for tight in (False, True):
        for columns in range(2, _MOST_COLUMNS + 1):
            wider = columned(scene, room, listings, columns, tight=tight)
            if wider.rows_width > room.most_wide:
                break
            found.append(wider)
            if fits(wider) and not room.below:
                return wider
    if room.below:
        return min(found, key=lambda each: (not fits(each), used_height(each)))
    return found[-1]
