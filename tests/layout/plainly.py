"""The slow ways to judge a start, for comparison with the search: clip and measure, and a sweep of a fine grid."""

from __future__ import annotations

import numpy as np

from elevation.layout.edges import settled
from elevation.layout.groups import Group
from elevation.layout.plots import Plot
from elevation.layout.spans import zone_outlines
from elevation.layout.sweep import UprightParts, level_part, signatures, states
from elevation.layout.terms import Terms, terms_of
from elevation.pieces.edge_cuts import measured_edge_cuts

PROVED = ("slivers", "asked", "under-half", "balance", "aligned", "narrowest")
GRID = 25.4 / 32


def clipped_terms(plot: Plot, origin: tuple[float, float]) -> Terms:
    """Return the terms of a start: decide the edges, clip every tile, lay the tape behind every edge."""
    edges = settled(plot.face, plot.lattice, origin)
    outline = zone_outlines(plot.face, edges, [z.joint[0] for z in plot.face.zones])[0]
    return terms_of(measured_edge_cuts(outline, plot.lattice, origin), plot.rules)


def grid_best(group: Group) -> tuple[float, ...]:
    """Return the best key of all starts on a 1/32 in grid, every wall taking its own best start across.

    Knows nothing of breakpoints: every place of the grid is judged, up and across.
    """
    rise = group.plots[0].lattice.b[1]
    first = group.plots[0].outline.region.bounds[1] - group.plots[0].base
    ups = first + np.arange(int(np.ceil(rise / GRID))) * GRID
    walls = [_wall_keys(plot, ups) for plot in group.plots]
    rooms = []
    for keys in zip(*walls, strict=True):
        columns = zip(*keys, strict=True)
        rooms.append(
            tuple(round(max(c) if t == "narrowest" else sum(c), 6) for t, c in zip(PROVED, columns, strict=True))
        )
    return min(rooms)


def _wall_keys(plot: Plot, ups: np.ndarray) -> list[tuple[float, ...]]:
    """Return, for every start up, the least key over all starts across."""
    ys = states(plot, ups + plot.base, np.arange(len(ups)), {}, upwards=True)
    pitch = plot.lattice.a[0]
    across = plot.outline.region.bounds[0] + np.arange(int(np.ceil(pitch / GRID))) * GRID
    if plot.x is not None:
        across = np.array([plot.x])
    xs = states(plot, across, np.arange(len(across)), {}, upwards=False)
    level, parts, marks = level_part(plot, ys), UprightParts(plot, xs, ys), signatures(plot, ys)
    out = []
    for i, mark in enumerate(marks):
        part = parts.part(mark, i)
        wider = -np.minimum(part.narrowest, level.narrowest[i])
        rows = [np.round(wider if t == "narrowest" else part.term(t) + level.term(t)[i], 6) for t in PROVED]
        best = np.lexsort(tuple(rows[::-1]))[0]
        out.append(tuple(float(r[best]) for r in rows))
    return out
