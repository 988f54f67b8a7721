"""A page of the sheet as SVG, in millimetres, with real text.

Every text carries its measured width, so that it fills the same room whatever face the reader's
machine has. Marks of a pass carry ``data-pass``, for stepping through them on a page.
"""

from itertools import groupby
from math import cos, radians, sin
from xml.etree.ElementTree import Element, tostring

import svgwrite

from passplot.frozen import dataclass
from passplot.records.sheet import (
    CAPITAL_EM,
    FACE,
    Bow,
    Fill,
    Lettering,
    Mark,
    Page,
    Ring,
    Stroke,
)

FAMILY = f"'{FACE}', 'Bitstream Vera Sans', Verdana, sans-serif"


@dataclass(frozen=True, slots=True)
class _Piece:
    """A path or a text as a drawing takes it: its name and what it is in the file.

    The library's own elements take five times as long to make; a page has hundreds.
    """

    elementname: str
    xml: Element

    def get_xml(self) -> Element:
        """As the library asks for it."""
        return self.xml


_DECLARATION = '<?xml version="1.0" encoding="utf-8"?>'


def svg_text(element: str) -> str:
    """The text of an SVG file that holds an ``svg`` element."""
    return f"{_DECLARATION}\n{element}\n"


def svg_element(page: Page) -> str:
    """The page as an ``svg`` element, as it stands in a file or in HTML."""
    return str(tostring(drawing(page).get_xml(), encoding="unicode"))


def drawing(page: Page) -> svgwrite.Drawing:
    """The page as a drawing whose user unit is the millimetre."""
    sheet = svgwrite.Drawing(
        size=(f"{_number(page.width)}mm", f"{_number(page.height)}mm"),
        viewBox=f"0 0 {_number(page.width)} {_number(page.height)}",
        debug=False,
    )
    sheet["font-family"] = FAMILY
    sheet["fill"] = "none"
    sheet["style"] = "font-kerning: none"  # widths are measured without
    sheet.set_desc(title=page.title)
    sheet.add(sheet.rect((0, 0), (_number(page.width), _number(page.height)), fill="#ffffff"))
    for _, alike in groupby(page.marks, key=_style):
        sheet.add(_piece(tuple(alike)))
    return sheet


def _style(mark: Mark) -> tuple[object, ...]:
    """What neighbouring marks must share to be drawn as one element."""
    if isinstance(mark, Lettering):
        return (Lettering, id(mark))
    if isinstance(mark, Fill):
        return (Fill, id(mark))
    return (Stroke, mark.width, mark.grey, mark.dashes, mark.number)


def _piece(marks: tuple[Mark, ...]) -> _Piece:
    first = marks[0]
    if isinstance(first, Lettering):
        return _text(first)
    looks = {"d": " ".join([_way(mark) for mark in marks])}
    if isinstance(first, Fill):
        looks["fill"] = _grey(first.grey)
        looks["fill-rule"] = "evenodd"
    else:
        looks["stroke"] = _grey(first.grey)
        looks["stroke-width"] = _number(first.width)
        if first.dashes:
            looks["stroke-dasharray"] = " ".join([_number(length) for length in first.dashes])
    if first.number is not None:
        looks["data-pass"] = str(first.number)
    return _Piece("path", Element("path", dict(sorted(looks.items()))))


def _way(mark: Mark) -> str:
    """A mark as path data."""
    if isinstance(mark, Stroke):
        return _polyline(mark.points, closed=mark.closed)
    if isinstance(mark, Fill):
        return " ".join(_polyline(loop, closed=True) for loop in mark.loops)
    if isinstance(mark, Ring):
        x, y = mark.center
        r = _number(mark.radius)
        left, right, y_text = _number(x - mark.radius), _number(x + mark.radius), _number(y)
        return f"M{left} {y_text}A{r} {r} 0 1 1 {right} {y_text}A{r} {r} 0 1 1 {left} {y_text}Z"
    assert isinstance(mark, Bow), "fault of passplot: texts are no paths"
    start, end = _round(mark, mark.start_deg), _round(mark, mark.end_deg)
    large = int(abs(mark.end_deg - mark.start_deg) > 180)
    sweep = int(mark.end_deg > mark.start_deg)
    r = _number(mark.radius)
    return f"M{_pair(start)}A{r} {r} 0 {large} {sweep} {_pair(end)}"


def _polyline(points: tuple[tuple[float, float], ...], *, closed: bool) -> str:
    return "M" + "L".join(_pair(point) for point in points) + ("Z" if closed else "")


def _round(bow: Bow, degrees: float) -> tuple[float, float]:
    angle = radians(degrees)
    return bow.center[0] + bow.radius * cos(angle), bow.center[1] + bow.radius * sin(angle)


def _text(mark: Lettering) -> _Piece:
    x, y = _number(mark.x), _number(mark.y)
    looks = {
        "fill": "#000000",
        "font-size": _number(mark.height / CAPITAL_EM),
        "lengthAdjust": "spacingAndGlyphs",
        "textLength": _number(mark.width),
        "x": x,
        "y": y,
    }
    if mark.anchor != "start":
        looks["text-anchor"] = mark.anchor
    if mark.bold:
        looks["font-weight"] = "bold"
    if mark.turned:
        looks["transform"] = f"rotate(-90 {x} {y})"
    if mark.number is not None:
        looks["data-pass"] = str(mark.number)
    xml = Element("text", dict(sorted(looks.items())))
    xml.text = mark.text
    return _Piece("text", xml)


def _pair(point: tuple[float, float]) -> str:
    return f"{_number(point[0])} {_number(point[1])}"


def _number(value: float) -> str:
    """Millimetres to the thousandth, no trailing zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _grey(grey: float) -> str:
    level = round(grey * 255)
    return f"#{level:02x}{level:02x}{level:02x}"
