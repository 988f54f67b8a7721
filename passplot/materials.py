"""The table of work materials, read from ``data/materials.toml``.

It stands beside the records because both reading (which material is meant) and cutting (its speed
and feed) need it, and neither may import the other.
"""

import tomllib
from functools import cache
from pathlib import Path

from passplot.frozen import dataclass

TABLE = Path(__file__).parent / "data" / "materials.toml"


@dataclass(frozen=True, slots=True)
class Material:
    """A row of the table.

    Attributes
    ----------
    name, aliases : str, tuple of str
        The table's own name; other names it goes by.
    group : str
        Letter of the application group, ISO 513.
    hardness_hb : tuple of float or None
        Brinell range the row stands for; None for plastics.
    hss_ft_per_min, carbide_ft_per_min : float
        Cutting speed taken with high-speed steel and with carbide; ``hss_range`` and
        ``carbide_range`` are the published ranges it lies in.
    feed_per_tooth_in : tuple of float
        Feed per tooth of an end mill of 1/4 in and of 1 in diameter.
    slot_depth : float
        Deepest level of a slot, in cutter diameters.
    drill_entry : bool
        Whether a closed pocket is entered through a drilled hole.
    """

    name: str
    aliases: tuple[str, ...]
    group: str
    hardness_hb: tuple[float, float] | None
    hss_ft_per_min: float
    hss_range: tuple[float, float]
    hss_source: str
    carbide_ft_per_min: float
    carbide_range: tuple[float, float]
    carbide_source: str
    feed_per_tooth_in: tuple[float, float]
    feed_source: str
    slot_depth: float
    drill_entry: bool


@cache
def materials() -> tuple[Material, ...]:
    """Every row of the table, in its order."""
    rows = tomllib.loads(TABLE.read_text(encoding="utf-8"))["material"]
    return tuple(
        Material(
            name=row["name"],
            aliases=tuple(row["aliases"]),
            group=row["group"],
            hardness_hb=_pair(row["hardness_hb"]) if "hardness_hb" in row else None,
            hss_ft_per_min=float(row["hss_ft_per_min"]),
            hss_range=_pair(row["hss_range"]),
            hss_source=row["hss_source"],
            carbide_ft_per_min=float(row["carbide_ft_per_min"]),
            carbide_range=_pair(row["carbide_range"]),
            carbide_source=row["carbide_source"],
            feed_per_tooth_in=_pair(row["feed_per_tooth_in"]),
            feed_source=row["feed_source"],
            slot_depth=float(row["slot_depth"]),
            drill_entry=row["drill_entry"],
        )
        for row in rows
    )


def find_material(name: str) -> Material | None:
    """The material known by ``name``; None if there is none.

    Case and spacing do not matter. A name put together from names of one row is taken too
    (``"1018 cold rolled"``, ``"6061 aluminum"``), where no other row fits as well.
    """
    wanted = _words(name)
    for material in materials():
        if wanted in {_words(known) for known in (material.name, *material.aliases)}:
            return material
    fitting = [material for material in materials() if _put_together(wanted, material)]
    return fitting[0] if len(fitting) == 1 else None


def material_names() -> tuple[str, ...]:
    """Every name and alias, for suggestions."""
    return tuple(known for row in materials() for known in (row.name, *row.aliases))


def _pair(values: list[float]) -> tuple[float, float]:
    return (float(values[0]), float(values[1]))


def _words(name: str) -> tuple[str, ...]:
    return tuple(name.casefold().replace(",", " ").split())


def _put_together(wanted: tuple[str, ...], material: Material) -> bool:
    """Whether ``wanted`` holds one whole name of ``material`` and no word foreign to it."""
    names = [_words(known) for known in (material.name, *material.aliases)]
    own = {word for words in names for word in words}
    return set(wanted) <= own and any(set(words) <= set(wanted) for words in names)
