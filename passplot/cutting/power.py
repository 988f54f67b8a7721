"""Metal removed, the power that takes, and the force and torque that follow. Units in the names."""

from math import pi

IN_LBF_PER_MIN = 396_000.0
"""One horsepower in inch pounds a minute: 33 000 ft lbf/min."""
J_PER_MM3 = 2.7304
"""1 hp for each cubic inch a minute, in J/mm³ (= W s/mm³): 745.70 W x 60 s / 16 387.064 mm³."""
KW_PER_HP = 0.745_699_872


def removal_rate(width: float, depth: float, feed: float) -> float:
    """Removal rate Q = ae ap vf, in the cube of the length's unit a minute. Dormer p. 210."""
    return width * depth * feed


def power_at_cutter_hp(
    unit_power_hp: float, rate_in3_per_min: float, feed_factor: float, wear_factor: float
) -> float:
    """Power Pc = Kp C Q W, hp. Machinery's Handbook (roles of C and W from memory).

    Parameters
    ----------
    unit_power_hp : float
        Kp, hp for each cubic inch a minute, sharp tools.
    rate_in3_per_min : float
        Removal rate.
    feed_factor, wear_factor : float
        C for the chip's thickness, W for dull edges.
    """
    return unit_power_hp * feed_factor * rate_in3_per_min * wear_factor


def power_at_cutter_kw(specific_energy_j_per_mm3: float, rate_mm3_per_min: float) -> float:
    """Power, kW, from the energy that a cubic millimetre takes. Palbit A-252; Kyocera R42."""
    return specific_energy_j_per_mm3 * rate_mm3_per_min / 60e3


def motor_power(power: float, efficiency: float) -> float:
    """Power at the motor, Pm = Pc / E, in the unit of the power. Machinery's Handbook."""
    return power / efficiency


def tangential_force_lbf(power_hp: float, diameter_in: float, speed_rpm: float) -> float:
    """Mean tangential force, lbf: power over the speed of the edge."""
    return power_hp * IN_LBF_PER_MIN / (pi * diameter_in * speed_rpm)


def torque_lbf_in(power_hp: float, speed_rpm: float) -> float:
    """Torque on the shank, lbf in: T = 396 000 P / (2 π N), about 63 025 P / N."""
    return power_hp * IN_LBF_PER_MIN / (2 * pi * speed_rpm)
