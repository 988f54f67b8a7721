"""Hand-made plans for the sheet's tests: a two-shoulder block and a closed pocket."""

from dataclasses import replace
from functools import cache
from pathlib import Path

from passplot.flow import plan_job
from passplot.read import read_job
from passplot.records.job import Feature, Finish, Job, Limits, Setup, Stock
from passplot.records.plan import (
    CUT,
    FINISH,
    HOLES,
    PLUNGE,
    POSITION,
    RETRACT,
    RETURN,
    ROUGH,
    CutterUse,
    EntryHole,
    FeatureStock,
    Move,
    Pass,
    Plan,
    UncutCorner,
)
from passplot.records.proof import Proof, Spread
from passplot.records.shapes import Point, rectangle
from passplot.records.sheet import Sheet
from passplot.records.shop import Cutter, Dial, Machine, Shop
from passplot.records.sizes import exact
from passplot.sheet import lay_out

DIALS_INCH = (
    ("X", Dial(0.2, 0.001, 0.008, "table left", "right end")),
    ("Y", Dial(0.2, 0.001, 0.006, "table in", "front")),
    ("Z", Dial(0.1, 0.001, 0.004, "knee up", "knee crank")),
)
CARBIDE = Cutter("C50", "square end", "carbide", "right", 0.5, None, 4, 1.25, 1.5, True, 0.0, 62.0)
REGROUND = Cutter(
    "H50", "square end", "high-speed steel", "right", 0.5, 0.4975, 2, 1.0, 1.25, True, 0.0, 19.0
)
KNEE_MILL = Machine(
    "Knee mill no. 3",
    (75, 120, 190, 300, 480, 760, 1200, 1900, 2900),
    False,
    2.0,
    (28.0, 12.0, 16.0),
    True,
    0.2,
    "dro",
    0.0005,
    DIALS_INCH,
)
SHOP = Shop("knee-mill-inch.toml", KNEE_MILL, (CARBIDE, REGROUND))


class Hands:
    """Writes the rows of a plan, keeping count of rows and passes."""

    def __init__(self, cutter: str, feed: float) -> None:
        self.cutter, self.feed = cutter, feed
        self.rows: list[Move] = []
        self.passes: list[Pass] = []
        self.x = self.y = self.z = 0.0

    def start(self, feature: str, stage: str, x: float, y: float, z: float) -> None:
        self.x, self.y, self.z = x, y, z
        self._row(feature, stage, POSITION, "")

    def go(self, feature: str, stage: str, move: str, axis: str, to: float, **more: object) -> None:
        before = getattr(self, axis.lower())
        setattr(self, axis.lower(), to)
        dial = KNEE_MILL.dial(axis)
        crank = dial.crank(to - before, axis) if dial else ""
        self._row(feature, stage, move, axis, crank=crank, **more)

    def cut(
        self,
        feature: str,
        stage: str,
        axis: str,
        to: float,
        *,
        purpose: str = "width",
        width: float = 0.1,
        depth: float = 0.25,
        both: float = 0.0,
        clear: tuple[bool, bool] = (True, True),
        level: tuple[int, int] = (1, 1),
    ) -> None:
        start = Point(self.x, self.y)
        number = len(self.passes) + 1
        self.go(
            feature,
            stage,
            CUT,
            axis,
            to,
            both_ways=both,
            width_of_cut=width,
            depth_of_cut=depth,
            feed=self.feed,
            number=number,
        )
        end = Point(self.x, self.y)
        self.passes.append(
            Pass(
                number,
                feature,
                self.cutter,
                stage,
                purpose,
                start,
                end,
                *clear,
                self.z,
                *level,
                width,
                depth,
                both,
                len(self.rows),
            )
        )

    def _row(self, feature: str, stage: str, move: str, axis: str, **more: object) -> None:
        self.rows.append(
            Move(
                len(self.rows) + 1,
                "setup 1",
                feature,
                self.cutter,
                stage,
                move,
                self.x,
                self.y,
                self.z,
                axis,
                **more,  # type: ignore[arg-type]
            )
        )


def job_of(features: tuple[Feature, ...], size: tuple[float, float, float], title: str) -> Job:
    x, y, z = size
    stock = Stock(
        (exact(x), exact(y), exact(z)),
        "1018 steel",
        "left front top",
        (0.0, x),
        (0.0, y),
        -z,
        0.0,
        0.0,
    )
    return Job(
        file="example.toml",
        title=title,
        part_number="TW-101",
        quantity=4,
        units="inch",
        shop=SHOP,
        cutters=("C50",),
        climb=False,
        general_tolerance=".XX ±.010  .XXX ±.005",
        stock=stock,
        finish=Finish(0.03, 0.01, 2, 1, 0.004),
        limits=Limits(None, None, None, None, 0.05, 0.1),
        features=features,
        keep_outs=(),
        setup=Setup("vise, top up", "vise", 1.75, 4.0, (1.25,)),
        callouts=(),
    )


def feature_of(
    name: str, kind: str, depth: float, x: tuple[float, float], y: tuple[float, float]
) -> Feature:
    return Feature(
        name, kind, exact(depth), -depth, (rectangle(*x, *y),), (), (), None, (), "setup 1", 1
    )


def use_of(cutter: Cutter) -> CutterUse:
    return CutterUse(cutter, 1200, 157.0, 10.08, 0.03, 0.01, 0.125, 0.5, 0.25, ("speeds table",))


def proof_of(plan: Plan) -> Proof:
    length = sum(each.length for each in plan.passes)
    return Proof(
        (),
        0.0,
        0.0,
        Spread(0.03, 0.03),
        Spread(0.01, 0.01),
        0.985,
        0.4,
        0.0,
        length,
        0.125,
        0.5,
        0.005,
        len(plan.moves),
    )


def two_shoulders() -> Plan:
    """Two shoulders of a block, roughed in six passes each, then finished."""
    features = (
        feature_of("left shoulder", "step", 0.5, (-1.0, 0.875), (-1.0, 3.0)),
        feature_of("right shoulder", "step", 0.5, (2.125, 4.0), (-1.0, 3.0)),
    )
    job = job_of(features, (3.0, 2.0, 1.25), "Guide block")
    hands = Hands("C50", 10.0)
    hands.start("left shoulder", ROUGH, -0.3, 2.3, 0.1)
    for name, left in (("left shoulder", True), ("right shoulder", False)):
        xs = (
            [-0.13 + 0.125 * step for step in range(6)]
            if left
            else [3.13 - 0.125 * k for k in range(6)]
        )
        xs[-1] = 0.595 if left else 2.405
        _shoulder(hands, name, xs, -0.49, left, ROUGH, (0.125, 0.49))
    for name, left in (("left shoulder", True), ("right shoulder", False)):
        xs = [0.595, 0.61, 0.625] if left else [2.405, 2.39, 2.375]
        _shoulder(hands, name, xs, -0.5, left, FINISH, (0.015, 0.5))
    return _plan(job, (use_of(CARBIDE),), hands, (), ())


def _shoulder(
    hands: Hands,
    name: str,
    xs: list[float],
    z: float,
    left: bool,
    stage: str,
    cut: tuple[float, float],
) -> None:
    start, end = (2.3, -0.3) if left else (-0.3, 2.3)
    hands.go(name, stage, RETRACT, "Z", 0.1)
    hands.go(name, stage, POSITION, "Y", start)
    hands.go(name, stage, POSITION, "X", xs[0])
    hands.go(name, stage, POSITION, "Z", z)
    away = -0.05 if left else 0.05
    for index, x in enumerate(xs):
        if index:
            hands.go(name, stage, RETURN, "X", xs[index - 1] + away)
            hands.go(name, stage, RETURN, "Y", start)
            hands.go(name, stage, POSITION, "X", x)
        purpose = "width" if stage == ROUGH else ("floor" if index == 0 else "wall")
        hands.cut(name, stage, "Y", end, purpose=purpose, width=cut[0], depth=cut[1])


def closed_pocket() -> Plan:
    """A closed pocket, drilled, roughed at two levels in three rings, then finished."""
    feature = feature_of("pocket", "pocket", 0.5, (0.5, 3.5), (0.5, 2.5))
    job = job_of((feature,), (4.0, 3.0, 1.0), "Switch cover")
    hands = Hands("H50", 6.0)
    hands.start("pocket", HOLES, 1.5, 1.5, 0.1)
    hands.go("pocket", HOLES, PLUNGE, "Z", -0.37, drill_diameter=0.4375)
    hands.go("pocket", HOLES, RETRACT, "Z", 0.1)
    for level, z in ((1, -0.25), (2, -0.49)):
        if level == 2:
            hands.go("pocket", ROUGH, RETRACT, "Z", 0.1)
            hands.go("pocket", ROUGH, POSITION, "X", 1.5)
            hands.go("pocket", ROUGH, POSITION, "Y", 1.5)
        hands.go("pocket", ROUGH, PLUNGE, "Z", z, drill_diameter=0.4375)
        hands.cut(
            "pocket",
            ROUGH,
            "X",
            2.5,
            purpose="slot",
            width=0.4975,
            both=1.0,
            clear=(False, False),
            level=(level, 2),
        )
        for out in (0.25, 0.5, 0.72):
            _ring(hands, ROUGH, out, 0.25, (level, 2))
    hands.go("pocket", FINISH, RETRACT, "Z", -0.4)
    hands.go("pocket", FINISH, POSITION, "Z", -0.5)
    for out in (0.73, 0.7425, 0.75):
        _ring(hands, FINISH, out, 0.01, (1, 1))
    corners = tuple(
        UncutCorner("pocket", Point(x, y), 0.24875, 0.0133) for x in (0.5, 3.5) for y in (0.5, 2.5)
    )
    hole = EntryHole("pocket", Point(1.5, 1.5), 0.4375, -0.37)
    return _plan(job, (use_of(REGROUND),), hands, corners, (hole,))


def _ring(hands: Hands, stage: str, out: float, width: float, level: tuple[int, int]) -> None:
    x_low, x_high, y_low, y_high = 1.5 - out, 2.5 + out, 1.5 - out, 1.5 + out
    purpose = "width" if stage == ROUGH else "wall"
    hands.cut(
        "pocket",
        stage,
        "Y",
        y_high,
        purpose="slot",
        width=width,
        both=width,
        clear=(False, False),
        level=level,
    )
    hands.cut(
        "pocket",
        stage,
        "X",
        x_high,
        purpose=purpose,
        width=width,
        both=0.1,
        clear=(False, False),
        level=level,
    )
    hands.cut(
        "pocket",
        stage,
        "Y",
        y_low,
        purpose=purpose,
        width=width,
        both=0.1,
        clear=(False, False),
        level=level,
    )
    hands.cut(
        "pocket",
        stage,
        "X",
        x_low,
        purpose=purpose,
        width=width,
        both=0.1,
        clear=(False, False),
        level=level,
    )
    hands.cut(
        "pocket",
        stage,
        "Y",
        y_high,
        purpose=purpose,
        width=width,
        clear=(False, False),
        level=level,
    )


def _plan(
    job: Job,
    cutters: tuple[CutterUse, ...],
    hands: Hands,
    corners: tuple[UncutCorner, ...],
    holes: tuple[EntryHole, ...],
) -> Plan:
    return Plan(
        job,
        cutters,
        tuple(hands.rows),
        tuple(hands.passes),
        tuple(FeatureStock(feature.name, 0.03, 0.01) for feature in job.features),
        corners,
        holes,
        0.1,
        0.05,
        20.0,
        sum(corner.area for corner in corners),
        ("Inside corners keep the cutter's radius, .249.",) if corners else (),
    )


def with_title(plan: Plan, title: str) -> Plan:
    """The same plan under another title."""
    return replace(plan, job=replace(plan.job, title=title))


EXAMPLES = Path(__file__).parents[2] / "shop_examples"
JOBS = Path(__file__).parent / "jobs"


@cache
def example(name: str) -> Plan:
    """The plan of one of the example jobs, or of those made for these tests."""
    own = JOBS / f"{name}.toml"
    return plan_job(read_job(own if own.exists() else EXAMPLES / f"{name}.toml"))


MADE = {"two shoulders": two_shoulders, "closed pocket": closed_pocket}


@cache
def plan_named(name: str) -> Plan:
    """A hand-made plan or that of an example job."""
    return MADE[name]() if name in MADE else example(name)


@cache
def sheet_of(name: str, paper: str = "a4", portrait: bool = False) -> Sheet:
    """A plan laid out."""
    plan = plan_named(name)
    return lay_out(plan, proof_of(plan), paper, portrait=portrait)
