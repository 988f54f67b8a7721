"""A job as a test thinks of it, and the job and shop files that say so.

All plan-view coordinates count from the stock's left front corner, whatever corner the written
file takes as zero; so a job can be mirrored, turned and scaled before it is written.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path

from .printed import MM_PER_INCH, Polygon, rectangle

Spot = tuple[float, float]
_ACROSS = {"left": "right", "right": "left", "front": "front", "back": "back"}
_TURNED = {"left": "front", "front": "right", "right": "back", "back": "left"}


@dataclass(frozen=True, slots=True)
class Shape:
    """One feature: what its kind needs and nothing else.

    ``outline`` is the pocket's or boss's rectangle, or the outline's points; ``islands`` the
    pocket's islands, or the boss's ``within`` as their only member.
    """

    name: str
    kind: str
    depth: float
    outline: Polygon = ()
    islands: tuple[Polygon, ...] = ()
    clear: str = ""
    side: str = ""
    along: str = ""
    center: float = 0.0
    width: float = 0.0


@dataclass(frozen=True, slots=True)
class CutterSpec:
    """A cutter of the crib; lengths in job units."""

    id: str
    diameter: float
    actual: float | None = None
    flute_length: float = 0.0
    center_cutting: bool = True


@dataclass(frozen=True, slots=True)
class Spec:
    """A whole job. Numbers are in ``units``; None leaves a key out of the file."""

    units: str
    stock: tuple[float, float, float]
    shapes: tuple[Shape, ...]
    cutters: tuple[CutterSpec, ...]
    use: tuple[str, ...] = ()
    zero: str = "left front top"
    material: str = "mild steel"
    climb: bool = False
    left_hand: bool = False
    finish: dict[str, float] = field(default_factory=dict)
    limits: dict[str, float] = field(default_factory=dict)
    clamps: tuple[Polygon, ...] = ()
    style: str = "plain"

    def write(self, folder: Path, stem: str = "job") -> Path:
        """Write both files; the path of the job file."""
        (folder / "shop.toml").write_text(self.shop_text(), encoding="utf-8")
        job = folder / f"{stem}.toml"
        job.write_text(self.job_text(), encoding="utf-8")
        return job

    def origin(self) -> tuple[float, float, float]:
        """The written zero, counted from the left front corner of the top."""
        words = self.zero.split()
        share = {"left": 0.0, "front": 0.0, "right": 1.0, "back": 1.0, "center": 0.5}
        height = -self.stock[2] if words[2] == "bottom" else 0.0
        return share[words[0]] * self.stock[0], share[words[1]] * self.stock[1], height

    def job_text(self) -> str:
        """The job file."""
        lines = [f'units = "{self.units}"', 'shop = "shop.toml"']
        if self.use:
            names = ", ".join(f'"{name}"' for name in self.use)
            lines.append(f"cutter = {names if len(self.use) == 1 else f'[{names}]'}")
        lines.append(f'direction = "{"climb" if self.climb else "conventional"}"')
        size = ", ".join(self._length(value) for value in self.stock)
        lines += ["[stock]", f"size = [{size}]", f'zero = "{self.zero}"']
        lines.append(f'material = "{self.material}"')
        for name, table in (("finish", self.finish), ("limits", self.limits)):
            if table:
                lines += [f"[{name}]", *(f"{key} = {value:.6g}" for key, value in table.items())]
        for shape in self.shapes:
            lines += ["[[feature]]", *self._feature(shape)]
        for number, clamp in enumerate(self.clamps, 1):
            top = -self.origin()[2] + self.stock[2] / 2
            lines += ["[[keep_out]]", f'name = "strap {number}"', *self._box(clamp)]
            lines.append(f"top = {top:.6g}")
        return "\n".join(lines) + "\n"

    def shop_text(self) -> str:
        """The shop file, in the job's unit."""
        hand, turning = ("left", "counter-clockwise") if self.left_hand else ("right", "clockwise")
        step = 0.0005 if self.units == "inch" else 0.01
        lines = [f'units = "{self.units}"', "[machine]", 'name = "bench mill"']
        lines += ["spindle_speeds = [80, 135, 210, 325, 660, 1115, 1750, 2720]", 'power = "2 hp"']
        lines += [f'spindle = "{turning}"', 'readout = "dro"', f"resolution = {step}"]
        for cutter in self.cutters:
            lines += ["[[cutter]]", f'id = "{cutter.id}"', 'form = "square end"']
            lines += ['material = "high-speed steel"', f'hand = "{hand}"', "flutes = 4"]
            lines.append(f"diameter = {cutter.diameter:.6g}")
            if cutter.actual is not None:
                lines.append(f"actual = {cutter.actual:.6g}")
            lines.append(f"flute_length = {cutter.flute_length:.6g}")
            lines.append(f"center_cutting = {str(cutter.center_cutting).lower()}")
        return "\n".join(lines) + "\n"

    def _length(self, value: float) -> str:
        """A length in the style of the file; what is written stands for exactly this number."""
        rounded = round(value, 6)
        part = Fraction(rounded).limit_denominator(64)
        if self.style == "fractions" and part > 0 and abs(part - Fraction(rounded)) < 1e-9:
            whole, rest = divmod(part, 1)
            if rest and whole:
                return f'"{whole} {rest}"'
            return f'"{rest}"' if rest else f"{whole}"
        if self.style == "other unit" and self.units == "inch":
            return f'"{value * MM_PER_INCH:.6f} mm"'
        if self.style == "other unit":
            return f'"{value / MM_PER_INCH:.8f} in"'
        return f"{rounded:.6f}".rstrip("0").rstrip(".") if rounded else "0"

    def _feature(self, shape: Shape) -> list[str]:
        lines = [f'name = "{shape.name}"', f'kind = "{shape.kind}"']
        lines.append(f"depth = {self._length(shape.depth)}")
        x, y, _ = self.origin()
        match shape.kind:
            case "step":
                lines += [f'side = "{shape.side}"', f"width = {self._length(shape.width)}"]
            case "slot":
                center = shape.center - (y if shape.along == "x" else x)
                lines += [f'along = "{shape.along}"', f"center = {self._length(center)}"]
                lines.append(f"width = {self._length(shape.width)}")
            case "pocket":
                lines += self._box(shape.outline)
                if shape.islands:
                    islands = ", ".join(f"{{ {self._points(i)} }}" for i in shape.islands)
                    lines.append(f"islands = [{islands}]")
            case "boss":
                lines += self._box(shape.outline)
                if shape.islands:
                    lines.append(f"within = {{ {self._points(shape.islands[0])} }}")
            case "outline":
                lines += [self._points(shape.outline), f'clear = "{shape.clear}"']
        return lines

    def _box(self, polygon: Polygon) -> list[str]:
        x, y, _ = self.origin()
        xs, ys = [p[0] - x for p in polygon], [p[1] - y for p in polygon]
        return [
            f"{name} = [{self._length(min(values))}, {self._length(max(values))}]"
            for name, values in (("x", xs), ("y", ys))
        ]

    def _points(self, polygon: Polygon) -> str:
        x, y, _ = self.origin()
        points = (f"[{self._length(px - x)}, {self._length(py - y)}]" for px, py in polygon)
        return f"points = [{', '.join(points)}]"


def _moved(spec: Spec, move: Callable[[Spot], Spot]) -> Spec:
    """Every outline's points sent through ``move``, order of turning kept."""

    def polygon(points: Polygon) -> Polygon:
        return tuple(move(point) for point in points)

    shapes = tuple(
        replace(s, outline=polygon(s.outline), islands=tuple(polygon(i) for i in s.islands))
        for s in spec.shapes
    )
    return replace(spec, shapes=shapes, clamps=tuple(polygon(c) for c in spec.clamps))


def mirrored(spec: Spec) -> Spec:
    """Left and right exchanged, and with them conventional and climb."""
    length = spec.stock[0]
    moved = _moved(spec, lambda point: (length - point[0], point[1]))
    shapes = tuple(
        replace(
            s,
            side=_ACROSS.get(s.side, ""),
            center=length - s.center if s.along == "y" else s.center,
        )
        for s in moved.shapes
    )
    words = spec.zero.split()
    words[0] = {"left": "right", "right": "left"}.get(words[0], words[0])
    return replace(moved, shapes=shapes, zero=" ".join(words), climb=not spec.climb)


def turned(spec: Spec) -> Spec:
    """The whole job turned a quarter turn counter-clockwise seen from above."""
    length, width, height = spec.stock
    moved = _moved(spec, lambda point: (width - point[1], point[0]))
    shapes = tuple(
        replace(
            s,
            side=_TURNED.get(s.side, ""),
            along={"x": "y", "y": "x"}.get(s.along, ""),
            center=width - s.center if s.along == "x" else s.center,
        )
        for s in moved.shapes
    )
    x, y, z = spec.zero.split()
    across = {"front": "right", "back": "left", "center": "center"}[y]
    away = {"left": "front", "right": "back", "center": "center"}[x]
    return replace(moved, shapes=shapes, stock=(width, length, height), zero=f"{across} {away} {z}")


def scaled(spec: Spec, factor: float, units: str | None = None) -> Spec:
    """Every length times ``factor``; with ``units``, said in that unit."""

    def table(values: dict[str, float]) -> dict[str, float]:
        counts = {"skims", "floor_skims"}
        return {k: v if k in counts else v * factor for k, v in values.items()}

    moved = _moved(spec, lambda point: (point[0] * factor, point[1] * factor))
    shapes = tuple(
        replace(s, depth=s.depth * factor, center=s.center * factor, width=s.width * factor)
        for s in moved.shapes
    )
    cutters = tuple(
        replace(
            c,
            diameter=c.diameter * factor,
            actual=None if c.actual is None else c.actual * factor,
            flute_length=c.flute_length * factor,
        )
        for c in spec.cutters
    )
    length, width, height = (value * factor for value in spec.stock)
    return replace(
        moved,
        units=units or spec.units,
        stock=(length, width, height),
        shapes=shapes,
        cutters=cutters,
        finish=table(spec.finish),
        limits=table(spec.limits),
    )


def box(x: tuple[float, float], y: tuple[float, float]) -> Polygon:
    """A rectangle's corners."""
    return rectangle(x, y)
