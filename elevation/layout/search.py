"""The exact search: every start at which anything can change, for all walls that share course lines, at once.

For each start up (v) every wall takes its own best start across (u); v is chosen on the sums over the walls, and of
``narrowest`` on the least. That is the best of the room, since what a wall adds depends on v and its own u alone, and
an order by first differing term does not care what is added to both sides. See ``breakpoints`` for why no other start
can be better, and ``sweep`` for how the terms of a start fall into a part for u and a part for v.

``cuts`` is counted for the starts that tie in the terms before it. The last ties: things moved least, then nearest
centred, then leftmost, then lowest.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Any

import numpy as np
from numpy.typing import NDArray

from elevation.job.models import Term
from elevation.layout import breakpoints
from elevation.layout.cut_count import count_cuts
from elevation.layout.plots import SIDE, Move, Plot
from elevation.layout.sweep import Part, Signature, States, UprightParts, chosen, level_part, signatures, states
from elevation.layout.terms import NOISE

Floats = NDArray[np.floating[Any]]
Ints = NDArray[np.int64]
_MOST_MOVES = 144


@dataclass(frozen=True, slots=True)
class WallStart:
    """A start of one wall: lower left corner of slot (0, 0, 0) on the face, and how far each thing is moved, mm."""

    plot: Plot
    u: float
    v: float
    moved: tuple[tuple[str, float, float], ...]

    def sides(self) -> dict[str, float]:
        """Return, for every side of the wall that may move, how far outward it stands, mm."""
        sign = {"left": -1.0, "bottom": -1.0, "right": 1.0, "top": 1.0}
        found = [(n.removeprefix(SIDE), dx + dy) for n, dx, dy in self.moved if n.startswith(SIDE)]
        return {side: sign[side] * by + 0.0 for side, by in found}

    def niches(self) -> dict[str, tuple[float, float]]:
        """Return, for every niche that was moved, how far to the right and up, mm."""
        return {
            n: (dx, dy) for n, dx, dy in self.moved if not n.startswith(SIDE) and (abs(dx) > 1e-6 or abs(dy) > 1e-6)
        }


@dataclass(frozen=True, slots=True)
class RoomStart:
    """A start of all walls of a group: its key in the order of terms, and the start of each."""

    key: tuple[float, ...]
    v: float
    walls: tuple[WallStart, ...]

    @property
    def away(self) -> float:
        """How far all that may move is moved, together, mm."""
        return sum(abs(dx) + abs(dy) for w in self.walls for _, dx, dy in w.moved)


class _Part:
    """A zone, or a part of it beyond a band, judged in every state of the zone's start."""

    def __init__(self, plot: Plot, zone: Plot, xs: States, ys: States) -> None:
        self.plot = plot
        # what it has in common with the zone goes along with a side that may move
        self.xs = self._own(xs, None if plot.x == zone.x else plot.x, upwards=False)
        self.ys = self._own(ys, None if plot.y == zone.y else plot.y, upwards=True)
        self.level = level_part(plot, self.ys)
        self.signatures = signatures(plot, self.ys)
        self._uprights = UprightParts(plot, self.xs, self.ys)

    def _own(self, states_of_zone: States, fixed: float | None, *, upwards: bool) -> States:
        start = states_of_zone.start if fixed is None else np.full(len(states_of_zone.start), fixed)
        return states(self.plot, start, states_of_zone.source, states_of_zone.moved, upwards=upwards)

    def upright(self, i: int) -> Part:
        """Return what upright edges say when the courses start at state ``i``."""
        return self._uprights.part(self.signatures[i], i)


class WallSearch:
    """One zone, with its starts listed and their terms at hand."""

    def __init__(self, plot: Plot, up: Floats, first: float) -> None:
        """List the starts of ``plot`` for the starts up in ``up`` (from base); ``first`` is the least of them."""
        self.plot = plot
        courses = [breakpoints.courses_of(p, first if p.y is None else p.y - p.base) for p in plot.parts]
        self.courses = range(min(c.start for c in courses), max(c.stop for c in courses))
        self.ys = self._up(up)
        self.xs = self._across()
        self.parts = [_Part(p, plot, self.xs, self.ys) for p in plot.parts]
        self.level = _together([p.level for p in self.parts])
        self.signatures = list(zip(*(p.signatures for p in self.parts), strict=True))
        self._uprights: dict[tuple[Signature, ...], Part] = {}
        self._leads: dict[tuple[tuple[Signature, ...], tuple[Term, ...]], tuple[list[float], Ints]] = {}
        self.rows: list[Ints] = [np.flatnonzero(self.ys.source == k) for k in range(len(up))]
        self.centred = _centred(plot)

    @property
    def examined(self) -> int:
        """How many starts that is."""
        return len(self.xs.start) * len(self.ys.start)

    def _up(self, up: Floats) -> States:
        starts, source, moved = _with_moves(self.plot, up, self.courses, upwards=True)
        return states(self.plot, starts + self.plot.base, source, moved, upwards=True)

    def _across(self) -> States:
        plot = self.plot
        if plot.x is not None:
            listed = np.array([plot.x])
        else:
            listed = breakpoints.across(_free(plot, upwards=False), plot.outline.region.bounds[0], self.courses)
        starts, source, moved = _with_moves(plot, listed, self.courses, upwards=False)
        return states(plot, starts, source, moved, upwards=False)

    def upright(self, i: int) -> Part:
        """Return what upright edges say when the courses start at state ``i``."""
        mark = self.signatures[i]
        if mark not in self._uprights:
            self._uprights[mark] = _together([p.upright(i) for p in self.parts])
        return self._uprights[mark]

    def best(self, k: int, order: Sequence[Term]) -> tuple[tuple[float, ...], list[tuple[int, Ints]]]:
        """Return the best key for start up ``k``, and the states up and across that have it.

        ``cuts`` is counted when it is in ``order``; ``tiles`` counts as 0.
        """
        stop = order.index("cuts") if "cuts" in order else len(order)
        found = self._heads(self.rows[k], order[:stop])
        least = _least([key for _, key, _ in found])
        found = [(i, key, index) for i, key, index in found if _same(key, least)]
        if stop < len(order):
            # counting is what takes time: only states up that tie in all that comes before are counted
            found = [(i, *self._tail(i, key, index, order[stop:])) for i, key, index in found]
            least = _least([key for _, key, _ in found])
        return tuple(least), [(i, index) for i, key, index in found if _same(key, least)]

    def _heads(self, rows: Ints, order: Sequence[Term]) -> list[tuple[int, list[float], Ints]]:
        """Return state, best key and its states across for those states up that are the best in the first terms."""
        if len(rows) == 1:
            i = int(rows[0])
            return [(i, *self._head(i, order))]
        lead = _sums(order)
        sums = np.stack([self.level.term(t)[rows] for t in lead]) if lead else np.zeros((0, len(rows)))
        marks = [self.signatures[i] for i in rows.tolist()]
        for mark in set(marks):
            i = int(rows[marks.index(mark)])
            best = np.array(self._lead(i, self.upright(i), lead)[0]).reshape(-1, 1)
            sums[:, [m == mark for m in marks]] += best
        kept = np.arange(len(rows))
        for values in sums:
            kept = kept[values[kept] <= values[kept].min() + NOISE]
        out = []
        for n in kept.tolist():
            i = int(rows[n])
            out.append((i, *self._head(i, order)))
        return out

    def _head(self, i: int, order: Sequence[Term]) -> tuple[list[float], Ints]:
        """Return the best key and its states across, courses at state ``i``."""
        lead = _sums(order)
        least, index = self._lead(i, self.upright(i), lead)
        key = [a + float(self.level.term(t)[i]) for a, t in zip(least, lead, strict=True)]
        return self._tail(i, key, index, order[len(lead) :])

    def _tail(self, i: int, key: list[float], index: Ints, order: Sequence[Term]) -> tuple[list[float], Ints]:
        """Return a key and its states across, gone on with further terms."""
        part, key = self.upright(i), list(key)
        for term in order:
            if term == "tiles":
                key.append(0.0)
            elif term == "cuts":
                cuts = self._cuts(index, i)
                fewest = float(cuts.min())
                index = index[cuts <= fewest + NOISE]
                key.append(fewest)
            else:
                more, index = chosen(part, (term,), index, {term: float(self.level.term(term)[i])})
                key.extend(more)
        return key, index

    def _lead(self, i: int, part: Part, lead: tuple[Term, ...]) -> tuple[list[float], Ints]:
        """Return the best of the first terms, which are sums, so that the start up has no say in them."""
        found = self._leads.get((self.signatures[i], lead))
        if found is None:
            found = chosen(part, lead, np.arange(len(self.xs.start)), dict.fromkeys(lead, 0.0))
            self._leads[self.signatures[i], lead] = found
        return found

    def cuts(self, i: int, x: int) -> float:
        """Return how many pieces need the saw in a state."""
        return float(self._cuts(np.array([x]), i)[0])

    def _cuts(self, index: Ints, i: int) -> Floats:
        counts: Floats = np.sum([count_cuts(p.plot, p.xs, index, p.ys, i) for p in self.parts], axis=0)
        return counts

    def plain(self, term: Term, i: int, x: int) -> float:
        """Return one term of a state as its key has it; ``tiles`` counts as 0."""
        if term == "tiles":
            return 0.0
        if term == "narrowest":
            return -float(min(self.upright(i).narrowest[x], self.level.narrowest[i]))
        return float(self.upright(i).term(term)[x] + self.level.term(term)[i])

    def start(self, tied: list[tuple[int, Ints]]) -> WallStart:
        """Return which of the tied starts is taken in the end."""
        pitch, found = self.plot.lattice.a[0], []
        for i, index in tied:
            u = self.xs.start[index]
            away = np.full(len(index), sum(abs(float(m[i])) for m in self.ys.moved.values()))
            for by in self.xs.moved.values():
                away += np.abs(by[index])
            off = np.minimum.reduce([np.abs((u - c + pitch / 2) % pitch - pitch / 2) for c in self.centred])
            keys = np.round(np.stack([away, off, u]), 4)
            first = int(np.lexsort(keys[::-1])[0])
            found.append((tuple(keys[:, first].tolist()), i, int(index[first])))
        _, i, x = min(found)
        return self.at(i, x)

    def at(self, i: int, x: int) -> WallStart:
        """Return a start by its states."""
        moved = tuple(
            (
                m.name,
                float(self.xs.moved[m.name][x]) if m.name in self.xs.moved else 0.0,
                float(self.ys.moved[m.name][i]) if m.name in self.ys.moved else 0.0,
            )
            for m in self.plot.moves
        )
        return WallStart(self.plot, float(self.xs.start[x]), float(self.ys.start[i]), moved)


class GroupSearch:
    """All walls that share course lines."""

    def __init__(self, plots: Sequence[Plot], prefer: Sequence[Term]) -> None:
        """List and judge the starts of all of ``plots``; terms in the order of ``prefer``."""
        self.plots = tuple(plots)
        self.prefer = tuple(prefer)
        lead = plots[0]
        if lead.y is not None:
            first = lead.y - lead.base
            self.up = np.array([first])
        else:
            first = lead.outline.region.bounds[1] - lead.base
            self.up = breakpoints.up([p for plot in plots for p in plot.parts if p.y is None], first)
        self.walls = [WallSearch(p, self.up, first) for p in plots]
        plain = self.prefer.index("cuts") if "cuts" in self.prefer else len(self.prefer)
        self.head = tuple(t for t in self.prefer[:plain] if t != "tiles")
        self.by_up = [[w.best(k, self.head) for w in self.walls] for k in range(len(self.up))]
        self.keys = [self.room_key([key for key, _ in found], self.head) for found in self.by_up]

    @property
    def examined(self) -> int:
        """How many starts were looked at, wall by wall."""
        return sum(w.examined for w in self.walls)

    def room_key(self, keys: Sequence[Sequence[float]], order: Sequence[Term]) -> tuple[float, ...]:
        """Return the key of the room from those of its walls: sums, and of narrowest the least."""
        return tuple(
            round(max(column) if term == "narrowest" else sum(column), 6)
            for term, column in zip(order, zip(*keys, strict=True), strict=True)
        )

    @property
    def least(self) -> tuple[float, ...]:
        """The best key in the terms of ``head``, those before any that is counted."""
        return tuple(_least(self.keys))

    def best(self) -> RoomStart:
        """Return the best start of the room."""
        least = self.least
        tied = [k for k, key in enumerate(self.keys) if _same(key, least)]
        return min((self.full(k) for k in tied), key=lambda r: (r.key, round(r.away, 4), round(r.v, 4)))

    def full(self, k: int) -> RoomStart:
        """Return the room's start for start up ``k``, in all terms that can be counted here."""
        found = [w.best(k, self.prefer) for w in self.walls]
        key = self.room_key([key for key, _ in found], self.prefer)
        starts = tuple(w.start(tied) for w, (_, tied) in zip(self.walls, found, strict=True))
        return RoomStart(key, float(self.up[k]), starts)


def _sums(order: Sequence[Term]) -> tuple[Term, ...]:
    """Return the terms before the first that is no plain sum."""
    stop = next((n for n, t in enumerate(order) if t in ("narrowest", "cuts", "tiles")), len(order))
    return tuple(order[:stop])


def _centred(plot: Plot) -> tuple[float, float]:
    """Return the starts with a joint, and with a tile, midway."""
    x0, _, x1, _ = plot.outline.region.bounds
    middle = (x0 + x1) / 2
    return middle + plot.joint / 2, middle - plot.rules.width / 2


def _with_moves(
    plot: Plot, listed: Floats, courses: range, *, upwards: bool
) -> tuple[Floats, Ints, dict[str, Floats]]:
    """Return the listed starts, each as often as there are ways to move things worth a look."""
    if not plot.moves:
        return listed, np.arange(len(listed)), {}
    ways = [_ways(m, plot, listed, courses, upwards=upwards) for m in plot.moves]
    free = [n for n, (source, _) in enumerate(ways) if len(source) > len(listed)]
    if len(free) <= 1:
        source = ways[free[0]][0] if free else np.arange(len(listed))
        moved = {
            m.name: by if n in free else by[source]
            for n, (m, (_, by)) in enumerate(zip(plot.moves, ways, strict=True))
        }
    else:
        source, moved = _all_ways(plot, ways, free, len(listed))
    starts = listed[source]
    if not upwards:
        for move in plot.moves:
            starts = starts + moved[move.name] if move.carries else starts
    return starts, source, moved


def _all_ways(
    plot: Plot, ways: Sequence[tuple[Ints, Floats]], free: Sequence[int], count: int
) -> tuple[Ints, dict[str, Floats]]:
    """Return the starts, each as often as there are ways to move several things; of many ways, the lesser moves."""
    most = max(2, int(_MOST_MOVES ** (1 / len(free))))
    sources: list[int] = []
    rows: list[tuple[float, ...]] = []
    for k in range(count):
        for way in product(*(by[source == k][:most].tolist() for source, by in ways)):
            sources.append(k)
            rows.append(way)
    columns = np.array(rows).T
    return np.array(sources, np.int64), {m.name: columns[n] for n, m in enumerate(plot.moves)}


def _ways(move: Move, plot: Plot, starts: Floats, courses: range, *, upwards: bool) -> tuple[Ints, Floats]:
    """Return which start, and how far a thing is worth moving for it, for the edges of all parts of a zone."""
    parts = [(_free(plot, upwards=upwards), starts)]
    for part in plot.beyond:
        fixed = part.y if upwards else part.x
        if fixed is not None:
            parts.append((part, np.full(len(starts), fixed - part.base if upwards else fixed)))
    return breakpoints.moved(move, parts, courses, upwards=upwards)


def _free(plot: Plot, *, upwards: bool) -> Plot:
    """Return a zone with the edges of those parts beyond bands whose start, up or across, is its own."""
    parts = [p for p in plot.beyond if (p.y if upwards else p.x) is None]
    spans = tuple(s for p in (plot, *parts) for s in p.outline.spans)
    return replace(plot, outline=replace(plot.outline, spans=spans)) if parts else plot


def _together(parts: Sequence[Part]) -> Part:
    """Return the terms of several parts of a zone: sums, and of the narrowest the least."""
    if len(parts) == 1:
        return parts[0]

    def total(term: Term) -> Floats:
        values: Floats = np.sum([p.term(term) for p in parts], axis=0)
        return values

    narrowest = np.min([p.narrowest for p in parts], axis=0)
    return Part(total("slivers"), total("asked"), total("under-half"), total("balance"), total("aligned"), narrowest)


def _least(keys: Sequence[Sequence[float]]) -> Sequence[float]:
    """Return the least key; numbers within float noise count as the same."""
    least = keys[0]
    for key in keys[1:]:
        for a, b in zip(key, least, strict=True):
            if abs(a - b) > 10 * NOISE:
                if a < b:
                    least = key
                break
    return least


def _same(a: Sequence[float], b: Sequence[float]) -> bool:
    return all(abs(x - y) <= 10 * NOISE for x, y in zip(a, b, strict=True))
