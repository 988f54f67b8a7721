"""The elevation: a section through the features, with the depth levels and the walls.

Third angle puts it where it is seen from (front view below the plan, right view to its right),
first angle on the far side (ISO 5456-2).
"""

from collections.abc import Callable
from itertools import pairwise

from passplot.records.shapes import Loop
from passplot.records.sheet import Fill, Stroke
from passplot.sheet.canvas import HATCHING, TONES, Canvas
from passplot.sheet.feet import draw_feet, name_feet
from passplot.sheet.framing import Frame
from passplot.sheet.ground import Ground, Outline, ground_of, hatched, inside, sides
from passplot.sheet.ink import line
from passplot.sheet.labels import place
from passplot.sheet.lettering import width_of
from passplot.sheet.numbers import printed
from passplot.sheet.paper import (
    DASHED_NARROW,
    LONG_DASH_DOUBLE_DOT,
    NARROW,
    SMALL,
    TONE,
    WIDE,
    Box,
)
from passplot.sheet.plan_view import HATCH_PITCH_MM, HATCH_WIDTH_MM, shown_stock, zigzag
from passplot.sheet.rounds import crossing, loops_of, reach_of
from passplot.sheet.scene import Scene
from passplot.sheet.sections import Section, Step

Spot = tuple[float, float]
Place = Callable[[float, float], Spot]


def section_of(scene: Scene, frame: Frame) -> Section:
    """The section through as many of the scene's features as one line can cross."""
    stock = shown_stock(scene, frame)
    top = scene.job.stock.raw_top
    before = ground_of(stock, top, scene.gone, _same)
    after = ground_of(stock, top, (*scene.gone, *scene.now), _same)
    axis = frame.along
    candidates = _candidates(after, axis)
    names = {feature.name for feature in scene.now}
    curved = {feature.name for feature in scene.now if feature.curved}
    best = max(
        (_steps(before, after, axis, at, names, curved) for at in candidates),
        key=lambda found: (found[0], found[1]),
    )
    return Section(axis, best[3], best[2])


def _same(x: float, y: float) -> Spot:
    return x, y


def _candidates(ground: Ground, axis: str) -> list[float]:
    """Centres of arcs, then middles between neighbouring corners, across the section."""
    other = 1 if axis == "X" else 0
    low = min(spot[other] for spot in ground.stock)
    high = max(spot[other] for spot in ground.stock)
    stops = sorted(
        {low, high, *(s[other] for ring in ground.rings for s in ring if low < s[other] < high)}
    )
    centers = {circle.center[other] for circle in (ground.circles or {}).values()}
    middles = [(a + b) / 2 for a, b in pairwise(stops)]
    return [*sorted(at for at in centers if low < at < high), *middles]


def _steps(
    before: Ground, after: Ground, axis: str, at: float, names: set[str], curved: set[str]
) -> tuple[int, float, tuple[Step, ...], float]:
    """How many features and round or slanted islands it crosses, how much it clears, its steps."""
    along = 0 if axis == "X" else 1
    stops = {spot[along] for spot in after.stock}
    low, high = min(stops), max(stops)
    for ring in after.rings:
        for a, b in sides(ring):
            if (a[1 - along] > at) != (b[1 - along] > at):
                circle = (after.circles or {}).get((a, b))
                stop = crossing(a, b, circle, along, at)
                if low < stop < high:
                    stops.add(stop)
    ordered = sorted(stops)
    steps: list[Step] = []
    crossed: set[object] = set()
    cleared = 0.0
    for first, last in pairwise(ordered):
        middle = (first + last) / 2
        spot = (middle, at) if axis == "X" else (at, middle)
        old, new = before.height(spot), after.height(spot)
        if old is None or new is None:
            continue
        steps.append(Step(first, last, old, new, _owner(after, spot, new)))
        crossed |= {item.name for item in after.cleared if item.name in names and item.covers(spot)}
        for item in after.cleared:
            if item.name in curved:
                crossed |= {keep for keep in item.keeps if inside(spot, keep)}
        cleared += (last - first) * (old - new)
    return len(crossed), round(cleared, 6), tuple(steps), at


def _owner(ground: Ground, spot: Spot, height: float) -> str:
    """The feature whose floor stands at a point at that height."""
    mine = (item.name for item in ground.cleared if item.floor == height and item.covers(spot))
    return next(mine, "")


def draw_elevation(canvas: Canvas, scene: Scene, frame: Frame) -> Section:
    """Draw the section beside or below the plan; returns it for its levels."""
    section = section_of(scene, frame)
    spot = placer(scene, frame)
    floor = frame.floor_z
    solid: list[Outline] = []
    for step in section.steps:
        if step.before - step.after > 1e-9:
            quad = _quad(spot, step.low, step.high, max(step.after, floor), step.before)
            canvas.put(Fill((quad,), TONE), TONES)
            canvas.put(Stroke(quad, NARROW, dashes=LONG_DASH_DOUBLE_DOT, closed=True))
        if step.after > floor + 1e-9:
            solid.append(_quad(spot, step.low, step.high, floor, step.after))
    _hatch_all(canvas, solid)
    _beyond(canvas, scene, section, spot, floor)
    _profile(canvas, scene, section, spot, floor)
    draw_feet(canvas, scene, section, spot, floor)
    return section


def _beyond(canvas: Canvas, scene: Scene, section: Section, spot: Place, floor: float) -> None:
    """Round and slanted shapes that the section misses: seen in the open, hidden in metal."""
    for feature in scene.now:
        if not feature.curved:
            continue
        area, keep = loops_of(feature)
        for loops, top, dashes in (
            (area, scene.job.stock.top, DASHED_NARROW),
            (keep, scene.job.stock.top, ()),
        ):
            for loop in loops:
                low, high, crossed = _silhouette(loop, section)
                if not crossed:
                    for at in (low, high):
                        ends = spot(at, max(feature.floor, floor)), spot(at, top)
                        canvas.rule(line(*ends, NARROW, dashes), wide=False)


def _silhouette(loop: Loop, section: Section) -> tuple[float, float, bool]:
    """Lowest and highest coordinate of a loop along a section; whether that runs through it."""
    along, across = ("x", "y") if section.axis == "X" else ("y", "x")
    places = [getattr(point, along) for point in reach_of(loop)]
    depths = [getattr(point, across) for point in reach_of(loop)]
    first, last = section.steps[0].low, section.steps[-1].high
    low, high = max(min(places), first), min(max(places), last)
    return low, high, min(depths) < section.at < max(depths) or low >= high


def placer(scene: Scene, frame: Frame) -> Place:
    """Paper point of (coordinate along the section, Z) in the elevation."""
    box = frame.elevation
    mm = scene.mm * frame.view.scale
    low = frame.floor_z
    top = scene.job.stock.raw_top

    def below(along: float, z: float) -> Spot:
        return frame.view.across(along), box.bottom - (z - low) * mm

    def beside(along: float, z: float) -> Spot:
        # third angle turns the top of a right-hand view to the plan, first angle its bottom
        x = box.left + (top - z) * mm if scene.third_angle else box.left + (z - low) * mm
        return x, frame.view.down(along)

    return below if frame.along == "X" else beside


def _quad(spot: Place, low: float, high: float, z_low: float, z_high: float) -> Outline:
    return spot(low, z_low), spot(high, z_low), spot(high, z_high), spot(low, z_high)


def _hatch_all(canvas: Canvas, solid: list[Outline]) -> None:
    if solid:

        def stays(point: Spot) -> bool:
            return any(inside(point, quad) for quad in solid)

        for a, b in hatched(solid, stays, HATCH_PITCH_MM):
            canvas.put(line(a, b, HATCH_WIDTH_MM), HATCHING)


def _profile(canvas: Canvas, scene: Scene, section: Section, spot: Place, floor: float) -> None:
    """The finished outline of the section, and where it is broken off below."""
    first, last = section.steps[0], section.steps[-1]
    points: list[Spot] = [spot(first.low, floor)]
    for step in section.steps:
        z = max(step.after, floor)
        points += [spot(step.low, z), spot(step.high, z)]
    points.append(spot(last.high, floor))
    canvas.rule(Stroke(tuple(points), WIDE))
    a, b = spot(first.low, floor), spot(last.high, floor)
    if floor > scene.job.stock.bottom + 1e-9:
        canvas.rule(zigzag(a, b), wide=False)
    else:
        canvas.rule(line(a, b, WIDE))


def draw_levels(canvas: Canvas, scene: Scene, frame: Frame, section: Section, room: Box) -> None:
    """Each height of the tip: a dashed line over the metal it clears, and its reading."""
    spot = placer(scene, frame)
    heights = sorted({z for run in scene.runs for z in run.levels}, reverse=True)
    cleared = [step for step in section.steps if step.before - step.after > 1e-9]
    if not cleared:
        return
    for z in heights:
        for step in cleared:
            if step.after - 1e-9 <= z < step.before:
                canvas.put(line(spot(step.low, z), spot(step.high, z), NARROW, DASHED_NARROW))
        text = f"Z {printed(scene.style.at(z), scene.job.inch)}"
        owner = next((step for step in cleared if step.after - 1e-9 <= z), cleared[0])
        half = width_of(text, SMALL) / 2 + 2.0
        spots: list[Spot] = []
        for share in (0.5, 0.3, 0.7):
            x, y = spot(owner.low + (owner.high - owner.low) * share, z)
            spots += [(x, y - SMALL / 2 - 1.0), (x, y + SMALL / 2 + 1.2)]
            spots += [(x - half, y), (x + half, y)] if frame.along == "Y" else []
        target = spot((owner.low + owner.high) / 2, z)
        place(canvas, room, text, spots, target, SMALL, dot=False)
    name_feet(canvas, scene, frame, section, spot, room)
