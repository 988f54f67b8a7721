"""The job and shop files read a second time: just enough of them for the pixel replay.

Nothing here comes from the program's own reader: TOML is read with the standard library, sizes
with the few lines below. Only straight-walled work is understood; anything else is an error of
the test that asked for it.
"""

import re
import tomllib
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

MM_PER_INCH = 25.4  # exact, by definition of the international inch (1959)
SAME = 2e-5  # walls nearer than this are one wall, written with as many decimals as it has
Polygon = tuple[tuple[float, float], ...]
Grid = NDArray[np.float64]
Mask = NDArray[np.bool_]

_NUMBER = r"[-+]?(?:\d+ \d+/\d+|\d+/\d+|\d*\.?\d+)"
_UNIT = r'(?:\s*(mm|in|"))?'
_SIZE = re.compile(rf"\s*({_NUMBER}){_UNIT}(?:\s*(?:±|\+-)\s*({_NUMBER}){_UNIT})?\s*")
_DEVIATIONS = re.compile(rf"\s*({_NUMBER})\s+(\+[\d.]+)\s+(-[\d.]+){_UNIT}\s*")
_LIMITS = re.compile(rf"\s*({_NUMBER})\s+to\s+({_NUMBER}){_UNIT}\s*")


def _number(text: str) -> float:
    return float(sum(Fraction(part) for part in text.split()))


def size(value: float | int | str, units: str) -> float:
    """A size as prints write it, as the middle of its limits, in ``units``."""
    if not isinstance(value, str):
        return float(value)
    if match := _DEVIATIONS.fullmatch(value):
        middle = _number(match[1]) + (float(match[2]) + float(match[3])) / 2
        unit = match[4]
    elif match := _LIMITS.fullmatch(value):
        middle, unit = (_number(match[1]) + _number(match[2])) / 2, match[3]
    elif match := _SIZE.fullmatch(value):
        middle, unit = _number(match[1]), match[2] or match[4]
    else:
        raise ValueError(value)
    return convert(middle, {"in": "inch", '"': "inch"}.get(unit, unit) or units, units)


def convert(value: float, source: str, target: str) -> float:
    """A length of unit ``source`` in unit ``target`` (``inch`` or ``mm``)."""
    if source == target:
        return value
    return value / MM_PER_INCH if source == "mm" else value * MM_PER_INCH


def inside(polygon: Polygon, x: Grid, y: Grid) -> Mask:
    """Which of the points (``x``, ``y``) lie inside an axis-parallel polygon (even-odd)."""
    found = np.zeros(np.broadcast(x, y).shape, dtype=bool)
    for (x0, y0), (x1, y1) in zip(polygon, polygon[1:] + polygon[:1], strict=True):
        if x0 == x1:  # only upright edges meet a ray along X
            found ^= (np.minimum(y0, y1) <= y) & (y < np.maximum(y0, y1)) & (x < x0)
        elif y0 != y1:
            raise ValueError(f"edge ({x0}, {y0}) to ({x1}, {y1}) is not along X or Y")
    return found


@dataclass(frozen=True, slots=True)
class Tool:
    """A cutter of the crib: measured radius where the file gives one; job units."""

    id: str
    radius: float
    hand: str
    center_cutting: bool
    flute_length: float


@dataclass(frozen=True, slots=True)
class Cavity:
    """A feature: the union of ``area`` less the union of ``keep`` goes, down to ``floor`` (Z)."""

    name: str
    kind: str
    floor: float
    area: tuple[Polygon, ...]
    keep: tuple[Polygon, ...]
    cutters: tuple[str, ...]

    def contains(self, x: Grid, y: Grid) -> Mask:
        """Which points of the plan view the feature clears (the stock's outline aside)."""
        gone = np.zeros(np.broadcast(x, y).shape, dtype=bool)
        for polygon in self.area:
            gone |= inside(polygon, x, y)
        for polygon in self.keep:
            gone &= ~inside(polygon, x, y)
        return gone


@dataclass(frozen=True, slots=True)
class Clamp:
    """A keep-out: its outline, and the Z of its top."""

    outline: Polygon
    top: float


@dataclass(frozen=True, slots=True)
class PrintedJob:
    """A job as the print has it; lengths in job units, coordinates in the job's own system."""

    units: str
    x: tuple[float, float]
    y: tuple[float, float]
    bottom: float
    top: float
    raw_top: float
    material: str
    cavities: tuple[Cavity, ...]
    clamps: tuple[Clamp, ...]
    tools: dict[str, Tool]
    cutters: tuple[str, ...]
    metal_on_left: bool
    stand_off: float
    cross_over: float
    resolution: float
    finish: dict[str, float]
    limits: dict[str, float]

    def length(self, inch: float, mm: float) -> float:
        """The one of the two round lengths that goes with the job's unit."""
        return inch if self.units == "inch" else mm

    def stock_on(self, radius: float) -> tuple[float, float]:
        """Wall and floor stock that stays on because the file asks for no finish cuts."""
        wall = min(self.length(0.030, 0.8), 0.06 * 2 * radius)
        floor = self.length(0.010, 0.25)
        return (
            self.finish.get("wall", wall) if self.finish.get("skims") == 0 else 0.0,
            self.finish.get("floor", floor) if self.finish.get("floor_skims") == 0 else 0.0,
        )

    def finished(self, x: Grid, y: Grid) -> Grid:
        """Height of the finished part at points inside the stock, sharp corners and all."""
        height = np.full(np.broadcast(x, y).shape, self.raw_top)
        for cavity in self.cavities:
            gone = cavity.contains(x, y)
            height[gone] = np.minimum(height[gone], cavity.floor)
        return height

    def lines(self) -> tuple[Grid, Grid]:
        """Every X and every Y at which a wall may stand, the stock's edges first and last."""
        corners = [
            corner
            for cavity in self.cavities
            for polygon in cavity.area + cavity.keep
            for corner in polygon
        ]
        return (
            _distinct(self.x, [x for x, _ in corners]),
            _distinct(self.y, [y for _, y in corners]),
        )

    def blocks(self) -> Grid:
        """The finished part as upright blocks, one a row: x low, x high, y low, y high, top."""
        xs, ys = self.lines()
        middle_x, middle_y = (xs[:-1] + xs[1:]) / 2, (ys[:-1] + ys[1:]) / 2
        top = self.finished(middle_x[None, :], middle_y[:, None])
        shape = top.shape
        low_x, high_x = np.broadcast_to(xs[:-1], shape), np.broadcast_to(xs[1:], shape)
        low_y = np.broadcast_to(ys[:-1, None], shape)
        high_y = np.broadcast_to(ys[1:, None], shape)
        return np.stack([a.ravel() for a in (low_x, high_x, low_y, high_y, top)], axis=1)

    def cutters_of(self, cavity: Cavity) -> tuple[str, ...]:
        """Cutter ids the file allows for a feature; empty where the program may choose."""
        return cavity.cutters or self.cutters


def _distinct(span: tuple[float, float], places: list[float]) -> Grid:
    """The ends of a span and the places between, sorted; places a hair apart are one."""
    found = [span[0]]
    for place in sorted(places):
        if place > found[-1] + SAME and place < span[1] - SAME:
            found.append(place)
    return np.array([*found, span[1]])


def rectangle(x: tuple[float, float], y: tuple[float, float]) -> Polygon:
    """The four corners of an axis-parallel rectangle."""
    return ((x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1]))


def _as_list(value: str | list[str] | None) -> tuple[str, ...]:
    if value is None:
        return ()
    return (value,) if isinstance(value, str) else tuple(value)


def _span(word: str, length: float) -> tuple[float, float]:
    low = {"left": 0.0, "front": 0.0, "right": -length, "back": -length, "center": -length / 2}
    return low[word], low[word] + length


class _Reader:
    """Turns the tables of one job file into cavities."""

    def __init__(self, table: dict, units: str, x: tuple[float, float], y: tuple[float, float]):
        self.units, self.x, self.y = units, x, y
        self.bosses = [f for f in table["feature"] if f["kind"] == "boss"]

    def size(self, value: float | str) -> float:
        return size(value, self.units)

    def pair(self, values: list) -> tuple[float, float]:
        return self.size(values[0]), self.size(values[1])

    def shape(self, table: dict) -> Polygon:
        if "points" in table:
            return tuple((self.size(p[0]), self.size(p[1])) for p in table["points"])
        return rectangle(self.pair(table["x"]), self.pair(table["y"]))

    def outlines(self, table: dict) -> tuple[tuple[Polygon, ...], tuple[Polygon, ...]]:
        """What a feature clears and what it keeps."""
        whole = rectangle(self.x, self.y)
        match table["kind"]:
            case "face":
                return (whole,), ()
            case "step":
                return (self._step(table["side"], self.size(table["width"])),), ()
            case "slot":
                return (self._slot(table),), ()
            case "pocket":
                islands = tuple(self.shape(island) for island in table.get("islands", []))
                return (self.shape(table),), islands
            case "boss":
                within = self.shape(table["within"]) if "within" in table else whole
                return (within,), tuple(self.shape(boss) for boss in self.bosses)
            case "outline" if table["clear"] == "inside":
                return (self.shape(table),), ()
            case "outline":
                return (whole,), (self.shape(table),)
        raise ValueError(table["kind"])

    def _step(self, side: str, width: float) -> Polygon:
        spans = {
            "left": ((self.x[0], self.x[0] + width), self.y),
            "right": ((self.x[1] - width, self.x[1]), self.y),
            "front": (self.x, (self.y[0], self.y[0] + width)),
            "back": (self.x, (self.y[1] - width, self.y[1])),
        }
        return rectangle(*spans[side])

    def _slot(self, table: dict) -> Polygon:
        along = self.x if table["along"] == "x" else self.y
        low = self.size(table["start"]) if "start" in table else along[0]
        high = self.size(table["end"]) if "end" in table else along[1]
        if low > along[0] or high < along[1]:
            raise ValueError("a blind slot ends in half circles")
        middle, half = self.size(table["center"]), self.size(table["width"]) / 2
        across = (middle - half, middle + half)
        return rectangle(along, across) if table["along"] == "x" else rectangle(across, along)


def _tools(shop: dict, units: str) -> dict[str, Tool]:
    def length(value: float | str) -> float:
        return convert(size(value, shop["units"]), shop["units"], units)

    return {
        entry["id"]: Tool(
            entry["id"],
            length(entry.get("actual", entry["diameter"])) / 2,
            entry.get("hand", "right"),
            bool(entry.get("center_cutting", False)),
            length(entry["flute_length"]),
        )
        for entry in shop["cutter"]
    }


def _resolution(machine: dict, shop_units: str, units: str) -> float:
    if shop_units == units and "resolution" in machine:
        return size(machine["resolution"], units)
    default = 0.0005 if units == "inch" else 0.01
    return float(machine.get(f"resolution_{units}", default))


def read(job_file: Path) -> PrintedJob:
    """Read a job file and the shop file it names.

    Raises
    ------
    ValueError
        The file uses something outside the straight-walled subset.
    """
    table = tomllib.loads(job_file.read_text(encoding="utf-8"))
    job, cavities = frame(job_file), []
    reader = _Reader(table, job.units, job.x, job.y)
    for entry in table["feature"]:
        depth = 0.0 if entry["kind"] == "face" else size(entry["depth"], job.units)
        area, keep = reader.outlines(entry)
        cutters = _as_list(entry.get("cutter"))
        cavities.append(Cavity(entry["name"], entry["kind"], job.top - depth, area, keep, cutters))
    return replace(job, cavities=tuple(cavities))


def frame(job_file: Path) -> PrintedJob:
    """All of a job file and its shop file but the features."""
    table = tomllib.loads(job_file.read_text(encoding="utf-8"))
    shop = tomllib.loads((job_file.parent / table["shop"]).read_text(encoding="utf-8"))
    units, stock = table["units"], table["stock"]
    length, width, height = (size(value, units) for value in stock["size"])
    words = stock.get("zero", "left front top").split()
    x, y = _span(words[0], length), _span(words[1], width)
    top = height if words[2] == "bottom" else 0.0
    raised = [entry["depth"] for entry in table["feature"] if entry["kind"] == "face"]
    reader = _Reader(table, units, x, y)
    limits = {key: size(value, units) for key, value in table.get("limits", {}).items()}
    inch = units == "inch"
    clockwise = shop["machine"].get("spindle", "clockwise") == "clockwise"
    climb = table.get("direction", "conventional") == "climb"
    return PrintedJob(
        units=units,
        x=x,
        y=y,
        bottom=top - height,
        top=top,
        raw_top=top + sum(size(value, units) for value in raised),
        material=stock.get("material", ""),
        cavities=(),
        clamps=tuple(
            Clamp(reader.shape(entry), size(entry["top"], units))
            for entry in table.get("keep_out", [])
        ),
        tools=_tools(shop, units),
        cutters=_as_list(table.get("cutter")),
        metal_on_left=clockwise != climb,
        stand_off=limits.get("stand_off", 0.050 if inch else 1.2),
        cross_over=limits.get("cross_over", 0.100 if inch else 2.5),
        resolution=_resolution(shop["machine"], shop["units"], units),
        finish={key: size(value, units) for key, value in table.get("finish", {}).items()},
        limits=limits,
    )
