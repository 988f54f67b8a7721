"""Frozen classes behave as those of the standard library do."""

import copy
import dataclasses
import pickle

import pytest

from passplot.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Spot:
    x: float
    y: float = 2.0

    def doubled(self) -> float:
        return 2 * self.x


@dataclass(frozen=True, slots=True)
class Named:
    name: str

    def __repr__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True)
class Nothing:
    """A class without fields."""


def test_fields_are_given_by_place_by_name_and_by_default() -> None:
    assert (Spot(1.0).x, Spot(1.0).y) == (1.0, 2.0)
    assert (Spot(y=3.0, x=1.0).x, Spot(1.0, 3.0).y) == (1.0, 3.0)
    assert Spot(4.0).doubled() == 8.0
    with pytest.raises(TypeError, match="missing 1 required positional argument: 'x'"):
        Spot()  # type: ignore[call-arg]


def test_equal_contents_are_equal_and_hash_alike() -> None:
    assert Spot(1.0) == Spot(1.0, 2.0) != Spot(1.0, 3.0)
    assert len({Spot(1.0), Spot(1.0, 2.0), Spot(2.0)}) == 2
    assert Spot(1.0) != (1.0, 2.0)
    assert Named("a") == Named("a") != Named("b")
    assert Nothing() == Nothing() != Named("a")
    assert hash(Nothing()) == hash(Nothing())


def test_nothing_can_be_set_or_added() -> None:
    spot = Spot(1.0)
    with pytest.raises(dataclasses.FrozenInstanceError):
        spot.x = 2.0  # type: ignore[misc]
    with pytest.raises(dataclasses.FrozenInstanceError):
        del spot.x
    with pytest.raises(dataclasses.FrozenInstanceError):
        spot.z = 2.0  # type: ignore[attr-defined]
    assert not hasattr(spot, "__dict__")


def test_text_names_the_fields_unless_a_class_has_its_own() -> None:
    assert repr(Spot(1.0)) == "Spot(x=1.0, y=2.0)"
    assert repr(Named("a")) == "a"


def test_the_library_s_tools_work_on_them() -> None:
    assert dataclasses.is_dataclass(Spot)
    assert [field.name for field in dataclasses.fields(Spot)] == ["x", "y"]
    assert dataclasses.replace(Spot(1.0), y=5.0) == Spot(1.0, 5.0)
    assert copy.deepcopy(Spot(1.0)) == Spot(1.0)
    assert pickle.loads(pickle.dumps(Spot(1.0, 4.0))) == Spot(1.0, 4.0)
    match Spot(1.0):
        case Spot(x, y):
            assert (x, y) == (1.0, 2.0)


def test_what_is_not_made_here_is_refused() -> None:
    with pytest.raises(TypeError, match="only frozen"):
        dataclass(frozen=False, slots=True)

    with pytest.raises(TypeError, match="default factory"):

        @dataclass(frozen=True, slots=True)
        class Listed:
            items: list[int] = dataclasses.field(default_factory=list)
