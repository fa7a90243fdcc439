"""The fewest tiles: greedy starts, simple bounds, then all contents at once or columns one by one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from elevation.cutting.blocks import Contents, Cutter
from elevation.cutting.bounds import quick_bound
from elevation.cutting.contents import Pricer, all_contents, maximal
from elevation.cutting.master import Master, best_cover, round_up

MOST_LISTED = 1500
MOST_GROUPS = 4000
MOST_WORK = 300_000
MOST_ROUNDS = 200
MOST_NODES = 60
MOST_PAIRED = 400


@dataclass(frozen=True, slots=True)
class Cutting:
    """A way to cut: the contents of each tile, and a number of tiles that no way can be below."""

    tiles: tuple[Contents, ...]
    bound: int


def fewest(cutter: Cutter, demand: Sequence[int]) -> Cutting:
    """Return the fewest sheets found for ``demand[i]`` of each item ``i``, and the bound proved."""
    tiles: list[Contents] = []
    bound = 0
    wanted = [i for i, n in enumerate(demand) if n]
    apart = _exclusions(cutter, demand, wanted)
    for group in _components(wanted, apart):
        part = [n if i in group else 0 for i, n in enumerate(demand)]
        alone = _clique(cutter, sorted(group), apart)
        found = _solve(cutter, part, alone)
        tiles += found.tiles
        bound += found.bound
    return Cutting(tuple(tiles), bound)


Apart = Callable[[int, int], bool]


def _exclusions(cutter: Cutter, demand: Sequence[int], wanted: list[int]) -> Apart:
    """Return a test of whether two items never share a tile; with very many sizes it always says they may."""
    if len(wanted) > MOST_PAIRED:
        return lambda a, b: False
    pairs = {
        (a, b) for n, a in enumerate(wanted) for b in wanted[n:] if not cutter.fits((a, b))
    }  # fmt: skip
    return lambda a, b: ((a, b) if a <= b else (b, a)) in pairs


def _components(wanted: list[int], apart: Apart) -> list[set[int]]:
    """Return groups of items that share no tile with another group: each is a problem of its own."""
    left = list(wanted)
    out: list[set[int]] = []
    while left:
        group, todo = {left[0]}, [left[0]]
        while todo:
            a = todo.pop()
            near = [b for b in left if b not in group and not apart(a, b)]
            group.update(near)
            todo += near
        out.append(group)
        left = [i for i in left if i not in group]
    return out


def _clique(cutter: Cutter, group: list[int], apart: Apart) -> Contents:
    """Return sizes that all exclude each other, largest first; a size counts only if two of it exclude each other."""
    out: list[int] = []
    for i in sorted(group, key=lambda i: (-cutter.area[i], i)):
        if all(apart(i, j) for j in (*out, i)):
            out.append(i)
    return tuple(out)


def _solve(cutter: Cutter, demand: list[int], alone: Contents) -> Cutting:
    wanted = [i for i, n in enumerate(demand) if n]
    paired = _paired(cutter, demand, wanted)
    if paired is not None:
        return paired
    tiles = min(_starts(cutter, demand, wanted), key=len)
    bound = quick_bound(cutter, demand, alone)
    if len(tiles) == bound:
        return Cutting(tuple(tiles), bound)
    listed, complete = all_contents(cutter, demand, wanted, MOST_LISTED, MOST_WORK)
    if complete:
        every = maximal(cutter, demand, wanted, listed)
        columns = list(dict.fromkeys([*every, *tiles]))
        cover = best_cover(demand, columns, tiles, bound, 20 * MOST_NODES)
        return Cutting(_trimmed(cutter, cover.tiles, demand), max(bound, cover.bound))
    return _by_columns(cutter, demand, wanted, tiles, bound)


def _paired(cutter: Cutter, demand: list[int], wanted: list[int]) -> Cutting | None:
    """Return the exact answer where every piece is a strip that needs one end, so a tile yields two at most.

    The largest goes with any partner that fits: whoever could have had that partner fits the other one as well.
    """
    kinds = {cutter.kind[i] for i in wanted}
    if len(kinds) != 1 or "" in kinds or any(cutter.ends(i) != 1 for i in wanted):
        return None
    order = sorted(wanted, key=lambda i: (cutter.items[i].w * cutter.items[i].h, i))
    left = list(demand)
    tiles: list[Contents] = []
    for i in reversed(order):
        while left[i]:
            left[i] -= 1
            mate = next((j for j in reversed(order) if left[j] and cutter.fits((min(i, j), max(i, j)))), None)
            if mate is None:
                tiles.append((i,))
            else:
                left[mate] -= 1
                tiles.append((min(i, mate), max(i, mate)))
    return Cutting(tuple(tiles), len(tiles))


def _starts(cutter: Cutter, demand: list[int], wanted: list[int]) -> list[list[Contents]]:
    """Return first fit and best fit, by area and by the longer extent, largest first."""
    share = cutter.sheet.length, cutter.sheet.width

    def longer(i: int) -> float:
        return max(cutter.items[i].w / share[0], cutter.items[i].h / share[1])

    by_area = sorted(wanted, key=lambda i: (-cutter.area[i], i))
    by_extent = sorted(wanted, key=lambda i: (-longer(i), -cutter.area[i], i))
    return [_greedy(cutter, demand, order, best) for order in (by_area, by_extent) for best in (True, False)]


def _greedy(cutter: Cutter, demand: list[int], order: Sequence[int], best: bool) -> list[Contents]:
    """Put each piece into an opened tile that takes it: the first, or the one with the least left."""
    tiles: list[Contents] = []
    rest: list[int] = []
    for i in order:
        for _ in range(demand[i]):
            ranks = sorted(range(len(tiles)), key=lambda t: rest[t]) if best else range(len(tiles))
            for t in ranks:
                grown = tuple(sorted((*tiles[t], i)))
                if rest[t] >= cutter.area[i] and cutter.fits(grown):
                    tiles[t] = grown
                    rest[t] -= cutter.area[i]
                    break
            else:
                tiles.append((i,))
                rest.append(cutter.whole_area - cutter.area[i])
    return tiles


def _by_columns(cutter: Cutter, demand: list[int], wanted: list[int], tiles: list[Contents], bound: int) -> Cutting:
    """Grow the covering problem by the contents that are worth most, then choose among them."""
    pricer = Pricer(cutter, demand, wanted, MOST_GROUPS, MOST_WORK)
    master = Master(demand, [*dict.fromkeys(tiles), *((i,) for i in wanted)])
    bound = max(bound, _grow(master, pricer, demand))
    known = set(master.columns)
    if len(tiles) > bound:
        tiles = min(tiles, _dive(cutter, demand, master, pricer, known, len(tiles)), key=len)
    if len(tiles) > bound:
        columns = [*dict.fromkeys([*master.columns, *sorted(known), *tiles])]
        tiles = list(best_cover(demand, columns, tiles, bound, MOST_NODES).tiles)
    return Cutting(_trimmed(cutter, tiles, demand), bound)


def _grow(master: Master, pricer: Pricer, demand: list[int]) -> int:
    """Add columns until none is worth more than a tile; return the bound proved on the way."""
    bound = 0
    for _ in range(MOST_ROUNDS):
        optimum, prices = master.solve()
        offer = pricer.best(prices, demand)
        if offer is None:
            break
        top, contents = offer
        if pricer.complete:
            worth = sum(n * prices[i] for i, n in enumerate(demand) if n)
            bound = max(bound, round_up(worth / max(1.0, top)))
        fresh = sum(master.add(c) for c in contents)
        if not fresh or bound >= round_up(optimum):
            break
    return bound


def _dive(
    cutter: Cutter, demand: list[int], master: Master, pricer: Pricer, known: set[Contents], most: int
) -> list[Contents]:
    """Keep what the relaxed optimum uses whole, solve for what is left, and so on; ``known`` gathers the columns."""
    left = list(demand)
    tiles: list[Contents] = []
    while True:
        taken = _take(master, left)
        tiles += taken
        wanted = [i for i, n in enumerate(left) if n]
        if not wanted:
            return tiles
        if not taken:
            return tiles + min(_starts(cutter, left, wanted), key=len)
        usable = [c for c in master.columns if all(left[i] >= n for i, n in Counter(c).items())]
        master = Master(left, [*dict.fromkeys([*usable, *((i,) for i in wanted)])])
        least = _grow(master, pricer, left)
        known.update(master.columns)
        if len(tiles) + least > most:
            return tiles + min(_starts(cutter, left, wanted), key=len)


def _take(master: Master, left: list[int]) -> list[Contents]:
    """Return the whole parts of the relaxed optimum, or its largest share alone, and take them off what is left."""
    ranked = sorted(zip(master.shares(), master.columns, strict=True), key=lambda s: (-s[0], s[1]))
    taken: list[Contents] = []
    for share, contents in ranked:
        if taken and share < 1 - 1e-6:
            break
        counts = Counter(contents)
        for _ in range(max(1, int(share + 1e-6))):
            if all(left[i] >= n for i, n in counts.items()):
                taken.append(contents)
                for i, n in counts.items():
                    left[i] -= n
    return taken


def _trimmed(cutter: Cutter, tiles: Sequence[Contents], demand: Sequence[int]) -> tuple[Contents, ...]:
    """Return the tiles less what is cut more often than needed."""
    extra = Counter(i for c in tiles for i in c)
    extra.subtract({i: n for i, n in enumerate(demand) if n})
    out: list[Contents] = []
    for contents in tiles:
        for i in contents:
            if extra[i] > 0:
                extra[i] -= 1
                contents = cutter.without(contents, i)
        if contents:
            out.append(contents)
    return tuple(out)
