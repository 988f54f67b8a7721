"""One drawing, two inks: the SVG drawn by an outside renderer against our own PNG."""

from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import resvg_py
from matplotlib import get_data_path
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import maximum_filter, minimum_filter
from sheet.plans import sheet_of

from passplot.records.sheet import Bow, Fill, Page, Ring, Stroke
from passplot.sheet.lettering import letter
from passplot.write.picture import DOTS_PER_INCH, pdf_bytes, png_bytes
from passplot.write.svg import svg_element, svg_text

Pixels = NDArray[np.int16]
LIKE = 0.001
"""Share of pixels that may differ: a page without one of its lines differs by twice as much."""


def ours(page: Page) -> Pixels:
    return np.asarray(Image.open(BytesIO(png_bytes(page))).convert("L"), dtype=np.int16)


def theirs(page: Page, shape: tuple[int, ...]) -> Pixels:
    fonts = Path(get_data_path()) / "fonts" / "ttf"
    data = resvg_py.svg_to_bytes(
        svg_string=svg_text(svg_element(page)),
        width=shape[1],
        height=shape[0],
        background="white",
        dpi=96,
        skip_system_fonts=True,
        font_files=[str(fonts / "DejaVuSans.ttf"), str(fonts / "DejaVuSans-Bold.ttf")],
    )
    drawn = np.asarray(Image.open(BytesIO(data)).convert("L"), dtype=np.int16)
    return drawn[: shape[0], : shape[1]]  # it rounds the paper's height up


def unlike(one: Pixels, other: Pixels, reach: int = 5, slack: int = 70) -> float:
    """Share of pixels whose grey the other picture has nowhere within ``reach`` // 2 pixels."""
    low, high = minimum_filter(other, reach), maximum_filter(other, reach)
    return float(np.mean((one < low - slack) | (one > high + slack)))


@pytest.mark.parametrize(("name", "index"), [("two shoulders", 2), ("closed pocket", 0)])
def test_an_outside_renderer_draws_the_svg_like_our_png(
    name: str, index: int, tmp_path: Path
) -> None:
    page = sheet_of(name).pages[index]
    png = ours(page)
    svg = theirs(page, png.shape)
    share = max(unlike(png, svg), unlike(svg, png))
    if share >= LIKE:  # left side by side for the eye
        Image.fromarray(png.astype(np.uint8)).save(tmp_path / "png.png")
        Image.fromarray(svg.astype(np.uint8)).save(tmp_path / "svg.png")
    assert share < LIKE, f"see {tmp_path}"


def test_the_comparison_sees_a_missing_line() -> None:
    page = sheet_of("two shoulders").pages[2]
    numbered = tuple(mark for mark in page.marks if getattr(mark, "number", None) != 3)
    spoiled = Page(page.width, page.height, numbered, page.title)
    png = ours(spoiled)
    assert unlike(theirs(page, png.shape), png) >= LIKE


def test_every_kind_of_mark_lands_in_the_same_place() -> None:
    marks = (
        Fill(
            (((10, 10), (30, 10), (30, 30), (10, 30)), ((15, 15), (25, 15), (25, 25), (15, 25))),
            0.5,
        ),
        Stroke(((40, 10), (70, 10), (70, 30)), 0.7, dashes=(4.0, 2.0)),
        Ring((20, 50), 9, 1.0),
        Bow((50, 50), 9, 150, 400, 0.7),
        Bow((75, 50), 9, 390, 180, 0.7),
        letter("CUTTER 3.5", 10, 80, 5.0, bold=True),
        letter("TABLE", 90, 80, 5.0, turned=True),
        letter("0", 70, 80, 7.0, anchor="middle"),
        letter("−.1000", 60, 95, 3.5, anchor="end"),
    )
    page = Page(100, 100, marks, "marks")
    png = ours(page)
    svg = theirs(page, png.shape)
    assert max(unlike(png, svg), unlike(svg, png)) < LIKE


def test_the_picture_has_the_size_of_the_paper() -> None:
    page = sheet_of("two shoulders").pages[0]
    picture = Image.open(BytesIO(png_bytes(page)))
    assert picture.size == (round(297 / 25.4 * DOTS_PER_INCH), round(210 / 25.4 * DOTS_PER_INCH))
    assert picture.info["dpi"] == pytest.approx((DOTS_PER_INCH, DOTS_PER_INCH), abs=0.1)


def test_no_dates_or_names_of_programs_in_the_files() -> None:
    pages = sheet_of("two shoulders").pages[:1]
    assert set(Image.open(BytesIO(png_bytes(pages[0]))).info) == {"dpi"}
    for word in (b"CreationDate", b"Producer", b"Matplotlib"):
        assert word not in pdf_bytes(pages)
