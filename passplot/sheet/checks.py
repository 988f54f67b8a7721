"""What must hold of every page: no text on another, none off the live area or on a wide line."""

from itertools import combinations, pairwise
from math import ceil, cos, radians, sin

from passplot.records.sheet import Bow, Fill, Lettering, Page, Ring, Stroke
from passplot.sheet.paper import WIDE, Box

Spot = tuple[float, float]

_SLACK_MM = 0.05


def text_boxes(page: Page) -> list[tuple[str, Box]]:
    """Every text of a page with its box."""
    return [(mark.text, Box(*mark.box)) for mark in page.marks if isinstance(mark, Lettering)]


def overlapping(page: Page) -> list[tuple[str, str]]:
    """Pairs of texts whose boxes share area."""
    boxes = text_boxes(page)
    return [
        (one, other)
        for (one, a), (other, b) in combinations(boxes, 2)
        if a.grown(-_SLACK_MM).meets(b)
    ]


def outside(page: Page, live: Box) -> list[str]:
    """Texts and kinds of marks that leave the live area."""
    found = [text for text, box in text_boxes(page) if not live.holds(box)]
    room = live.grown(WIDE / 2 + 0.01)
    for mark in page.marks:
        if isinstance(mark, Stroke):
            found += ["stroke" for x, y in mark.points if not room.holds(Box(x, y, x, y))]
        elif isinstance(mark, Fill):
            spots = (spot for loop in mark.loops for spot in loop)
            found += ["fill" for x, y in spots if not room.holds(Box(x, y, x, y))]
    return found


def struck_through(page: Page) -> list[str]:
    """Texts that a wide line runs through."""
    lines = [
        segment
        for mark in page.marks
        if isinstance(mark, Stroke | Bow | Ring) and mark.width >= WIDE and mark.grey == 0
        for segment in pairwise(_course(mark))
    ]
    return [
        text for text, box in text_boxes(page) if any(_trimmed(box).crossed(a, b) for a, b in lines)
    ]


def _course(mark: Stroke | Bow | Ring) -> list[Spot]:
    """A line as points: an arc as chords of a degree or two."""
    if isinstance(mark, Stroke):
        return [*mark.points, mark.points[0]] if mark.closed else [*mark.points]
    low, high = (0.0, 360.0) if isinstance(mark, Ring) else (mark.start_deg, mark.end_deg)
    count = max(2, ceil(abs(high - low) / 2))
    turns = (radians(low + (high - low) * step / count) for step in range(count + 1))
    x, y = mark.center
    return [(x + mark.radius * cos(turn), y + mark.radius * sin(turn)) for turn in turns]


def _trimmed(box: Box) -> Box:
    """The part of a text's box that capitals and figures fill, whichever way it is turned."""
    return box.grown(-0.25 * min(box.width, box.height) / 1.22)
