"""The table of work materials, read from ``data/materials.toml``.

It stands beside the records because both reading (which material is meant) and cutting (its speed
and feed) need it, and neither may import the other.
"""

import tomllib
from functools import cache
from pathlib import Path

from passplot.records.material import Material

__all__ = ["Material", "find_material", "material_names", "materials"]

TABLE = Path(__file__).parent / "data" / "materials.toml"


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
            unit_power_hp=float(row["unit_power_hp"]),
            unit_power_range=_pair(row["unit_power_range"]),
            unit_power_source=row["unit_power_source"],
            most_flutes=row["most_flutes"],
            fluid_hss=row["fluid_hss"],
            fluid_carbide=row["fluid_carbide"],
            carbide_feeds=row.get("carbide_feeds", ""),
        )
        for row in rows
    )


def find_material(name: str, own: tuple[Material, ...] = ()) -> Material | None:
    """The material known by ``name``; None if there is none.

    Rows of the shop's ``own`` come before those of the table. Case and spacing do
    not matter. A name put together from names of one row is taken too
    (``"1018 cold rolled"``, ``"6061 aluminum"``), where no other row fits as well.
    """
    wanted = _words(name)
    rows = (*own, *materials())
    for material in rows:
        if wanted in {_words(known) for known in (material.name, *material.aliases)}:
            return material
    fitting = [material for material in rows if _put_together(wanted, material)]
    return fitting[0] if len(fitting) == 1 else None


def material_names(own: tuple[Material, ...] = ()) -> tuple[str, ...]:
    """Every name and alias, for suggestions."""
    return tuple(known for row in (*own, *materials()) for known in (row.name, *row.aliases))


def _pair(values: list[float]) -> tuple[float, float]:
    return (float(values[0]), float(values[1]))


def _words(name: str) -> tuple[str, ...]:
    return tuple(name.casefold().replace(",", " ").split())


def _put_together(wanted: tuple[str, ...], material: Material) -> bool:
    """Whether ``wanted`` holds one whole name of ``material`` and no word foreign to it."""
    names = [_words(known) for known in (material.name, *material.aliases)]
    own = {word for words in names for word in words}
    return set(wanted) <= own and any(set(words) <= set(wanted) for words in names)
