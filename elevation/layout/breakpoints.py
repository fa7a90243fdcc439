"""The starts at which anything can change, and so the only ones that need a look.

Move the pattern across a wall: a left edge at c with tile T and joint J cuts nothing while c lies in a joint, that is
for starts from c to c + J; then the cut grows with the start, from nothing through the sliver limit at c + J + sliver
and half a tile at c + J + T / 2 to a whole tile, a module further on. A right edge is the mirror image. Every count
therefore changes only at these places; what is bad (a sliver, less than half, a tile that is cut at all) is bad on
open intervals, so that the better side holds at the place itself. The balance of two ends, and the narrowest cut, are
minima and differences of lengths that grow or shrink one for one with the start: within a cell they are best at one of
its ends, or where a growing cut equals a shrinking one, the half-sum of a left and a right edge (or half a module from
it). Course lines add one kind of place: where a course begins or ceases to meet an upright edge.

So the best of this list is the best of all starts, up to the tolerance of 0.05 mm: an edge that enters a tile by less
does not cut it, and a start that uses this up may gain as much in a length. Course lines shifted against each other
add their shifts to every place.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from elevation.layout.edge_cuts import courses_met
from elevation.layout.plots import Move, Plot
from elevation.layout.spans import Span

Floats = NDArray[np.floating[Any]]
SAME = 1e-6
_MOST_SHIFTS = 48
_MOST_EVEN = 120  # starts added evenly over a module where an edge is out of true
_FAN, _FINE = 9, 1.0  # places that stand for an edge out of true, at most; mm from one to the next, at least


def up(plots: Sequence[Plot], first: float) -> Floats:
    """Return the places for the courses of walls that share them, from ``first``, reckoned from each plot's base."""
    rise = plots[0].lattice.b[1]
    found: list[float] = [0.0]
    forward: list[float] = []
    backward: list[float] = []
    for plot in plots:
        height, joint = plot.rules.height, rise - plot.rules.height
        for span in plot.outline.spans:
            if span.is_level:
                for place in _places(span, plot, up=True):
                    at = place - plot.base
                    slack = plot.slack.get(span.border, 0.0)
                    found.extend(_steps(at, span.side == "bottom", height, joint, plot.rules.sliver, slack))
                    (forward if span.side == "bottom" else backward).append(at)
            elif not plot.is_stacked:
                lows, highs = _ends(plot, span.low_border, span.low), _ends(plot, span.high_border, span.high)
                found.extend(low + joint - plot.base for low in lows)
                found.extend(high - plot.base for high in highs)
    height = plots[0].rules.height
    if any(not s.is_straight for p in plots for s in p.outline.spans):
        found.extend(_even(first, rise))
    found.extend((c + d - height) / 2 + k * rise / 2 for c in forward for d in backward for k in (0, 1))
    return _in_module(found, first, rise)


def across(plot: Plot, first: float, courses: range) -> Floats:
    """Return the places for a wall's start across, from ``first``; ``courses``: those that the wall has."""
    pitch, lean = plot.lattice.a[0], plot.lattice.b[0]
    width, joint = plot.rules.width, plot.lattice.a[0] - plot.rules.width
    shifts = shifts_of(plot, courses)
    # an end that is all strips cannot be cut wider than they are: the other end is best at that width
    strips = {
        w for w in (round(abs(s.far_place - s.place), 6) for s in plot.outline.spans if not s.is_level) if w < width
    }
    found: list[float] = [first]
    forward: list[float] = []
    backward: list[float] = []
    for span in plot.outline.spans:
        if span.is_level:
            continue
        for at in _places(span, plot, up=False):
            slack = plot.slack.get(span.border, 0.0)
            steps = list(_steps(at, span.side == "left", width, joint, plot.rules.sliver, slack))
            steps.extend(at + joint + c if span.side == "left" else at - c for c in strips)
            found.extend(step - shift for step in steps for shift in shifts)
            (forward if span.side == "left" else backward).append(at)
    if any(not s.is_straight for s in plot.outline.spans):
        found.extend(_even(first, pitch))
    sums = _unique(((j + k) * lean for j in _few(courses) for k in _few(courses)), pitch)
    found.extend(
        (c + d - width - s) / 2 + k * pitch / 2 for c in forward for d in backward for s in sums for k in (0, 1)
    )
    return _in_module(found, first, pitch)


def is_complete(plot: Plot, courses: range) -> bool:
    """Tell whether the list leaves nothing out: few courses or a pattern that soon repeats, one thing that moves."""
    lean = plot.lattice.b[0] / plot.lattice.a[0]
    repeats = any(abs(n * lean - round(n * lean)) < 1e-9 for n in range(1, _MOST_SHIFTS // 2 + 1))
    return (repeats or len(courses) <= _MOST_SHIFTS) and not moves_together(plot)


def moves_together(plot: Plot) -> bool:
    """Tell whether more than one thing may move along the same axis: not every way to move both is then listed."""
    return sum(m.x != (0.0, 0.0) for m in plot.moves) > 1 or sum(m.y != (0.0, 0.0) for m in plot.moves) > 1


def shifts_of(plot: Plot, courses: range) -> list[float]:
    """Return how far each of the courses stands to the right of course 0, modulo the module; every value once."""
    return _unique((j * plot.lattice.b[0] for j in courses), plot.lattice.a[0])


def courses_of(plot: Plot, first: float) -> range:
    """Return the courses that a plot can have when course 0 lies anywhere in the module from ``first`` (from base)."""
    _, y0, _, y1 = plot.outline.region.bounds
    rise = plot.lattice.b[1]
    some = courses_met(y0 - rise, y1 + rise, plot.base + first, rise, plot.rules.height)
    return range(some.start, some.stop)


def moved(
    move: Move, parts: Sequence[tuple[Plot, Floats]], courses: range, *, upwards: bool
) -> tuple[NDArray[np.int64], Floats]:
    """Return how far a thing is worth moving for each of many starts, mm.

    Args:
        move: The thing.
        parts: A zone, and parts of it that have starts of their own, each with its starts (from base, upwards).
        courses: Courses of the zone.
        upwards: Up and down, not to the sides.

    Returns:
        Which start, and how far; start by start, the least move first.
    """
    least, most = move.y if upwards else move.x
    starts = parts[0][1]
    if least == most == 0:
        return np.arange(len(starts)), np.zeros(len(starts))
    columns = [np.full(len(starts), by) for by in (0.0, least, most)]
    for plot, own in parts:
        origin = own + (plot.base if upwards else 0.0)
        for values, period in _ways(move, plot, origin, courses, upwards=upwards):
            first = values + np.ceil((least - values) / period - SAME) * period
            columns.extend(first + k * period for k in range(int((most - least) / period) + 2))
    found = np.stack(columns, axis=1)
    source, column = np.nonzero((found >= least - SAME) & (found <= most + SAME))
    by = found[source, column]
    order = np.lexsort((by, np.round(np.abs(by), 6), source))
    source, by = source[order], by[order]
    # each once: the first of those that are the same
    span = 4 * (most - least + 1) / (10 * SAME)
    _, once = np.unique(source * span + np.round(by / (10 * SAME)), return_index=True)
    once.sort()
    return source[once], by[once]


def _ways(move: Move, plot: Plot, origin: Floats, courses: range, *, upwards: bool) -> Iterator[tuple[Floats, float]]:
    """Yield how far a thing may move for something to change, for every start, and after what length again."""
    module = plot.lattice.b[1] if upwards else plot.lattice.a[0]
    tile = plot.rules.height if upwards else plot.rules.width
    shifts = [0.0] if upwards else shifts_of(plot, courses)
    borders = move.level if upwards else move.upright
    forward: list[float] = []
    backward: list[float] = []
    for span in plot.outline.spans:
        if span.is_level != upwards or (span.border not in borders and not move.carries):
            continue
        is_forward = span.side in ("bottom", "left")
        slack = plot.slack.get(span.border, 0.0)
        steps = list(_steps(span.place, is_forward, tile, module - tile, plot.rules.sliver, slack))
        if span.border in borders:
            (forward if is_forward else backward).append(span.place)
            yield from ((origin + s - p, module) for p in steps for s in shifts)
        else:
            # the start goes along, and this edge stays
            yield from ((p - origin - s, module) for p in steps for s in shifts)
    if not upwards and plot.rules.alike:
        yield from ((by, module) for by in _in_balance(move, plot, origin, shifts))
    sums = _unique((a + b for a in shifts for b in shifts), module)
    for c in dict.fromkeys(forward):
        for d in dict.fromkeys(backward):
            yield from (((2 * origin + s - (c + d - tile)) / 2, module / 2) for s in sums)


def _in_balance(move: Move, plot: Plot, starts: Floats, shifts: Sequence[float]) -> Iterator[Floats]:
    """Yield how far a side may move so that the end it makes is cut like the other one, whole modules aside."""
    pitch, width = plot.lattice.a[0], plot.rules.width
    ends = [s for s in plot.outline.spans if s.edge in plot.rules.left | plot.rules.right and not s.is_level]
    for span in ends:
        if span.border not in move.upright:
            continue
        for other in ends:
            if other.side == span.side:
                continue
            for a in shifts:
                cut = width - (other.place - starts - a) % pitch
                yield from (cut + starts + b - span.place for b in shifts)


def _ends(plot: Plot, border: int, place: float) -> list[float]:
    """Return where an end of an upright edge may stand: with the level edge there as it is, or moved to a limit."""
    return [place, *(place + by for m in plot.moves if border in m.level for by in m.y)]


def _places(span: Span, plot: Plot, *, up: bool) -> list[float]:
    """Return where an edge may stand: as it is, or with its niche at either end of its move."""
    corners = sorted({round(v, 6) for s in span.near for v in (s.at_start, s.at_end)})
    places = [span.place]
    if len(corners) > 1:
        # out of true: each course meets it at another place; a fan of places stands for them, and nothing is proved
        fan = min(_FAN, 2 + int((corners[-1] - corners[0]) / _FINE))
        places = sorted({*corners, *np.linspace(corners[0], corners[-1], fan).tolist()})
    for move in plot.moves:
        if span.border in (move.level if up else move.upright):
            places = [p + by for p in places for by in {0.0, *(move.y if up else move.x)}]
    return places


def _steps(at: float, forward: bool, tile: float, joint: float, sliver: float, slack: float) -> Iterator[float]:
    """Yield the starts at which the cut of an edge changes kind."""
    if forward:
        yield from (at, at + joint, at + joint + sliver, at + joint + tile / 2, at + slack)
    else:
        yield from (at, at - tile, at - sliver, at - tile / 2, at - tile - slack)


def _even(first: float, module: float) -> Iterator[float]:
    """Yield starts evenly over a module: where edges are out of true the list above is not all."""
    count = min(_MOST_EVEN, int(module / _FINE))
    yield from (first + k * module / count for k in range(count))


def _few(courses: range) -> range:
    return courses if len(courses) <= _MOST_SHIFTS else courses[:_MOST_SHIFTS]


def _unique(values: Iterable[float], module: float) -> list[float]:
    return _distinct(sorted((v % module) if module - (v % module) > SAME else 0.0 for v in values))


def _distinct(values: Sequence[float]) -> list[float]:
    seen: set[int] = set()
    out = []
    for value in values:
        mark = round(value / (10 * SAME))
        if mark not in seen:
            seen.add(mark)
            out.append(value)
    return out


def _in_module(values: Iterable[float], first: float, module: float) -> Floats:
    """Return the values brought into [first, first + module), sorted, each once."""
    array = (np.fromiter(values, float) - first) % module
    array[module - array < SAME] = 0.0
    array = np.sort(array)
    keep = np.concatenate([[True], np.diff(array) > SAME])
    distinct: Floats = array[keep] + first
    return distinct
