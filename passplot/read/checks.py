"""Checks across the tables of a job: does each feature take metal, do the numbers go together."""

from passplot.read.block import SAME, Block
from passplot.read.cells import Area, Interval, area_of, common, minus, size, strips, union
from passplot.read.features import Draft
from passplot.read.form import apart, whole
from passplot.read.tables import Table
from passplot.records.job import Finish, Job
from passplot.records.shapes import Loop


def check_features(drafts: tuple[Draft, ...], block: Block) -> None:
    """Note islands outside their pocket and features that take nothing from the stock.

    A feature takes nothing where its area holds no stock that it does not keep, or where the
    features before it have cleared all of that as deep already. Bosses clear round each other,
    so one is not held against another.
    """
    for draft in drafts:
        _check_islands(draft)
    plain = [
        draft
        for draft in drafts
        if draft.feature.area and all(loop.rectilinear for loop in _loops(draft))
    ]
    frame = whole(block)
    rows = strips([frame, *(loop for draft in plain for loop in _loops(draft))])
    stock = area_of(frame, rows)
    cleared = [_cleared(draft, stock, rows) for draft in plain]
    for number, draft in enumerate(plain):
        key = _shape_key(draft.table)
        left = cleared[number]
        if not size(left, rows, SAME):
            draft.table.fault(
                key,
                f'"{draft.feature.name}" takes no metal',
                "part of its area has to be stock that it does not keep",
            )
            continue
        before = [
            cleared[i]
            for i, other in enumerate(plain[:number])
            if _as_deep(other, draft) and {other.feature.kind, draft.feature.kind} != {"boss"}
        ]
        if before and not size(minus(left, union(before, rows)), rows, SAME):
            draft.table.fault(
                key,
                f'"{draft.feature.name}" takes no metal',
                "the features before it have taken all of it",
            )


def _loops(draft: Draft) -> tuple[Loop, ...]:
    return (*draft.feature.area, *draft.feature.keep)


def _cleared(draft: Draft, stock: Area, rows: list[Interval]) -> Area:
    """The stock a feature clears, seen from above."""
    area = union([area_of(loop, rows) for loop in draft.feature.area], rows)
    keep = union([area_of(loop, rows) for loop in draft.feature.keep], rows)
    return minus(common(area, stock), keep)


def _as_deep(other: Draft, draft: Draft) -> bool:
    """Whether ``other`` reaches the floor of ``draft``; the metal a face takes lies above all."""
    return draft.feature.kind != "face" and other.feature.floor <= draft.feature.floor + SAME


def _check_islands(draft: Draft) -> None:
    if draft.feature.kind != "pocket":
        return
    (pocket,) = draft.feature.area
    for index, island in enumerate(draft.form.keep):
        if island.rectilinear:
            rows = strips([pocket, island])
            inside = common(area_of(pocket, rows), area_of(island, rows))
            outside = not size(inside, rows, SAME)
        else:
            outside = apart(pocket, island)
        if outside:
            draft.table.source.fault(
                (*draft.table.place, "islands", index),
                f'island {index + 1} of "{draft.feature.name}" is wholly outside its pocket',
                "an island stands in the pocket",
            )


def _shape_key(table: Table) -> str:
    return next((key for key in ("x", "points", "width", "shape") if key in table), "kind")


def check_finish(top: Table, finish: Finish, block: Block, drafts: tuple[Draft, ...]) -> None:
    """Note stock left on walls or floors that there is no room for."""
    side = min(length.nominal for length in block.stock.size[:2])
    if finish.wall is not None and finish.wall >= side / 2 - SAME:
        top.source.fault(
            ("finish", "wall"),
            f"{finish.wall:.6g} is half the stock's side of {side:.6g} or more",
            "leave less on the walls",
        )
    depths = [draft.feature.depth for draft in drafts if draft.feature.depth.nominal > 0]
    least = min(depths, key=lambda depth: depth.nominal, default=None)
    if finish.floor and least is not None and finish.floor >= least.nominal - SAME:
        top.source.fault(
            ("finish", "floor"),
            f"{finish.floor:.6g} is the depth of {least.nominal:.6g} or more",
            "leave less on the floors",
        )


def used_cutters(job: Job) -> tuple[str, ...]:
    """Ids that the job or a feature names, each once."""
    named = (*job.cutters, *(name for feature in job.features for name in feature.cutters))
    return tuple(dict.fromkeys(named))


def check_width_of_cut(top: Table, job: Job) -> None:
    """Note a width of cut above the largest cutter used; any of the crib where one is chosen."""
    used = used_cutters(job)
    chosen = not job.cutters and any(not feature.cutters for feature in job.features)
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
