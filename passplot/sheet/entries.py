"""How the cutter gets into the metal: holes to drill first, plunges before the passes of a row."""

from collections.abc import Sequence

from passplot.records.plan import PLUNGE, EntryHole, Move, Pass
from passplot.sheet.groups import Row, Run
from passplot.sheet.numbers import printed
from passplot.sheet.scene import Scene
from passplot.sheet.way_back import moves_before

_MOST_HOLES = 10
"""Entry holes listed in front of a run; its rows say where each of them is."""


def plunged_in(scene: Scene, each: Pass) -> bool:
    """Whether a pass begins with a plunge: the sentence on it says where."""
    return bool(plunges_before(scene, each))


def plunges_before(scene: Scene, each: Pass) -> list[Move]:
    """The plunges straight before a pass."""
    return [move for move in moves_before(scene.plan, each) if move.move == PLUNGE]


def entries_of(scene: Scene, run: Run) -> tuple[str, ...]:
    """What to drill before a run, holes of one size and depth together."""
    alike: dict[tuple[float, float], list[EntryHole]] = {}
    for hole in _holes_before(scene, run):
        alike.setdefault((hole.diameter, hole.point_z), []).append(hole)
    return tuple(_drilling(scene, holes) for holes in alike.values())


def plunge_texts(scene: Scene, row: Row) -> tuple[str, ...]:
    """How the cutter gets into the metal before the passes of a row."""
    style, inch = scene.style, scene.job.inch
    texts: list[str] = []
    for each in row.passes:
        plunges = plunges_before(scene, each)
        if not plunges:
            continue
        x, y = printed(style.at(each.start.x), inch), printed(style.at(each.start.y), inch)
        depths = ", ".join(printed(style.at(move.z), inch) for move in plunges)
        drill = next((move.drill_diameter for move in plunges if move.drill_diameter), None)
        which = f"{each.number}: plunge" if len(row.passes) > 1 else "Plunge"
        if drill is not None:
            hole = printed(style.drill(drill), inch)
            texts.append(f"{which} in the Ø {hole} hole at X {x} Y {y} to Z {depths}:")
        else:
            texts.append(f"{which} X {x} Y {y} to Z {depths}:")
    return tuple(texts)


def _holes_before(scene: Scene, run: Run) -> list[EntryHole]:
    """The holes to drill before a run: those of its feature, where its first pass is here."""
    first = min(each.number for each in scene.plan.passes if each.feature == run.feature)
    if not any(each.number == first for each in run.passes):
        return []
    return [hole for hole in scene.plan.holes if hole.feature == run.feature]


def _drilling(scene: Scene, holes: Sequence[EntryHole]) -> str:
    style, inch = scene.style, scene.job.inch
    size = printed(style.drill(holes[0].diameter), inch)
    point = f"point to Z {printed(style.at(holes[0].point_z), inch)}"
    places = [
        f"X {printed(style.at(hole.at.x), inch)} Y {printed(style.at(hole.at.y), inch)}"
        for hole in holes[:_MOST_HOLES]
    ]
    if len(holes) == 1:
        return f"First drill Ø {size} at {places[0]}, {point}."
    more = "; and where passes plunge into a hole" if len(holes) > _MOST_HOLES else ""
    return f"First drill {len(holes)} holes Ø {size}, {point}: {'; '.join(places)}{more}."
