"""The tables of a file being checked: they hand out values of the right kind, or note a fault.

Nothing here raises for what a user wrote: a value that will not do is noted as a fault and comes
back as None (or as the default), so that one run finds every fault of a file.
"""

from collections.abc import Iterable

from passplot.read.lines import Place
from passplot.read.sizes import Least, Units, shown
from passplot.read.source import Source, did_you_mean, nearest
from passplot.records.sizes import Size


class Table:
    """A table of a file. Methods that read a key return None after noting a fault."""

    def __init__(
        self, source: Source, place: Place, values: dict[str, object], units: Units
    ) -> None:
        self.source = source
        self.place = place
        self.values = values
        self.units = units

    def __contains__(self, key: str) -> bool:
        return key in self.values

    def exact(self) -> "Table":
        """The same table, its sizes free of the general tolerance."""
        units = Units(self.units.bare, self.units.job)
        return Table(self.source, self.place, self.values, units)

    @property
    def line(self) -> int:
        """Line of the table's header; 1 for the top of the file."""
        return self.source.line(self.place)

    def fault(self, key: str, wrong: str, right: str) -> None:
        """Note a fault at ``key``, or at the header's line if the table has no such key."""
        line = None if key in self.values else self.line
        self.source.fault((*self.place, key), wrong, right, line)

    def missing(self, key: str, right: str) -> None:
        """Note that ``key`` is missing, unless a misspelt key was noted that stands for it."""
        if (*self.place, key) not in self.source.misspelt:
            self.fault(key, "is missing", right)

    def check_keys(self, known: Iterable[str]) -> None:
        """Note keys that are not ``known``."""
        known = tuple(known)
        for key in self.values:
            if key in known:
                continue
            near = nearest(key, known)
            if near is not None:
                self.source.misspelt.add((*self.place, near))
            if near is None and key in self.source.top_keys:
                right = "it belongs to the top of the file, above the first [table]"
            else:
                right = did_you_mean(key, known)
            self.fault(key, "unknown key", right)

    def text(self, key: str, right: str | None = None) -> str | None:
        """A string of the file; a fault if it is missing and ``right`` says what would be right."""
        value = self.values.get(key)
        if value is None:
            if right is not None:
                self.missing(key, right)
            return None
        if isinstance(value, str) and value.strip() and value.isprintable():
            return value.strip()
        self.fault(key, f"{shown(value)} is not a text", right or "write some words in quotes")
        return None

    def word(self, key: str, words: tuple[str, ...], default: str | None = None) -> str | None:
        """One of ``words``; ``default`` if left out, a fault if there is no default."""
        value = self.values.get(key)
        choice = "it is one of " + ", ".join(f'"{word}"' for word in words)
        if value is None:
            if default is None:
                self.missing(key, choice)
            return default
        if isinstance(value, str):
            said = " ".join(value.casefold().split())
            known = [word for word in words if word.casefold() == said]
            if known:
                return known[0]
            self.fault(key, f"{shown(value)} is unknown", did_you_mean(said, words))
        else:
            self.fault(key, f"{shown(value)} is not a word", choice)
        return default

    def flag(self, key: str) -> bool:
        """True or false; false if left out."""
        value = self.values.get(key, False)
        if not isinstance(value, bool):
            self.fault(key, f"{shown(value)} is neither true nor false", "write true or false")
            return False
        return value

    def whole(self, key: str, least: int, most: int, default: int | None = None) -> int | None:
        """A whole number from ``least`` to ``most``."""
        right = f"it is a whole number from {least} to {most}"
        value = self.values.get(key)
        if value is None:
            if default is None:
                self.missing(key, right)
            return default
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
            self.fault(key, f"{shown(value)} will not do", right)
            return default
        return value

    def number(self, key: str, right: str) -> float | None:
        """A number above zero that is no length; None if left out."""
        if key not in self.values:
            return None
        return self.positive((*self.place, key), self.values[key], right)

    def positive(self, place: Place, value: object, right: str) -> float | None:
        """``value`` if it is a number above zero and below a million."""
        if isinstance(value, int | float) and not isinstance(value, bool) and 0 < value < 1e6:
            return float(value)
        self.source.fault(place, f"{shown(value)} will not do", right)
        return None

    def size(self, key: str, least: Least = Least.POSITIVE, required: bool = False) -> Size | None:
        """A size; None if left out or at fault."""
        if key not in self.values:
            if required:
                self.missing(key, "give it as a size")
            return None
        return self.source.size((*self.place, key), self.values[key], self.units, least)

    def length(
        self, key: str, least: Least = Least.POSITIVE, required: bool = False
    ) -> float | None:
        """Middle of a size, for lengths whose limits do not matter."""
        size = self.size(key, least, required)
        return None if size is None else size.middle

    def entries(self, key: str, right: str) -> list[object] | None:
        """The elements of a list; None if left out or no list."""
        value = self.values.get(key)
        if value is None:
            return None
        if not isinstance(value, list):
            self.fault(key, f"{shown(value)} is not a list", right)
            return None
        return value

    def sizes(
        self, key: str, count: int, right: str, least: Least = Least.ANY
    ) -> tuple[Size, ...] | None:
        """A list of exactly ``count`` sizes; None if left out or at fault."""
        values = self.entries(key, right)
        if values is None:
            return None
        if len(values) != count:
            self.fault(key, f"{len(values)} numbers where {count} are needed", right)
            return None
        place = (*self.place, key)
        read = [self.source.size((*place, i), v, self.units, least) for i, v in enumerate(values)]
        good = tuple(size for size in read if size is not None)
        return good if len(good) == count else None

    def table(self, key: str, right: str) -> "Table | None":
        """A table within this one; None if left out or no table."""
        value = self.values.get(key)
        if value is None:
            return None
        if not isinstance(value, dict):
            self.fault(key, f"{shown(value)} is not a table", right)
            return None
        return Table(self.source, (*self.place, key), value, self.units)

    def tables(self, key: str) -> "list[Table]":
        """The tables of ``[[key]]``; none if left out."""
        value = self.values.get(key, [])
        place = (*self.place, key)
        right = f"write [[{key}]] above each of them"
        if isinstance(value, dict):
            self.fault(key, f"[{key}] holds only one", right)
            return [Table(self.source, place, value, self.units)]
        if not isinstance(value, list):
            self.fault(key, f"{shown(value)} is not a list of tables", right)
            return []
        for index, entry in enumerate(value):
            if not isinstance(entry, dict):
                self.source.fault((*place, index), f"{shown(entry)} is not a table", right)
        return [
            Table(self.source, (*place, index), entry, self.units)
            for index, entry in enumerate(value)
            if isinstance(entry, dict)
        ]
