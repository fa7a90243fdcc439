"""Which piece of a size goes into which tile: partners from the same wall, with near numbers, at no cost in tiles."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from elevation.cutting.blocks import Contents, Cutter
from elevation.pieces.piece import Piece

MOST_SWAPPED = 3000
"""With more pieces than this the first choice of partners stands: the table of distances grows as their square."""
MOST_PASSES = 4
OTHER_WALL, OTHER_FACE = 1_000_000, 10_000
MOST_LOOKED_AT = 12

Held = list[tuple[int, Piece]]


def assign(cutter: Cutter, tiles: Sequence[Contents], sizes: Sequence[Sequence[Piece]]) -> list[Held]:
    """Return the pieces of each tile, each with the index of its size.

    Args:
        cutter: Tells what else would fit.
        tiles: The sizes that come out of each tile.
        sizes: For each size its pieces, in order of setting.
    """
    pieces = [p for row in sizes for p in row]
    near = _Near(pieces)
    first = np.cumsum([0, *(len(row) for row in sizes)]).tolist()
    stock = [list(range(first[i], first[i + 1])) for i in range(len(sizes))]
    # the sizes with the least choice first: their partners can still be chosen
    order = sorted(range(len(tiles)), key=lambda t: (min(len(sizes[i]) for i in tiles[t]), t))
    out: list[Held] = [[] for _ in tiles]
    for t in order:
        far = np.zeros(len(pieces), dtype=np.int64)
        for i in sorted(tiles[t], key=lambda i: (len(stock[i]), i)):
            n = stock[i].pop(int(far[stock[i]].argmin()))
            far += near.row(n)
            out[t].append((i, pieces[n]))
    _improve(cutter, out)
    return out


def _improve(cutter: Cutter, tiles: list[Held]) -> None:
    """Swap pieces between tiles while that brings partners nearer and both tiles can still be cut."""
    pieces = [p for t in tiles for _, p in t]
    if not 1 < len(pieces) <= MOST_SWAPPED:
        return
    size = [i for t in tiles for i, _ in t]
    tile = np.array([n for n, t in enumerate(tiles) for _ in t])
    between = _Near(pieces).table()
    to_tile = np.zeros((len(pieces), len(tiles)), dtype=np.int64)
    for n, t in enumerate(tile.tolist()):
        to_tile[:, t] += between[:, n]
    held = [np.flatnonzero(tile == t).tolist() for t in range(len(tiles))]
    every = np.arange(len(pieces))
    for _ in range(MOST_PASSES):
        moved = False
        for p in range(len(pieces)):
            t = int(tile[p])
            if not to_tile[p, t]:
                continue  # alone in its tile, or beside its like: nothing to gain from here
            gain = to_tile[p, t] + to_tile[every, tile] - to_tile[p, tile] - to_tile[:, t] + 2 * between[p]
            gain[tile == t] = 0
            best = np.argsort(-gain, kind="stable")[:MOST_LOOKED_AT].tolist()
            for q in best:
                if gain[q] <= 0:
                    break
                u = int(tile[q])
                one, other = [n for n in held[t] if n != p] + [q], [n for n in held[u] if n != q] + [p]
                if size[p] != size[q] and not (_fits(cutter, one, size) and _fits(cutter, other, size)):
                    continue
                held[t], held[u] = one, other
                tile[p], tile[q] = u, t
                to_tile[:, t] += between[:, q] - between[:, p]
                to_tile[:, u] += between[:, p] - between[:, q]
                moved = True
                break
        if not moved:
            break
    tiles[:] = [[(size[n], pieces[n]) for n in row] for row in held]


def _fits(cutter: Cutter, row: list[int], size: list[int]) -> bool:
    return cutter.fits(tuple(sorted(size[n] for n in row)))


class _Near:
    """How far apart pieces are set: another wall outweighs any number of courses, a course any place."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        faces = {f: n for n, f in enumerate(dict.fromkeys(p.face for p in pieces))}
        walls = {f: n for n, f in enumerate(dict.fromkeys(_wall(p) for p in pieces))}
        self._face = np.array([faces[p.face] for p in pieces], dtype=np.int32)
        self._wall = np.array([walls[_wall(p)] for p in pieces], dtype=np.int32)
        self._course = np.array([p.course for p in pieces], dtype=np.int32)
        self._place = np.array([p.place for p in pieces], dtype=np.int32)

    def row(self, n: int) -> np.ndarray:
        """Return how far piece ``n`` is from each."""
        near = np.abs(self._course - self._course[n]) * 20 + np.minimum(19, np.abs(self._place - self._place[n]))
        near = np.where(self._face != self._face[n], OTHER_FACE, np.minimum(OTHER_FACE - 1, near))
        return np.where(self._wall != self._wall[n], OTHER_WALL, near)

    def table(self) -> np.ndarray:
        """Return how far each is from each."""
        return np.array([self.row(n) for n in range(len(self._face))])


def _wall(piece: Piece) -> str:
    return piece.face.split(".")[0]
