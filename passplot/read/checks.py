"""Checks across the tables of a job: does each feature take metal, do the numbers go together."""

from passplot.read.block import SAME, Block
from passplot.read.features import Draft
from passplot.read.form import whole
from passplot.read.metal import Cleared, anything_left
from passplot.read.tables import Table
from passplot.records.job import Finish, Job


def check_features(drafts: tuple[Draft, ...], block: Block) -> None:
    """Note islands outside their pocket and features that take nothing from the stock.

    A feature takes nothing where its area holds no stock that it does not keep, or where the
    features before it have cleared all of that as deep already. Bosses clear round each other,
    so one is not held against another.
    """
    stock = (whole(block).loop,)
    for number, draft in enumerate(drafts):
        _check_islands(draft)
        if not draft.feature.area:
            continue
        area, keep = _loops(draft)
        before = [
            _loops(other)
            for other in drafts[:number]
            if _as_deep(other, draft) and {other.feature.kind, draft.feature.kind} != {"boss"}
        ]
        if anything_left((area, stock), [(keep, ()), *before]):
            continue
        empty = not before or not anything_left((area, stock), [(keep, ())])
        draft.table.fault(
            _shape_key(draft.table),
            f'"{draft.feature.name}" takes no metal',
            "part of its area has to be stock that it does not keep"
            if empty
            else "the features before it have taken all of it",
        )


def _loops(draft: Draft) -> Cleared:
    """What the feature clears and keeps, inside corners rounded."""
    return draft.feature.rounded or (draft.feature.area, draft.feature.keep)


def _as_deep(other: Draft, draft: Draft) -> bool:
    """Whether ``other`` reaches the floor of ``draft``; the metal a face takes lies above all."""
    return draft.feature.kind != "face" and other.feature.floor <= draft.feature.floor + SAME


def _check_islands(draft: Draft) -> None:
    if draft.feature.kind != "pocket":
        return
    area = _loops(draft)[0]
    for index, island in enumerate(draft.form.keep):
        if not anything_left((area, (island,)), ()):
            draft.table.source.fault(
                (*draft.table.place, "islands", index),
                f'island {index + 1} of "{draft.feature.name}" is wholly outside its pocket',
                "an island stands in the pocket",
            )


def _shape_key(table: Table) -> str:
    return next((key for key in _SHAPE_KEYS if key in table), "kind")


_SHAPE_KEYS = ("x", "points", "diameter", "width", "shaft", "shape")


def check_finish(top: Table, finish: Finish, block: Block, drafts: tuple[Draft, ...]) -> None:
    """Note stock left on walls or floors that there is no room for."""
    side = min(length.nominal for length in block.stock.size[:2])
    if finish.wall is not None and finish.wall >= side / 2 - SAME:
        top.source.fault(
            ("finish", "wall"),
            f"{finish.wall:.6g} is half the stock's side of {side:.6g} or more",
            "leave less on the walls",
        )
    depths = [draft.feature.depth for draft in drafts if draft.feature.area]
    least = min(depths, key=lambda depth: depth.nominal, default=None)
    if finish.floor and least is not None and finish.floor >= least.nominal - SAME:
        top.source.fault(
            ("finish", "floor"),
            f"{finish.floor:.6g} is the depth of {least.nominal:.6g} or more",
            "leave less on the floors",
        )


def used_cutters(job: Job) -> tuple[str, ...]:
    """Ids that the job or a feature that is milled names, each once."""
    milled = [feature for feature in job.features if feature.kind != "holes"]
    named = (*job.cutters, *(name for feature in milled for name in feature.cutters))
    return tuple(dict.fromkeys(named))


def check_width_of_cut(top: Table, job: Job) -> None:
    """Note a width of cut above the largest cutter used; any of the crib where one is chosen."""
    used = used_cutters(job)
    milled = [feature for feature in job.features if feature.kind != "holes"]
    chosen = not job.cutters and any(not feature.cutters for feature in milled)
    largest = max(
        (cutter for cutter in job.shop.cutters if cutter.id in used or chosen),
        key=lambda cutter: cutter.cutting_diameter,
        default=None,
    )
    width = job.limits.width_of_cut
    if width is None or largest is None or width <= largest.cutting_diameter + SAME:
        return
    top.source.fault(
        ("limits", "width_of_cut"),
        f"{width:.6g} is more than the largest cutter used, "
        f'"{largest.id}" of {largest.cutting_diameter:.6g}',
        f"it is {largest.cutting_diameter:.6g} at most",
    )
