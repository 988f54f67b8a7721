"""How far a cutter bends: a cantilever held at the holder. Any one set of units."""

from math import pi


def second_moment(diameter: float) -> float:
    """Second moment of area of a round rod, I = π d⁴ / 64."""
    return pi * diameter**4 / 64


def rod_deflection(force: float, length: float, diameter: float, modulus: float) -> float:
    """Deflection at the end of a rod loaded there: y = F L³ / (3 E I).

    Mitsubishi Materials, end milling course, and any text on strength of materials.
    """
    return force * length**3 / (3 * modulus * second_moment(diameter))


def tip_deflection(
    force: float,
    load_at: float,
    stickout: float,
    shank_length: float,
    diameters: tuple[float, float],
    modulus: float,
) -> float:
    """Deflection of a cutter's tip, in the unit of the lengths.

    The moment F (a - s) bends a stretch at ``s`` from the holder, which moves the tip by its
    distance L - s: y = F/E ∫ (a - s)(L - s)/I ds, the shank with its own diameter, the flutes with
    that of an equivalent rod.

    Parameters
    ----------
    force : float
        Sideways force.
    load_at : float
        Where it acts, a, measured from the holder.
    stickout : float
        From the holder to the tip, L.
    shank_length : float
        How much of it is plain shank, from the holder.
    diameters : tuple of float
        Of the shank, and of the rod as stiff as the fluted part.
    modulus : float
        Tensile modulus.
    """

    def area(s: float) -> float:
        return load_at * stickout * s - (load_at + stickout) * s**2 / 2 + s**3 / 3

    middle = min(max(shank_length, 0.0), load_at)
    shank, flutes = (second_moment(diameter) for diameter in diameters)
    bent = area(middle) / shank + (area(load_at) - area(middle)) / flutes
    return force * bent / modulus
