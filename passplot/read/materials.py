"""The ``[[material]]`` tables of a shop file: the shop's own values go before the table's."""

from dataclasses import replace

from passplot.materials import find_material, material_names
from passplot.read.sizes import Least, Units
from passplot.read.source import did_you_mean
from passplot.read.tables import Table
from passplot.records.material import Material

M_PER_FOOT = 0.3048
KW_S_PER_CM3 = 2.7304  # 1 hp for each cubic inch a minute: 745.6999 W x 60 s / 16 387.064 mm3
_KEYS = (
    "name",
    "like",
    "aliases",
    "group",
    "hardness",
    "hss_speed",
    "carbide_speed",
    "feed_per_tooth",
    "unit_power",
    "slot_depth",
    "drill_entry",
)
_LIKE = "name the row of the materials table whose other values hold for it"


def read_materials(top: Table) -> tuple[Material, ...]:
    """The shop's own materials, each a row of the table with the values given put in.

    Cutting speeds are in ft/min in an inch file and m/min in a metric one, ``unit_power`` in hp
    for each cubic inch a minute or kW for each cubic centimetre a second.
    """
    found = []
    for table in top.tables("material"):
        table.check_keys(_KEYS)
        name = table.text("name", "give the material a name in quotes")
        base = None if name is None else _base(table, name)
        if name is not None and base is not None:
            found.append(_changed(table, name, base))
    return tuple(found)


def _base(table: Table, name: str) -> Material | None:
    """The row that the shop's material is like."""
    like = table.text("like")
    row = find_material(like or name)
    if row is None and like is not None:
        table.fault("like", f'"{like}" is unknown', did_you_mean(like, material_names()))
    elif row is None:
        table.fault("name", f'"{name}" is in no row of the materials table', f"add like: {_LIKE}")
    return row


def _changed(table: Table, name: str, base: Material) -> Material:
    """The row with everything put in that the shop gives."""
    mm = table.units.bare == "mm"
    foot, power = (M_PER_FOOT, KW_S_PER_CM3) if mm else (1.0, 1.0)
    own = f"{table.source.file}, {name}"
    row = replace(base, name=name, aliases=_aliases(table))
    if (hss := table.number("hss_speed", "a cutting speed above zero")) is not None:
        speed = hss / foot
        row = replace(row, hss_ft_per_min=speed, hss_range=(speed, speed), hss_source=own)
    if (carbide := table.number("carbide_speed", "a cutting speed above zero")) is not None:
        speed = carbide / foot
        row = replace(
            row, carbide_ft_per_min=speed, carbide_range=(speed, speed), carbide_source=own
        )
    if (unit := table.number("unit_power", "a unit power above zero")) is not None:
        taken = unit / power
        row = replace(
            row, unit_power_hp=taken, unit_power_range=(taken, taken), unit_power_source=own
        )
    if (share := table.number("slot_depth", "cutter diameters, above zero")) is not None:
        row = replace(row, slot_depth=share)
    if "drill_entry" in table:
        row = replace(row, drill_entry=table.flag("drill_entry"))
    if "group" in table:
        row = replace(row, group=table.word("group", tuple("PMKNSH")) or row.group)
    return _with_feeds(table, _with_hardness(table, row), own)


def _aliases(table: Table) -> tuple[str, ...]:
    values = table.entries("aliases", "write a list of names in quotes")
    if values is None:
        return ()
    names = tuple(value for value in values if isinstance(value, str) and value.strip())
    if len(names) != len(values):
        table.fault("aliases", "holds something that is no name", "write names in quotes")
    return names


def _with_hardness(table: Table, row: Material) -> Material:
    values = table.entries("hardness", "give the Brinell range as [low, high]")
    if values is None:
        return row
    place = (*table.place, "hardness")
    read = [table.positive((*place, i), each, "Brinell numbers") for i, each in enumerate(values)]
    good = [number for number in read if number is not None]
    if len(good) != 2 or len(values) != 2 or good[0] > good[1]:
        table.fault("hardness", "is no range", "give the Brinell range as [low, high]")
        return row
    return replace(row, hardness_hb=(good[0], good[1]))


def _with_feeds(table: Table, row: Material, own: str) -> Material:
    """Feeds for end mills of 1/4 in and of 1 in, which then hold for carbide too."""
    inches = Table(table.source, table.place, table.values, Units(table.units.bare, "inch"))
    sizes = inches.sizes(
        "feed_per_tooth", 2, "give the feeds for 1/4 in and 1 in diameter", Least.POSITIVE
    )
    if sizes is None:
        return row
    feeds = (sizes[0].middle, sizes[1].middle)
    return replace(row, feed_per_tooth_in=feeds, feed_source=own, carbide_feeds="")
