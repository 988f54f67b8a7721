"""The way back after a pass: as a path on the diagram and as one sentence above the table."""

from itertools import pairwise

from passplot.records.plan import CUT, PLUNGE, Move, Pass, Plan
from passplot.sheet.numbers import printed
from passplot.sheet.scene import Scene

_HAIR = 1e-6

Spot = tuple[float, float]


def moves_after(plan: Plan, each: Pass) -> tuple[Move, ...]:
    """The rows between a pass and the next cut; none after the last pass."""
    moves = plan.moves
    for index in range(each.row, len(moves)):
        if moves[index].move == CUT:
            return moves[each.row : index]
    return ()


def moves_before(plan: Plan, each: Pass) -> tuple[Move, ...]:
    """The rows between a pass and the cut before it."""
    moves = plan.moves
    end = first = min(each.row - 1, len(moves))
    while first and moves[first - 1].move != CUT:
        first -= 1
    return moves[first:end]


def first_way_back(scene: Scene) -> tuple[Pass, tuple[Move, ...]] | None:
    """The first pass of a scene with a way back to another of its feature, with its rows."""
    for each, following in pairwise(scene.passes):
        if each.feature != following.feature or following.number != each.number + 1:
            continue
        if each.turn is not None or following.turn is not None:  # its own sheet says how
            continue
        moves = moves_after(scene.plan, each)
        if len(moves) > 1 and all(move.move != PLUNGE for move in moves):
            return each, moves
    return None


def way_back_path(scene: Scene) -> list[Spot]:
    """The way back in plan view, from the end of the pass on; empty where there is none."""
    found = first_way_back(scene)
    if found is None:
        return []
    each, moves = found
    spots = [(each.end.x, each.end.y)]
    for move in moves:
        if (move.x, move.y) != spots[-1]:
            spots.append((move.x, move.y))
    return spots if len(spots) > 2 else []


def _alike_after(scene: Scene, axis: str, to: float) -> bool:
    """Whether every pass along an axis that has a way back goes back to the same place."""
    for each, following in pairwise(scene.passes):
        if each.feature != following.feature:
            continue
        moves = [move for move in moves_after(scene.plan, each) if move.axis == axis == each.axis]
        if moves and abs(getattr(moves[-1], axis.lower()) - to) > _HAIR:
            return False
    return True


def _to_plunges(scene: Scene) -> str:
    """How high to go over to a plunge that begins a pass elsewhere; empty where there is none."""
    heights = [
        move.z
        for each, following in pairwise(scene.passes)
        if following.number == each.number + 1 and following.start != each.end
        for move in moves_after(scene.plan, each)
    ]
    if not heights:
        return ""
    z = printed(scene.style.at(max(heights)), scene.job.inch)
    return f"; before a plunge raise to Z {z}"


def way_back_sentence(scene: Scene) -> str:
    """The way back in one sentence, in the order of the handwheels."""
    found = first_way_back(scene)
    if found is None:
        if len(scene.passes) < 2:
            return "Lock the set axis. Feed the other."
        return f"The next pass starts where this one ends{_to_plunges(scene)}."
    each, moves = found
    style, inch = scene.style, scene.job.inch
    at = {"X": each.end.x, "Y": each.end.y, "Z": each.z}
    parts: list[str] = []
    steps = [move for move, after in pairwise(moves) if move.axis != after.axis] + [moves[-1]]
    for move in steps[:-1] if steps[-1].axis != each.axis else steps:
        to = {"X": move.x, "Y": move.y, "Z": move.z}.get(move.axis)
        if to is None:
            continue
        if move.axis == "Z":
            verb = "raise" if to > at["Z"] else "lower"
            parts.append(f"{verb} to Z {printed(style.at(to), inch)}")
        elif move.axis == each.axis:
            same = _alike_after(scene, each.axis, to)
            where = printed(style.at(to), inch) if same else "where it came FROM"
            parts.append(f"{move.axis} back to {where}")
        else:
            off = printed(style.at(scene.plan.stand_off), inch)
            parts.append(f"{move.axis} off the wall by {off} or more")
        at[move.axis] = to
    return f"Way back: {', '.join(parts)}."
