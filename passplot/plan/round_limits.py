"""What the limits of a written diameter leave for scallops and for rounding to the readout."""

from passplot.errors import CannotCut
from passplot.plan.grid import Grid
from passplot.records.job import Feature


def finish_cusp(feature: Feature, cusp: float, grid: Grid) -> float:
    """Greatest scallop on a feature's finished wall: the job's, or less where limits ask for it.

    Scallops and settings rounded away from the part leave metal on: a bore comes out smaller by
    twice that, a boss larger. Both stay inside the written limits, aimed at from their middle.

    Raises
    ------
    CannotCut
        Where rounding to the readout alone takes the diameter outside its limits.
    """
    size = feature.diameter
    if size is None or not size.toleranced or feature.rotary:
        return cusp
    off = size.middle - size.low if feature.kind == "bore" else size.high - size.middle
    room = off / 2 - grid.resolution
    if room <= 0:
        raise CannotCut(
            f"{feature.name}: stepped off by a readout of {grid.resolution:g}, the diameter "
            f"{size.text} is not to be held; limits more than {4 * grid.resolution:g} apart would "
            "do, or a boring head"
        )
    return min(cusp, room)
