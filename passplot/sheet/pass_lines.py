"""The passes on the plan view: an arrow along each line of feed, and its number.

Numbers of passes that run straight through stand in a row off their tails; the others stand in
a gap of their own line, as a dimension's figure does, or on a leader where a line is too short.
"""

from collections.abc import Sequence
from itertools import pairwise

from passplot.frozen import dataclass
from passplot.records.plan import Pass
from passplot.records.sheet import Lettering, Stroke
from passplot.sheet.canvas import Canvas
from passplot.sheet.feeds import LEFT, TOP, sign_of
from passplot.sheet.framing import Frame
from passplot.sheet.groups import Row
from passplot.sheet.ink import HEAD_LENGTH, HEAD_WIDTH, head, line
from passplot.sheet.labels import CLEARANCE_MM, centred, place, spread
from passplot.sheet.lettering import letter, width_of
from passplot.sheet.margins import FAN_MM, NUMBER_PITCH_MM, number_side, tail_side
from passplot.sheet.numbers import ranged
from passplot.sheet.paper import DASHED_WIDE, MEDIUM, WIDE, Box
from passplot.sheet.scene import Scene

Spot = tuple[float, float]
Gap = tuple[float, float]

_SAME_LINE_MM = 1.4
"""Lines nearer than this would run into each other: drawn once, with all their numbers."""
_INLINE_CLEARANCE_MM = 0.2
_GAP_END_MM = 1.2
_SEEN_DASHES_MM = HEAD_LENGTH + 2 * DASHED_WIDE[0] + DASHED_WIDE[1]
_LAST_SHARE = 0.75
_MOST_TEXT_MM = 26.0
"""Numbers handed on to the next line are not longer together."""
_SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1)


@dataclass(frozen=True, slots=True)
class Trace:
    """A line on paper that stands for one row of passes or several nearly on top of each other."""

    rows: tuple[Row, ...]
    start: Spot
    end: Spot

    @property
    def first(self) -> Pass:
        """The pass it is drawn as."""
        return self.rows[-1].first

    @property
    def upright(self) -> bool:
        """Whether it runs up or down the paper."""
        return self.first.axis == "Y"

    @property
    def across(self) -> float:
        """Where the line lies across its own direction."""
        return self.start[0] if self.upright else self.start[1]

    @property
    def length(self) -> float:
        """Length on paper."""
        return abs(self.end[0] - self.start[0]) + abs(self.end[1] - self.start[1])

    @property
    def through(self) -> bool:
        """Whether the pass runs through from side to side."""
        return self.first.start_clear and self.first.end_clear

    def at(self, share: float) -> Spot:
        """The point at that share of its length."""
        (ax, ay), (bx, by) = self.start, self.end
        return ax + (bx - ax) * share, ay + (by - ay) * share


def text_of(rows: Sequence[Row]) -> str:
    """The numbers of rows as one text; of depth levels those of the first."""
    return ranged([row.first.number for row in rows])


def traces_of(scene: Scene, frame: Frame) -> tuple[Trace, ...]:
    """The lines to draw."""
    found: list[Trace] = []
    for row in scene.rows:
        first = row.first
        if not first.straight:
            continue
        start = frame.view.at(first.start.x, first.start.y)
        end = frame.view.at(first.end.x, first.end.y)
        trace = Trace((row,), start, end)
        near = next((item for item in found if _same_line(item, trace)), None)
        if near is None:
            found.append(trace)
        else:
            found[found.index(near)] = Trace((*near.rows, row), start, end)
    return tuple(found)


def _same_line(one: Trace, other: Trace) -> bool:
    if one.first.axis != other.first.axis or sign_of(one.first) != sign_of(other.first):
        return False
    if len(one.rows[0].passes) != len(other.rows[0].passes):
        return False
    if abs(one.across - other.across) >= _SAME_LINE_MM:
        return False
    axis = 1 if one.upright else 0
    low, high = sorted((one.start[axis], one.end[axis]))
    near, far = sorted((other.start[axis], other.end[axis]))
    return min(high, far) - max(low, near) > 0.7 * max(high - low, far - near)


def draw_passes(canvas: Canvas, scene: Scene, frame: Frame, room: Box) -> None:
    """Draw every line, dashed where it cuts both ways, with its number."""
    traces = traces_of(scene, frame)
    canvas.wide.extend((trace.start, trace.end) for trace in traces)
    fans: dict[tuple[str, str], list[Trace]] = {}
    single: list[Trace] = []
    for trace in traces:
        side = number_side(trace.first, all_ends=frame.margins.all_ends)
        if side in frame.margins.numbers:
            fans.setdefault((trace.first.feature, side), []).append(trace)
        else:
            single.append(trace)
    for (_, side), family in fans.items():
        single += _fan(canvas, family, side, room)
    gaps = _number_single(canvas, single, room)
    closest = _closest(traces)
    for index, trace in enumerate(traces):
        stagger = HEAD_LENGTH if trace.through and closest < HEAD_WIDTH * 1.3 and index % 2 else 0.0
        _draw_line(canvas, trace, gaps.get(trace.first.number), stagger)


def _closest(traces: tuple[Trace, ...]) -> float:
    """Least distance between neighbouring lines that run through."""
    places = sorted((trace.upright, trace.across) for trace in traces if trace.through)
    gaps = (b[1] - a[1] for a, b in pairwise(places) if a[0] == b[0])
    return min(gaps, default=100.0)


def _draw_line(canvas: Canvas, trace: Trace, gap: Gap | None, stagger: float) -> None:
    length = max(trace.length, 1.0)
    tip = min(HEAD_LENGTH, 0.6 * length)
    tip_at = max(1 - stagger / length, 0.5)
    stop = tip_at if stagger else 1 - 0.8 * tip / length
    numbers = [each.number for row in trace.rows for each in row.passes]
    for low, high, dashed in _stretches(trace.first, trace.length):
        end = high if stagger and high == 1.0 else min(high, stop)
        for near, far in _without(low, end, gap):
            points = (trace.at(near), trace.at(far))
            dashes = DASHED_WIDE if dashed else ()
            for number in numbers:
                canvas.put(Stroke(points, WIDE, dashes=dashes, number=number))
    for number in numbers:
        canvas.put(head(trace.at(tip_at), trace.start, tip, HEAD_WIDTH * tip / HEAD_LENGTH, number))


def _without(low: float, high: float, gap: Gap | None) -> list[Gap]:
    if gap is None or gap[1] <= low or gap[0] >= high:
        return [(low, high)] if high > low else []
    parts = [(low, gap[0]), (gap[1], high)]
    return [(a, b) for a, b in parts if b - a > 1e-6]


def _stretches(each: Pass, length_mm: float) -> tuple[tuple[float, float, bool], ...]:
    """Parts of a pass as shares of its length: from, to, whether it cuts both ways there.

    The bite into a corner stands at the end of a pass that stops in metal, else at its start. A
    bite too short to show is drawn as long as its dashes need to be seen beside the arrowhead.
    """
    if each.both_ways <= 0:
        return ((0.0, 1.0, False),)
    share = max(each.both_ways / each.length, _SEEN_DASHES_MM / max(length_mm, 1.0))
    if each.purpose in ("slot", "entry") or share > 0.6:
        return ((0.0, 1.0, True),)
    if each.end_clear and not each.start_clear:
        return ((0.0, share, True), (share, 1.0, False))
    return ((0.0, 1 - share, False), (1 - share, 1.0, True))


def _number_single(canvas: Canvas, traces: list[Trace], room: Box) -> dict[int, Gap]:
    """Number lines one by one; returns the gap each number needs in its line, by pass.

    A line too short for its number hands it on to the line that goes on from its end, where both
    find room; else it has a leader.
    """
    gaps: dict[int, Gap] = {}
    waiting: list[Trace] = []
    traces = sorted(traces, key=lambda trace: trace.first.number)
    for index, trace in enumerate(traces):
        follower = traces[index + 1] if index + 1 < len(traces) else None
        own = _text_of([trace])
        text = _text_of([*waiting, trace])
        if waiting and width_of(text, MEDIUM, True) > _MOST_TEXT_MM:
            _on_leader(canvas, waiting[-1], _text_of(waiting), room)
            waiting, text = [], own
        if trace.length < _inline_need(own) and follower and follower.start == trace.end:
            waiting.append(trace)
            continue
        if waiting and _inline_need(text) > trace.length >= _inline_need(own):
            _on_leader(canvas, waiting[-1], _text_of(waiting), room)
            text = own
        waiting = []
        gap = _inline(canvas, trace, text, room)
        if gap is not None:
            gaps[trace.first.number] = gap
        else:
            _on_leader(canvas, trace, text, room)
    return gaps


def _text_of(traces: Sequence[Trace]) -> str:
    """The numbers of lines as one text."""
    return text_of([row for trace in traces for row in trace.rows])


def _inline_need(text: str) -> float:
    return width_of(text, MEDIUM, True) + 2 * _GAP_END_MM + HEAD_LENGTH + 1.5


def _inline(canvas: Canvas, trace: Trace, text: str, room: Box) -> Gap | None:
    """Write a number in its own line; returns the gap it needs, as shares of the length."""
    if trace.length < _inline_need(text):
        return None
    half = width_of(text, MEDIUM, True) / 2 + _GAP_END_MM
    own = (trace.start, trace.end)
    for share in _SHARES:
        low, high = share - half / trace.length, share + half / trace.length
        if low < 0.02 or high > 1 - (HEAD_LENGTH + 0.8) / trace.length:
            continue
        text_mark = _inline_text(trace, text, trace.at(share))
        box = Box(*text_mark.box)
        tight = Box(*_trimmed(box, trace.upright)).grown(_INLINE_CLEARANCE_MM)
        if canvas.free(tight, room, but=own) and not any(box.meets(b) for b in canvas.boxes):
            canvas.write(text_mark, gap=0.1)
            return low, high
    return None


def _trimmed(box: Box, upright: bool) -> tuple[float, float, float, float]:
    """A box without the room for descenders, which figures do not have."""
    drop = 0.22 * MEDIUM
    if upright:
        return box.left, box.top, box.right - drop, box.bottom
    return box.left, box.top, box.right, box.bottom - drop


def _inline_text(trace: Trace, text: str, spot: Spot) -> Lettering:
    x, y = spot
    number = trace.first.number
    if trace.upright:
        return letter(
            text, x + MEDIUM / 2, y, MEDIUM, anchor="middle", bold=True, turned=True, number=number
        )
    return centred(text, spot, MEDIUM, bold=True, number=number)


def _on_leader(canvas: Canvas, trace: Trace, text: str, room: Box) -> None:
    """Write a number beside a short line, or on a leader."""
    half_wide, half_high = width_of(text, MEDIUM, True) / 2, MEDIUM / 2
    off = WIDE / 2 + CLEARANCE_MM + 0.3
    x, y = trace.at(0.5)
    spots = (
        [(x - off - half_wide, y), (x + off + half_wide, y)]
        if trace.upright
        else [(x, y - off - half_high), (x, y + off + half_high)]
    )
    number = trace.first.number
    for share in (0.5, 0.25, 0.75):
        must, target = share == _LAST_SHARE, trace.at(share)
        if place(canvas, room, text, spots, target, MEDIUM, bold=True, number=number, must=must):
            return
        spots = []


def _fan(canvas: Canvas, family: list[Trace], side: str, room: Box) -> list[Trace]:
    """Numbers in a row off the ends at a side, with short leaders; returns those left over."""
    family = sorted(family, key=lambda trace: trace.across)
    upright = family[0].upright
    sizes = [_label_size(trace) for trace in family]
    low, high = (room.left, room.right) if upright else (room.top, room.bottom)
    middles = spread([trace.across for trace in family], sizes, low, high)
    outward = -1.0 if side in (TOP, LEFT) else 1.0
    axis = 1 if upright else 0
    tails = [_end_at(trace, side)[axis] for trace in family]
    line_at = (min(tails) if outward < 0 else max(tails)) + outward * (FAN_MM - 2)
    return [
        trace
        for trace, middle in zip(family, middles, strict=True)
        if not _fan_label(canvas, trace, _end_at(trace, side), middle, line_at, outward, room)
    ]


def _end_at(trace: Trace, side: str) -> Spot:
    """The end of a line that lies at a side of the part."""
    return trace.start if tail_side(trace.first.axis, sign_of(trace.first)) == side else trace.end


def _label_size(trace: Trace) -> float:
    if not trace.upright:
        return NUMBER_PITCH_MM
    return width_of(text_of(trace.rows), MEDIUM, True) + 2 * CLEARANCE_MM


def _fan_label(
    canvas: Canvas,
    trace: Trace,
    end: Spot,
    middle: float,
    line_at: float,
    outward: float,
    room: Box,
) -> bool:
    text = text_of(trace.rows)
    if trace.upright:
        spot, knee = (middle, line_at + outward * (MEDIUM / 2 + 0.8)), (middle, line_at)
    else:
        half = width_of(text, MEDIUM, True) / 2 + 0.8
        spot, knee = (line_at + outward * half, middle), (line_at, middle)
    mark = centred(text, spot, MEDIUM, bold=True, number=trace.rows[0].first.number)
    if not canvas.free(Box(*mark.box).grown(0.3), room):
        return False
    canvas.rule(line(end, knee), wide=False)
    canvas.write(mark, gap=0.4)
    return True
