"""The order in which places are gone to with the least cranking.

One axis is moved at a time, so the way from place to place is as long as its X and its Y together.
Places are whole steps of the readout: lengths that are alike compare as alike.
"""

from collections.abc import Callable, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Step = tuple[int, int]
Lengths = NDArray[np.int64]
"""Way from each place to each, row and column 0 for the start."""

EXACT = 9
"""So many places are still tried in every order."""
_SOME = 60
"""So many are improved from several orders to begin with."""
_LONGEST_MOVED = 3
_GAIN = 1


def shortest_order(start: Step, places: Sequence[Step]) -> tuple[int, ...]:
    """Indices of the places in the order to go to them; it ends wherever it ends.

    The very shortest order for ``EXACT`` places or fewer, and of several equally short ones the one
    nearest that given. For more a good one, never longer than the order given.
    """
    if not places:
        return ()
    lengths = _lengths((start, *places))
    if len(places) <= EXACT:
        return _exact(lengths)
    given = tuple(range(len(places)))
    starts = sorted(_first_orders(lengths, places), key=lambda order: _length(lengths, order))
    worth = (given, *starts[:2]) if len(places) <= _SOME else starts[:1]
    tried = [given, *(_improved(lengths, order) for order in worth)]
    return min(tried, key=lambda order: _length(lengths, order))


def cranked(start: Step, places: Sequence[Step]) -> int:
    """Steps cranked from the start through the places in the order given."""
    way = (start, *places)
    return sum(abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in pairwise(way))


def _lengths(places: Sequence[Step]) -> Lengths:
    at = np.array(places, dtype=np.int64)
    found: Lengths = np.abs(at[:, None, :] - at[None, :, :]).sum(axis=2)
    return found


def _length(lengths: Lengths, order: Sequence[int]) -> int:
    way = np.array([0, *(place + 1 for place in order)])
    return int(lengths[way[:-1], way[1:]].sum())


def _exact(lengths: Lengths) -> tuple[int, ...]:
    """The first of the shortest orders: the least way left, for every set of places gone to.

    M. Held and R. M. Karp, A dynamic programming approach to sequencing problems (1962).
    """
    count = len(lengths) - 1
    table = lengths.tolist()
    full = (1 << count) - 1
    left: dict[tuple[int, int], int] = {(full, at): 0 for at in range(1, count + 1)}
    for gone in range(full - 1, -1, -1):
        more = [place for place in range(count) if not gone >> place & 1]
        for at in [0] if not gone else [p + 1 for p in range(count) if gone >> p & 1]:
            left[gone, at] = min(table[at][p + 1] + left[gone | 1 << p, p + 1] for p in more)
    order: list[int] = []
    gone = at = 0
    while gone != full:
        least = left[gone, at]
        for place in range(count):
            if gone >> place & 1:
                continue
            after = gone | 1 << place
            if table[at][place + 1] + left[after, place + 1] == least:
                order.append(place)
                gone, at = after, place + 1
                break
    return tuple(order)


def _first_orders(lengths: Lengths, places: Sequence[Step]) -> list[tuple[int, ...]]:
    """Orders worth improving: always the nearest next; to and fro in lines along X and along Y."""
    near: list[int] = []
    open_ = np.ones(len(lengths), dtype=bool)
    open_[0] = False
    at = 0
    while open_.any():
        at = int(np.where(open_, lengths[at], np.iinfo(np.int64).max).argmin())
        open_[at] = False
        near.append(at - 1)
    found = [tuple(near)]
    for axis in (0, 1):
        for low in (1, -1):
            for first in (1, -1):
                found.append(_to_and_fro(places, axis, low, first))
    return found


def _to_and_fro(places: Sequence[Step], axis: int, low: int, first: int) -> tuple[int, ...]:
    """Line after line along an axis, every second line the other way."""
    lines = sorted({place[1 - axis] for place in places}, reverse=low < 0)
    order: list[int] = []
    way = first
    for line in lines:
        mine = [i for i, place in enumerate(places) if place[1 - axis] == line]
        order += sorted(mine, key=lambda i: way * places[i][axis])
        way = -way
    return tuple(order)


def _improved(lengths: Lengths, order: tuple[int, ...]) -> tuple[int, ...]:
    """The order with stretches turned round and moved as long as that shortens it."""
    way = np.array([0, *(place + 1 for place in order)])
    steps: tuple[Callable[[Lengths, Lengths], Lengths | None], ...] = (_turned, _moved)
    better = True
    while better:
        better = False
        for step in steps:
            found = step(lengths, way)
            if found is not None:
                way, better = found, True
    return tuple(int(place) - 1 for place in way[1:])


def _turned(lengths: Lengths, way: Lengths) -> Lengths | None:
    """The way with stretches turned round, each where it gains most; None if nothing gains.

    Turning from place i to place j trades the ways into i and out of j.
    """
    way, better = way.copy(), False
    for i in range(1, len(way) - 1):
        into = lengths[way[i - 1], way[i:]] - lengths[way[i - 1], way[i]]
        ends = way[i:]
        out = np.zeros(len(ends), dtype=np.int64)
        out[:-1] = lengths[way[i], way[i + 1 :]] - lengths[ends[:-1], way[i + 1 :]]
        gain = -(into + out)
        j = int(gain.argmax())
        if gain[j] >= _GAIN:
            way[i : i + j + 1] = way[i : i + j + 1][::-1].copy()
            better = True
    return way if better else None


def _moved(lengths: Lengths, way: Lengths) -> Lengths | None:
    """The way with short stretches moved elsewhere; None if nothing gains."""
    better = False
    for long in range(1, min(_LONGEST_MOVED, len(way) - 2) + 1):
        for i in range(1, len(way) - long + 1):
            block, rest = way[i : i + long], np.concatenate((way[:i], way[i + long :]))
            first, last = block[0], block[-1]
            ends = i + long == len(way)
            saved = lengths[way[i - 1], first]
            if not ends:
                after = way[i + long]
                saved += lengths[last, after] - lengths[way[i - 1], after]
            cost = lengths[rest, first]
            cost[:-1] += lengths[last, rest[1:]] - lengths[rest[:-1], rest[1:]]
            place = int(cost.argmin())
            if saved - cost[place] >= _GAIN:
                way = np.concatenate((rest[: place + 1], block, rest[place + 1 :]))
                better = True
    return way if better else None
