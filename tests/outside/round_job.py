"""Job files with arcs, slants, bores and blind slots, read for the checks from outside.

The straight-walled reader beside this one supplies sizes, the shop and the rest of the file; here
the features become outlines of true lines and arcs. Keyseats and patterns of holes leave the
block as it is: they have checks of their own.
"""

import tomllib
from collections.abc import Callable
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

import numpy as np

from .curves import Edge, Outline, Seg, bow, circle, inside, polygon
from .printed import Cavity, Grid, Mask, PrintedJob, convert, frame, size

POSITIONS_ONLY = ("holes", "keyseat")


@dataclass(frozen=True, slots=True)
class RoundCavity(Cavity):
    """A feature whose outlines may have arcs and slants."""

    loops: tuple[Outline, ...] = ()
    islands: tuple[Outline, ...] = ()

    def contains(self, x: Grid, y: Grid) -> Mask:
        gone: Mask = np.zeros(np.broadcast(x, y).shape, dtype=bool)
        for outline in self.loops:
            gone |= inside(outline, x, y)
        for outline in self.islands:
            gone &= ~inside(outline, x, y)
        return gone


@dataclass(frozen=True, slots=True)
class RoundJob(PrintedJob):
    """A job with round walls; ``corners`` is the corner radius of each cutter's end."""

    cusp: float = 0.0
    corners: dict[str, float] | None = None

    def blocks(self) -> Grid:
        """None: round walls are measured by formula."""
        return np.zeros((0, 5))

    @property
    def rounds(self) -> tuple[RoundCavity, ...]:
        """The features, as what they are."""
        return tuple(c for c in self.cavities if isinstance(c, RoundCavity))

    def corner(self, cutter: str) -> float:
        return (self.corners or {}).get(cutter, 0.0)


class _Reader:
    """Turns features into outlines."""

    def __init__(self, table: dict[str, Any], job: PrintedJob) -> None:
        self.units, self.x, self.y = job.units, job.x, job.y
        self.far = max(job.x[1] - job.x[0], job.y[1] - job.y[0])
        self.bosses = [f for f in table["feature"] if f["kind"] == "boss"]

    def size(self, value: Any) -> float:
        return size(value, self.units)

    def box(self, x: tuple[float, float], y: tuple[float, float], radius: float = 0.0) -> Outline:
        corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])]
        return polygon(corners, [radius] * 4)

    def stock(self) -> Outline:
        # well past the edges, so that no sample on an edge is in doubt
        return self.box(
            (self.x[0] - self.far, self.x[1] + self.far),
            (self.y[0] - self.far, self.y[1] + self.far),
        )

    def shape(self, table: dict[str, Any], opened: bool = False) -> Outline:
        if "shape" in table:
            table = table["shape"]
        if "points" in table:
            return self.points(table["points"])
        if "diameter" in table:
            x, y = (self.size(v) for v in table["center"])
            return circle((x, y), self.size(table["diameter"]))
        across, along = ((self.size(table[k][0]), self.size(table[k][1])) for k in "xy")
        if opened:
            across, along = self._opened(across, self.x), self._opened(along, self.y)
        return self.box(across, along, self.size(table.get("corner_radius", 0.0)))

    def _opened(self, span: tuple[float, float], edge: tuple[float, float]) -> tuple[float, float]:
        """A pocket's span, carried on past an edge of the stock that it reaches."""
        hair = 1e-6
        return (
            span[0] - self.far if span[0] <= edge[0] + hair else span[0],
            span[1] + self.far if span[1] >= edge[1] - hair else span[1],
        )

    def points(self, entries: list[Any]) -> Outline:
        """An outline of the contract's points."""
        spots, radii, arcs = [], [], []
        for entry in entries:
            point = entry if isinstance(entry, dict) else dict(zip("xy", entry, strict=True))
            spots.append((self.size(point["x"]), self.size(point["y"])))
            radii.append(self.size(point.get("radius", 0.0)))
            arcs.append((point["center"], point["turn"]) if "center" in point else None)
        if not any(arcs):
            return polygon(spots, radii)
        if any(radii):
            raise ValueError("rounded corners beside arcs are not read here")
        edges: list[Edge] = []
        for k, arc in enumerate(arcs):
            start, end = spots[k - 1], spots[k]
            if arc:
                center = (self.size(arc[0][0]), self.size(arc[0][1]))
                edges.append(bow(start, end, center, arc[1] == "ccw"))
            elif start != end:
                edges.append(Seg(start, end))
        return tuple(edges)

    def outlines(self, table: dict[str, Any]) -> tuple[tuple[Outline, ...], tuple[Outline, ...]]:
        """What a feature clears, and what of that it keeps."""
        kinds: dict[str, Callable[[dict[str, Any]], Outline]] = {
            "step": self._step,
            "slot": self._slot,
            "bore": self.shape,
        }
        match table["kind"]:
            case "face":
                return (self.stock(),), ()
            case "step" | "slot" | "bore" as kind:
                return (kinds[kind](table),), ()
            case "pocket":
                islands = tuple(self.shape(island) for island in table.get("islands", []))
                return (self.shape(table, opened=True),), islands
            case "boss":
                within = self.shape(table["within"]) if "within" in table else self.stock()
                return (within,), tuple(self.shape(boss) for boss in self.bosses)
            case "outline" if table["clear"] == "inside":
                return (self.shape(table),), ()
            case "outline":
                return (self.stock(),), (self.shape(table),)
        raise ValueError(table["kind"])

    def _step(self, table: dict[str, Any]) -> Outline:
        far, width = self.far, self.size(table["width"])
        x, y = (self.x[0] - far, self.x[1] + far), (self.y[0] - far, self.y[1] + far)
        spans = {
            "left": ((x[0], self.x[0] + width), y),
            "right": ((self.x[1] - width, x[1]), y),
            "front": (x, (y[0], self.y[0] + width)),
            "back": (x, (self.y[1] - width, y[1])),
        }
        return self.box(*spans[table["side"]])

    def _slot(self, table: dict[str, Any]) -> Outline:
        """Blind ends are half circles, their outermost point at ``start`` or ``end``."""
        edge = self.x if table["along"] == "x" else self.y
        span = [self.size(table[key]) if key in table else None for key in ("start", "end")]
        low = edge[0] if span[0] is None else span[0]
        high = edge[1] if span[1] is None else span[1]
        low, high = self._opened((low, high), edge)
        middle, width = self.size(table["center"]), self.size(table["width"])
        across = (middle - width / 2, middle + width / 2)
        blind = edge[0] < low or high < edge[1]
        spans = ((low, high), across) if table["along"] == "x" else (across, (low, high))
        return self.box(*spans, width / 2 if blind else 0.0)


def _corner_radii(job_file: Path, table: dict[str, Any], units: str) -> dict[str, float]:
    shop = tomllib.loads((job_file.parent / table["shop"]).read_text(encoding="utf-8"))
    found = {}
    for entry in shop["cutter"]:
        diameter = entry.get("actual", entry["diameter"])
        given = entry.get("corner_radius", 0)
        corner = size(diameter, shop["units"]) / 2 if entry["form"] == "ball" else None
        corner = size(given, shop["units"]) if corner is None else corner
        found[entry["id"]] = convert(corner, shop["units"], units)
    return found


def read(job_file: Path) -> RoundJob:
    """Read a job file with walls of any form, and the shop file it names."""
    table = tomllib.loads(job_file.read_text(encoding="utf-8"))
    base = frame(job_file)
    reader = _Reader(table, base)
    cavities = []
    for entry in table["feature"]:
        if entry["kind"] in POSITIONS_ONLY:
            cavities.append(RoundCavity(entry["name"], entry["kind"], base.top, (), (), ()))
            continue
        depth = 0.0 if entry["kind"] == "face" else size(entry["depth"], base.units)
        own = entry.get("cutter", ())
        cutters = (own,) if isinstance(own, str) else tuple(own)
        loops, islands = reader.outlines(entry)
        cavities.append(
            RoundCavity(
                entry["name"], entry["kind"], base.top - depth, (), (), cutters, loops, islands
            )
        )
    values = {field.name: getattr(base, field.name) for field in fields(PrintedJob)}
    values["cavities"] = tuple(cavities)
    cusp = base.finish.get("cusp", base.length(0.004, 0.1))
    return RoundJob(**values, cusp=cusp, corners=_corner_radii(job_file, table, base.units))


def kinds(job_file: Path) -> set[str]:
    """The kinds of feature in a job file."""
    table = tomllib.loads(job_file.read_text(encoding="utf-8"))
    return {entry["kind"] for entry in table["feature"]}


def straight(job_file: Path) -> bool:
    """Whether the job file has nothing but walls along X and Y."""
    if kinds(job_file) & set(POSITIONS_ONLY):
        return False
    outlines = [o for c in read(job_file).rounds for o in (*c.loops, *c.islands)]
    return all(
        isinstance(edge, Seg)
        and min(abs(a - b) for a, b in zip(edge.start, edge.end, strict=True)) < 1e-9
        for outline in outlines
        for edge in outline
    )
