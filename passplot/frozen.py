"""Frozen dataclasses with slots, made without compiling six methods a class.

``dataclasses.dataclass(frozen=True, slots=True)`` writes, compiles and runs the text of six methods
for every class. A run makes some 170 classes, and that took longer than planning a job. Here only
``__init__`` is compiled, once for all classes of as many fields; the other methods are short
functions that all classes share. To type checkers this is ``dataclasses.dataclass`` itself, and
``fields`` and ``replace`` of ``dataclasses`` work on what it makes.
"""

from __future__ import annotations

import dataclasses
from functools import cache
from operator import attrgetter
from types import FunctionType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable
    from dataclasses import dataclass
else:

    def dataclass(*, frozen: bool, slots: bool) -> Callable[[type], type]:
        """``dataclasses.dataclass(frozen=True, slots=True)`` in less time.

        Parameters
        ----------
        frozen, slots : bool
            Always true; written where a class is made so that it reads as usual.

        Raises
        ------
        TypeError
            Where something else is asked for, or where a field has a default factory.
        """
        if not (frozen and slots):
            raise TypeError("only frozen dataclasses with slots are made here")
        return _made


__all__ = ["dataclass"]


def _made(plain: type) -> type:
    """The class with slots and methods; those it has of its own stay."""
    cls: type = dataclasses.dataclass(init=False, repr=False, eq=False, slots=True)(plain)
    fields = dataclasses.fields(cls)
    names = [field.name for field in fields] or ["__class__"]  # one at least has to be named
    values: Callable[[object], object] = attrgetter(*names)

    def equal(self: object, other: object) -> object:
        if other.__class__ is self.__class__:
            return values(self) == values(other)
        return NotImplemented

    def hashed(self: object) -> int:
        return hash(values(self))

    methods = {
        "__init__": _init(fields),
        "__eq__": equal,
        "__hash__": hashed,
        "__repr__": _repr,
        "__reduce__": _reduce,
        "__setattr__": _set,
        "__delattr__": _delete,
    }
    for name, method in methods.items():
        if name not in plain.__dict__:
            setattr(cls, name, method)
    return cls


def _init(fields: tuple[dataclasses.Field[object], ...]) -> Callable[..., None]:
    """``__init__`` with the fields as its parameters."""
    if any(field.default_factory is not dataclasses.MISSING for field in fields):
        raise TypeError("no default factory is called here")
    blank = _blank(len(fields)).__code__
    names = {_placeholder(index): field.name for index, field in enumerate(fields)}
    code = blank.replace(
        co_varnames=tuple(names.get(name, name) for name in blank.co_varnames),
        co_consts=tuple(names.get(value, value) for value in blank.co_consts),
    )
    defaults = tuple(field.default for field in fields if field.default is not dataclasses.MISSING)
    return FunctionType(code, {"put": object.__setattr__}, "__init__", defaults)


@cache
def _blank(count: int) -> FunctionType:
    """An ``__init__`` of that many fields: the same for all classes but for the fields' names.

    It is compiled once; the names are its parameters and its constants.
    """
    names = [_placeholder(index) for index in range(count)]
    lines = (f" put(self, {name!r}, {name})" for name in names)
    space: dict[str, FunctionType] = {}
    exec("\n".join([f"def init(self, {', '.join(names)}):", *lines, " return"]), space)
    return space["init"]


def _placeholder(index: int) -> str:
    return f"field_{index}"


def _contents(self: object) -> dict[str, object]:
    fields = dataclasses.fields(self)  # type: ignore[arg-type]
    return {field.name: getattr(self, field.name) for field in fields}


def _repr(self: object) -> str:
    contents = ", ".join(f"{name}={value!r}" for name, value in _contents(self).items())
    return f"{self.__class__.__qualname__}({contents})"


def _reduce(self: object) -> tuple[type, tuple[object, ...]]:
    """For copies: made again from its values."""
    return self.__class__, tuple(_contents(self).values())


def _set(self: object, name: str, value: object) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _delete(self: object, name: str) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")
