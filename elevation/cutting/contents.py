"""Listing what can come out of one tile, and finding what is worth most at given prices."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from elevation.cutting.blocks import BOTTOM, LEFT, RIGHT, TOP, Block, Contents, Cutter

MOST_STATES = 60_000
"""Most steps of the stairs that a knapsack may grow to before it is given up."""

BEST_PER_ROUND = 25


def all_contents(
    cutter: Cutter, demand: Sequence[int], wanted: Sequence[int], limit: int, work: int
) -> tuple[list[Contents], bool]:
    """Return every contents of one tile that the demand has a use for, and whether that is really all.

    Args:
        cutter: The sizes and the sheet.
        demand: How many of each item are needed.
        wanted: The items to use.
        limit: Most contents to list.
        work: Most joins to try.
    """
    found: list[Contents] = []
    last = cutter.work + work
    todo: deque[Contents] = deque((i,) for i in wanted)  # small contents first: they are the ones used when it stops
    while todo:
        contents = todo.popleft()
        found.append(contents)
        if len(found) > limit or cutter.work > last:
            return found, False
        # whatever fits goes on fitting when a piece is taken away, so growing upwards by index misses nothing
        more = [i for i in wanted if i >= contents[-1] and contents.count(i) < demand[i]]
        todo += [(*contents, i) for i in more if cutter.fits((*contents, i))]
    return found, not cutter.skipped


def maximal(
    cutter: Cutter, demand: Sequence[int], wanted: Sequence[int], listed: Sequence[Contents]
) -> list[Contents]:
    """Return those contents to which nothing can be added; covering needs no others."""
    every = set(listed)
    out: list[Contents] = []
    for contents in listed:
        counts = Counter(contents)
        if not any(counts[i] < demand[i] and tuple(sorted((*contents, i))) in every for i in wanted):
            out.append(contents)
    return out


@dataclass(frozen=True, slots=True)
class _Strips:
    """Strips that lie side by side, for one direction of the first cuts: sizes with kerf, and what they hold."""

    blocks: list[Block]
    sizes: np.ndarray
    counts: np.ndarray

    def values(self, prices: np.ndarray) -> np.ndarray:
        return self.counts @ prices if self.blocks else np.empty(0)


class Pricer:
    """Finds the contents that are worth most when each item has a price.

    Attributes:
        complete: Nothing that can be cut from a tile is left out, so "worth at most" is a proof.
    """

    def __init__(self, cutter: Cutter, demand: Sequence[int], wanted: Sequence[int], limit: int, work: int) -> None:
        """List the groups of two-way pieces; strips from side to side are left to the knapsack."""
        self._cutter = cutter
        self._column = {i: n for n, i in enumerate(wanted)}
        loose = [i for i in wanted if not cutter.kind[i]]
        self._groups, self.complete = all_contents(cutter, demand, loose, limit, work)
        self._group_counts = self._counts(self._groups)
        self._directions = [
            self._direction(cut, wanted) for cut in ("|", "-") if any(cutter.kind[i] == cut for i in wanted)
        ]

    def _counts(self, rows: Sequence[Contents]) -> np.ndarray:
        out = np.zeros((len(rows), len(self._column)))
        for r, contents in enumerate(rows):
            for i in contents:
                out[r, self._column[i]] += 1
        return out

    def _direction(self, cut: Literal["|", "-"], wanted: Sequence[int]) -> _Direction:
        cutter = self._cutter
        groups: list[Block] = []
        for contents in self._groups:
            groups += [b for b in cutter.blocks(contents) if b.cut != cut]
        singles = [b for i in wanted if cutter.kind[i] == cut for b in cutter.variants[i]]
        return _Direction(cutter, cut, self, singles, groups)

    def strips(self, blocks: list[Block], cut: Literal["|", "-"]) -> _Strips:
        """Return blocks as strips of a direction."""
        k = self._cutter.sheet.kerf
        sizes = np.array([(b.w if cut == "|" else b.h) + k for b in blocks], dtype=np.int64)
        return _Strips(blocks, sizes, self._counts([b.items for b in blocks]))

    def best(self, prices: dict[int, float], demand: Sequence[int]) -> tuple[float, list[Contents]] | None:
        """Return what one tile can be worth at most, and the contents worth most (more than 1).

        Returns ``None`` when the knapsack grew too large to be searched.
        """
        u = np.zeros(len(self._column))
        for item, n in self._column.items():
            u[n] = prices.get(item, 0.0)
        offers: list[tuple[float, Contents]] = []
        if self._groups:
            value = self._group_counts @ u
            best = np.argsort(-value, kind="stable")[:BEST_PER_ROUND].tolist()
            offers += [(float(value[g]), self._groups[g]) for g in best]
        for direction in self._directions:
            more = direction.best(u, demand)
            if more is None:
                return None
            offers += more
        offers.sort(key=lambda o: (-o[0], o[1]))
        top = offers[0][0]
        unique = dict.fromkeys(self._wanted(c, demand) for v, c in offers if v > 1 + 1e-9)
        return top, list(unique)[:BEST_PER_ROUND]

    def _wanted(self, contents: Contents, demand: Sequence[int]) -> Contents:
        for i in contents:
            if not demand[i]:
                contents = self._cutter.without(contents, i)
        return contents


class _Direction:
    """One direction of the first cuts: a strip at the low end, one at the high end, any number between."""

    def __init__(
        self, cutter: Cutter, cut: Literal["|", "-"], pricer: Pricer, singles: list[Block], groups: list[Block]
    ) -> None:
        low, high = (LEFT, RIGHT) if cut == "|" else (BOTTOM, TOP)
        self._cutter, self._cut = cutter, cut
        sheet = cutter.sheet
        self._room = (sheet.length if cut == "|" else sheet.width) + sheet.kerf
        ends = low | high

        def having(blocks: list[Block], sides: int) -> list[Block]:
            return [b for b in blocks if b.sides & ends == sides]

        self._low = (pricer.strips(having(singles, low), cut), pricer.strips(having(groups, low), cut))
        self._high = (pricer.strips(having(singles, high), cut), pricer.strips(having(groups, high), cut))
        inner: dict[Contents, Block] = {}
        for b in having(singles, 0):
            inner.setdefault(b.items, b)
        self._inner = pricer.strips(list(inner.values()), cut)
        self._loose = pricer.strips(having(groups, 0), cut)

    def best(self, prices: np.ndarray, demand: Sequence[int]) -> list[tuple[float, Contents]] | None:
        """Return for each strip at the low end the contents worth most, with their worth."""
        stairs = self._stairs(prices, demand)
        if stairs is None:
            return None
        lows, highs = self._choices(self._low, prices), self._choices(self._high, prices)
        low_size, low_value = _arrays(lows)
        high_size, high_value = _arrays(highs)
        room = self._room - low_size[:, None] - high_size[None, :]
        at = np.searchsorted(stairs.size, room, side="right") - 1
        total = np.where(at >= 0, low_value[:, None] + high_value[None, :] + stairs.value[at], -1.0)
        # one piece cannot be at both ends; only single pieces are looked at, groups may still be asked for twice
        where = {b.items[0]: n for n, (_, _, b) in enumerate(highs) if b is not None and len(b.items) == 1}
        for n, (_, _, b) in enumerate(lows):
            if b is not None and len(b.items) == 1 and demand[b.items[0]] == 1 and b.items[0] in where:
                total[n, where[b.items[0]]] = -1.0
        partner = total.argmax(axis=1)
        worth = total[np.arange(len(lows)), partner]
        out: list[tuple[float, Contents]] = []
        for n in np.argsort(-worth, kind="stable")[:BEST_PER_ROUND].tolist():
            if worth[n] <= 0:
                continue
            m = int(partner[n])
            row = [b for b in (lows[n][2], *stairs.chosen(int(at[n, m])), highs[m][2]) if b is not None]
            if row:
                out.append((float(worth[n]), self._contents(row)))
        return out

    def _contents(self, row: list[Block]) -> Contents:
        block = row[0]
        for part in row[1:]:
            joined = self._cutter.join(block, part, self._cut)
            assert joined is not None, "the knapsack kept to the room there is"
            block = joined
        self._cutter.remember(block)
        return block.items

    def _choices(self, strips: tuple[_Strips, _Strips], prices: np.ndarray) -> list[tuple[int, float, Block | None]]:
        singles, groups = strips
        out: list[tuple[int, float, Block | None]] = [(0, 0.0, None)]
        for s, v, b in zip(singles.sizes.tolist(), singles.values(prices).tolist(), singles.blocks, strict=True):
            if v > 0:
                out.append((s, v, b))
        return out + [(s, v, b) for s, v, b in _stepping(groups, prices)]

    def _stairs(self, prices: np.ndarray, demand: Sequence[int]) -> _Stairs | None:
        stairs = _Stairs()
        inner = self._inner
        for s, v, b in zip(inner.sizes.tolist(), inner.values(prices).tolist(), inner.blocks, strict=True):
            for _ in range(demand[b.items[0]]):
                if v > 1e-12 and not stairs.add(s, v, b, self._room):
                    break
            if len(stairs.size) > MOST_STATES:
                return None
        # groups of two-way pieces are not counted against the demand: that only loosens the bound
        for s, v, b in _stepping(self._loose, prices):
            while v > 1e-12 and stairs.add(s, v, b, self._room):
                if len(stairs.size) > MOST_STATES:
                    return None
        return stairs


def _arrays(choices: list[tuple[int, float, Block | None]]) -> tuple[np.ndarray, np.ndarray]:
    return np.array([c[0] for c in choices], dtype=np.int64), np.array([c[1] for c in choices])


def _stepping(strips: _Strips, prices: np.ndarray) -> list[tuple[int, float, Block]]:
    """Return the strips that are worth more than every one no larger."""
    values = strips.values(prices)
    order = np.lexsort((-values, strips.sizes)) if strips.blocks else np.empty(0, np.int64)
    out: list[tuple[int, float, Block]] = []
    for n in order.tolist():
        if values[n] > (out[-1][1] if out else 0.0):
            out.append((int(strips.sizes[n]), float(values[n]), strips.blocks[n]))
    return out


class _Stairs:
    """The most that strips of a total size can be worth: a rising stair of sizes and values."""

    def __init__(self) -> None:
        self.size = np.zeros(1, dtype=np.int64)
        self.value = np.zeros(1)
        self._stages: list[tuple[np.ndarray, np.ndarray, Block]] = []

    def add(self, size: int, value: float, block: Block, room: int) -> bool:
        """Allow one more strip; tell whether any step changed."""
        fit = int(np.searchsorted(self.size, room - size, side="right"))
        if fit == 0:
            return False
        n = len(self.size)
        sizes = np.concatenate([self.size, self.size[:fit] + size])
        values = np.concatenate([self.value, self.value[:fit] + value])
        order = np.lexsort((-values, sizes))
        ranked = values[order]
        before = np.maximum.accumulate(ranked)
        keep = np.concatenate([[True], ranked[1:] > before[:-1] + 1e-12])
        order = order[keep]
        took = order >= n
        if not took.any():
            return False
        self._stages.append((np.where(took, order - n, order), took, block))
        self.size, self.value = sizes[order], values[order]
        return True

    def chosen(self, step: int) -> list[Block]:
        """Return the strips that make up a step."""
        out: list[Block] = []
        for parent, took, block in reversed(self._stages):
            if took[step]:
                out.append(block)
            step = int(parent[step])
        return out
