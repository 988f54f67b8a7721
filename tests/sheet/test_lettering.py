"""Measured widths against the font file itself."""

from pathlib import Path

import matplotlib
import pytest
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from passplot.records.sheet import CAPITAL_EM
from passplot.sheet.lettering import letter, width_of, wrap

FONTS = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
FACES = {False: TTFont(FONTS / "DejaVuSans.ttf"), True: TTFont(FONTS / "DejaVuSans-Bold.ttf")}
WORDS = st.text("ABCDEFGHIJabcdef0123456789.,−×Ø±° ", min_size=1, max_size=40)


@given(text=WORDS, bold=st.booleans())
@settings(max_examples=60, deadline=None)
def test_width_is_the_sum_of_the_fonts_own_advances(text: str, bold: bool) -> None:
    font = FACES[bold]
    names = font.getBestCmap()
    units = sum(font["hmtx"][names[ord(char)]][0] for char in text)
    height = 5.0
    size = height / (font["glyf"]["H"].yMax / font["head"].unitsPerEm)
    assert width_of(text, height, bold) == pytest.approx(units / font["head"].unitsPerEm * size)


def test_capitals_are_as_high_as_asked() -> None:
    for font in FACES.values():
        assert font["glyf"]["H"].yMax / font["head"].unitsPerEm == CAPITAL_EM


def test_digits_are_of_one_width() -> None:
    for bold in (False, True):
        assert len({width_of(digit, 5.0, bold) for digit in "0123456789"}) == 1


@given(text=WORDS, room=st.floats(12, 80))
@settings(max_examples=80, deadline=None)
def test_wrapped_lines_fit_and_lose_nothing(text: str, room: float) -> None:
    lines = wrap(text, room, 3.5)
    assert all(width_of(line, 3.5) <= room for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_the_box_of_turned_text_stands_upright() -> None:
    left, top, right, bottom = letter("CUTTER", 50, 80, 5.0, turned=True).box
    assert bottom - top > right - left
    assert (bottom, right) == pytest.approx((80, 50 + 1.1))
