"""A TOML file that is being checked, and the faults found in it so far."""

import re
import tomllib
from collections.abc import Iterable
from pathlib import Path

from passplot.errors import Fault
from passplot.read.lines import Place, locate
from passplot.read.sizes import Least, Units, Unreadable, read_size
from passplot.records.sizes import Size

NOT_UTF8 = "not UTF-8 text"
_AT = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)")


class Source:
    """A file and what was found wrong with it.

    Attributes
    ----------
    file : str
        Its name, for messages.
    values : dict
        What it says; empty if it could not be read.
    faults : list of Fault
        Everything wrong with it so far.
    top_keys : tuple of str
        Keys that belong to the top of the file: a hint for those found in a table.
    misspelt : set of Place
        Keys that unknown ones probably stand for: they are not missing as well.
    """

    def __init__(self, file: str, text: str) -> None:
        self.top_keys: tuple[str, ...] = ()
        self.misspelt: set[Place] = set()
        self.file = file
        self.values: dict[str, object] = {}
        self.faults: list[Fault] = []
        self._lines: dict[Place, int] = {}
        try:
            self.values = tomllib.loads(text)
            self._lines = locate(text)
        except tomllib.TOMLDecodeError as error:
            self._syntax(str(error), text)
        except (ValueError, RecursionError) as error:
            # Numbers of thousands of digits, brackets nested thousands deep.
            self._syntax(f"{error} (at line 1, column 1)", text)

    def _syntax(self, message: str, text: str) -> None:
        hit = _AT.search(message)
        last = max(text.rstrip("\n").count("\n") + 1, 1)
        line = int(hit.group(1)) if hit and hit.group(1) else last
        key = re.match(r"\s*([\w.-]+)\s*=", [*text.split("\n"), ""][line - 1])
        said = plain(_AT.sub("", message))
        right = 'write a line as key = value, words in "quotes"'
        if said.startswith("Cannot overwrite"):
            said, right = "the key is given twice", "keep one of the two"
        self.fault_line(line, key.group(1) if key else "file", f"not TOML, {said}", right)

    def fault_line(self, line: int, key: str, wrong: str, right: str) -> None:
        """Note a fault at a line, whatever stands there."""
        self.faults.append(Fault(self.file, line, key, wrong, right))

    def line(self, place: Place) -> int:
        """Line of ``place``, or of the nearest thing around it that has one."""
        for depth in range(len(place), 0, -1):
            if place[:depth] in self._lines:
                return self._lines[place[:depth]]
        return 1

    def fault(self, place: Place, wrong: str, right: str, line: int | None = None) -> None:
        """Note a fault at ``place``, at its own line unless another is given."""
        fault = Fault(
            self.file, line or self.line(place), dotted(place), plain(wrong), plain(right)
        )
        if fault not in self.faults:
            self.faults.append(fault)

    def size(
        self, place: Place, value: object, units: Units, least: Least = Least.POSITIVE
    ) -> Size | None:
        """The size ``value`` at ``place`` stands for; None with a fault if it will not do."""
        try:
            return read_size(value, units, least)
        except Unreadable as fault:
            self.fault(place, fault.wrong, fault.right)
            return None

    def in_order(self) -> tuple[Fault, ...]:
        """The faults in the order of their lines."""
        return tuple(sorted(self.faults, key=lambda fault: fault.line))


def read_text(path: Path) -> tuple[str, Fault | None]:
    """The text of a file; empty, with the fault, if it cannot be read."""
    name = plain(str(path))
    right = "give the path of a text file"
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        return "", Fault(name, 1, "file", "there is no such file", right)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        return "", Fault(name, 1, "file", f"cannot be read: {plain(reason).lower()}", right)
    try:
        return raw.decode("utf-8-sig"), None
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        return "", Fault(name, line, "file", NOT_UTF8, "save the file as UTF-8")


def nearest(word: str, words: Iterable[str]) -> str | None:
    """The one of ``words`` that ``word`` is probably meant to be; None if none is near."""
    from difflib import get_close_matches  # noqa: PLC0415 - only faults need it

    known = {candidate.casefold(): candidate for candidate in words}
    near = get_close_matches(word[:60].casefold(), known, 1)
    return known[near[0]] if near else None


def did_you_mean(word: str, words: Iterable[str]) -> str:
    """What would be right instead of ``word``: the nearest of ``words``, or all of them."""
    words = tuple(words)
    near = nearest(word, words)
    if near is not None:
        return f'did you mean "{near}"?'
    return "it is one of " + ", ".join(f'"{known}"' for known in words)


def dotted(place: Place) -> str:
    """The name of a place: keys joined by dots, list elements counted from 1.

    Which of several ``[[feature]]`` tables is meant is said by the line.
    """
    text = ""
    for depth, part in enumerate(place):
        if isinstance(part, str):
            name = part if part.replace("_", "").replace("-", "").isalnum() else f'"{part}"'
            text += f".{name}" if text else name
        elif depth > 1 or depth == len(place) - 1:
            text += f"[{part + 1}]"
    return plain(text) or "file"


def plain(text: str) -> str:
    """``text`` on one line."""
    return "".join(letter if letter.isprintable() else " " for letter in text)
