"""Keyseats by ASME B17.1 and DIN 6885, read from ``data/keys.toml``.

The two standards count the depth in a shaft from different places. ASME B17.1 lets half the key's
height into the shaft at the *side wall*, so the depth from the crown is that and the height of the
arc over the key. DIN 6885 gives t1 from the *crown*. Each is in its own unit here.
"""

import tomllib
from functools import cache
from math import sqrt
from pathlib import Path

from passplot.frozen import dataclass

TABLE = Path(__file__).parent / "data" / "keys.toml"
INCH, METRIC = "ASME B17.1", "DIN 6885"
STANDARDS = (INCH, METRIC)
UNIT = {INCH: "inch", METRIC: "mm"}

_SQUARE_UP_TO = 6.5  # ASME B17.1-1967, table 1: rectangular keys are preferred for larger shafts
_HAIR = 1e-6
# ASME B17.1: what a hub has over the key, and how much deeper the shaft may be cut (the second
# from memory).
_CLEARANCE, _DEEPER = 0.005, 0.015
# ASME B17.1: how much wider than the key its seat may be. Class 2 says so for every width, Class 1
# has as much or more, so a seat within it is good for both. From memory.
_WIDER = 0.002


@dataclass(frozen=True, slots=True)
class Seat:
    """The seat for a parallel key in a shaft; lengths in the standard's own unit.

    Attributes
    ----------
    width, height : float
        Of the key.
    least_width, greatest_width : float
        Limits of the seat's width: N9 for DIN 6885, the key's +.002 -.000 for ASME B17.1.
    from_crown, from_side : float
        Depth from the crown of the shaft, and of the side wall.
    over_far_side : float
        From the bottom of the seat to the far side of the shaft: what is measured.
    over_hub : float
        From the bottom of the seat in the hub to the far side of its bore, parallel key.
    deeper : float
        How much deeper than nominal the seat may be.
    mark : str
        ``"seen"`` or ``"from memory"``: where the row is from.
    """

    width: float
    height: float
    least_width: float
    greatest_width: float
    from_crown: float
    from_side: float
    over_far_side: float
    over_hub: float
    deeper: float
    mark: str


@dataclass(frozen=True, slots=True)
class _Row:
    """A row of a standard: shafts over … up to and including, the key, what the file gives of it.

    ``height`` is that of a square key in ASME B17.1; ``t1``, ``t2`` are of DIN 6885.
    """

    over: float
    to: float
    width: float
    height: float
    rectangular: float
    t1: float
    t2: float
    deeper: float
    mark: str


def chordal_drop(shaft: float, width: float) -> float:
    """Height of the arc that a key's width cuts off a shaft: Y = (D - √(D² - W²)) / 2.

    US Navy, Machinery Repairman, external keyseats: f = R - √(R² - (W/2)²), the same.
    """
    return (shaft - sqrt(shaft**2 - width**2)) / 2


def shaft_range(standard: str) -> tuple[float, float]:
    """Shaft diameters that a standard's table covers, in its own unit."""
    rows = _rows(standard)
    return rows[0].over, rows[-1].to


def seat(standard: str, shaft: float) -> Seat | None:
    """The seat in a shaft of that diameter; None where the table has no row for it.

    ``standard`` is one of ``STANDARDS``, ``shaft`` in its own unit.
    """
    rows = _rows(standard)
    row = next((row for row in rows if shaft <= row.to + _HAIR), None)
    # DIN 6885 takes its least shaft in, ASME B17.1 starts over its own
    least = rows[0].over + (_HAIR if standard == INCH else -_HAIR)
    if row is None or shaft < least:
        return None
    return _inch_seat(row, shaft) if standard == INCH else _metric_seat(row, shaft)


def _inch_seat(row: _Row, shaft: float) -> Seat:
    """S = D - Y - H/2 and T = D - Y + H/2 + 0.005 for a parallel key.

    These give the 33 + 33 printed values of ASME B17.1-1967 (R2013), table 2 (Machinery's Handbook,
    31st ed., p. 2552), for shafts of 1/2 to 2-1/2 in.
    """
    width, drop = row.width, chordal_drop(shaft, row.width)
    height = row.height if shaft <= _SQUARE_UP_TO + _HAIR else row.rectangular
    return Seat(
        width=width,
        height=height,
        least_width=width,
        greatest_width=width + _WIDER,
        from_crown=drop + height / 2,
        from_side=height / 2,
        over_far_side=shaft - drop - height / 2,
        over_hub=shaft - drop + height / 2 + _CLEARANCE,
        deeper=row.deeper,
        mark=row.mark,
    )


def _metric_seat(row: _Row, shaft: float) -> Seat:
    width, t1 = row.width, row.t1
    low, high = next(limits for to, limits in _n9() if width <= to)
    return Seat(
        width=width,
        height=row.height,
        least_width=width + low,
        greatest_width=width + high,
        from_crown=t1,
        from_side=t1 - chordal_drop(shaft, width),
        over_far_side=shaft - t1,
        over_hub=shaft + row.t2,
        deeper=row.deeper,
        mark=row.mark,
    )


@cache
def _rows(standard: str) -> tuple[_Row, ...]:
    """The rows of a standard, by rising shaft."""
    table = tomllib.loads(TABLE.read_text(encoding="utf-8"))
    return tuple(
        _Row(
            over=float(row["shaft"][0]),
            to=float(row["shaft"][1]),
            width=float(row["width"]),
            height=float(row["height"]),
            rectangular=float(row.get("rectangular", 0)),
            t1=float(row.get("t1", 0)),
            t2=float(row.get("t2", 0)),
            deeper=float(row.get("deeper", _DEEPER)),
            mark=str(row["mark"]),
        )
        for row in table["inch" if standard == INCH else "metric"]
    )


@cache
def _n9() -> tuple[tuple[float, tuple[float, float]], ...]:
    """Widths up to which each pair of deviations (least, greatest) of N9 holds, mm."""
    table = tomllib.loads(TABLE.read_text(encoding="utf-8"))
    return tuple(
        (float(row["width"][1]), (float(row["deviations"][0]), float(row["deviations"][1])))
        for row in table["N9"]
    )
