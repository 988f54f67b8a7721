"""One row of the moves table, as every part of planning writes it."""

from passplot.frozen import dataclass
from passplot.records.job import Job
from passplot.records.plan import Move

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Owner:
    """What a row belongs to."""

    feature: str
    cutter: str
    stage: str


def row_of(
    job: Job, owner: Owner, row: int, move: str, at: Spot, z: float, axis: str, step: float
) -> Move:
    """A row that ends at ``at`` and ``z`` after moving ``axis`` by ``step``."""
    dial = job.shop.machine.dial(axis) if axis else None
    return Move(
        row=row,
        setup=job.setup.name,
        feature=owner.feature,
        cutter=owner.cutter,
        stage=owner.stage,
        move=move,
        x=at[0],
        y=at[1],
        z=z,
        axis=axis,
        crank=dial.crank(step, axis) if dial else "",
    )
