"""Jobs put together from records, without files."""

from passplot.records.job import Feature, Finish, Job, KeepOut, Limits, Setup, Stock
from passplot.records.plan import CutterUse
from passplot.records.shapes import Loop
from passplot.records.shop import Cutter, Machine, Shop
from passplot.records.sizes import exact

HALF_INCH = Cutter(
    "half", "square end", "carbide", "right", 0.5, None, 4, 1.25, 1.5, True, 0.0, 20.0
)


DEPTHS = ((1.0, 0.25), (1.5, 0.15), (2.0, 0.10))
"""(depth, width), both in diameters."""


class Rules:
    """Plain rules: widths by depth in a few steps, no tables."""

    def __init__(self, drilled: bool = True) -> None:
        self.drilled = drilled

    def use(self, job: Job, cutter: Cutter) -> CutterUse:
        wall = 0.030 if job.finish.wall is None else job.finish.wall
        floor = 0.010 if job.finish.floor is None else job.finish.floor
        level = self.level(job, cutter)
        return CutterUse(
            cutter,
            speed_rpm=1000.0,
            cutting_speed=130.0,
            feed=10.0,
            wall=wall,
            floor=floor,
            width_limit=self.width(job, cutter, level),
            depth_limit=level,
            slot_depth_limit=0.5 * cutter.cutting_diameter,
        )

    def level(self, job: Job, cutter: Cutter) -> float:
        limits, diameter = job.limits, cutter.cutting_diameter
        if limits.depth_of_cut is not None:
            return min(limits.depth_of_cut, cutter.flute_length)
        width = limits.width_of_cut or 0.0
        allowed = [deep for deep, wide in DEPTHS if width <= wide * diameter + 1e-9]
        return min(max(allowed, default=1.0) * diameter, cutter.flute_length)

    def width(self, job: Job, cutter: Cutter, level: float) -> float:
        diameter = cutter.cutting_diameter
        if job.limits.width_of_cut is not None:
            return min(job.limits.width_of_cut, diameter)
        return next((w for d, w in DEPTHS if level <= d * diameter + 1e-9), 0.10) * diameter

    def face_width(self, job: Job, cutter: Cutter, level: float, widest: float) -> float:
        return min(job.limits.width_of_cut or widest, widest)

    def drilled_entry(self, job: Job) -> bool:
        return self.drilled


def feature(
    name: str, kind: str, depth: float, area: list[Loop], keep: list[Loop] | None = None
) -> Feature:
    return Feature(
        name, kind, exact(depth), -depth, tuple(area), tuple(keep or []), (), None, (), "setup 1", 1
    )


def job(
    *features: Feature,
    size: tuple[float, float, float] = (3.0, 2.0, 1.0),
    cutter: Cutter = HALF_INCH,
    width: float | None = None,
    depth: float | None = None,
    finish: Finish | None = None,
    climb: bool = False,
    keep_outs: tuple[KeepOut, ...] = (),
) -> Job:
    x, y, z = size
    machine = Machine(
        "mill", (100.0, 5000.0), True, 2.0, (30.0, 12.0, 16.0), True, 0.2, "dro", 0.0005, ()
    )
    return Job(
        file="job.toml",
        title="block",
        part_number="",
        quantity=1,
        units="inch",
        shop=Shop("shop.toml", machine, (cutter,)),
        cutters=(cutter.id,),
        climb=climb,
        general_tolerance="",
        stock=Stock(
            (exact(x), exact(y), exact(z)), "steel", "left front top", (0, x), (0, y), -z, 0, 0
        ),
        finish=finish or Finish(None, None, 2, 1, 0.004),
        limits=Limits(width, depth, None, None, 0.05, 0.1),
        features=features,
        keep_outs=keep_outs,
        setup=Setup("setup 1"),
        callouts=(),
    )
