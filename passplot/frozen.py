"""Frozen dataclasses with slots, made without compiling six methods a class.

``dataclasses.dataclass(frozen=True, slots=True)`` writes, compiles and runs the text of six methods
for every class. A run makes some 140 classes, and that took longer than planning a job. Here only
``__init__`` is compiled; the other methods are short functions that all classes share. To type
checkers this is ``dataclasses.dataclass`` itself, and ``fields`` and ``replace`` of ``dataclasses``
work on what it makes.
"""

from __future__ import annotations

import dataclasses
from operator import attrgetter
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
    names = [field.name for field in fields]
    lines = (f" put(self, {name!r}, {name})" for name in names)
    space: dict[str, Callable[..., None]] = {"put": object.__setattr__}
    exec("\n".join([f"def init(self, {', '.join(names)}):", *lines, " return"]), space)
    init = space["init"]
    defaults = [field.default for field in fields if field.default is not dataclasses.MISSING]
    init.__defaults__ = tuple(defaults)
    return init


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
