"""The scallop that round cutters leave between neighbouring positions, by formula.

It stands beside the records because planning (how far apart to set the cutter) and the sheet
(what is left) both need it, and neither may import the other. Lengths are all in one unit,
angles in radians.

Every formula comes from one triangle. A cutter of radius r stands twice, its axis a distance s
apart and touching the wall; the two circles cross on the line halfway between, and the crossing
nearer the wall is the top of the scallop.

- Straight wall: half of s, the way down from the line of axes to the crossing, and r make a right
  triangle; the wall is r below that line, so h = r - sqrt(r^2 - s^2 / 4).
- Wall of radius R: the axis runs on radius p, R + r round a convex wall (the part bulges towards
  the cutter), R - r inside a concave one. Centre of the wall, axis and crossing make a triangle of
  sides p, r and R + h (convex) or R - h (concave) with half the angle between the positions at the
  centre. The law of cosines, r^2 = p^2 + d^2 - 2 p d cos(angle / 2), solved for d gives the
  scallop and for the angle the spacing, both exactly.
"""

from math import asin, hypot, inf, pi, sin, sqrt

Spot = tuple[float, float]


def straight_scallop(radius: float, spacing: float) -> float:
    """Scallop on a straight or slanted wall: r - sqrt(r^2 - s^2 / 4).

    Parameters
    ----------
    radius : float
        Of the cutter, positive.
    spacing : float
        Distance between two positions of its axis.

    Returns
    -------
    float
        Height of the scallop; infinite where the two cuts do not meet.
    """
    half = abs(spacing) / 2
    if half > radius:
        return inf
    # the same as r - sqrt(r^2 - half^2), without the loss of digits of that difference
    return half**2 / (radius + sqrt(radius**2 - half**2))


def straight_spacing(radius: float, cusp: float) -> float:
    """Spacing that leaves just that scallop on a straight wall: 2 sqrt(h (2 r - h)).

    Never more than the cutter's diameter, where two cuts only just meet.
    """
    height = min(_allowed(cusp), radius)
    return 2 * sqrt(height * (2 * radius - height))


def path_radius(radius: float, wall_radius: float, *, convex: bool) -> float:
    """Radius on which the axis runs along a round wall.

    Raises
    ------
    ValueError
        If the cutter is larger than the concave wall it is to follow.
    """
    path = wall_radius + radius if convex else wall_radius - radius
    if path < 0:
        raise ValueError(f"a cutter of radius {radius} does not fit a wall of radius {wall_radius}")
    return path


def arc_scallop(radius: float, wall_radius: float, angle: float, *, convex: bool) -> float:
    """Scallop on a round wall between two positions that far apart.

    With k = p (1 - cos(angle / 2)) and q = sqrt(r^2 - p^2 sin(angle / 2)^2) the law of cosines
    gives h = r - k - q on a convex wall and r + k - q on a concave one; both are
    2 k R / (r -+ k + q), which keeps its digits where h is small.

    Parameters
    ----------
    radius, wall_radius : float
        Of the cutter and of the wall.
    angle : float
        Between the two positions, seen from the wall's centre; up to a full turn.
    convex : bool
        Whether the part bulges towards the cutter.

    Returns
    -------
    float
        Height of the scallop above the true wall; infinite where the two cuts do not meet.
    """
    path = path_radius(radius, wall_radius, convex=convex)
    if abs(angle) > _widest(radius, path, convex=convex) * (1 + 1e-12):
        return inf
    drop = 2 * path * sin(angle / 4) ** 2
    reach = sqrt(max(radius**2 - (path * sin(angle / 2)) ** 2, 0.0))
    return 2 * drop * wall_radius / ((radius - drop if convex else radius + drop) + reach)


def arc_angle(radius: float, wall_radius: float, cusp: float, *, convex: bool) -> float:
    """Angle between positions that leaves just that scallop on a round wall.

    The law of cosines with d = R + h (convex) or R - h (concave), written with the sine of the
    quarter angle, is sin(angle / 4)^2 = h (2 r - h) / (4 p d). For a small scallop that becomes
    angle = sqrt(8 h r / (p R)), which is s = sqrt(8 h / k) with s = p angle along the path and the
    curvature k = 1 / r - 1 / p (convex) or 1 / r + 1 / p (concave) = R / (r p) between the
    cutter's circle and the path. The exact angle is smaller by about h / (4 r) +- h / (2 R) of
    itself.

    Returns
    -------
    float
        The angle in radians; never more than the one at which two cuts only just meet, a full
        turn where a single position already leaves no more than that (a bore hardly larger than
        the cutter).
    """
    path = path_radius(radius, wall_radius, convex=convex)
    widest = _widest(radius, path, convex=convex)
    height = _allowed(cusp)
    away = wall_radius + height if convex else wall_radius - height
    if path == 0 or away <= 0 or height >= 2 * radius:
        return widest
    square = height * (2 * radius - height) / (4 * path * away)
    angle = 4 * asin(sqrt(square)) if square < 1 else widest
    # past the tangent from the centre the crossing is the one on the far side: h would fall again
    crossing = (away**2 - path**2 + radius**2) * (1 if convex else -1)
    return widest if path >= radius and crossing > 0 else min(angle, widest)


def _widest(radius: float, path: float, *, convex: bool) -> float:
    """Greatest angle at which the cuts at two positions still meet."""
    if path < radius and not convex:
        return 2 * pi
    return 2 * asin(min(1.0, radius / path))


def _allowed(cusp: float) -> float:
    if cusp < 0:
        raise ValueError(f"a scallop cannot be {cusp} high")
    return cusp


def _top(first: Spot, second: Spot, radius: float, wall_side: Spot) -> Spot | None:
    """Crossing of the cutter's two circles on the side that ``wall_side`` points to."""
    dx, dy = second[0] - first[0], second[1] - first[1]
    apart = hypot(dx, dy)
    if apart > 2 * radius:
        return None
    middle = ((first[0] + second[0]) / 2, (first[1] + second[1]) / 2)
    if apart == 0:
        size = hypot(*wall_side)
        return middle[0] + radius * wall_side[0] / size, middle[1] + radius * wall_side[1] / size
    down = sqrt(radius**2 - apart**2 / 4) / apart
    if -dy * wall_side[0] + dx * wall_side[1] < 0:
        down = -down
    return middle[0] - dy * down, middle[1] + dx * down


def scallop_at_line(first: Spot, second: Spot, radius: float, start: Spot, end: Spot) -> float:
    """Scallop that two positions anywhere on one side of a straight wall leave between them.

    ``start`` and ``end`` are any two points of the wall. What the cutter takes off on its way
    from one position to the other is not counted: the scallop is never larger than this.

    Returns
    -------
    float
        Distance of its top from the wall; negative if it lies behind the wall (a gouge), infinite
        where the two cuts do not meet.
    """
    length = hypot(end[0] - start[0], end[1] - start[1])
    normal = ((start[1] - end[1]) / length, (end[0] - start[0]) / length)

    def off(spot: Spot) -> float:
        return (spot[0] - start[0]) * normal[0] + (spot[1] - start[1]) * normal[1]

    side = 1.0 if off(first) + off(second) > 0 else -1.0
    top = _top(first, second, radius, (-side * normal[0], -side * normal[1]))
    return inf if top is None else side * off(top)


def scallop_at_arc(
    first: Spot, second: Spot, radius: float, center: Spot, wall_radius: float, *, convex: bool
) -> float:
    """Scallop that two positions, on the path or a little off it, leave on a round wall.

    As ``scallop_at_line``, for a wall of radius ``wall_radius`` about ``center``. The positions
    are to lie less than half a turn apart.
    """
    towards = (
        center[0] - (first[0] + second[0]) / 2,
        center[1] - (first[1] + second[1]) / 2,
    )
    if not convex:
        towards = (-towards[0], -towards[1])
    if towards == (0.0, 0.0):
        return inf
    top = _top(first, second, radius, towards)
    if top is None:
        return inf
    away = hypot(top[0] - center[0], top[1] - center[1])
    return away - wall_radius if convex else wall_radius - away


def floor_scallop(diameter: float, corner_radius: float, width: float) -> float:
    """Scallop on a floor between two parallel passes ``width`` apart.

    A corner-radius cutter has a flat of D - 2 c under it; only what the passes lie farther apart
    than that flat leaves a scallop, that of a cutter of radius c. A ball has c = D / 2 and no
    flat, a square end c = 0 and none but flat. Infinite where the passes do not meet.
    """
    beyond = max(0.0, abs(width) - (diameter - 2 * corner_radius))
    if corner_radius == 0:
        return 0.0 if beyond == 0 else inf
    return straight_scallop(corner_radius, beyond)


def floor_width(diameter: float, corner_radius: float, cusp: float) -> float:
    """Greatest distance between parallel floor passes for a scallop of ``cusp``.

    D - 2 c + 2 sqrt(h (2 c - h)), as ``floor_scallop`` turned round.
    """
    return diameter - 2 * corner_radius + straight_spacing(corner_radius, cusp)


def rings_width(diameter: float, corner_radius: float, cusp: float) -> float:
    """Greatest distance between square rings over a floor for a scallop of ``cusp``.

    Where two rings w apart turn, a place on the diagonal, p from the corner of the inner one along
    X and Y, is sqrt(2) p from that corner and w - p from the outer ring. It is farthest from both
    at p = w / (1 + sqrt(2)): (2 - sqrt(2)) w, not w / 2. Straight passes may lie that much farther
    apart, see ``floor_width``.
    """
    return floor_width(diameter, corner_radius, cusp) / (2 * (2 - sqrt(2)))
