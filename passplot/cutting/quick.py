"""Speed and feed without a job: a material and a cutter."""

from passplot.cutting.pace import CutData, Setting, pace
from passplot.cutting.speeds import seconds_per_turn
from passplot.frozen import dataclass
from passplot.records.material import Material
from passplot.records.shop import Cutter, Machine

# Where no shop file is given: any speed, feeds by hand.
ANY_SPEED = (1.0, 20_000.0)


@dataclass(frozen=True, slots=True)
class Answer:
    """Speed and feed, and the seconds that a turn of each handwheel takes."""

    data: CutData
    seconds_per_turn: tuple[tuple[str, float | None], ...]
    fluid: str


def quick_answer(material: Material, machine: Machine, cutter: Cutter, *, inch: bool) -> Answer:
    """What to set for ``cutter`` in ``material``; the chips not thinned by a narrow cut."""
    data = pace(Setting(material, machine, inch), cutter)
    carbide = cutter.material == "carbide"
    fluid = material.fluid_carbide if carbide else material.fluid_hss
    return Answer(data, seconds_per_turn(machine, data.feed), fluid)


def any_machine() -> Machine:
    """A machine of which nothing is known."""
    return Machine("", ANY_SPEED, True, None, None, True, None, "dro", 0.001, ())


def plain_cutter(diameter: float, flutes: int, material: str) -> Cutter:
    """An end mill of which only size, flutes and material are known."""
    return Cutter(
        id="end mill",
        form="square end",
        material=material,
        hand="right",
        diameter=diameter,
        actual=None,
        flutes=flutes,
        flute_length=2 * diameter,
        stickout=None,
        center_cutting=False,
        corner_radius=0.0,
        price=None,
    )
