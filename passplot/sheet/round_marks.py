"""Arcs as marks: edges and bands along them, true arcs in every writer, never chords."""

from collections.abc import Callable, Iterable, Sequence

from passplot.records.job import Feature
from passplot.records.shapes import Arc, Loop
from passplot.records.sheet import Bow, Ring
from passplot.sheet.canvas import Canvas
from passplot.sheet.ground import Piece
from passplot.sheet.rounds import Round, Span, chords, round_of, spans_of

Spot = tuple[float, float]
Mapping = Callable[[float, float], Spot]

_FULL = 360.0


def rule_rounds(
    canvas: Canvas, pieces: Iterable[Piece], width: float, dashes: tuple[float, ...] = ()
) -> None:
    """Draw the pieces that are chords as arcs; placed texts keep off them as off other edges."""
    for circle, alike in _by_circle(pieces).items():
        for span in spans_of(circle, [(piece.start, piece.end) for piece in alike]):
            canvas.put(arc_mark(circle, circle.radius, span, width, dashes=dashes))
        ways = [(piece.start, piece.end) for piece in alike]
        (canvas.narrow if dashes else canvas.wide).extend(ways)


def round_bands(pieces: Iterable[Piece], width: float, grey: float) -> list[Bow | Ring]:
    """Bands of a width along the lower side of arcs, as wide strokes."""
    found: list[Bow | Ring] = []
    for circle, alike in _by_circle(pieces).items():
        for outwards in (True, False):
            side = [
                piece
                for piece in alike
                if circle.outside(piece.start, piece.end, piece.normal) == outwards
            ]
            radius = circle.radius + (-width / 2 if outwards else width / 2)
            if radius > 0:
                ways = [(piece.start, piece.end) for piece in side]
                for span in spans_of(circle, ways):
                    found.append(arc_mark(circle, radius, span, width, grey=grey))
    return found


def arc_mark(
    circle: Round,
    radius: float,
    span: Span,
    width: float,
    *,
    grey: float = 0.0,
    dashes: tuple[float, ...] = (),
) -> Bow | Ring:
    """An arc about a circle's centre; a ring where it goes all the way round."""
    low, high = span
    if high - low >= _FULL:
        return Ring(circle.center, radius, width, grey, dashes)
    return Bow(circle.center, radius, low, high, width, grey, dashes)


def ring_of(loop: Loop, mapping: Mapping) -> Round | None:
    """The circle that a loop of arcs about one centre is, mapped; None for any other loop."""
    arcs = [edge for edge in loop.edges if isinstance(edge, Arc)]
    if len(arcs) != len(loop.edges) or len({edge.center for edge in arcs}) != 1:
        return None
    spots: Sequence[Spot] = [mapping(x, y) for edge in arcs for x, y in chords(edge)]
    return round_of([*spots, spots[0]])


def bores(features: Iterable[Feature]) -> tuple[Arc, ...]:
    """One arc of every outline of features that is a whole circle: bores, bosses, islands."""
    found: list[Arc] = []
    for feature in features:
        for loop in (*feature.area, *feature.keep):
            if ring_of(loop, lambda x, y: (x, y)) is not None:
                edge = loop.edges[0]
                if isinstance(edge, Arc):
                    found.append(edge)
    return tuple(found)


def _by_circle(pieces: Iterable[Piece]) -> dict[Round, list[Piece]]:
    found: dict[Round, list[Piece]] = {}
    for piece in pieces:
        if piece.circle is not None:
            found.setdefault(piece.circle, []).append(piece)
    return found
