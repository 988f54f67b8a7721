"""A work material: what it is called, how it is cut, what it takes."""

from passplot.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Material:
    """A row of the table, or a material that a shop file gives.

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
    unit_power_hp : float
        Power at the cutter for each cubic inch a minute, hp, sharp tools.
    most_flutes : int
        More flutes than these leave the chips no room.
    fluid_hss, fluid_carbide : str
        What the cut wants.
    carbide_feeds : str
        Row of feeds by diameter that holds for carbide; empty where ``feed_per_tooth_in`` does.
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
    unit_power_hp: float
    unit_power_range: tuple[float, float]
    unit_power_source: str
    most_flutes: int
    fluid_hss: str
    fluid_carbide: str
    carbide_feeds: str = ""
