"""How long cutting takes: length over feed, with the approach before the cut is full."""

from math import sqrt


def cutting_minutes(length: float, feed: float) -> float:
    """Time T = L / vf, minutes, of a length that holds approach and run-out.

    Montana State University, milling equations; Kyocera technical pages R42.
    """
    return length / feed


def side_approach(width: float, diameter: float) -> float:
    """How far before the work's end a cut ``width`` wide begins: A = √(w (D - w)).

    The form for peripheral cuts: GATE examination PI 2017.
    """
    return sqrt(max(width * (diameter - width), 0.0))


def face_approach(width: float, diameter: float) -> float:
    """The same for a face cut over the middle: A = (D - √(D² - w²)) / 2. M. Groover (from memory).

    Half the diameter where the cut is as wide as the cutter.
    """
    return (diameter - sqrt(max(diameter**2 - width**2, 0.0))) / 2
