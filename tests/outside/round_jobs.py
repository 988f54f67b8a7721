"""Jobs with curved and slanted walls, written as files; invented but for the test piece.

Sizes are inches unless said; the zero is the stock's left front top corner.
"""

from dataclasses import dataclass, field
from pathlib import Path

from .curves import Outline, Seg, Spot, circle
from .smooth import blob, letter, link, points, regular
from .spec import CutterSpec, Spec

HALF = CutterSpec("half", 0.5, None, 1.25)
QUARTER = CutterSpec("quarter", 0.25, None, 1.0)


@dataclass(frozen=True, slots=True)
class RoundSpec:
    """A job as feature tables in the words of the file."""

    stock: tuple[float, float, float]
    features: tuple[str, ...]
    cutters: tuple[CutterSpec, ...] = (HALF,)
    units: str = "inch"
    finish: dict[str, float] = field(default_factory=dict)
    limits: dict[str, float] = field(default_factory=dict)
    zero: str = "left front top"
    climb: bool = False

    def write(self, folder: Path, stem: str = "job") -> Path:
        """Write both files; the path of the job file."""
        use = tuple(cutter.id for cutter in self.cutters)
        plain = Spec(
            self.units,
            self.stock,
            (),
            self.cutters,
            use,
            self.zero,
            climb=self.climb,
            finish=self.finish,
            limits=self.limits,
        )
        (folder / "shop.toml").write_text(plain.shop_text(), encoding="utf-8")
        job_file = folder / f"{stem}.toml"
        tables = "".join(f"[[feature]]\n{feature}\n" for feature in self.features)
        job_file.write_text(plain.job_text() + tables, encoding="utf-8")
        return job_file


def feature(name: str, kind: str, depth: float, *lines: str) -> str:
    """A feature table's lines."""
    return "\n".join([f'name = "{name}"', f'kind = "{kind}"', f"depth = {depth:.6g}", *lines])


def cut_out(name: str, depth: float, outline: Outline, clear: str) -> str:
    """An outline feature."""
    return feature(name, "outline", depth, f"points = {points(outline)}", f'clear = "{clear}"')


def bore(name: str, depth: float, center: Spot, diameter: float) -> str:
    return feature(
        name, "bore", depth, f"center = [{center[0]}, {center[1]}]", f"diameter = {diameter}"
    )


def slot(name: str, depth: float, width: float, start: float | None, end: float | None) -> str:
    ends = [f"start = {start}"] if start is not None else []
    ends += [f"end = {end}"] if end is not None else []
    return feature(name, "slot", depth, 'along = "x"', "center = 0.8", f"width = {width}", *ends)


def of_corners(*corners: Spot) -> Outline:
    return tuple(Seg(corners[k - 1], corners[k]) for k in range(len(corners)))


def raised_letter(text: str) -> RoundSpec:
    """A letter 2.4 in high left standing; the quarter-inch cutter follows it."""
    outline = letter(text, 2.4, (0.4, 0.4))
    wide = max(spot[0] for edge in outline for spot in (edge.start, edge.end)) + 0.4
    stock = (round(wide, 2), 3.2, 0.75)
    return RoundSpec(stock, (cut_out("letter", 0.1, outline, "outside"),), (QUARTER,))


def circle_diamond_square() -> RoundSpec:
    """The contouring piece of the machine tests, mm; sizes from memory.

    ISO 10791-7 (and the older NAS 979) stack a square, a circle on it and on that a diamond (a
    square stood on its corner) with a hole in the middle: base of 160, square of 110, circle of
    108, diamond of side 75, hole of 30 (all from memory, not looked up).
    """
    middle = (80.0, 80.0)
    square = of_corners((25.0, 25.0), (135.0, 25.0), (135.0, 135.0), (25.0, 135.0))
    return RoundSpec(
        (160.0, 160.0, 40.0),
        (
            cut_out("square", 18, square, "outside"),
            cut_out("circle", 12, circle(middle, 108.0), "outside"),
            cut_out("diamond", 6, regular(middle, 75 / 2**0.5, 4, 0.0), "outside"),
            bore("hole", 6, middle, 30.0),
        ),
        (CutterSpec("mill", 20.0, None, 40.0),),
        "mm",
    )


def random_outline(seed: int, clear: str) -> RoundSpec:
    """A closed chain of tangent arcs of both turns, cleared inside or outside."""
    outline = blob(seed, (1.6, 1.4), 1.05, 7, 0.5)
    return RoundSpec((3.2, 2.8, 0.75), (cut_out("cam", 0.12, outline, clear),), (QUARTER,))


TEMPLATE = of_corners((0.3, 0.3), (2.7, 0.3), (2.2, 1.7), (1.1, 1.5))
FUNNEL = of_corners((0.4, 0.3), (2.6, 0.5), (2.3, 1.7), (0.7, 1.6))
CAM = link((1.1, 1.0), (2.1, 1.2), 0.7, 0.3)
ROCKER = link((0.8, 0.8), (2.2, 0.8), 0.55, 0.55)
TRAY = "x = [0.4, 2.6]\ny = [0.3, 1.7]\ncorner_radius = 0.45"
ISLANDS = (
    "x = [0.2, 2.8]\ny = [0.2, 1.8]\n"
    "islands = [{ center = [1.0, 1.0], diameter = 0.5 }, "
    "{ points = [[1.8, 0.8], [2.1, 0.9], [2.0, 1.25]] }]"
)
JOBS: dict[str, RoundSpec] = {
    "bore": RoundSpec((2, 2, 1), (bore("eye", 0.25, (1.0, 1.0), 1.3),)),
    "bore little larger than the cutter": RoundSpec((2, 2, 1), (bore("eye", 0.2, (1, 1), 0.56),)),
    # the walk along its wall is widest in the middle of a step, not where the step begins
    "bore with wide passes": RoundSpec(
        (2.5, 2.5, 0.75),
        (bore("eye", 0.125, (1.25, 1.25), 1.75),),
        finish={"wall": 0.02, "floor": 0, "skims": 1},
        limits={"width_of_cut": 0.3},
    ),
    # runs out over the back edge: past the horns there passes end and begin in the open
    "bore through an edge": RoundSpec(
        (4, 3, 1),
        (bore("eye", 0.3, (1.8434, 1.9591), 2.1918),),
        (CutterSpec("mill", 0.375, None, 1.0),),
    ),
    # its walls lie halfway between two readings
    "slot in millimetres": RoundSpec(
        (101.6, 76.2, 25.4),
        (
            feature(
                "way",
                "slot",
                5.08,
                'along = "x"',
                "center = 35.56",
                "width = 7.62",
                "start = 15.24",
                "end = 81.28",
            ),
        ),
        (CutterSpec("mill", 6.35, None, 25.4),),
        "mm",
    ),
    "round boss": RoundSpec(
        (2, 2, 1), (feature("pin", "boss", 0.25, "center = [1, 1]", "diameter = 1.1"),)
    ),
    "bored disc": RoundSpec(
        (2.2, 2.2, 1),
        (
            feature("disc", "boss", 0.25, "center = [1.1, 1.1]", "diameter = 1.7"),
            bore("eye", 0.25, (1.1, 1.1), 0.9),
        ),
    ),
    "slot with one blind end": RoundSpec((2.5, 1.6, 1), (slot("way", 0.2, 0.7, None, 1.8),)),
    "slot with blind ends": RoundSpec((2.5, 1.6, 1), (slot("way", 0.2, 0.5, 0.4, 2.0),)),
    "tray with large corners": RoundSpec((3, 2, 1), (feature("tray", "pocket", 0.25, TRAY),)),
    "tray with islands": RoundSpec(
        (3, 2, 1), (feature("tray", "pocket", 0.2, ISLANDS),), (QUARTER,)
    ),
    "slanted template": RoundSpec((3, 2, 1), (cut_out("template", 0.25, TEMPLATE, "outside"),)),
    "slanted funnel": RoundSpec((3, 2, 1), (cut_out("funnel", 0.25, FUNNEL, "inside"),)),
    "cam plate": RoundSpec((3, 2, 1), (cut_out("cam", 0.25, CAM, "outside"),)),
    "slotted link": RoundSpec(
        (3, 1.6, 1),
        (cut_out("link", 0.3, ROCKER, "outside"), slot("way", 0.2, 0.5, 0.9, 2.1)),
    ),
    "circle diamond square": circle_diamond_square(),
    "letter S": raised_letter("S"),
    "letter K": raised_letter("K"),
    "random outside": random_outline(10, "outside"),
    "random inside": random_outline(10, "inside"),
}
