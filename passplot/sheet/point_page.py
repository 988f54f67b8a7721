"""Sheets of points: a stepped wall drawn with its settings, beside the table that lists them."""

from passplot.frozen import dataclass
from passplot.records.plan import Plan
from passplot.sheet.areas import Areas
from passplot.sheet.canvas import Canvas
from passplot.sheet.crank_key import KEY_MM, draw_key
from passplot.sheet.detail import RADIUS_MM, ROOM_MM, detail_of, draw_detail
from passplot.sheet.diagram import draw_readings
from passplot.sheet.direction import draw_zero, mark_zero
from passplot.sheet.elevation import draw_elevation, draw_levels
from passplot.sheet.framing import Frame, frame_of
from passplot.sheet.groups import Row, Run
from passplot.sheet.paper import Box
from passplot.sheet.plan_view import draw_plan
from passplot.sheet.point_flow import GAP_MM, Grid, PointPage, flow_points, grid_of
from passplot.sheet.point_list import draw_points
from passplot.sheet.points import PointList, point_lists
from passplot.sheet.scene import Scene
from passplot.sheet.step_lines import (
    CROWDED_MM,
    Path,
    draw_settings,
    label_path,
    number_settings,
    paths_of,
)

_DRAWING_MM = 92.0
"""Least width of the drawing on a sheet that lies on its side, with the gap to the table."""
_LOW_ZONE = 1.35
"""A drawing's zone that is wider than that by its height has the detail beside the view."""
_TABLE_SHARE = 0.5
"""Share of an upright sheet's height that the table takes below its drawing."""


@dataclass(frozen=True, slots=True)
class PointSheets:
    """The sheets of points of a plan, laid out for one kind of sheet."""

    plan: Plan
    grid: Grid
    pages: tuple[PointPage, ...]
    most_beside: int

    def lists(self, page: PointPage) -> tuple[PointList, ...]:
        """The lists whose walls a sheet shows: those that begin on it, else the one it goes on."""
        return page.starts or (page.columns[0][0].owner,)

    def scene(self, page: PointPage) -> Scene:
        """What the drawing of a sheet shows."""
        return scene_of(self.plan, self.lists(page))


def point_sheets(plan: Plan, areas: Areas) -> PointSheets | None:
    """The sheets of points; None where nothing is stepped off."""
    if not point_lists(plan):
        return None
    grid = grid_of(plan)
    zone = _inner(areas)
    alone = grid.columns(zone.width), zone.height
    if areas.portrait:
        beside = alone[0], zone.height * _TABLE_SHARE
    else:
        beside = grid.columns(zone.width - _DRAWING_MM), zone.height
    return PointSheets(plan, grid, tuple(flow_points(plan, grid, beside, alone)), beside[0])


def scene_of(plan: Plan, lists: tuple[PointList, ...]) -> Scene:
    """The scene of the stepped walls of some lists."""
    features = {feature.name: feature for feature in plan.job.features}
    passes = [each for item in lists for each in item.passes]
    first = min(each.number for each in passes)
    names = list(dict.fromkeys(each.feature for each in passes))
    runs = tuple(
        Run(
            item.passes[0].feature,
            item.passes[0].cutter,
            item.passes[0].stage,
            tuple(each.z for each in item.passes),
            (Row(item.passes),),
        )
        for item in lists
    )
    earlier = dict.fromkeys(each.feature for each in plan.passes if each.number < first)
    gone = tuple(features[name] for name in earlier if name not in names)
    before = tuple(
        each
        for each in plan.passes
        if each.number < first and each.feature in names and each.stage == passes[0].stage
    )
    now = tuple(features[name] for name in names)
    return Scene(plan, runs, gone, now, before, tuple(passes))


def heading_of_points(page: PointPage) -> str:
    """What the title strip says of a sheet of points."""
    points = [each.cells[0] for column in page.columns for each in column if each.kind == "point"]
    names = dict.fromkeys(
        each.owner.passes[0].feature for column in page.columns for each in column
    )
    return f"STEP POINTS {points[0]}–{points[-1]}: {', '.join(names).upper()}"


def draw_point_page(
    canvas: Canvas, sheets: PointSheets, page: PointPage, areas: Areas
) -> float | None:
    """Draw one sheet of points; returns the scale of its drawing, if it has one."""
    zone, grid = _inner(areas), sheets.grid
    if not page.starts and (areas.portrait or len(page.columns) > sheets.most_beside):
        draw_points(canvas, page.columns, grid, zone.left, zone.top)
        return None
    columns = len(page.columns)
    wide = columns * grid.width + (columns - 1) * GAP_MM
    if areas.portrait:
        top = zone.bottom - zone.height * _TABLE_SHARE
        draw_points(canvas, page.columns, grid, zone.left, top)
        drawing = Box(zone.left, zone.top, zone.right, top - 3.0)
    else:
        draw_points(canvas, page.columns, grid, zone.right - wide, zone.top)
        drawing = Box(zone.left, zone.top, zone.right - wide - 4.0, zone.bottom)
    return _draw_walls(canvas, sheets.scene(page), sheets.lists(page), drawing).view.scale


def _inner(areas: Areas) -> Box:
    middle = areas.middle
    return Box(middle.left + 2, middle.top + 1, middle.right - 2, middle.bottom)


def _draw_walls(canvas: Canvas, scene: Scene, lists: tuple[PointList, ...], zone: Box) -> Frame:
    """The stepped walls with their settings, an enlarged detail, and which way to crank."""
    room, side = _split(zone)
    frame = frame_of(scene, room, pairs=False)
    paths = paths_of(scene, frame)
    draw_plan(canvas, scene, frame)
    mark_zero(canvas, frame)
    section = draw_elevation(canvas, scene, frame)
    draw_readings(canvas, scene, frame, room)
    for path in paths:
        draw_settings(canvas, path)
    draw_key(canvas, scene.job, side)
    crowded = min(paths, key=lambda path: path.usual)
    if crowded.usual < CROWDED_MM:
        spot = (side.left + RADIUS_MM + 0.5, side.top + RADIUS_MM + 0.5)
        detail = detail_of(scene, frame, crowded, spot)
        if detail is not None:
            draw_detail(canvas, scene, frame, room, crowded, detail, _first(lists, crowded))
    for path in paths:
        number_settings(canvas, path, _first(lists, path), room, frame.plan.middle)
        label_path(canvas, path, frame, room)
    draw_zero(canvas, scene, frame, room)
    draw_levels(canvas, scene, frame, section, room)
    return frame


def _first(lists: tuple[PointList, ...], path: Path) -> int:
    """Number of the first setting of a path."""
    return next(item.first for item in lists if path.passes[0] in item.passes)


def _split(zone: Box) -> tuple[Box, Box]:
    """The zone less room for the detail and the key of cranks, and that room."""
    if zone.width > _LOW_ZONE * zone.height:
        side = Box(zone.right - KEY_MM, zone.top, zone.right, zone.bottom)
        return Box(zone.left, zone.top, side.left - 3.0, zone.bottom), side
    side = Box(zone.left, zone.bottom - ROOM_MM, zone.right, zone.bottom)
    return Box(zone.left, zone.top, zone.right, side.top - 2.0), side
