"""Where in a TOML text every table, key and list element stands.

The standard library's parser does not say, and a fault without its line helps nobody. The text
handed in has been parsed already, so that only well-formed TOML 1.0 need be walked through.
"""

import re
import tomllib
from bisect import bisect_right

Place = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_SCALAR = re.compile(r"[^,\]}\n#]*")
_STRING = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}(?!")'
    r"|'''.*?'{3,5}(?!')"
    r'|"(?:\\.|[^"\\\n])*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)


def locate(text: str) -> dict[Place, int]:
    """Line of everything in ``text``.

    Parameters
    ----------
    text : str
        Well-formed TOML.

    Returns
    -------
    dict
        From the place of a value (keys, and indices of list elements, from the top) to the
        1-based line its key, its header or, for an element, the value itself starts on.
    """
    walk = _Walk(text)
    walk.run()
    return walk.lines


class _Walk:
    """A walk through a text, from its start to its end."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Place, int] = {}
        self._starts = [0, *(hit.end() for hit in re.finditer("\n", text))]
        self._lengths: dict[Place, int] = {}

    def run(self) -> None:
        table: Place = ()
        while not self._ends():
            table = self._header() if self._peek("[") else self._pair(table)

    def _line(self) -> int:
        return bisect_right(self._starts, self.at)

    def _skip(self) -> None:
        hit = _BLANK.match(self.text, self.at)
        if hit:
            self.at = hit.end()

    def _ends(self) -> bool:
        self._skip()
        return self.at >= len(self.text)

    def _peek(self, mark: str) -> bool:
        return self.text.startswith(mark, self.at)

    def _take(self, pattern: re.Pattern[str]) -> str:
        hit = pattern.match(self.text, self.at)
        if hit is None or hit.end() == self.at:
            raise ValueError(f"no TOML at character {self.at}")
        self.at = hit.end()
        return hit.group()

    def _note(self, place: Place, line: int) -> None:
        """Note ``place``, and what it lies in where nothing was noted yet."""
        for depth in range(1, len(place) + 1):
            self.lines.setdefault(place[:depth], line)

    def _header(self) -> Place:
        line = self._line()
        many = self._peek("[[")
        self.at += 2 if many else 1
        place: Place = ()
        keys = self._key()
        for key in keys[:-1]:
            place = (*place, key)
            if place in self._lengths:
                place = (*place, self._lengths[place] - 1)
        place = (*place, keys[-1])
        if many:
            index = self._lengths.get(place, 0)
            self._lengths[place] = index + 1
            place = (*place, index)
        self.at += 2 if many else 1
        self._note(place, line)
        self.lines[place] = line
        return place

    def _key(self) -> list[str]:
        """A dotted key; stops after it and the blanks that follow."""
        parts = []
        while True:
            self._skip()
            if self._peek('"') or self._peek("'"):
                parts.append(str(tomllib.loads(f"key = {self._take(_STRING)}")["key"]))
            else:
                parts.append(self._take(_BARE_KEY))
            self._skip()
            if not self._peek("."):
                return parts
            self.at += 1

    def _pair(self, table: Place) -> Place:
        """A key and its value; returns ``table``."""
        line = self._line()
        place = (*table, *self._key())
        self.at += 1  # the equals sign
        self._note(place, line)
        self._value(place)
        return table

    def _value(self, place: Place) -> None:
        self._skip()
        if self._peek("["):
            self._list(place)
        elif self._peek("{"):
            self._inline_table(place)
        elif self._peek('"') or self._peek("'"):
            self._take(_STRING)
        else:
            self._take(_SCALAR)

    def _list(self, place: Place) -> None:
        self.at += 1
        index = 0
        self._skip()
        while not self._peek("]"):
            self._note((*place, index), self._line())
            self._value((*place, index))
            index += 1
            self._comma()
        self.at += 1

    def _inline_table(self, place: Place) -> None:
        self.at += 1
        self._skip()
        while not self._peek("}"):
            self._pair(place)
            self._comma()
        self.at += 1

    def _comma(self) -> None:
        self._skip()
        if self._peek(","):
            self.at += 1
            self._skip()
