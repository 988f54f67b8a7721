"""What one cut asks of the cutter and the machine: power, force, torque, bending, chip.

Everything in inches, pounds and horsepower, whatever the job's unit, for so the tables are.
"""

from math import hypot

from passplot.cutting.bending import tip_deflection
from passplot.cutting.chips import feed_share, thickest_chip, wall_share
from passplot.cutting.power import (
    motor_power,
    power_at_cutter_hp,
    removal_rate,
    tangential_force_lbf,
    torque_lbf_in,
)
from passplot.cutting.tables import constants
from passplot.frozen import dataclass
from passplot.records.material import Material


@dataclass(frozen=True, slots=True)
class Tool:
    """A cutter as the mechanics see it, inches."""

    diameter: float
    shank: float
    flutes: int
    flute_length: float
    stickout: float
    modulus_psi: float


@dataclass(frozen=True, slots=True)
class Running:
    """A cutter turning in a material: what stays the same from cut to cut.

    ``power_hp`` is the motor's, None where it is not known.
    """

    tool: Tool
    material: Material
    speed_rpm: float
    climb: bool
    power_hp: float | None
    efficiency: float


@dataclass(frozen=True, slots=True)
class Load:
    """What a cut asks.

    Attributes
    ----------
    width, depth, feed : float
        Radial and axial engagement, inches, and feed, in/min.
    rate : float
        Removal rate, in³/min.
    power_hp, motor_hp : float
        At the cutter; at the motor.
    force_lbf, torque_lbf_in : float
        Mean tangential force; torque on the shank.
    deflection : float
        How far the tip is bent, whichever way, inches.
    wall_error : float
        How far it is bent across the wall: positive into the part, negative away from it.
    chip : float
        Thickest chip, inches.
    """

    width: float
    depth: float
    feed: float
    rate: float
    power_hp: float
    motor_hp: float
    force_lbf: float
    torque_lbf_in: float
    deflection: float
    wall_error: float
    chip: float


def load_of(running: Running, width: float, depth: float, feed: float) -> Load:
    """The load of a cut ``width`` wide and ``depth`` deep (inches) at ``feed`` (in/min)."""
    known, tool = constants(), running.tool
    tooth = feed / (tool.flutes * running.speed_rpm)
    rate = removal_rate(width, depth, feed)
    power = power_at_cutter_hp(
        running.material.unit_power_hp, rate, known.feed_factor.value(tooth), known.wear_factor
    )
    force = tangential_force_lbf(power, tool.diameter, running.speed_rpm)
    across = wall_share(width, tool.diameter, known.radial_share, climb=running.climb)
    along = feed_share(width, tool.diameter, known.radial_share, climb=running.climb)
    bend = tip_deflection(
        force,
        max(tool.stickout - depth / 2, 0.0),
        tool.stickout,
        tool.stickout - tool.flute_length,
        (tool.shank, known.equivalent_share * tool.diameter),
        tool.modulus_psi,
    )
    return Load(
        width=width,
        depth=depth,
        feed=feed,
        rate=rate,
        power_hp=power,
        motor_hp=motor_power(power, running.efficiency),
        force_lbf=force,
        torque_lbf_in=torque_lbf_in(power, running.speed_rpm),
        deflection=bend * hypot(across, along),
        wall_error=bend * across,
        chip=thickest_chip(tooth, width, tool.diameter),
    )
