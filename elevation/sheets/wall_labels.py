"""Numbers and names on an elevation, in an order that keeps every number where a reader looks for it.

Numbers inside their cuts come first, then the names of things, then numbers on leaders: outside the tile for cuts
along its border, on whole tiles beside them for all others. A leader crosses no number, name or dimension.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import shapely

from elevation.drawing.labels import EDGE, PAD, Label, Placement, Request, place_labels, same_way
from elevation.drawing.marks import Mark, Point, Ring
from elevation.drawing.pens import DIMENSION, NUMBER, SMALL
from elevation.drawing.view import View
from elevation.fonts import text_width
from elevation.geom import bounds as ring_bounds
from elevation.layout import LaidFace
from elevation.pieces import Piece

Box = tuple[float, float, float, float]

LEGIBLE = SMALL + 2 * PAD
"""A course of less height on paper, mm, cannot have the number of each cut straight beside it."""
_AT_BORDER = 12.0  # mm of paper: a cut nearer to the border of the tile has its number outside
_FEW = 24  # so many numbers of thin cuts are still put on leaders
_CLEAR = 2.0  # mm from a cut to a number beside it: clear of the line of a soft joint
_BESIDE = 3.0  # mm of paper beside the wall that its soft joints may take
_LIKE = 1.0  # mm of paper that cuts of a column may differ by: a wall out of plumb tapers them
_LINKS = 8  # boxes that stand for a slanting leader


@dataclass(frozen=True)
class Stage:
    """Where labels are placed.

    Attributes:
        laid: The wall.
        view: Takes the wall to the paper.
        shown: What of the wall is shown, mm of paper.
        bounds: Where labels may stand, mm of paper.
    """

    laid: LaidFace
    view: View
    shown: Box
    bounds: Box

    def holds(self, at: Point) -> bool:
        """Tell whether a point of the paper lies in what is shown."""
        x0, y0, x1, y1 = self.shown
        return x0 <= at[0] < x1 and y0 <= at[1] < y1

    def is_near(self, at: Point) -> bool:
        """Tell whether a point of the paper lies in what is shown, or just beside it."""
        x0, y0, x1, y1 = self.shown
        return x0 - _BESIDE <= at[0] < x1 + _BESIDE and y0 - _BESIDE <= at[1] < y1 + _BESIDE


def fits_inside(number: str, width: float, height: float) -> bool:
    """Tell whether a number fits a rectangle of so much paper, mm, level or turned, at its small height."""
    long, short = text_width(number, SMALL, "semibold") + 2 * (PAD + EDGE), SMALL + 2 * (PAD + EDGE)
    return (width >= long and height >= short) or (width >= short and height >= long)


def place_words(
    stage: Stage,
    pieces: Sequence[Piece],
    names: Sequence[Request],
    obstacles: Sequence[Box],
    *,
    numbers: bool,
    gaps: Sequence[Request] = (),
) -> tuple[tuple[Mark, ...], tuple[str, ...]]:
    """Return the marks of all numbers and names, and the numbers for which there was no place.

    Args:
        stage: Where.
        pieces: What is drawn.
        names: Names that want a place.
        obstacles: What none may touch.
        numbers: Draw the numbers of the cuts.
        gaps: Widths of joints, written beside them like dimensions, before all else.
    """
    taken = list(obstacles)
    marks: list[Mark] = []
    view = stage.view
    cuts = [view.ring(p.outer) for p in pieces if p.number is not None]
    features = [ring_bounds(view.ring(c.shape.ring)) for c in stage.laid.face.cutouts if c.kind != "hole"]
    wanted = _alike(_requests(stage, pieces)) if numbers else []

    def put(
        requests: Sequence[Request], crossable: Sequence[Box], *, names: bool = False, height: float = NUMBER
    ) -> list[Request]:
        placed: Placement = place_labels(
            requests, taken, stage.bounds, crossable=crossable, height=height, small=NUMBER if names else SMALL
        )
        for label in placed.labels:
            marks.extend(label.marks("regular" if names else "semibold"))
            taken.extend(_covered(label))
        return [requests[i] for i in placed.left_out]

    beside = [g for g in gaps if stage.is_near(middle_of(g.rings[0]))]
    for height in (DIMENSION, NUMBER):
        beside = put(beside, _tiled(stage), names=True, height=height)
    everywhere = [stage.bounds]
    tight = [r for r in wanted if not _may_fit(r)]
    waiting = [*put([r for r in wanted if _may_fit(r)], everywhere), *tight]
    cut_boxes = [ring_bounds(r) for r in cuts]
    lost = put([n for n in names if stage.holds(middle_of(n.rings[0]))], [*cut_boxes, *features], names=True)
    tiled = _tiled(stage)
    by_number = {p.number: p for p in pieces if p.number is not None}
    # the back of a niche has numbers of its own: a wall's number there would be read as one of them
    niches = [ring_bounds(view.ring(c.shape.ring)) for c in stage.laid.face.cutouts if c.kind == "niche"]
    waiting = _straight(stage, waiting, by_number, [taken, cut_boxes, niches], tiled, marks)
    hopeless = [r for r in waiting if min(_size(r)) < LEGIBLE]
    if len(hopeless) > _FEW:
        # so many slanting leaders would hide the drawing, and lead nowhere that an eye can tell
        waiting = [r for r in waiting if r not in hopeless]
    else:
        hopeless = []
    border = [r for r in waiting if _to_border(stage, r, features) <= _AT_BORDER]
    inner = [r for r in waiting if _to_border(stage, r, features) > _AT_BORDER]
    # the nearest first: a leader from further in would shut in those at the border
    rest = put(sorted(border, key=lambda r: round(_to_border(stage, r, features), 3)), tiled)
    rest = put([*inner, *rest], [*cut_boxes, *niches])
    rest = put(rest, [*cut_boxes, *niches], height=SMALL)
    out = {r.text for r in (*rest, *hopeless)}
    return tuple(marks), (*(r.text for r in wanted if r.text in out), *(r.text for r in lost))


def middle_of(ring: Ring) -> Point:
    """Return the middle of a ring's bounds."""
    x0, y0, x1, y1 = ring_bounds(ring)
    return (x0 + x1) / 2, (y0 + y1) / 2


def _requests(stage: Stage, pieces: Sequence[Piece]) -> list[Request]:
    x0, y0, x1, y1 = stage.shown
    sides = ((x0, -1.0, 0.0), (x1, 1.0, 0.0), (y0, 0.0, -1.0), (y1, 0.0, 1.0))
    out = []
    for p in pieces:
        if p.number is None:
            continue
        rings = stage.view.rings((p.outer, *p.holes))
        x, y = middle_of(rings[0])
        if stage.holds((x, y)):
            # beyond a match line nothing of it shows
            rings = tuple(tuple((min(max(a, x0), x1), min(max(b, y0), y1)) for a, b in ring) for ring in rings)
            near = sorted(sides, key=lambda s: abs((x if s[1] else y) - s[0]))
            out.append(Request(p.number, rings, tuple((dx, dy) for _, dx, dy in near)))
    return out


def _alike(requests: Sequence[Request]) -> list[Request]:
    """Return the requests in their order, those of one column of cuts of like size to be written alike."""
    columns: list[tuple[Box, list[int]]] = []
    for i, request in enumerate(requests):
        if len(request.rings) > 1:
            continue
        x0, y0, x1, y1 = ring_bounds(request.rings[0])
        for (a, b, c, d), members in columns:
            if max(abs(x0 - a), abs(x1 - c), abs((y1 - y0) - (d - b))) <= _LIKE:
                members.append(i)
                break
        else:
            columns.append(((x0, y0, x1, y1), [i]))
    found = list(requests)
    for _, members in columns:
        way = same_way([requests[i] for i in members])
        for i in members if len(members) > 1 else ():
            found[i] = replace(requests[i], like=way)
    return found


def _size(request: Request) -> tuple[float, float]:
    x0, y0, x1, y1 = ring_bounds(request.rings[0])
    return x1 - x0, y1 - y0


def _may_fit(request: Request) -> bool:
    return fits_inside(request.text, *_size(request))


def _to_border(stage: Stage, request: Request, features: Sequence[Box]) -> float:
    """Return how far the middle of a piece is from where the tile ends."""
    x, y = middle_of(request.rings[0])
    x0, y0, x1, y1 = stage.shown
    ways = [abs(x - x0), abs(x - x1), abs(y - y0), abs(y - y1)]
    open_to = [c for c in stage.laid.face.cutouts if c.kind in ("opening", "fixture")]
    for a, b, c, d in (ring_bounds(stage.view.ring(cut.shape.ring)) for cut in open_to):
        ways.append(max(a - x, x - c, b - y, y - d, 0.0))
    return min(ways)


def _straight(
    stage: Stage,
    requests: Sequence[Request],
    by_number: dict[str, Piece],
    taken: Sequence[list[Box]],
    tiled: Sequence[Box],
    marks: list[Mark],
) -> list[Request]:
    """Write numbers straight beside their cuts, so that those of a row stand in a row; return what is left.

    Args:
        stage: Where.
        requests: Numbers that do not fit inside.
        by_number: The pieces.
        taken: Lists of boxes to stay off; what is written is added to the first.
        tiled: Boxes that cover the tile.
        marks: Collects the marks.
    """
    left = []
    # the smallest first: a long cut has other places for its number
    for request in sorted(requests, key=lambda r: round(by_number[r.text].area)):
        piece = by_number[request.text]
        found = None
        if piece.kind == "straight":
            own = ring_bounds(request.rings[0])
            for label in _beside(request, piece, own):
                if _free(label, stage, request, own, taken, tiled):
                    found = label
                    break
        if found is None:
            left.append(request)
        else:
            marks.extend(found.marks())
            taken[0].extend(_covered(found))
    return left


def _beside(request: Request, piece: Piece, own: Box) -> list[Label]:
    """Return a number above, below, left and right of its cut; first outward, then over the factory edges."""
    x0, y0, x1, y1 = own
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    names = {(0.0, 1.0): "top", (0.0, -1.0): "bottom", (-1.0, 0.0): "left", (1.0, 0.0): "right"}
    found = []
    ways = sorted(request.ways, key=lambda w: names[w] in piece.factory_edges)
    for size, way in ((size, way) for size in (NUMBER, SMALL) for way in ways):
        length, tall = text_width(request.text, size, "semibold") + 2 * PAD, size + 2 * PAD
        level = way[0] != 0
        turned = not level and x1 - x0 < length
        if (level and y1 - y0 < tall) or (turned and x1 - x0 < tall):
            continue
        wide, high = (tall, length) if turned else (length, tall)
        edge = (x0 if way[0] < 0 else x1) if level else (y0 if way[1] < 0 else y1)
        away = edge + (way[0] + way[1]) * _CLEAR
        end = (away, y) if level else (x, away)
        middle = (end[0] + way[0] * wide / 2, end[1] + way[1] * high / 2)
        box = (middle[0] - wide / 2, middle[1] - high / 2, middle[0] + wide / 2, middle[1] + high / 2)
        found.append(Label(request.text, middle, size, turned, box, ((x, y), end)))
    return found


def _free(
    label: Label, stage: Stage, request: Request, own: Box, taken: Sequence[list[Box]], tiled: Sequence[Box]
) -> bool:
    """Tell whether a label and its leader touch nothing, and whether it stands where its cut calls for it."""
    x0, y0, x1, y1 = label.box
    a, b, c, d = stage.bounds
    if x0 < a or y0 < b or x1 > c or y1 > d:
        return False
    assert label.leader is not None
    whole = ring_bounds(((x0, y0), (x1, y1), *label.leader))
    for boxes in taken:
        for box in boxes:
            if box != own and _meet(whole, box):
                return False
    # across a corner of the tile it would be read as belonging to what it half covers
    over = [t for t in tiled if _meet(label.box, t)]
    return not over or any(t[0] <= x0 and t[2] >= x1 and t[1] <= y0 and t[3] >= y1 for t in over)


def _meet(one: Box, two: Box) -> bool:
    return one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]


def _covered(label: Label) -> list[Box]:
    """Return what a label covers; a slanting leader as a row of small boxes."""
    boxes = [label.box]
    if label.leader is not None:
        (x0, y0), (x1, y1) = label.leader
        links = [(x0 + (x1 - x0) * k / _LINKS, y0 + (y1 - y0) * k / _LINKS) for k in range(_LINKS + 1)]
        for pair in pairwise(links):
            a, b, c, d = ring_bounds(pair)
            boxes.append((a - 0.1, b - 0.1, c + 0.1, d + 0.1))
    return boxes


def _tiled(stage: Stage) -> list[Box]:
    """Return boxes that together cover the tile: numbers on leaders stand clear of it, in openings or outside."""
    face, view = stage.laid.face, stage.view
    outline = shapely.Polygon(view.ring(face.built))
    open_to = [shapely.Polygon(view.ring(c.shape.ring)) for c in face.cutouts if c.kind in ("opening", "fixture")]
    rings = [view.ring(r) for r in (face.built, *(c.shape.ring for c in face.cutouts if c.kind != "hole"))]
    x0, y0, x1, y1 = stage.shown
    xs = sorted({x0, x1, *(p[0] for r in rings for p in r if x0 < p[0] < x1)})
    ys = sorted({y0, y1, *(p[1] for r in rings for p in r if y0 < p[1] < y1)})
    boxes = []
    for a, c in pairwise(xs):
        for b, d in pairwise(ys):
            middle = shapely.Point((a + c) / 2, (b + d) / 2)
            if outline.contains(middle) and not any(o.contains(middle) for o in open_to):
                boxes.append((a, b, c, d))
    return boxes
