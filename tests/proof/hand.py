"""Plans written by hand: a job from records, and moves tables built row by row."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from passplot.records.job import Feature, Finish, Job, Limits, Setup, Stock, WallLimit
from passplot.records.plan import CutterUse, FeatureStock, Plan
from passplot.records.proof import Proof
from passplot.records.shapes import Loop, rectangle
from passplot.records.shop import Cutter, Machine, Shop
from passplot.records.sizes import exact

HEADER = (
    *("row", "setup", "feature", "cutter", "stage", "move", "x", "y", "z", "axis", "both_ways"),
    *("width_of_cut", "depth_of_cut", "feed", "crank", "turns", "dial", "pass"),
    *("drill_diameter", "c"),
)
HALF = Cutter(
    id="half",
    form="square end",
    material="carbide",
    hand="right",
    diameter=0.5,
    actual=None,
    flutes=4,
    flute_length=1.25,
    stickout=1.5,
    center_cutting=True,
    corner_radius=0.0,
    price=None,
)


def machine(**changes: object) -> Machine:
    """A knee mill with a half-thousandth readout."""
    plain = Machine(
        name="bench mill",
        spindle_speeds=(500.0, 1000.0),
        stepless=False,
        power_hp=2.0,
        travel=None,
        clockwise=True,
        edge_finder=None,
        readout="dro",
        resolution=0.0005,
        dials=(),
    )
    return replace(plain, **changes)


def feature(
    name: str,
    kind: str,
    floor: float,
    area: tuple[Loop, ...],
    keep: tuple[Loop, ...] = (),
    limits: tuple[WallLimit, ...] = (),
    **changes: object,
) -> Feature:
    """A feature of the print; its depth is taken from a top at Z 0."""
    plain = Feature(
        name=name,
        kind=kind,
        depth=exact(abs(floor)),
        floor=floor,
        area=area,
        keep=keep,
        limits=limits,
        corner_radius=None,
        cutters=(),
        setup="setup 1",
        line=1,
    )
    return replace(plain, **changes)


def job(
    features: tuple[Feature, ...],
    size: tuple[float, float, float] = (3.0, 2.0, 1.5),
    raw: float = 0.0,
    **changes: object,
) -> Job:
    """A job on a block whose left front corner of the faced top is zero, in inches."""
    plain = Job(
        file="hand.toml",
        title="hand",
        part_number="",
        quantity=1,
        units="inch",
        shop=Shop("shop.toml", machine(), (HALF,)),
        cutters=("half",),
        climb=False,
        general_tolerance="",
        stock=Stock(
            size=(exact(size[0]), exact(size[1]), exact(size[2])),
            material="mild steel",
            zero="left front top",
            x=(0.0, size[0]),
            y=(0.0, size[1]),
            bottom=-size[2],
            top=0.0,
            raw_top=raw,
        ),
        finish=Finish(wall=None, floor=None, skims=2, floor_skims=1, cusp=0.004),
        limits=Limits(None, None, None, None, 0.05, 0.1),
        features=features,
        keep_outs=(),
        setup=Setup("setup 1"),
        callouts=(),
    )
    return replace(plain, **changes)


def plan(
    work: Job,
    wall: float = 0.03,
    floor: float = 0.01,
    cutters: tuple[Cutter, ...] = (HALF,),
    **use: float,
) -> Plan:
    """A plan without moves: what the proof may know besides the job."""
    limits = {"width_limit": 0.125, "depth_limit": 0.5, "slot_depth_limit": 0.25, **use}
    uses = tuple(
        CutterUse(
            cutter=cutter,
            speed_rpm=1000.0,
            cutting_speed=100.0,
            feed=8.0,
            wall=wall,
            floor=floor,
            **limits,
        )
        for cutter in cutters
    )
    return Plan(
        job=work,
        cutters=uses,
        moves=(),
        passes=(),
        stocks=tuple(FeatureStock(f.name, wall, floor) for f in work.features),
        corners=(),
        holes=(),
        cross_over_z=work.stock.raw_top + 0.1,
        stand_off=0.05,
        lower_bound=0.0,
        unreached_area=0.0,
        notes=(),
    )


@dataclass
class Table:
    """A moves table in the making; every verb adds one row and remembers where it ended."""

    feature: str = ""
    cutter: str = "half"
    stage: str = "rough"
    at: list[float] = field(default_factory=lambda: [0.0, 0.0, 0.1])
    rows: list[dict[str, str]] = field(default_factory=list)

    def _add(self, move: str, axis: str, **cells: object) -> "Table":
        plain: dict[str, object] = {
            "row": len(self.rows) + 1,
            "setup": "setup 1",
            "feature": self.feature,
            "cutter": self.cutter,
            "stage": self.stage,
            "move": move,
            **dict(zip("xyz", (round(place, 4) for place in self.at), strict=True)),
            "axis": axis,
            "both_ways": 0,
        }
        self.rows.append({key: str(value) for key, value in {**plain, **cells}.items()})
        return self

    def start(self, x: float, y: float, z: float) -> "Table":
        """The first row of a cutter."""
        self.at = [x, y, z]
        return self._add("position", "")

    def go(self, move: str, **to: float) -> "Table":
        """A row out of the cut along the one axis named."""
        ((axis, place),) = to.items()
        self.at["xyz".index(axis)] = place
        return self._add(move, axis.upper())

    def cut(
        self, width: float = 0.0, depth: float = 0.0, both: float = 0.0, **to: float
    ) -> "Table":
        """A cut row with what the table says of it."""
        ((axis, place),) = to.items()
        self.at["xyz".index(axis)] = place
        return self._add(
            "cut", axis.upper(), width_of_cut=width, depth_of_cut=depth, both_ways=both, feed=8
        )

    def plunge(self, z: float, drill: object = "") -> "Table":
        """A plunge row."""
        self.at[2] = z
        return self._add("plunge", "Z", feed=2, drill_diameter=drill)

    @property
    def text(self) -> str:
        """The table as it would be written."""
        lines = [",".join(row.get(name, "") for name in HEADER) for row in self.rows]
        return "\n".join([",".join(HEADER), *lines]) + "\n"


Spoil = Callable[[list[dict[str, str]]], None]


def spoiled(table: Table, spoil: Spoil) -> str:
    """The text of a table after its rows have been tampered with."""
    copy = Table(rows=[dict(row) for row in table.rows])
    spoil(copy.rows)
    return copy.text


# --- a step along the left side, 3/4 wide and 1/2 deep -------------------------------------------

STEP = feature("left shoulder", "step", -0.5, (rectangle(-1.0, 0.75, -1.0, 3.0),))


def step_table(passes: int = 6, floor: bool = True) -> Table:
    """The step roughed in equal passes, its floor swept in two, its wall skimmed twice.

    Conventional with the wall on the right of the block: fed from back to front, metal on the left.
    Rough wall at 0.75 - 0.03 = 0.72, so each of six passes is 0.12 wide; rough floor at -0.49.
    """
    table = Table("left shoulder")
    lines = [round(number * 0.72 / passes - 0.25, 4) for number in range(1, passes + 1)]
    table.start(lines[0], 2.3, 0.1).go("position", z=-0.49)
    for x in lines:
        if x != lines[0]:
            table.go("position", x=x)
        table.cut(0.72 / passes, 0.49, y=-0.3)
        table.go("return", x=round(x - 0.06, 4)).go("return", y=2.3)
    table.stage = "finish"
    table.go("position", x=0.11 if floor else 0.485).go("position", z=-0.5)
    if floor:
        # 0.36 of floor at a time is 0.11 more than the radius: metal on the right from when the
        # front gets to the back edge, √(0.25² - 0.005²) ahead of the axis, until the flank
        # √(0.25² - 0.11²) ahead of it leaves the front edge: 2 + 0.24995 - 0.22450 = 2.0255
        table.cut(0.36, 0.01, both=2.0255, y=-0.3).go("return", y=2.3)
        table.go("position", x=0.47).cut(0.36, 0.01, both=2.0255, y=-0.3).go("return", y=2.3)
        table.go("position", x=0.485)
    for x in (0.485, 0.5):
        if x > 0.485:
            table.go("position", x=x)
        table.cut(0.015, 0.5, y=-0.3).go("return", y=2.3)
    return table.go("retract", z=0.1)


# --- a closed pocket, 2 x 1, 1/4 deep ------------------------------------------------------------

POCKET = feature("tray", "pocket", -0.25, (rectangle(0.5, 2.5, 0.5, 1.5),))


def pocket_table(depth: float = 0.25, drill: object = "") -> Table:
    """The pocket opened by a plunge and a slot, widened by rings, its walls skimmed twice.

    Its floor is cut to size at once. The rings stand 0.11 apart; where a side runs into a corner
    the front meets the wall of the ring before, rounded with the cutter's radius about a point
    0.11 back both ways: 0.105 beside the line of feed that wall is √(0.25² - 0.105²) = 0.22687
    away, so both sides are cut over the last 0.11 + 0.25 - 0.22687 = 0.1331.
    """
    table = Table("tray")
    table.start(1.0, 1.0, 0.1).plunge(-depth, drill).cut(0, depth, both=1.0, x=2.0)
    for inset in (0.89, 0.78):
        _ring(table, inset, depth, width=0.11, bite=0.1331)
    table.stage = "finish"
    for inset in (0.765, 0.75):
        _ring(table, inset, depth, width=0.015, bite=0.0152)
    return table.go("retract", z=0.1)


def _ring(table: Table, inset: float, depth: float, width: float, bite: float) -> None:
    """Once round clockwise, from the middle of the back wall and to it; metal on the left."""
    left, right, front, back = inset, 3.0 - inset, inset, 2.0 - inset
    table.cut(width, depth, both=width, y=back)
    for side in ({"x": right}, {"y": front}, {"x": left}, {"y": back}):
        table.cut(width, depth, both=bite, **side)
    table.cut(width, depth, x=2.0)


def names(found: Proof) -> set[str]:
    """Names of a proof's findings."""
    return {finding.name for finding in found.findings}
