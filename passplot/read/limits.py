"""``[finish]``, ``[limits]`` and the general tolerance of a job file."""

from fractions import Fraction

from passplot.read.general import General, decimal_places, iso_class
from passplot.read.sizes import Least, Units, Unreadable, read_size, shown
from passplot.read.source import did_you_mean
from passplot.read.tables import Table
from passplot.records.job import Finish, Limits

MOST_SKIMS = 20
# What holds where the file says nothing: the contract of the job file.
CUSP = {"inch": 0.004, "mm": 0.1}
STAND_OFF = {"inch": 0.050, "mm": 1.2}
CROSS_OVER = {"inch": 0.100, "mm": 2.5}
SKIMS, FLOOR_SKIMS = 2, 1

_TOLERANCE = (
    'write "ISO 2768-m" (or -f, -c, -v), a plus-or-minus size such as "±0.005", '
    'or { ".xx" = 0.01, ".xxx" = 0.005 }'
)


def read_finish(top: Table) -> Finish:
    """``[finish]``, with the defaults that do not depend on a cutter."""
    table = top.exact().table("finish", "write [finish] and its keys below") or _empty(top)
    table.check_keys(("wall", "floor", "skims", "floor_skims", "cusp"))
    skims = table.whole("skims", 0, MOST_SKIMS, SKIMS)
    floor_skims = table.whole("floor_skims", 0, MOST_SKIMS, FLOOR_SKIMS)
    return Finish(
        wall=table.length("wall", Least.ZERO),
        floor=table.length("floor", Least.ZERO),
        skims=SKIMS if skims is None else skims,
        floor_skims=FLOOR_SKIMS if floor_skims is None else floor_skims,
        cusp=table.length("cusp") or CUSP[top.units.job],
    )


def read_limits(top: Table) -> Limits:
    """``[limits]``, with the defaults that do not depend on a cutter."""
    table = top.exact().table("limits", "write [limits] and its keys below") or _empty(top)
    table.check_keys(
        ("width_of_cut", "depth_of_cut", "spindle_speed", "feed", "stand_off", "cross_over")
    )
    return Limits(
        width_of_cut=table.length("width_of_cut"),
        depth_of_cut=table.length("depth_of_cut"),
        spindle_speed=table.number("spindle_speed", "a speed above zero, rev/min"),
        feed=table.number("feed", "a feed above zero, job units a minute"),
        stand_off=table.length("stand_off") or STAND_OFF[top.units.job],
        cross_over=table.length("cross_over") or CROSS_OVER[top.units.job],
    )


def _empty(top: Table) -> Table:
    return Table(top.source, (), {}, top.units)


def read_general(top: Table) -> General | None:
    """The general tolerance; None where none is stated."""
    value = top.values.get("general_tolerance")
    if value is None:
        return None
    if isinstance(value, dict):
        return _by_places(top, value)
    if isinstance(value, str) and "iso" in value.casefold():
        letter = iso_class(value)
        if letter:
            return General(f"ISO 2768-{letter}", iso_class=letter)
        right = did_you_mean(value, [f"ISO 2768-{known}" for known in "fmcv"])
        top.fault("general_tolerance", f"{shown(value)} is no class", right)
        return None
    spread = _spread(top, ("general_tolerance",), value)
    if spread is None:
        return None
    return General(f"±{float(spread):.6g}", equal=spread)


def _by_places(top: Table, values: dict[str, object]) -> General | None:
    places = []
    for key, value in values.items():
        count = decimal_places(key)
        spread = _spread(top, ("general_tolerance", key), value)
        if count is None:
            top.source.fault(
                ("general_tolerance", key), "no number of decimals", 'write it like ".xx"'
            )
        elif spread is not None:
            places.append((count, spread))
    if not values:
        top.fault("general_tolerance", "an empty table", _TOLERANCE)
    places.sort()
    note = ", ".join(f".{'x' * count} ±{float(spread):.6g}" for count, spread in places)
    return General(note, places=tuple(places))


def _spread(top: Table, place: tuple[str, ...], value: object) -> Fraction | None:
    """Plus or minus how much: a bare number or size, with the sign ± or without."""
    if isinstance(value, str):
        value = value.strip().removeprefix("±").removeprefix("+-").removeprefix("+/-")
    try:
        size = read_size(value, Units(top.units.bare, top.units.job), Least.ANY)
    except Unreadable:
        size = None
    if size is None or size.toleranced or size.nominal <= 0:
        top.source.fault(place, f"{shown(value)} is no tolerance", _TOLERANCE)
        return None
    return Fraction(repr(size.nominal))
