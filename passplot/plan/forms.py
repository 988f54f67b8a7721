"""What the form of a cutter is for: who may work a feature, who roughs it, who finishes it.

Common practice, no source: a roughing cutter leaves a ribbed wall for another to finish, a face
mill makes no wall.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from passplot.frozen import dataclass
from passplot.plan.cells import Cells
from passplot.plan.reach import Reach, reach_of
from passplot.plan.room import room_for_wall
from passplot.plan.words import size_words
from passplot.plan.zones import SLACK
from passplot.records.job import Job
from passplot.records.plan import CutterUse
from passplot.records.shop import FACE_MILL, ROUGHING, Cutter

if TYPE_CHECKING:
    from passplot.plan.ground import Ground


def working(job: Job, index: int, cutters: tuple[Cutter, ...]) -> tuple[Cutter, ...]:
    """The cutters listed for a feature that take part in it.

    A face mill is for faces; it is passed over elsewhere where any other cutter is listed.
    """
    if job.features[index].kind == "face":
        return cutters
    return tuple(cutter for cutter in cutters if cutter.form != FACE_MILL) or cutters


def finishes(cutter: Cutter, cutters: tuple[Cutter, ...]) -> bool:
    """Whether a cutter takes finish cuts of a feature that all these work.

    A roughing cutter leaves them to the others. Where there is none it makes no wall (see
    ``form_faults``); its end makes a floor.
    """
    return cutter.form != ROUGHING or all(each.form == ROUGHING for each in cutters)


def form_faults(job: Job, index: int, mine: tuple[Cutter, ...]) -> list[str]:
    """Cutters whose form is not for the feature, and what would do."""
    feature = job.features[index]
    faults = [
        f"{feature.name}: {cutter.id} is a face mill: it is for faces and makes no wall; "
        "an end mill would do"
        for cutter in mine
        if cutter.form == FACE_MILL and feature.kind != "face"
    ]
    finishing = [place for place, cutter in enumerate(mine) if cutter.form != ROUGHING]
    ribbed = bool(mine) and mine[-1].form == ROUGHING
    if ribbed and (finishing or (job.finish.skims and feature.kind != "face")):
        faults.append(
            f"{feature.name}: {mine[-1].id} is a roughing cutter: it leaves a ribbed wall; name "
            "one that finishes after it"
            + ("" if finishing else ", or leave the wall stock on with skims = 0")
        )
    return faults


@dataclass(frozen=True, slots=True)
class Shape:
    """Walls of a job, straight and true, as room for a cutter is looked for between them."""

    job: Job
    cells: Cells
    ground: Ground | None
    thin: float

    def reach(self, index: int, radii: tuple[float, ...]) -> Reach:
        """What cutters of the given radii, one after the other, leave of feature ``index``."""
        if self.ground is None:
            return reach_of(self.cells, self.job, index, radii, self.thin)
        from passplot.plan.ground_reach import ground_reach  # noqa: PLC0415 - for few jobs, and slow

        return ground_reach(self.ground, self.job, index, radii, self.thin)


def ribbed_corners(shape: Shape, index: int, mine: tuple[Cutter, ...]) -> list[str]:
    """Roughing cutters that get into corners which none that finishes after them gets into."""
    last = [cutter for cutter in mine if cutter.form != ROUGHING]
    if not last:
        return []
    smallest = min(last, key=lambda cutter: cutter.radius)
    feature = shape.job.features[index]
    return [
        f"{feature.name}: {cutter.id} roughs corners that {smallest.id} is too large to finish; "
        f"one of {size_words(cutter.cutting_diameter, shape.job)} diameter or less would do"
        for cutter in mine
        if cutter.form == ROUGHING
        and cutter.radius < smallest.radius - SLACK
        and _unswept(shape, index, cutter) < _unswept(shape, index, smallest) - shape.thin**2
    ]


def _unswept(shape: Shape, index: int, cutter: Cutter) -> float:
    """Plan-view area of a feature that a cutter alone cannot sweep."""
    return shape.reach(index, (cutter.radius,)).area


def with_room(
    shape: Shape, index: int, mine: tuple[Cutter, ...], uses: dict[str, CutterUse]
) -> tuple[Cutter, ...]:
    """The cutters of a feature without roughing cutters that find no room to leave their stock.

    The ribs of one that has just room to pass would stay on the walls.
    """
    others = any(cutter.form != ROUGHING for cutter in mine)
    return tuple(
        cutter
        for cutter in mine
        if not (others and ribs_to_finish(shape.job, cutter))
        or _room(shape, index, cutter, uses[cutter.id].wall) >= uses[cutter.id].wall - SLACK
    )


def ribs_to_finish(job: Job, cutter: Cutter) -> bool:
    """Whether a cutter must leave wall stock for its ribs to be finished off."""
    return cutter.form == ROUGHING and job.finish.skims > 0


def _room(shape: Shape, index: int, cutter: Cutter, wall: float) -> float:
    if shape.job.features[index].kind == "face":
        return wall
    return room_for_wall(shape.cells, shape.job, shape.ground, index, cutter.radius, wall)


def form_notes(
    job: Job,
    listed: tuple[tuple[Cutter, ...], ...],
    kept: tuple[tuple[Cutter, ...], ...],
    uses: dict[str, CutterUse],
) -> tuple[str, ...]:
    """What there is to say of roughing cutters: passed over, or leaving more than was asked for.

    ``uses`` are those of cutters whose ribs are to be finished off.
    """
    notes = [
        f"{feature.name}: too narrow for {cutter.id} to leave the "
        f"{size_words(uses[cutter.id].wall, job)} that its ribs want, {after[0].id} roughs it"
        for feature, before, after in zip(job.features, listed, kept, strict=True)
        for cutter in before
        if cutter.id in uses and cutter not in after
    ]
    left = dict.fromkeys(cutter.id for mine in kept for cutter in mine if cutter.id in uses)
    asked = (("walls", job.finish.wall), ("floors", job.finish.floor))
    for name in left:
        for where, wanted in asked:
            more = uses[name].wall if where == "walls" else uses[name].floor
            if wanted is not None and more > wanted + SLACK:
                notes.append(
                    f"{name} leaves {size_words(more, job)} on {where}, more than the "
                    f"{size_words(wanted, job)} asked for: a roughing cutter makes no finished one"
                )
    return tuple(notes)
