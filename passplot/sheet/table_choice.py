"""Which table goes beside a drawing: minutes are left out of it before the drawing gets smaller."""

from passplot.sheet.areas import Areas
from passplot.sheet.framing import Frame, frame_of
from passplot.sheet.scene import Scene
from passplot.sheet.table_flow import timed_tables, used_height
from passplot.sheet.table_plan import TablePlan


def roomiest(scene: Scene, areas: Areas) -> TablePlan:
    """The table that says most of minutes of those that leave the drawing as good as it can be."""
    *timed, bare = timed_tables(scene, areas.table_room)
    best = _frame(scene, areas, bare)
    return next((each for each in timed if _as_clear(_frame(scene, areas, each), best)), bare)


def _frame(scene: Scene, areas: Areas, table: TablePlan) -> Frame:
    """The framing of the drawing beside a table."""
    zone, _ = areas.split(table.width, used_height(table))
    return frame_of(scene, zone)


def _as_clear(one: Frame, best: Frame) -> bool:
    """Whether a drawing is as large as the best, no more of it broken out, its numbers in rows."""
    return (
        one.view.scale >= best.view.scale
        and len(one.view.breaks) <= len(best.view.breaks)
        and set(one.margins.numbers) >= set(best.margins.numbers)
    )
