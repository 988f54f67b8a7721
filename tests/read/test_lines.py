"""Lines of keys, headers and elements in every shape TOML allows."""

import tomllib

import pytest

from passplot.read.lines import Place, locate

TEXT = '''# a comment with [brackets] and "quotes"
title = "a # no comment"   # but this is = one
"quoted key" = 'literal \\'
a.b."c.d" = 1

[stock]
size = [4, 3, 1]
text = """
[not.a.header]
key = "x" \\"""
"""
other = \'\'\'
[neither]\'\'\'
[machine.dial.x]
per_turn = 1979-05-27 07:32:00
[[feature]]
name = "one"
points = [
    [0, 0],  # first
    { x = 1, y = [2,
      3] },
]
[[feature]]
name = "two"
[[feature.inner]]
z = 1
[[feature.inner]]
z = 2
[feature.inner.deep]
w = true
'''


@pytest.mark.parametrize(
    ("place", "line"),
    [
        (("title",), 2),
        (("quoted key",), 3),
        (("a", "b", "c.d"), 4),
        (("a",), 4),
        (("stock",), 6),
        (("stock", "size", 2), 7),
        (("stock", "other"), 12),
        (("machine",), 14),
        (("machine", "dial", "x", "per_turn"), 15),
        (("feature", 0), 16),
        (("feature", 0, "points", 0, 1), 19),
        (("feature", 0, "points", 1, "x"), 20),
        (("feature", 0, "points", 1, "y", 1), 21),
        (("feature", 1), 23),
        (("feature", 1, "inner", 0, "z"), 26),
        (("feature", 1, "inner", 1), 27),
        (("feature", 1, "inner", 1, "deep", "w"), 30),
    ],
)
def test_everything_is_found_on_its_line(place: Place, line: int) -> None:
    assert locate(TEXT)[place] == line


def test_nothing_inside_strings_is_taken_for_a_key() -> None:
    lines = locate(TEXT)
    assert ("not",) not in lines
    assert ("neither",) not in lines
    assert ("stock", "key") not in lines


def test_lines_end_either_way() -> None:
    assert locate("a = 1\r\n\r\n[t]\r\nb = 2\r\n")[("t", "b")] == 4


ODD = """
"" = ""
3.14 = [ # numbers may be keys
  1e-3, +inf, 0xFF, # comment, with a comma
  [ ], {}, { a . "b" = [1], 'c' = '''x''' }, ]
[ spaced . "out" ]
when = 1979-05-27T07:32:00-08:00
[[ list . of ]]
quotes = \"\"\""quoted"\"\"\"\"
path = 'C:\\'
"""


def test_odd_but_valid_spellings_are_walked_through() -> None:
    text = ODD.replace('\\"', '"')
    tomllib.loads(text)
    lines = locate(text)
    assert lines["",] == 2
    assert lines["3", "14", 2] == 4
    assert lines["3", "14", 5, "a", "b", 0] == 5
    assert lines["spaced", "out", "when"] == 7
    assert lines["list", "of", 0, "path"] == 10
