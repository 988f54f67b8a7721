"""Paper, scales, letters and greys against the published standards."""

import pytest

from passplot.sheet.paper import (
    BAND,
    LARGE,
    LIVE_MM,
    MEDIUM,
    NARROW,
    SCALES,
    SHADE,
    SMALL,
    TONE,
    WIDE,
    Box,
    paper_named,
    scale_text,
)

ISO_3098_HEIGHTS_MM = (1.8, 2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0)
ISO_128_WIDTHS_MM = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
ISO_5455_SCALES = (
    *("50:1", "20:1", "10:1", "5:1", "2:1", "1:1"),
    *("1:2", "1:5", "1:10", "1:20", "1:50", "1:100"),
)


def luminance(level: int) -> float:
    """Relative luminance of a grey of 8 bits (WCAG 2.2)."""
    c = level / 255
    return c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4


def contrast(one: float, other: float) -> float:
    """Contrast ratio of two greys, 0 to 1 (WCAG 2.2)."""
    light, dark = sorted((luminance(round(255 * one)), luminance(round(255 * other))), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_formula_gives_the_published_values() -> None:
    # WCAG's own test colours on white: #000000 21.0, #595959 7.005, #949494 3.033
    for level, ratio in ((0x00, 21.0), (0x59, 7.005), (0x94, 3.033)):
        assert contrast(level / 255, 1.0) == pytest.approx(ratio, abs=0.001)


def test_text_stands_out_seven_to_one_even_on_shaded_headings() -> None:
    for ground in (1.0, SHADE, TONE):
        assert contrast(0.0, ground) >= 7.0


def test_stock_left_for_finishing_stands_out_three_to_one() -> None:
    for ground in (1.0, TONE):
        assert contrast(BAND, ground) >= 3.0


def test_papers_are_those_of_iso_216_and_asme_y14_1() -> None:
    a4, letter = paper_named("a4", portrait=False), paper_named("letter", portrait=True)
    assert (a4.width, a4.height) == (297, 210)
    assert (letter.width / 25.4, letter.height / 25.4) == pytest.approx((8.5, 11))


@pytest.mark.parametrize("name", ["a4", "letter"])
@pytest.mark.parametrize("portrait", [False, True])
def test_the_live_area_prints_on_both_papers(name: str, portrait: bool) -> None:
    paper = paper_named(name, portrait=portrait)
    assert sorted((paper.live.width, paper.live.height)) == pytest.approx(LIVE_MM)
    assert Box(10, 10, paper.width - 10, paper.height - 10).holds(paper.live)


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(KeyError):
        paper_named("a5", portrait=False)


def test_scales_letters_and_lines_come_from_the_standards_series() -> None:
    assert {scale_text(scale) for scale in SCALES} <= set(ISO_5455_SCALES)
    assert {SMALL, MEDIUM, LARGE} <= set(ISO_3098_HEIGHTS_MM)
    assert {WIDE, NARROW} <= set(ISO_128_WIDTHS_MM)
    assert WIDE == 2 * NARROW


def test_pass_numbers_are_read_at_800_mm() -> None:
    # 20 minutes of arc at 800 mm is 4.65 mm (NUREG-0700: preferred 20 to 22 minutes)
    assert MEDIUM >= 4.65


@pytest.mark.parametrize(
    ("a", "b", "crossed"),
    [
        ((-1, 5), (11, 5), True),
        ((5, -1), (5, 11), True),
        ((-1, -1), (11, 11), True),
        ((-5, 8), (4, 18), False),
        ((11, 0), (11, 10), False),
        ((2, 2), (3, 4), True),
    ],
)
def test_lines_through_a_box_are_seen(
    a: tuple[float, float], b: tuple[float, float], crossed: bool
) -> None:
    assert Box(0, 0, 10, 10).crossed(a, b) is crossed
    assert Box(0, 0, 10, 10).crossed(b, a) is crossed
