"""A check of cutting plans, and a search for the fewest tiles, written without the code they judge."""

from __future__ import annotations

from functools import cache
from itertools import combinations

from elevation.cutting import CuttingPlan
from elevation.job.models import Tile
from elevation.pieces.piece import Piece

TOL = 1e-3
NEXT = {"left": "bottom", "bottom": "right", "right": "top", "top": "left"}  # a quarter turn, counter-clockwise


def tile(length: float, width: float, **more: object) -> Tile:
    values = {
        "name": "Plain",
        "length": f"{length} mm",
        "width": f"{width} mm",
        "thickness": "8 mm",
        "sampled": 10,
        "variation": "0.5 mm",
        "edge": "pressed",
        "box": 10,
    }
    return Tile.model_validate(values | more, context={"units": "mm"})


def piece(
    pid: str,
    w: float,
    h: float,
    edges: str,
    *,
    of: Tile,
    upright: bool = False,
    face: str = "B",
    course: int = 1,
    place: int = 1,
) -> Piece:
    """Return a piece w x h as set, in a slot at (0, 0); ``edges``: first letters of its factory edges."""
    sw, sh = (of.width, of.length) if upright else (of.length, of.width)
    x0 = sw - w if "r" in edges and "l" not in edges else 0.0
    y0 = sh - h if "t" in edges and "b" not in edges else 0.0
    outer = ((x0, y0), (x0 + w, y0), (x0 + w, y0 + h), (x0, y0 + h))
    slot = ((0.0, 0.0), (sw, 0.0), (sw, sh), (0.0, sh))
    names = tuple(n for n in ("left", "right", "bottom", "top") if n[0] in edges)
    return Piece(
        id=pid, number=pid, face=face, zone="z", tile="t", course=course, place=place, part=1, kind="straight",
        outer=outer, holes=(), slot=slot, upright=upright, width=w, height=h, area=w * h, shown=(w, h),
        factory_edges=names,
    )  # fmt: skip


def check(plan: CuttingPlan, of: Tile, pieces: list[Piece], whole: int, kerf: float) -> None:
    """Assert that a saw can do what the plan says, and that its counts agree."""
    by_id = {p.id: p for p in pieces}
    used = [p for t in plan.plan for p in t.pieces]
    assert sorted(used) == sorted(by_id)
    assert plan.tiles == whole + len(plan.plan)
    assert plan.pieces == whole + len(pieces) == plan.without_reuse
    assert plan.lower_bound <= plan.tiles
    assert plan.proved == (plan.lower_bound == plan.tiles)
    assert (plan.boxes - 1) * of.box < plan.tiles <= plan.boxes * of.box or plan.tiles == plan.boxes == 0
    assert [t.tile_no for t in plan.plan] == list(range(1, len(plan.plan) + 1))
    for t in plan.plan:
        boxes = []
        for at in t.placements:
            p = by_id[at.piece]
            quarters = at.turn // 90
            w, h = (p.width, p.height) if quarters % 2 == 0 else (p.height, p.width)
            assert abs(at.w - w) <= 0.06
            assert abs(at.h - h) <= 0.06
            assert at.x >= 0
            assert at.y >= 0
            assert at.x + at.w <= of.length + 0.06
            assert at.y + at.h <= of.width + 0.06
            # with the grain: an upright piece lies a quarter turned; against it only where there is none
            if of.length != of.width or of.directional:
                assert quarters % 2 == (1 if p.upright else 0)
            if of.directional:
                assert at.turn == (270 if p.upright else 0)
            for edge in p.factory_edges:
                for _ in range(quarters):
                    edge = NEXT[edge]
                gap = {"left": at.x, "bottom": at.y, "right": of.length - at.x - at.w, "top": of.width - at.y - at.h}[
                    edge
                ]
                assert abs(gap) <= 0.06, (at, edge)
            boxes.append((at.x, at.y, at.x + at.w, at.y + at.h))
        for a, b in combinations(boxes, 2):
            apart = max(b[0] - a[2], a[0] - b[2], b[1] - a[3], a[1] - b[3])
            assert apart >= kerf - TOL, (a, b)
        assert sawn(boxes, kerf)


def sawn(boxes: list[tuple[float, float, float, float]], kerf: float) -> bool:
    """Tell whether cuts from edge to edge part the boxes."""
    if len(boxes) < 2:
        return True
    for low, high in ((0, 2), (1, 3)):
        for at in {b[high] for b in boxes}:
            below = [b for b in boxes if b[high] <= at + TOL]
            above = [b for b in boxes if b[low] >= at + kerf - TOL]
            if above and len(below) + len(above) == len(boxes):
                return sawn(below, kerf) and sawn(above, kerf)
    return False


Rect = tuple[int, int, frozenset[str]]


def as_rects(pieces: list[Piece]) -> list[Rect]:
    """Return pieces of level slots as whole mm and sides."""
    return [(round(p.width), round(p.height), frozenset(p.factory_edges)) for p in pieces]


class Search:
    """The fewest tiles by trying everything, in whole mm."""

    def __init__(self, rects: list[Rect], length: int, width: int, kerf: int, *, turns: tuple[int, ...]) -> None:
        self.length, self.width, self.kerf = length, width, kerf
        self.ways: list[list[Rect]] = []
        for w, h, sides in rects:
            ways = []
            for turn in turns:
                now = sides
                for _ in range(turn // 90):
                    now = frozenset(NEXT[s] for s in now)
                ways.append((w, h, now) if turn % 180 == 0 else (h, w, now))
            self.ways.append(ways)
        self.least = cache(self._least)
        self.fits = cache(self._fits)

    def _least(self, pieces: frozenset[int], height: int, sides: frozenset[str]) -> float:
        """Return the least length of a region of that height, with those sides of the tile, that holds the pieces."""
        if len(pieces) == 1:
            (one,) = pieces
            return min((w for w, h, need in self.ways[one] if h <= height and need <= sides), default=float("inf"))
        best = float("inf")
        ordered = sorted(pieces)
        heights = {0}
        for n in ordered:
            heights |= {t + h + (self.kerf if t else 0) for t in heights for _, h, _ in self.ways[n]}
        for size in range(1, len(ordered)):
            for chosen in combinations(ordered, size):
                a, b = frozenset(chosen), pieces - frozenset(chosen)
                left = self.least(a, height, sides - {"right"})
                if left < best:
                    best = min(best, left + self.kerf + self.least(b, height, sides - {"left"}))
                for low in heights:
                    if 0 < low < height - self.kerf:
                        below = self.least(a, low, sides - {"top"})
                        if below < best:
                            best = min(best, max(below, self.least(b, height - low - self.kerf, sides - {"bottom"})))
        return best

    def _fits(self, pieces: frozenset[int]) -> bool:
        area = sum(self.ways[n][0][0] * self.ways[n][0][1] for n in pieces)
        if area > self.length * self.width:
            return False
        if len(pieces) > 2 and not all(self.fits(pieces - {n}) for n in pieces):
            return False
        return self.least(pieces, self.width, frozenset(NEXT)) <= self.length

    def fewest(self) -> int:
        best = len(self.ways)

        def put(n: int, tiles: list[frozenset[int]]) -> None:
            nonlocal best
            if len(tiles) >= best:
                return
            if n == len(self.ways):
                best = len(tiles)
                return
            for t, held in enumerate(tiles):
                if self.fits(held | {n}):
                    put(n + 1, [*tiles[:t], held | {n}, *tiles[t + 1 :]])
            put(n + 1, [*tiles, frozenset({n})])

        put(0, [])
        return best

    def first_fit(self) -> int:
        """Return the tiles that first fit takes, largest area first."""
        tiles: list[frozenset[int]] = []
        for n in sorted(range(len(self.ways)), key=lambda n: -self.ways[n][0][0] * self.ways[n][0][1]):
            for t, held in enumerate(tiles):
                if self.fits(held | {n}):
                    tiles[t] = held | {n}
                    break
            else:
                tiles.append(frozenset({n}))
        return len(tiles)
