"""Stiffness, corrections of power and shares of feed, read from ``data/cutting.toml``."""

import tomllib
from functools import cache
from itertools import pairwise
from pathlib import Path

from passplot.frozen import dataclass

TABLE = Path(__file__).parents[1] / "data" / "cutting.toml"


@dataclass(frozen=True, slots=True)
class Curve:
    """Values by a rising quantity, straight between them and level beyond."""

    at: tuple[float, ...]
    values: tuple[float, ...]

    def value(self, at: float) -> float:
        """The value there."""
        if at <= self.at[0]:
            return self.values[0]
        pairs = zip(pairwise(self.at), pairwise(self.values), strict=True)
        for (low, high), (first, last) in pairs:
            if at <= high:
                return first + (last - first) * (at - low) / (high - low)
        return self.values[-1]


@dataclass(frozen=True, slots=True)
class Constants:
    """What the table holds besides its sources; lengths in inches, moduli in lbf/in².

    Names are those of the file, which says what each stands for.
    """

    modulus_psi: dict[str, float]
    equivalent_share: float
    radial_share: float
    wear_factor: float
    efficiency: float
    feed_factor: Curve
    slot_share: float
    deep_slot_share: float
    plunge_share: float
    least_chip_in: float
    bend_share: float
    bend_most_in: float
    section_share: float
    section_stickout: float
    width_share: float
    narrow_share: float
    stickout_beyond_flutes: float
    carbide_feeds: dict[str, Curve]
    carbide_feeds_source: str


@cache
def constants() -> Constants:
    """The table."""
    data = tomllib.loads(TABLE.read_text(encoding="utf-8"))
    body, power, feed = data["body"], data["power"], data["feed"]
    limits, carbide = data["limits"], data["carbide_feeds"]
    diameters = tuple(carbide["diameters_in"])
    rows = ("aluminium", "copper alloys", "plastics")
    return Constants(
        modulus_psi={
            name: data["modulus_psi"][name] for name in ("high-speed steel", "cobalt", "carbide")
        },
        equivalent_share=body["equivalent_share"],
        radial_share=body["radial_share"],
        wear_factor=power["wear_factor"],
        efficiency=power["efficiency"],
        feed_factor=Curve(tuple(power["feed_per_tooth_in"]), tuple(power["feed_factor"])),
        slot_share=feed["slot_share"],
        deep_slot_share=feed["deep_slot_share"],
        plunge_share=feed["plunge_share"],
        least_chip_in=feed["least_chip_in"],
        bend_share=limits["bend_share"],
        bend_most_in=limits["bend_most_in"],
        section_share=limits["section_share"],
        section_stickout=limits["section_stickout"],
        width_share=limits["width_share"],
        narrow_share=limits["narrow_share"],
        stickout_beyond_flutes=limits["stickout_beyond_flutes"],
        carbide_feeds={row: Curve(diameters, tuple(carbide[row])) for row in rows},
        carbide_feeds_source=carbide["source"],
    )
