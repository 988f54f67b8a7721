"""Fillets that rounded ends leave between floor and wall, in the elevation.

As every corner that no cutter reaches they are filled in, with the radius on a leader.
"""

from collections.abc import Callable
from itertools import pairwise
from math import cos, pi, sin

from passplot.frozen import dataclass
from passplot.records.sheet import Fill
from passplot.sheet.canvas import Canvas
from passplot.sheet.framing import Frame
from passplot.sheet.labels import place
from passplot.sheet.numbers import printed
from passplot.sheet.paper import SMALL, Box
from passplot.sheet.scene import Scene
from passplot.sheet.sections import Section

Spot = tuple[float, float]
Place = Callable[[float, float], Spot]

_CHORDS = 12
_HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class Foot:
    """The foot of a wall in a section: where it stands along it, and at what height.

    ``side`` is the sense along the section in which its floor lies; ``radius`` that of its fillet.
    """

    feature: str
    at: float
    z: float
    side: int
    radius: float

    def outline(self, spot: Place) -> tuple[Spot, ...]:
        """The metal of the fillet on paper: a sharp corner less a quarter of a round."""
        corner = spot(self.at, self.z)
        arc = []
        for index in range(_CHORDS + 1):
            angle = index / _CHORDS * pi / 2
            off, up = self.radius * (1 - sin(angle)), self.radius * (1 - cos(angle))
            arc.append(spot(self.at + self.side * off, self.z + up))
        return (corner, *arc)

    @property
    def middle(self) -> tuple[float, float]:
        """The middle of the round, along the section and up."""
        off = self.radius * (1 - cos(pi / 4))
        return self.at + self.side * off, self.z + off


def feet_of(scene: Scene, section: Section) -> tuple[Foot, ...]:
    """Every foot of a wall with a fillet that a section crosses."""
    radii = {each.feature: each.radius for each in scene.plan.fillets if not each.corners}
    found = []
    for low, high in pairwise(section.steps):
        rise = high.after - low.after
        floor, side = (low, -1) if rise > 0 else (high, 1)
        radius = radii.get(floor.owner, 0.0)
        if radius and abs(rise) >= radius - _HAIR:
            found.append(Foot(floor.owner, high.low, floor.after, side, radius))
    return tuple(found)


def draw_feet(canvas: Canvas, scene: Scene, section: Section, spot: Place, lowest: float) -> None:
    """Fill the fillets in that stand above ``lowest``, the lower edge of the view."""
    for foot in feet_of(scene, section):
        if foot.z >= lowest - _HAIR:
            canvas.put(Fill((foot.outline(spot),), 0.0))


def name_feet(
    canvas: Canvas, scene: Scene, frame: Frame, section: Section, spot: Place, room: Box
) -> None:
    """The radius of the fillets of the scene's own features, each once, on a leader."""
    names = {feature.name for feature in scene.now}
    named: set[str] = set()
    for foot in feet_of(scene, section):
        text = f"R {printed(scene.style.at(foot.radius), scene.job.inch)}"
        if foot.feature in names and text not in named and foot.z >= frame.floor_z - _HAIR:
            named.add(text)
            # from the free side, so that the head does not hide what it points to
            off = spot(foot.at - foot.side * foot.radius, foot.z - foot.radius)
            place(canvas, room, text, (), spot(*foot.middle), SMALL, dot=False, off=off)
