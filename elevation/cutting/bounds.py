"""Lower bounds on the number of tiles that need no solver."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil

from elevation.cutting.blocks import BOTTOM, LEFT, RIGHT, TOP, Contents, Cutter


def quick_bound(cutter: Cutter, demand: Sequence[int], alone: Contents) -> int:
    """Return the best of the simple bounds: area, sides, corners, dual feasible functions, sizes apart.

    Args:
        cutter: The sizes and the sheet.
        demand: How many of each size are needed.
        alone: Sizes of which no two, the same or not, come out of one tile.
    """
    wanted = [i for i, n in enumerate(demand) if n]
    if not wanted:
        return 0
    return max(
        area_bound(cutter, demand),
        _sides_bound(cutter, demand, wanted),
        _function_bound(cutter, demand, wanted),
        sum(demand[i] for i in alone),
        1,
    )


def area_bound(cutter: Cutter, demand: Sequence[int]) -> int:
    """Return the bound by area: each piece with a kerf to the right and above, in a tile with the same."""
    return -(-sum(n * a for n, a in zip(demand, cutter.area, strict=True)) // cutter.whole_area)


def _sides_bound(cutter: Cutter, demand: Sequence[int], wanted: list[int]) -> int:
    """Return the bound by what of the tile's sides and corners the pieces use up."""
    sheet, k = cutter.sheet, cutter.sheet.kerf
    across, along = sheet.width + k, sheet.length + k
    use: dict[int, Fraction] = {s: Fraction(0) for s in (LEFT, RIGHT, BOTTOM, TOP)}
    corner: dict[int, int] = dict.fromkeys((LEFT | BOTTOM, RIGHT | BOTTOM, LEFT | TOP, RIGHT | TOP), 0)
    for i in wanted:
        item = cutter.items[i]
        for side in use:
            if item.sides & side:
                extent = Fraction(item.h + k, across) if side in (LEFT, RIGHT) else Fraction(item.w + k, along)
                use[side] += demand[i] * extent
        for c in corner:
            corner[c] += demand[i] if item.sides & c == c else 0
    if sheet.quarter:
        return max(ceil(sum(use.values()) / 4), -(-sum(corner.values()) // 4))
    if sheet.half:
        main = corner[LEFT | BOTTOM] + corner[RIGHT | TOP]
        cross = corner[RIGHT | BOTTOM] + corner[LEFT | TOP]
        return max(
            ceil((use[LEFT] + use[RIGHT]) / 2), ceil((use[BOTTOM] + use[TOP]) / 2), -(-main // 2), -(-cross // 2)
        )
    return max(*(ceil(u) for u in use.values()), *corner.values())


def _function_bound(cutter: Cutter, demand: Sequence[int], wanted: list[int]) -> int:
    """Return the bound by dual feasible functions of one extent times the other extent as it is.

    The function for a threshold ``t``: a part above ``1 - t`` counts as a whole, one below ``t`` as nothing, the rest
    as it is.
    """
    sheet, k = cutter.sheet, cutter.sheet.kerf
    if sheet.quarter and any(cutter.kind[i] != "|" for i in wanted):
        return 0
    best = 0
    for axis in (0, 1):
        full, other = (sheet.length + k, sheet.width + k) if axis == 0 else (sheet.width + k, sheet.length + k)
        sizes: list[tuple[int, int, int]] = []
        for i in wanted:
            b = cutter.variants[i][0]
            w, h = b.w + k, b.h + k
            sizes.append((w, h, demand[i]) if axis == 0 else (h, w, demand[i]))
        for t in sorted({s for s, _, _ in sizes if 2 * s <= full}):
            total = 0
            for s, o, n in sizes:
                total += n * o * (full if s > full - t else s if s >= t else 0)
            best = max(best, -(-total // (full * other)))
        halves = sum(n * o * (2 if 2 * s > full else 1 if 2 * s == full else 0) for s, o, n in sizes)
        best = max(best, -(-halves // (2 * other)))
    return best
