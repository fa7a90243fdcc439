"""The slow ways to judge a start, for comparison with the search: clip and measure, and a sweep of a fine grid."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from elevation.layout.edges import settled
from elevation.layout.groups import Group
from elevation.layout.plots import Plot
from elevation.layout.spans import ZoneOutline, zone_outlines
from elevation.layout.sweep import Part, UprightParts, level_part, signatures, states
from elevation.layout.terms import EdgeCut, Terms, terms_of
from elevation.pieces.edge_cuts import measured_edge_cuts

PROVED = ("slivers", "asked", "under-half", "balance", "aligned", "narrowest")
GRID = 25.4 / 32


def clipped_terms(plot: Plot, origin: tuple[float, float]) -> Terms:
    """Return the terms of a start: decide the edges, clip every tile, lay the tape behind every edge."""
    return terms_of(_clipped(plot, origin), plot.rules)


def _clipped(plot: Plot, origin: tuple[float, float], *, level: bool | None = None) -> tuple[EdgeCut, ...]:
    """Return the cuts of all edges, or of the level or upright ones alone, measured on clipped tiles."""
    outline = _outline(plot, origin)
    if level is not None:
        outline = replace(outline, spans=tuple(s for s in outline.spans if s.is_level == level))
    return measured_edge_cuts(outline, plot.lattice, origin)


def _outline(plot: Plot, origin: tuple[float, float]) -> ZoneOutline:
    edges = settled(plot.face, plot.lattice, origin)
    return zone_outlines(plot.face, edges, [z.joint[0] for z in plot.face.zones])[0]


def grid_up(group: Group, grid: float = GRID) -> np.ndarray:
    """Return the starts up of a grid over one module, from the base."""
    rise = group.plots[0].lattice.b[1]
    first = group.plots[0].outline.region.bounds[1] - group.plots[0].base
    return first + np.arange(int(np.ceil(rise / grid))) * grid


def grid_across(plot: Plot, grid: float = GRID) -> np.ndarray:
    """Return the starts across of a grid over one module."""
    if plot.x is not None:
        return np.array([plot.x])
    return plot.outline.region.bounds[0] + np.arange(int(np.ceil(plot.lattice.a[0] / grid))) * grid


@dataclass(frozen=True)
class RoomKey:
    """The key of a room for one start up, every wall at its own best start across."""

    key: tuple[float, ...]
    up: float
    across: tuple[float, ...]


def grid_keys(group: Group) -> list[RoomKey]:
    """Return the key of the room for every start up of a 1/32 in grid, by arithmetic.

    Knows nothing of breakpoints: every place of the grid is judged, up and across.
    """
    ups = grid_up(group)
    return _room_keys(ups, [list(_by_arithmetic(plot, ups)) for plot in group.plots])


def grid_best(group: Group) -> tuple[float, ...]:
    """Return the best key of the grid, by arithmetic."""
    return min(k.key for k in grid_keys(group))


def together(keys: list[tuple[float, ...]]) -> tuple[float, ...]:
    """Return the key of a room from its walls': sums, and of narrowest the least."""
    columns = zip(*keys, strict=True)
    return tuple(round(max(c) if t == "narrowest" else sum(c), 6) for t, c in zip(PROVED, columns, strict=True))


def _room_keys(ups: np.ndarray, walls: list[list[tuple[tuple[float, ...], float]]]) -> list[RoomKey]:
    return [
        RoomKey(together([key for key, _ in found]), float(up), tuple(u for _, u in found))
        for up, found in zip(ups, zip(*walls, strict=True), strict=True)
    ]


def _by_arithmetic(plot: Plot, ups: np.ndarray) -> Iterator[tuple[tuple[float, ...], float]]:
    """Yield, for every start up, the least key over all starts across, and where that is."""
    ys = states(plot, ups + plot.base, np.arange(len(ups)), {}, upwards=True)
    across = grid_across(plot)
    xs = states(plot, across, np.arange(len(across)), {}, upwards=False)
    level, parts, marks = level_part(plot, ys), UprightParts(plot, xs, ys), signatures(plot, ys)
    for i, mark in enumerate(marks):
        best, key = _least(parts.part(mark, i), level, i)
        yield key, float(across[best])


def _least(part: Part, level: Part, i: int) -> tuple[int, tuple[float, ...]]:
    """Return the best of many starts across, and its key, with state ``i`` of the level edges."""
    wider = -np.minimum(part.narrowest, level.narrowest[i])
    rows = [np.round(wider if t == "narrowest" else part.term(t) + level.term(t)[i], 6) for t in PROVED]
    best = int(np.lexsort(tuple(rows[::-1]))[0])
    return best, tuple(float(r[best]) for r in rows)


def clipped_grid(group: Group, grid: float = GRID) -> tuple[list[RoomKey], int]:
    """Return the key of the room for every start up of a grid, clipped and measured, and how many starts that took.

    No arithmetic on edges has a say in a size: every place across is clipped for every set of courses that upright
    edges meet, every place up once, since cuts on level edges depend on the place up alone.
    """
    ups, walls, count = grid_up(group, grid), [], 0
    for plot in group.plots:
        across = grid_across(plot, grid)
        middle = float(across[len(across) // 2])
        level = _part([terms_of(_clipped(plot, (middle, v), level=True), plot.rules) for v in ups + plot.base])
        marks = signatures(plot, states(plot, ups + plot.base, np.arange(len(ups)), {}, upwards=True))
        parts: dict[object, Part] = {}
        found = []
        for i, mark in enumerate(marks):
            if mark not in parts:
                origin = float(ups[i]) + plot.base
                terms = [terms_of(_clipped(plot, (u, origin), level=False), plot.rules) for u in across]
                parts[mark] = _part(terms)
            best, key = _least(parts[mark], level, i)
            found.append((key, float(across[best])))
        walls.append(found)
        count += len(ups) + len(parts) * len(across)
    return _room_keys(ups, walls), count


def _part(terms: list[Terms]) -> Part:
    return Part(*(np.array([t.value(name) for t in terms], float) for name in PROVED))
