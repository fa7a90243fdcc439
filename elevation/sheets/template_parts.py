"""A full-size template: which cuts need one, how it falls on pages, and what is drawn of it on each."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from elevation.drawing.hatch import hatch
from elevation.drawing.marks import Area, Circle, Group, Line, Mark, Point, Ring, Segments, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.view import View
from elevation.fonts import text_width
from elevation.geom import EPS
from elevation.job.models import Tile
from elevation.pieces import Piece
from elevation.pieces.measure import Measure, alike
from elevation.plan import Plan
from elevation.sheets.cut_groups import Alike
from elevation.sheets.template_name import name_on
from elevation.units import Unit

KINDS = frozenset({"curved", "holed", "notched", "other"})
"""Kinds of cut that one or two numbers do not describe."""
CLEAR = 5.0
"""Room round the tile for ticks and words, mm."""
OVERLAP = 12.7
"""What neighbouring pages share, mm."""
BESIDE = 15.0
"""How much of tile and waste is shown beside a cut, mm."""
_OFF = 1.0  # mm that an edge of the tile keeps off the edge of a page: there it would print at half its width
_AIR = 1.4  # mm from an edge to the words beside it: letters that hang down stay clear of it
_TICK = 1.7
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Template(Alike):
    """A shape that is cut by a template; model coordinates are mm from the tile's lower left corner, as it is set.

    Attributes:
        pieces: The cuts of that shape, in the order of setting.
        measure: Their numbers.
        tile: The tile.
    """

    pieces: tuple[Piece, ...]
    measure: Measure
    tile: Tile

    @cached_property
    def origin(self) -> Point:
        """The tile's lower left corner on the face, mm."""
        return min(x for x, _ in self.first.slot), min(y for _, y in self.first.slot)

    def _moved(self, ring: Sequence[Point]) -> Ring:
        x0, y0 = self.origin
        return tuple((x - x0, y - y0) for x, y in ring)

    @cached_property
    def body(self) -> shapely.Polygon:
        """The piece."""
        return shapely.Polygon(self._moved(self.first.outer), [self._moved(h) for h in self.first.holes])

    @cached_property
    def slot(self) -> shapely.Polygon:
        """The whole tile."""
        return shapely.Polygon(self._moved(self.first.slot))

    @cached_property
    def size(self) -> Point:
        """Extent of the whole tile across and up, mm."""
        _, _, x, y = self.slot.bounds
        return x, y

    @cached_property
    def frame(self) -> Box:
        """What must be shown: every cut, the nearest factory edge across and up, and some tile and waste beside."""
        slot, box = self.slot.boundary, self.slot.bounds
        cut = self.body.boundary.difference(slot.buffer(EPS))
        kept = self.body.boundary.intersection(slot.buffer(EPS))
        near = cut.bounds if not cut.is_empty else box
        found = list(near)
        for k in (0, 1):
            sides = [v for v in (box[k], box[k + 2]) if _runs_along(kept, k, v)]
            if sides:
                side = min(sides, key=lambda v: (min(abs(v - near[k]), abs(v - near[k + 2])), v))
                found[k], found[k + 2] = min(found[k], side), max(found[k + 2], side)
            # what is nearly the whole tile is shown whole
            low, high = found[k] - BESIDE, found[k + 2] + BESIDE
            found[k] = low if low > box[k] + BESIDE else box[k] - CLEAR
            found[k + 2] = high if high < box[k + 2] - BESIDE else box[k + 2] + CLEAR
        return found[0], found[1], found[2], found[3]

    @property
    def is_whole_tile(self) -> bool:
        """Tell whether all of the tile is shown."""
        return bool(shapely.box(*self.frame).contains(self.slot))

    @cached_property
    def waste(self) -> tuple[shapely.Polygon, ...]:
        """What is cut away."""
        left = shapely.get_parts(self.slot.difference(self.body)).tolist()
        return tuple(g for g in left if isinstance(g, shapely.Polygon) and g.area > EPS * g.length)

    @cached_property
    def centres(self) -> tuple[Point, ...]:
        """Centres of the round holes, for the core bit."""
        x0, y0 = self.origin
        return tuple(
            (c.centre[0] - x0, c.centre[1] - y0)
            for c in self.first.circles
            if any(abs(math.dist(h[0], c.centre) - c.radius) < EPS for h in self.first.holes)
        )


def _runs_along(kept: BaseGeometry, axis: int, value: float) -> bool:
    """Tell whether a factory edge stands at ``x = value``, or at ``y = value`` for axis 1, for some length."""
    x0, y0, x1, y1 = kept.bounds
    strip = (value - EPS, y0 - 1, value + EPS, y1 + 1) if axis == 0 else (x0 - 1, value - EPS, x1 + 1, value + EPS)
    return bool(kept.intersection(shapely.box(*strip)).length > 1.0)


def templates(plan: Plan) -> tuple[Template, ...]:
    """Return one template for each shape, in the order of setting; mosaic is cut by the chip and needs none."""
    groups: list[list[Piece]] = []
    for piece in sorted(plan.cuts, key=lambda p: p.order):
        if piece.kind not in KINDS or plan.tile(piece).chip is not None:
            continue
        mine = next((g for g in groups if alike(g[0], piece, plan.measures)), None)
        if mine is None:
            groups.append([piece])
        else:
            mine.append(piece)
    return tuple(Template(tuple(g), plan.measures[g[0].id], plan.tile(g[0])) for g in groups)


@dataclass(frozen=True, slots=True)
class Window:
    """The part of a template on one page.

    Attributes:
        column: From 1, from the left.
        row: From 1, from the top, as pages are laid out on a table.
        box: Least x, least y, greatest x, greatest y, model mm.
    """

    column: int
    row: int
    box: Box


@dataclass(frozen=True, slots=True)
class Spread:
    """How a template falls on pages.

    Attributes:
        columns: Pages across.
        rows: Pages up.
        windows: The pages, from the upper left, row by row.
        marks: Registration marks: letter and place, model mm; the same on both pages that share one.
        folds: Middles of the bands that pages share, model mm.
    """

    columns: int
    rows: int
    windows: tuple[Window, ...]
    marks: tuple[tuple[str, Point], ...]
    folds: tuple[tuple[Point, Point], ...]


def _steps(low: float, high: float, room: float, edges: Sequence[float]) -> tuple[list[float], float]:
    """Return where windows begin along an axis, and how long they are: alike, overlapping, clear of edges."""
    need = high - low
    count = 1 if need <= room else math.ceil((need - OVERLAP) / (room - OVERLAP) - 1e-9)
    least = (need + (count - 1) * OVERLAP) / count
    best: tuple[float, list[float], float] | None = None
    for k in range(int(room - least) + 1):
        window = least + k
        start = (low + high - (count * (window - OVERLAP) + OVERLAP)) / 2
        starts = [start + i * (window - OVERLAP) for i in range(count)]
        ends = [v for s in starts for v in (s, s + window)]
        off = _nearest(edges, ends)
        if best is None or off > best[0] + 1e-9:
            best = (off, starts, window)
        if off >= _OFF:
            break
    assert best is not None
    return best[1], best[2]


def _nearest(edges: Sequence[float], ends: Sequence[float]) -> float:
    """Return how near an end of a window comes to an edge; both in order, from least to most."""
    off = math.inf if edges else _OFF
    for end in ends:
        at = bisect_left(edges, end)
        off = min(off, *(abs(e - end) for e in edges[max(at - 1, 0) : at + 1]))
    return off


def spread(template: Template, width: float, height: float) -> Spread:
    """Return the pages of a template that does not fit one.

    Args:
        template: The template.
        width: Free on a page, mm.
        height: Free on a page, mm.
    """
    x0, y0, x1, y1 = template.frame
    rings = [r for g in (template.body, template.slot) for r in (g.exterior, *g.interiors)]
    points = [p for ring in rings for p in ring.coords]
    xs, wide = _steps(x0, x1, width, sorted({round(p[0], 3) for p in points}))
    ys, tall = _steps(y0, y1, height, sorted({round(p[1], 3) for p in points}))
    windows = [
        Window(c, r, (x, y, x + wide, y + tall)) for r, y in enumerate(reversed(ys), 1) for c, x in enumerate(xs, 1)
    ]
    at: list[Point] = []
    folds: list[tuple[Point, Point]] = []
    for y in reversed(ys):
        for x in xs[1:]:
            middle = x + OVERLAP / 2
            at += [(middle, y + share * tall) for share in (0.9, 0.1)]
            folds.append(((middle, y), (middle, y + tall)))
    for y in reversed(ys[1:]):
        for x in xs:
            middle = y + OVERLAP / 2
            at += [(x + share * wide, middle) for share in (0.1, 0.9)]
            folds.append(((x, middle), (x + wide, middle)))
    marks = tuple((_letters(n), p) for n, p in enumerate(at))
    return Spread(len(xs), len(ys), tuple(windows), marks, tuple(folds))


def _letters(n: int) -> str:
    """Return a, b, ... z, aa, ab, ..."""
    word = ""
    n += 1
    while n:
        n, k = divmod(n - 1, 26)
        word = chr(ord("a") + k) + word
    return word


def drawn(template: Template, box: Box, at: Point, unit: Unit, *, shared: float = 0.0) -> tuple[Mark, ...]:
    """Return what a window shows, 1:1, cut off at its edges.

    Args:
        template: The template.
        box: The window, model mm.
        at: Where the window's lower left corner stands on the paper, mm.
        unit: Unit of the job.
        shared: How wide a band at the window's edges is kept free of the name, since neighbours overlap there, mm.
    """
    view = View(1, (box[0], box[1]), at, unit)
    window = shapely.box(*box)
    body, slot = template.body, template.slot
    marks: list[Mark] = []
    waste = [p for g in template.waste for p in _polygons(g.intersection(window))]
    hatched = hatch([view.rings(_rings(g)) for g in waste], spacing=3.0, inset=0.8)
    marks += [hatched] if hatched.segments else []
    bare = slot.exterior.difference(body.boundary.buffer(EPS))
    marks += [Line(view.ring(run), "hidden") for run in _lines(bare.intersection(window))]
    for ring in (body.exterior, *body.interiors):
        if window.contains(ring):
            marks.append(Area((view.ring(tuple(ring.coords)[:-1]),), "feature"))
        else:
            marks += [Line(view.ring(run), "feature") for run in _lines(ring.intersection(window))]
    ticks, words = _factory(template, window, view)
    marks += [Segments(ticks, "fine")] if ticks else []
    marks += words
    for x, y in template.centres:
        if window.contains(shapely.Point(x, y).buffer(3.0)):
            px, py = view.point((x, y))
            marks.append(Segments(((px - 3, py, px + 3, py), (px, py - 3, px, py + 3)), "fine"))
    marks += name_on(template.numbers[0], body.intersection(window.buffer(-shared, join_style="mitre")), view)
    data = (
        ("numbers", " ".join(template.numbers)),
        ("window", " ".join(f"{v:.4f}" for v in box)),
        ("at", " ".join(f"{v:.4f}" for v in at)),
    )
    return (Group(tuple(marks), "", "template", template.numbers[0], data),)


def registration(spread_: Spread, box: Box, at: Point, unit: Unit) -> Iterator[Mark]:
    """Yield the registration marks and the fold lines in a window: a cross of 8 mm in a circle of 4 mm."""
    view = View(1, (box[0], box[1]), at, unit)
    window = shapely.box(*box)
    for fold in spread_.folds:
        for run in _lines(shapely.LineString(fold).intersection(window)):
            yield Line(view.ring(run), "hidden")
    for letter, (x, y) in spread_.marks:
        if not window.contains(shapely.Point(x, y).buffer(4.0)):
            continue
        px, py = view.point((x, y))
        data = (("mark", letter), ("x", f"{x:.4f}"), ("y", f"{y:.4f}"))
        yield Group(
            (
                Segments(((px - 4, py, px + 4, py), (px, py - 4, px, py + 4)), "fine"),
                Circle((px, py), 2.0, "fine"),
                Text((px + 2.3, py + 1.0), letter, NUMBER),
            ),
            "", "registration", f"Registration mark {letter}", data,
        )  # fmt: skip


def _rings(area: shapely.Polygon) -> tuple[Ring, ...]:
    return tuple(tuple((float(x), float(y)) for x, y in ring.coords[:-1]) for ring in (area.exterior, *area.interiors))


def _polygons(found: BaseGeometry) -> list[shapely.Polygon]:
    return [g for g in shapely.get_parts(found).tolist() if isinstance(g, shapely.Polygon) and g.area > EPS * EPS]


def _lines(found: BaseGeometry) -> list[Ring]:
    """Return the runs of a line work, joined where they meet."""
    lines = [g for g in shapely.get_parts(found).tolist() if isinstance(g, shapely.LineString) and g.length > EPS]
    merged = shapely.get_parts(shapely.line_merge(shapely.MultiLineString(lines))).tolist() if lines else []
    return sorted(tuple((float(x), float(y)) for x, y in g.coords) for g in merged)


def _factory(
    template: Template, window: shapely.Polygon, view: View
) -> tuple[tuple[tuple[float, float, float, float], ...], list[Mark]]:
    """Return two strokes across every factory edge that a window shows, and the word along it where there is room."""
    ticks: list[tuple[float, float, float, float]] = []
    words: list[Mark] = []
    corners = [(float(x), float(y)) for x, y in template.slot.exterior.coords]
    for a, b in pairwise(corners):
        side = shapely.LineString([a, b])
        kept = template.body.exterior.intersection(side.buffer(EPS, cap_style="flat")).intersection(window)
        runs = [r for r in _lines(kept) if abs(_cross(r[0], r[-1], a, b)) <= 2 * EPS]
        if not runs:
            continue
        run = max(runs, key=lambda r: (round(math.dist(r[0], r[-1]), 3), r))
        length = math.dist(run[0], run[-1])
        if length < 2.0:
            continue
        ux, uy = (b[0] - a[0]) / side.length, (b[1] - a[1]) / side.length
        mx, my = view.point(((run[0][0] + run[-1][0]) / 2, (run[0][1] + run[-1][1]) / 2))
        for along in (-0.5, 0.5):
            x, y = mx + ux * along, my + uy * along
            ticks.append((x - uy * _TICK, y + ux * _TICK, x + uy * _TICK, y - ux * _TICK))
        if length / 2 > text_width("factory edge", NUMBER) + 4.0:
            # outside of the tile, which lies to the left of the way; read from below or from the right
            upright = abs(uy) > 0.5
            off = -_AIR - (NUMBER if (ux > 0.5 or uy < -0.5) else 0.0)
            if upright:
                x = mx + _AIR + NUMBER if uy > 0 else mx - _AIR
                words.append(Text((x, my + 3.0), "factory edge", NUMBER, "start", "regular", 90.0))
            else:
                y = my + off if ux > 0 else my + _AIR
                words.append(Text((mx + 3.0, y), "factory edge", NUMBER))
    return tuple(ticks), words


def _cross(p: Point, q: Point, a: Point, b: Point) -> float:
    """Return how far a run leans out of the direction of a side, mm."""
    length = math.dist(a, b)
    return ((q[0] - p[0]) * (b[1] - a[1]) - (q[1] - p[1]) * (b[0] - a[0])) / length
