"""The best few layouts of a room that really differ: each the best within an eighth of a module of itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from elevation.layout.breakpoints import Floats
from elevation.layout.search import GroupSearch, RoomStart, WallStart
from elevation.layout.terms import NOISE

APART = 1 / 8
"""Two starts are different layouts when they are this share of a module apart, in any direction, on any wall."""
_UPS = 4
_ACROSS = 3


def different(search: GroupSearch, best: RoomStart, most: int) -> tuple[RoomStart, ...]:
    """Return the best starts of a group that really differ, the best first.

    Args:
        search: The group.
        best: Its best start.
        most: How many.
    """
    found = [best]
    for start in sorted(_local(search, best), key=lambda r: (r.key, round(r.v, 4))):
        if len(found) == most:
            break
        if all(_differ(search, start, other) for other in found):
            found.append(start)
    return tuple(found)


def _local(search: GroupSearch, best: RoomStart) -> Iterator[RoomStart]:
    """Yield starts that are the best of their neighbourhood, up and across."""
    rise = search.plots[0].lattice.b[1]
    order = sorted(range(len(search.up)), key=lambda k: (search.keys[k], k))
    ups = _peaks(order, search.up, rise, _UPS)
    here = int(np.argmin(np.abs(search.up - best.v)))
    for k in dict.fromkeys([here, *ups]):
        start = search.full(k)
        yield start
        keys: list[Sequence[float]] = [w.best(k, search.prefer)[0] for w in search.walls]
        for n, wall in enumerate(search.walls):
            if wall.plot.x is not None:
                continue
            for key, other in _others(search, k, n):
                walls = (*start.walls[:n], other, *start.walls[n + 1 :])
                room = search.room_key([*keys[:n], key, *keys[n + 1 :]], search.prefer)
                yield replace(start, key=room, walls=walls)


def _others(search: GroupSearch, k: int, n: int) -> Iterator[tuple[tuple[float, ...], WallStart]]:
    """Yield other starts across of wall ``n``, courses at start up ``k``, each with the wall's key."""
    wall = search.walls[n]
    i = int(wall.rows[k][0])
    part, level = wall.upright(i), wall.level
    # with none of the terms in front, the places as they come
    columns = [] if search.head else [np.zeros(len(wall.xs.start))]
    for term in search.head:
        if term == "narrowest":
            columns.append(-np.minimum(part.narrowest, level.narrowest[i]))
        else:
            columns.append(np.round(part.term(term) + level.term(term)[i], 6))
    order = np.lexsort(tuple(columns[::-1]))
    for x in _peaks(order.tolist(), wall.xs.start, wall.plot.lattice.a[0], _ACROSS):
        key = tuple(wall.cuts(i, x) if t == "cuts" else wall.plain(t, i, x) for t in search.prefer)
        yield key, wall.at(i, x)


def _peaks(order: Sequence[int], places: Floats, module: float, most: int) -> list[int]:
    """Return those that have none better within the distance, places running round in a module."""
    seen: list[float] = []
    peaks: list[int] = []
    for k in order:
        place = float(places[k])
        if not seen or np.min(_apart(np.array(seen), place, module)) > APART * module - NOISE:
            peaks.append(k)
            if len(peaks) == most:
                break
        seen.append(place)
    return peaks


def _apart(a: Floats, b: float, module: float) -> Floats:
    """Return the distances round a module."""
    away: Floats = np.abs((a - b + module / 2) % module - module / 2)
    return away


def _differ(search: GroupSearch, a: RoomStart, b: RoomStart) -> bool:
    rise = search.plots[0].lattice.b[1]
    if float(_apart(np.array([a.v]), b.v, rise)[0]) >= APART * rise - NOISE:
        return True
    for one, other in zip(a.walls, b.walls, strict=True):
        pitch = one.plot.lattice.a[0]
        if float(_apart(np.array([one.u]), other.u, pitch)[0]) >= APART * pitch - NOISE:
            return True
    return False
