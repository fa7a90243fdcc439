"""The terms of many starts at once: level edges speak of every start up, upright edges of every start across.

A term of a start (u, v) is the sum, or for ``narrowest`` the less, of a part that depends on v alone and one that
depends on u and on which courses each upright edge meets. The latter, the *signature*, takes few values over all v:
one when joints stand over joints.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from elevation.geom import EPS
from elevation.job.models import TERMS
from elevation.layout.edge_cuts import across_of
from elevation.layout.plots import Plot
from elevation.layout.spans import Span
from elevation.layout.terms import HALF, NOISE

Floats = NDArray[np.floating[Any]]
Signature = tuple[tuple[int, int], ...]


_FIELDS: dict[str, str] = {t: t.replace("-", "_") for t in TERMS}


@dataclass(frozen=True, slots=True)
class Part:
    """What the edges of one direction say of many starts; arrays of one length."""

    slivers: Floats
    asked: Floats
    under_half: Floats
    balance: Floats
    aligned: Floats
    narrowest: Floats

    def term(self, name: str) -> Floats:
        """Return a term by its name in the job file."""
        values: Floats = getattr(self, _FIELDS[name])
        return values


@dataclass(frozen=True, slots=True)
class States:
    """Starts along one axis, and how far each border stands from its tightest place in each of them, mm.

    Attributes:
        start: The start: y of course 0 on the face, or x of place 0.
        source: Which of the listed starts each belongs to (several differ in where niches stand).
        moved: By niche: how far it is moved.
        shift: By border.
    """

    start: Floats
    source: NDArray[np.int64]
    moved: Mapping[str, Floats]
    shift: Mapping[int, Floats]

    def shift_of(self, border: int, i: int | None = None) -> Any:
        """Return the shift of a border in all states, or in one."""
        found = self.shift.get(border)
        if found is None:
            return 0.0
        return found if i is None else float(found[i])


def states(
    plot: Plot, start: Floats, source: NDArray[np.int64], moved: Mapping[str, Floats], *, upwards: bool
) -> States:
    """Return the states of an axis: niches moved, then ranges opened where whole tiles end in them."""
    shift: dict[int, Floats] = {}
    for move in plot.moves:
        by = moved.get(move.name)
        if by is not None:
            for border in move.level if upwards else move.upright:
                shift[border] = by
    module = plot.lattice.b[1] if upwards else plot.lattice.a[0]
    tile = plot.rules.height if upwards else plot.rules.width
    opened_borders: set[int] = set()
    for span in plot.outline.spans:
        slack = plot.slack.get(span.border, 0.0)
        if span.is_level != upwards or not slack or span.border in opened_borders:
            continue
        opened_borders.add(span.border)
        inward = 1.0 if span.side in ("bottom", "left") else -1.0
        # the strip that is hidden does not move with the joint: the tile begins before what shows
        tight = span.place - inward * plot.hidden.get(span.border, 0.0) + shift.get(span.border, np.zeros(len(start)))
        line = start if inward > 0 else start + tile
        ahead = ((line - tight) * inward) / module
        opened = (ahead - np.floor(ahead + 1e-9)) * module
        opened = np.where(opened <= slack + 1e-9, np.maximum(opened, 0.0), 0.0)
        shift[span.border] = shift.get(span.border, np.zeros(len(start))) + inward * opened
    return States(start, source, moved, shift)


def level_part(plot: Plot, ys: States) -> Part:
    """Return what the level edges say of every start up."""
    rise, height = plot.lattice.b[1], plot.rules.height
    spans = [s for s in plot.outline.spans if s.is_level]
    shares = []
    for span in spans:
        inner, outer = _reach(span, ys.shift_of(span.border))
        size = sizes(inner, outer, ys.start, rise, height, span)
        across = _across(span, ys)
        size = np.where(np.isfinite(size), np.minimum(size, across), np.inf)
        shares.append(share_of(plot, span, size, across))
    return add_up(plot, spans, shares, len(ys.start))


def signatures(plot: Plot, ys: States) -> list[Signature]:
    """Return, for every start up, first and last course that each upright edge meets; as short as it may be.

    Where joints stand over joints and every edge is plumb there is nothing to tell apart.
    """
    upright = [s for s in plot.outline.spans if not s.is_level]
    crooked = any(not s.is_true for s in upright)
    if plot.is_stacked and not crooked:
        return [()] * len(ys.start)
    rise, height = plot.lattice.b[1], plot.rules.height
    cycle = _cycle(plot)
    columns = []
    for span in upright:
        low = span.low + ys.shift_of(span.low_border)
        high = span.high + ys.shift_of(span.high_border)
        first = np.floor((low + EPS - height - ys.start) / rise + 1e-9).astype(np.int64) + 1
        last = np.ceil((high - EPS - ys.start) / rise - 1e-9).astype(np.int64) - 1
        first = np.broadcast_to(first, ys.start.shape)
        last = np.broadcast_to(last, ys.start.shape)
        if cycle and not crooked:
            count = np.minimum(last - first + 1, cycle)
            first = np.where(count == cycle, 0, first % cycle)
            last = first + count - 1
        columns.append(np.stack([first, last], axis=1))
    if crooked:
        # an edge out of plumb is met at other places for every start up
        columns.append(np.stack([ys.source] * 2, axis=1))
    return [tuple((int(a), int(b)) for a, b in row) for row in np.stack(columns, axis=1).tolist()]


def _cycle(plot: Plot) -> int:
    """Return after how many courses the pattern stands over itself; 0: not within 12."""
    lean = plot.lattice.b[0] / plot.lattice.a[0]
    return next((n for n in range(1, 13) if abs(n * lean - round(n * lean)) < 1e-9), 0)


class UprightParts:
    """What the upright edges say of every start across, kept by the courses that each edge meets."""

    def __init__(self, plot: Plot, xs: States, ys: States) -> None:
        """Keep the starts across ``xs`` and up ``ys`` of a zone."""
        self.plot, self.xs, self.ys = plot, xs, ys
        self.spans = [s for s in plot.outline.spans if not s.is_level]
        self._shares: dict[tuple[int, int, int, int], Share] = {}
        self._parts: dict[Signature, Part] = {}

    def part(self, signature: Signature, i: int) -> Part:
        """Return the terms of all starts across.

        Args:
            signature: Courses that each edge meets.
            i: A start up that has this signature.
        """
        if signature not in self._parts:
            shares = []
            for n, span in enumerate(self.spans):
                first, last = signature[n] if signature else (0, 0)
                key = (n, first, last, -1 if span.is_true else int(self.ys.source[i]))
                if key not in self._shares:
                    self._shares[key] = self._share(span, first, last, i)
                shares.append(self._shares[key])
            self._parts[signature] = add_up(self.plot, self.spans, shares, len(self.xs.start))
        return self._parts[signature]

    def _share(self, span: Span, first: int, last: int, i: int) -> Share:
        plot, xs = self.plot, self.xs
        pitch, (lean, rise) = plot.lattice.a[0], plot.lattice.b
        width, height = plot.rules.width, plot.rules.height
        across, shift = _across(span, xs), xs.shift_of(span.border)
        size = np.full(len(xs.start), np.inf)
        if span.is_true:
            marks = {
                round((j * lean % pitch) / NOISE) % round(pitch / NOISE): j * lean for j in range(first, last + 1)
            }
            for offset in marks.values():
                found = sizes(span.place + shift, span.place + shift, xs.start + offset, pitch, width, span)
                size = np.minimum(size, found)
        elif last >= first:
            bottoms = [float(self.ys.start[i]) + j * rise for j in range(first, last + 1)]
            places = np.array([_reach(span, 0.0, b, b + height) for b in bottoms]).T[:, :, None]
            starts = xs.start + np.arange(first, last + 1)[:, None] * lean
            size = sizes(places[0] + shift, places[1] + shift, starts, pitch, width, span).min(axis=0)
        size = np.where(np.isfinite(size), np.minimum(size, across), np.inf)
        return share_of(plot, span, size, across)


@dataclass(frozen=True, slots=True)
class Share:
    """What one edge adds to the terms of every start.

    Attributes:
        counts: Rows for slivers, asked, under-half and aligned.
        narrowest: Its cut as a share of the tile; one half where it does not count.
        end: Its cut, a whole tile where it cuts none, when it is an end of the wall.
        wide: Whether a whole tile fits behind it.
    """

    counts: Floats
    narrowest: Floats
    end: Floats | None
    wide: bool


def share_of(plot: Plot, span: Span, size: Floats, across: Any) -> Share:
    """Return what an edge adds; ``size``: its cut in every state, infinite for none."""
    rules, tile = plot.rules, plot.rules.tile(span.side)
    cut = np.isfinite(size)
    counts = np.zeros((4, len(size)))
    counts[0] = size < rules.sliver - NOISE
    counts[2] = size < tile / 2 - NOISE
    if span.edge in rules.asked:
        counts[1] = cut
    if span.edge in rules.features:
        counts[3] = cut
    narrowest = np.full(len(size), HALF)
    if not (rules.fixed_y if span.is_level else rules.fixed_x):
        counted = cut & (size < across - NOISE)
        share = np.floor(np.where(counted, size, 0.0) / rules.step + NOISE) * rules.step / tile
        narrowest = np.where(counted, np.minimum(HALF, share), HALF)
    is_end = span.edge in (rules.left if span.side == "left" else rules.right if span.side == "right" else ())
    end = np.where(cut, size, tile) if is_end else None
    return Share(counts, narrowest, end, abs(span.far_place - span.place) >= tile)


def add_up(plot: Plot, spans: Sequence[Span], shares: Sequence[Share], n: int) -> Part:
    """Return the terms of ``n`` states from what every edge adds."""
    counts = np.zeros((4, n))
    narrowest = np.full(n, HALF)
    ends: dict[str, list[tuple[Floats, bool]]] = {"left": [], "right": []}
    for span, share in zip(spans, shares, strict=True):
        counts += share.counts
        narrowest = np.minimum(narrowest, share.narrowest)
        if share.end is not None:
            ends[span.side].append((share.end, share.wide))
    balance = np.zeros(n)
    if plot.rules.alike and ends["left"] and ends["right"]:
        balance = np.abs(_end(ends["left"]) - _end(ends["right"]))
    return Part(counts[0], counts[1], counts[2], balance, counts[3], narrowest)


def _end(sizes: Sequence[tuple[Floats, bool]]) -> Floats:
    """Return the cut of an end in every state; see ``terms``."""
    wide = [size for size, is_wide in sizes if is_wide]
    least: Floats = np.minimum.reduce(wide or [size for size, _ in sizes])
    return least


def _across(span: Span, at: States) -> Any:
    if span.is_straight:
        return np.abs(span.far_place + at.shift_of(span.far_border) - span.place - at.shift_of(span.border))
    return across_of(span, 0.0, 0.0)


def _reach(span: Span, shift: Any, low: float = -np.inf, high: float = np.inf) -> tuple[Any, Any]:
    """Return the innermost and outermost place of an edge between two places along it, in every state."""
    values: list[float] = []
    for s in span.near:
        a, b = max(s.start, low), min(s.end, high)
        if b - a > 1e-9:
            slope = (s.at_end - s.at_start) / (s.end - s.start)
            values.extend((s.at_start + slope * (a - s.start), s.at_start + slope * (b - s.start)))
    if not values:
        values = [span.place]
    inner, outer = (max, min) if span.side in ("bottom", "left") else (min, max)
    return inner(values) + shift, outer(values) + shift


def sizes(inner: Any, outer: Any, start: Floats, module: float, tile: float, span: Span) -> Floats:
    """Return the cut of an edge in one course of slots for every start; infinite: none. See ``edge_cuts``."""
    if span.side not in ("bottom", "left"):
        inner, outer, start = -inner, -outer, -start - tile
    slot, rest = _divide(inner - start, module)
    size = np.where((rest > EPS) & (rest < tile - EPS), tile - rest, np.inf)
    if not span.is_true:
        before, other = _divide(outer - start, module)
        tip = (other < tile - EPS) & ((before < slot) | (rest >= tile - EPS)) | (slot - before > 1)
        size = np.where((np.abs(inner - outer) > EPS) & tip, 0.0, size)
    return size


def _divide(value: Floats, module: float) -> tuple[Floats, Floats]:
    slot = np.floor(value / module)
    rest = value - slot * module
    wrap = rest > module - EPS
    return np.where(wrap, slot + 1, slot), np.where(wrap, 0.0, rest)


def chosen(part: Part, order: Sequence[str], index: NDArray[np.int64], other: Mapping[str, float]) -> tuple[
    list[float], NDArray[np.int64]
]:  # fmt: skip
    """Return the best key over some starts, and which of them have it.

    Args:
        part: Terms of one direction.
        order: Names of terms, the first decides.
        index: The starts to look at.
        other: What the other direction says, by term: one number each.
    """
    key: list[float] = []
    for name in order:
        values = part.term(name)[index]
        values = -np.minimum(values, other[name]) if name == "narrowest" else values + other[name]
        least = float(values.min())
        index = index[values <= least + NOISE]
        key.append(least)
    return key, index
