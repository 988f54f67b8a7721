"""Random jobs on straight-walled work: what hypothesis draws, and how.

Outlines are grown on a small board of cells whose columns and rows have widths of their own, so
that L, U and T shapes, combs, stairs, necks and reflex corners all turn up, with widths on both
sides of the cutter's. Coordinates are whole numbers of a pitch that may or may not suit the
readout.
"""

import numpy as np
from hypothesis import strategies as st

from .printed import Mask, Polygon
from .spec import CutterSpec, Shape, Spec, box

PITCHES = {"inch": (0.05, 0.0625, 0.0517), "mm": (1.0, 1.25, 1.313)}
DIAMETERS = {"inch": (0.25, 0.375, 0.5), "mm": (6.0, 10.0, 12.0)}
ZEROS = tuple(
    f"{x} {y} {z}"
    for x in ("left", "right", "center")
    for y in ("front", "back", "center")
    for z in ("top", "bottom")
)
# Shapes of prints, as boards of cells.
BOARDS = {
    "L": ("#..", "#..", "###"),
    "U": ("#.#", "#.#", "###"),
    "T": ("###", ".#.", ".#."),
    "comb": ("#.#.#", "#.#.#", "#####"),
    "stair": ("#..", "##.", "###"),
    "dumb-bell": ("#.#", "###", "#.#"),
    "cross": (".#.", "###", ".#."),
    "S": ("##.", ".#.", ".##"),
    "rectangle": ("#",),
}


def trace(board: Mask, xs: list[float], ys: list[float]) -> Polygon:
    """The outline of a board without holes, counter-clockwise, straight runs joined."""
    filled = np.pad(board, 1)
    follow: dict[tuple[int, int], tuple[int, int]] = {}
    for row, column in np.argwhere(filled):
        j, i = int(row) - 1, int(column) - 1
        if not filled[row - 1, column]:
            follow[(i, j)] = (i + 1, j)
        if not filled[row, column + 1]:
            follow[(i + 1, j)] = (i + 1, j + 1)
        if not filled[row + 1, column]:
            follow[(i + 1, j + 1)] = (i, j + 1)
        if not filled[row, column - 1]:
            follow[(i, j + 1)] = (i, j)
    start = here = min(follow)
    path = [here]
    while (here := follow[here]) != start:
        path.append(here)
    corners = [
        spot
        for before, spot, after in zip(
            path[-1:] + path[:-1], path, path[1:] + path[:1], strict=True
        )
        if (before[0] == spot[0]) != (spot[0] == after[0])
    ]
    return tuple((xs[i], ys[j]) for i, j in corners)


def _simple(board: Mask) -> bool:
    """One piece, no hole, no two cells that touch at a corner only."""
    padded = np.pad(board, 1)
    a, b, c, d = padded[:-1, :-1], padded[:-1, 1:], padded[1:, :-1], padded[1:, 1:]
    if ((a & d & ~b & ~c) | (b & c & ~a & ~d)).any():
        return False
    return _pieces(padded) == 1 and _pieces(~padded) == 1


def _pieces(board: Mask) -> int:
    left, count = {(int(j), int(i)) for j, i in np.argwhere(board)}, 0
    while left:
        count, edge = count + 1, [left.pop()]
        while edge:
            j, i = edge.pop()
            for spot in ((j + 1, i), (j - 1, i), (j, i + 1), (j, i - 1)):
                if spot in left:
                    left.remove(spot)
                    edge.append(spot)
    return count


@st.composite
def boards(draw: st.DrawFn) -> Mask:
    """A board: a shape of prints, turned and mirrored anyhow, or a grown one."""
    if draw(st.integers(0, 2)):
        lines = BOARDS[draw(st.sampled_from(sorted(BOARDS)))]
        board = np.array([[cell == "#" for cell in line] for line in lines])
        board = np.rot90(board, draw(st.integers(0, 3)))
        return board[:, ::-1] if draw(st.booleans()) else board
    board = np.zeros((draw(st.integers(2, 4)), draw(st.integers(2, 5))), dtype=bool)
    board[0, 0] = True
    for spot in draw(st.lists(st.integers(0, board.size - 1), min_size=2, max_size=14)):
        grown = board.copy()
        grown.flat[spot] = True
        board = grown if _simple(grown) else board
    keep_rows, keep_columns = board.any(axis=1), board.any(axis=0)
    return board[keep_rows][:, keep_columns]


@st.composite
def polygons(
    draw: st.DrawFn, stock: tuple[int, int], rim: int, pitch: float, cell: int = 3
) -> Polygon:
    """A polygon on the pitch that keeps ``rim`` within the stock (negative: may stick out)."""
    board = draw(boards())
    rows, columns = board.shape
    room_x, room_y = stock[0] - 2 * rim, stock[1] - 2 * rim
    xs = draw(_lines(columns, room_x, cell))
    ys = draw(_lines(rows, room_y, cell))
    shift_x = rim + draw(st.integers(0, max(0, room_x - xs[-1])))
    shift_y = rim + draw(st.integers(0, max(0, room_y - ys[-1])))
    return trace(board, [(x + shift_x) * pitch for x in xs], [(y + shift_y) * pitch for y in ys])


@st.composite
def _lines(draw: st.DrawFn, count: int, room: int, least: int) -> list[int]:
    most = max(least, room // count)
    lines = [0]
    for _ in range(count):
        lines.append(lines[-1] + draw(st.integers(min(least, most), most)))
    return lines


@st.composite
def _boxes(draw: st.DrawFn, stock: tuple[int, int], rim: int, pitch: float, least: int) -> Polygon:
    spans = []
    for room in stock:
        low = draw(st.integers(rim, room - rim - least))
        high = draw(st.integers(low + least, room - rim))
        spans.append((low * pitch, high * pitch))
    return box(*spans)


@st.composite
def shapes(draw: st.DrawFn, name: str, stock: tuple[int, int], pitch: float, kind: str) -> Shape:
    """One feature of a kind."""
    depth = draw(st.integers(1, 8)) * pitch
    match kind:
        case "step":
            side = draw(st.sampled_from(("left", "right", "front", "back")))
            room = stock[0] if side in {"left", "right"} else stock[1]
            width = draw(st.integers(1, room - 3)) * pitch
            return Shape(name, kind, depth, side=side, width=width)
        case "slot":
            along = draw(st.sampled_from("xy"))
            room = stock[1] if along == "x" else stock[0]
            width = draw(st.integers(4, min(20, room - 4)))
            center = draw(st.integers(width + 4, 2 * room - width - 4)) / 2
            return Shape(name, kind, depth, along=along, center=center * pitch, width=width * pitch)
        case "pocket":
            rim = draw(st.sampled_from((2, 2, 0, -2)))
            outline = draw(_boxes(stock, rim, pitch, 8))
            islands = tuple(draw(st.lists(_islands(outline, pitch), max_size=2)))
            return Shape(name, kind, depth, outline=outline, islands=islands)
        case "boss":
            outline = draw(_boxes(stock, draw(st.sampled_from((1, 3, 8))), pitch, 3))
            within = draw(st.booleans()) and draw(_around(outline, stock, pitch))
            return Shape(name, kind, depth, outline=outline, islands=(within,) if within else ())
        case "outline":
            clear = draw(st.sampled_from(("inside", "outside")))
            rim = draw(st.sampled_from((2, 2, 4, -2)))
            outline = draw(polygons(stock, rim, pitch))
            return Shape(name, kind, depth, outline=outline, clear=clear)
    return Shape(name, "face", draw(st.sampled_from((0.3, 0.5, 1.0))) * pitch)


@st.composite
def _islands(draw: st.DrawFn, outline: Polygon, pitch: float) -> Polygon:
    """A shape somewhere inside a pocket, perhaps against its wall."""
    low_x, low_y = outline[0]
    columns, rows = (round((outline[2][k] - outline[0][k]) / pitch) for k in (0, 1))
    island = draw(polygons((columns, rows), draw(st.sampled_from((0, 1))), pitch, cell=1))
    return tuple((x + low_x, y + low_y) for x, y in island)


@st.composite
def _around(draw: st.DrawFn, outline: Polygon, stock: tuple[int, int], pitch: float) -> Polygon:
    """A rectangle round a boss."""
    rims = [draw(st.integers(2, 12)) * pitch for _ in range(4)]
    del stock
    (x0, y0), _, (x1, y1), _ = outline
    return box((x0 - rims[0], x1 + rims[1]), (y0 - rims[2], y1 + rims[3]))


@st.composite
def _cutters(draw: st.DrawFn, units: str) -> tuple[CutterSpec, ...]:
    sizes = sorted(
        draw(st.lists(st.sampled_from(DIAMETERS[units]), min_size=1, max_size=2, unique=True)),
        reverse=True,
    )
    less = 0.0035 if units == "inch" else 0.09
    length = 1.25 if units == "inch" else 32.0
    return tuple(
        CutterSpec(
            f"mill {number}",
            size,
            round(size - less, 4) if draw(st.integers(0, 3)) == 0 else None,
            length,
            draw(st.integers(0, 4)) > 0,
        )
        for number, size in enumerate(sizes, 1)
    )


def _some(**choices: tuple[float | None, ...]) -> st.SearchStrategy[dict[str, float]]:
    """A table in which each key takes one of its choices, None leaving it out."""
    tables = st.fixed_dictionaries({k: st.sampled_from(v) for k, v in choices.items()})
    return tables.map(lambda table: {k: v for k, v in table.items() if v is not None})


@st.composite
def specs(draw: st.DrawFn, kinds: tuple[str, ...] = (), most: int = 3) -> Spec:
    """A whole job: one to ``most`` features of the ``kinds`` named (empty: of any kind)."""
    units = draw(st.sampled_from(("inch", "mm")))
    pitch = draw(st.sampled_from(PITCHES[units]))
    one = 1.0 if units == "inch" else 25.0
    stock = (draw(st.integers(24, 56)), draw(st.integers(20, 36)))
    names = [f"part {letter}" for letter in "ABC"]
    count = draw(st.integers(1, most))
    chosen = [
        draw(st.sampled_from(kinds or ("step", "slot", "pocket", "boss", "outline", "face")))
        for _ in range(count)
    ]
    faces = [kind for kind in chosen if kind == "face"]
    chosen = faces[:1] + [kind for kind in chosen if kind != "face"]
    cutters = draw(_cutters(units))
    listed = draw(st.booleans()) or len(cutters) == 1
    return Spec(
        units=units,
        stock=(stock[0] * pitch, stock[1] * pitch, one),
        shapes=tuple(
            draw(shapes(name, stock, pitch, kind))
            for name, kind in zip(names, chosen, strict=False)
        ),
        cutters=cutters,
        use=tuple(c.id for c in cutters) if listed else (cutters[-1].id,),
        zero=draw(st.sampled_from(ZEROS)),
        material=draw(st.sampled_from(("mild steel", "aluminium"))),
        climb=draw(st.integers(0, 4)) == 0,
        left_hand=draw(st.integers(0, 4)) == 0,
        finish=draw(
            _some(
                wall=(None, None, 0.0, 0.01 * one, 0.03 * one),
                floor=(None, None, 0.0, 0.01 * one),
                skims=(None, None, 0, 1, 3),
                floor_skims=(None, None, None, 0),
            )
        ),
        limits=draw(
            _some(
                width_of_cut=(None, 0.08 * one, 0.12 * one, 0.2 * one),
                depth_of_cut=(None, None, 0.1 * one, 0.25 * one),
            )
        ),
        clamps=draw(_clamps(stock, pitch)),
        style=draw(st.sampled_from(("plain", "plain", "fractions", "other unit"))),
    )


@st.composite
def _clamps(draw: st.DrawFn, stock: tuple[int, int], pitch: float) -> tuple[Polygon, ...]:
    """Now and then a strap over the left or the right end of the stock."""
    if draw(st.integers(0, 6)):
        return ()
    low = draw(st.integers(0, stock[1] - 6))
    inward = draw(st.integers(2, 8))
    x = (-20, inward) if draw(st.booleans()) else (stock[0] - inward, stock[0] + 20)
    return (box((x[0] * pitch, x[1] * pitch), (low * pitch, (low + 6) * pitch)),)
