"""Which table goes beside a drawing: minutes are left out of it before the drawing gets smaller."""

from passplot.frozen import dataclass
from passplot.sheet.areas import Areas
from passplot.sheet.framing import Frame, frame_of
from passplot.sheet.paper import Box
from passplot.sheet.scene import Scene
from passplot.sheet.table_flow import timed_tables, used_height
from passplot.sheet.table_plan import TablePlan


@dataclass(frozen=True, slots=True)
class Fitted:
    """A table and the drawing beside it; ``zone`` is room for the drawing, ``listing`` for it."""

    table: TablePlan
    zone: Box
    listing: Box
    frame: Frame


def roomiest(scene: Scene, areas: Areas) -> Fitted:
    """The table that says most of minutes of those that leave the drawing as good as it can be."""
    *timed, bare = timed_tables(scene, areas.table_room)
    best = _fitted(scene, areas, bare)
    tries = (_fitted(scene, areas, table) for table in timed)
    return next((each for each in tries if _as_clear(each.frame, best.frame)), best)


def _fitted(scene: Scene, areas: Areas, table: TablePlan) -> Fitted:
    """A table with the drawing framed in the room that it leaves."""
    zone, listing = areas.split(table.width, used_height(table))
    return Fitted(table, zone, listing, frame_of(scene, zone))


def _as_clear(one: Frame, best: Frame) -> bool:
    """Whether a drawing is as large as the best, no more of it broken out, its numbers in rows."""
    return (
        one.view.scale >= best.view.scale
        and len(one.view.breaks) <= len(best.view.breaks)
        and set(one.margins.numbers) >= set(best.margins.numbers)
    )
