"""A cut drawn to scale: true outline, waste hatched, factory edges ticked, dimensions from those edges."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from elevation.drawing.dimensions import Dimensions, DimensionStyle, Strand, dimension_text, spread, stack
from elevation.drawing.hatch import hatch
from elevation.drawing.marks import Area, Line, Mark, Point, Segments, Text
from elevation.drawing.view import View
from elevation.fonts import text_width
from elevation.geom import EPS, Ring, from_segment
from elevation.pieces import Piece
from elevation.pieces.measure import Dimension, Measure
from elevation.pieces.outline import Side
from elevation.sheets.transform import moved
from elevation.sheets.wall_view import MITRE_INSIDE
from elevation.units import Unit

STYLE = DimensionStyle(gap=1.0, past=1.6, tick=2.4, first=7.0, clear=1.6)
TICK = 1.7
"""Half length of the strokes across a factory edge, mm."""
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Sketch:
    """A sketch as drawn: its marks and what they cover."""

    marks: tuple[Mark, ...]
    box: Box

    @property
    def width(self) -> float:
        """Width over all, mm of paper."""
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        """Height over all, mm of paper."""
        return self.box[3] - self.box[1]

    def moved_to(self, x: float, y: float) -> tuple[Mark, ...]:
        """Return the marks with the lower left corner of the box at ``x``, ``y``."""
        return moved(self.marks, x - self.box[0], y - self.box[1])


def sketch(
    piece: Piece, measure: Measure, ratio: int, unit: Unit, at: Point = (0.0, 0.0), mitred: Sequence[Side] = ()
) -> Sketch:
    """Return the sketch of a cut with the lower left corner of its tile at ``at``.

    Args:
        piece: The cut.
        measure: Its numbers.
        ratio: Scale 1:n.
        unit: Unit of the job.
        at: Where on the paper, mm.
        mitred: Sides that are bevelled: a line inside the edge marks them.
    """
    slot = shapely.Polygon(piece.slot)
    view = View(ratio, (slot.bounds[0], slot.bounds[1]), at, unit)
    body = shapely.Polygon(piece.outer, piece.holes)
    waste = [g for g in shapely.get_parts(slot.difference(body)).tolist() if g.area > EPS * g.length]
    hatched = hatch([view.rings(_rings(g)) for g in waste], spacing=2.0, inset=0.5)
    marks: list[Mark] = [hatched] if hatched.segments else []
    marks.append(Area((view.ring(piece.slot),), "hidden"))
    marks.append(Area(view.rings((piece.outer, *piece.holes)), "cut", "paper"))
    marks.append(Segments(_factory_ticks(piece, view), "fine"))
    if mitred:
        marks.append(Segments(tuple(_bevels(piece, mitred, view)), "fine"))
    drawn = [_dimensions(piece, measure, view, side) for side in ("bottom", "right", "top", "left")]
    for d in drawn:
        marks += d.marks
    x0, y0 = view.point((slot.bounds[0], slot.bounds[1]))
    x1, y1 = view.point((slot.bounds[2], slot.bounds[3]))
    boxes: list[Box] = [(x0 - TICK, y0 - TICK, x1 + TICK, y1 + TICK)]
    for d in drawn:
        boxes += d.obstacles
    boxes += [(x0, y0 - drawn[0].depth, x1 + drawn[1].depth, y1 + drawn[2].depth), (x0 - drawn[3].depth, y0, x1, y1)]
    top = max(b[3] for b in boxes)
    words, more = _round_words(piece, measure, view, top)
    marks += words
    boxes += more
    found = (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))
    return Sketch(tuple(marks), found)


def _rings(area: shapely.Polygon) -> tuple[Ring, ...]:
    return tuple(tuple((float(x), float(y)) for x, y in ring.coords[:-1]) for ring in (area.exterior, *area.interiors))


def _bevels(piece: Piece, mitred: Sequence[Side], view: View) -> Iterator[tuple[float, float, float, float]]:
    """Yield a line inside each mitred edge, beside the outermost stretch of it."""
    x0, y0, x1, y1 = shapely.Polygon(piece.outer).bounds
    outermost = {"left": (0, x0), "right": (0, x1), "bottom": (1, y0), "top": (1, y1)}
    way = {"left": (1, 0), "right": (-1, 0), "bottom": (0, 1), "top": (0, -1)}
    for side in mitred:
        axis, at = outermost[side]
        dx, dy = (MITRE_INSIDE * v for v in way[side])
        stretches = [
            (p, q)
            for p, q in zip(piece.outer, (*piece.outer[1:], piece.outer[0]), strict=True)
            if abs(q[1 - axis] - p[1 - axis]) > abs(q[axis] - p[axis])
        ]
        p, q = min(stretches, key=lambda s: abs((s[0][axis] + s[1][axis]) / 2 - at))
        (ax, ay), (bx, by) = view.point(p), view.point(q)
        yield ax + dx, ay + dy, bx + dx, by + dy


def _factory_ticks(piece: Piece, view: View) -> tuple[tuple[float, float, float, float], ...]:
    """Return two short strokes across the longest stretch of every factory edge."""
    slot = list(zip(piece.slot, (*piece.slot[1:], piece.slot[0]), strict=True))
    rows: list[tuple[float, float, float, float]] = []
    for a, b in slot:
        best: tuple[float, Point, Point] | None = None
        for p, q in zip(piece.outer, (*piece.outer[1:], piece.outer[0]), strict=True):
            on = from_segment(p, a, b) <= EPS and from_segment(q, a, b) <= EPS
            length = math.dist(p, q)
            if on and length > EPS and (best is None or length > best[0]):
                best = (length, p, q)
        if best is None:
            continue
        length, p, q = best
        ux, uy = (q[0] - p[0]) / length, (q[1] - p[1]) / length
        mx, my = view.point(((p[0] + q[0]) / 2, (p[1] + q[1]) / 2))
        gap = min(0.5, view.length(length) / 6)
        for along in (-gap, gap):
            x, y = mx + ux * along, my + uy * along
            rows.append((x - uy * TICK, y + ux * TICK, x + uy * TICK, y - ux * TICK))
    return tuple(rows)


def _dimensions(piece: Piece, measure: Measure, view: View, side: Side) -> Dimensions:
    """Return the dimensions on one side of a sketch, shorter ones nearer."""
    x0, y0, x1, y1 = shapely.Polygon(piece.outer).bounds
    slot = shapely.Polygon(piece.slot).bounds
    base = {"bottom": view.y(slot[1]), "top": view.y(slot[3]), "left": view.x(slot[0]), "right": view.x(slot[2])}[side]
    edge = {"bottom": y0, "top": y1, "left": x0, "right": x1}[side]
    strands = []
    for d in sorted((d for d in measure.dimensions if d.side == side), key=lambda d: d.mm):
        if abs(d.mm) <= EPS or not (d.sawn or d.full or d.label.startswith(("arc", "hole"))):
            continue  # a size that only follows from where an arc ends
        if d.axis == "x":
            start = x0 if d.origin == "left" else x1
            end = start + (d.mm if d.origin == "left" else -d.mm)
            points = (view.point((start, edge)), view.point((end, edge)))
        else:
            start = y0 if d.origin == "bottom" else y1
            end = start + (d.mm if d.origin == "bottom" else -d.mm)
            points = (view.point((edge, start)), view.point((edge, end)))
        strands.append(Strand(points, (said(d),)))
    return stack(strands, side, base=base, style=STYLE)


def said(d: Dimension) -> str:
    """Return a dimension as a sketch prints it; what needs no cut stands in brackets.

    The centre of a notch may lie beyond the edge that it is measured from: outside the tile.
    """
    text = dimension_text(d.text)
    if text.startswith("-"):
        return f"{text[1:]} beyond"
    return f"({text})" if d.full else text


def _round_words(piece: Piece, measure: Measure, view: View, top: float) -> tuple[list[Mark], list[Box]]:
    """Return diameter or radius of every round, above the sketch on a leader, and its centre lines."""
    x0, y0, x1, y1 = shapely.Polygon(piece.outer).bounds
    slot = shapely.Polygon(piece.slot).bounds
    (bx0, by0), (bx1, by1) = view.point((slot[0], slot[1])), view.point((slot[2], slot[3]))
    marks: list[Mark] = []
    found: list[tuple[float, float, str]] = []
    for r in measure.rounds:
        dx, dy, dr = (measure.dimensions[i] for i in (r.x, r.y, r.r))
        cx = view.x(x0 + dx.mm if dx.origin == "left" else x1 - dx.mm)
        cy = view.y(y0 + dy.mm if dy.origin == "bottom" else y1 - dy.mm)
        radius = view.length(dr.mm / 2 if r.hole else dr.mm)
        reach = radius + 1.5 if r.hole else min(2.0, radius)
        low, high = max(cx - reach, bx0 - 1.5), min(cx + reach, bx1 + 1.5)
        marks.append(Line(((low, cy), (high, cy)), "centre"))
        low, high = max(cy - reach, by0 - 1.5), min(cy + reach, by1 + 1.5)
        marks.append(Line(((cx, low), (cx, high)), "centre"))
        at = _on_arc(piece, view, (cx, cy), radius)
        found.append((at[0], at[1], f"{'Ø' if r.hole else 'R '}{dimension_text(dr.text)}"))
    found.sort()
    widths = [text_width(text, STYLE.height) for _, _, text in found]
    middles = spread([x + 4.0 for x, _, _ in found], widths, 2.0) if found else []
    boxes: list[Box] = []
    y = top + 2.5
    for (x, low, text), wide, middle in zip(found, widths, middles, strict=True):
        marks.append(Line(((x, low), (middle, y - 0.6)), "fine"))
        marks.append(Text((middle, y), text, STYLE.height, "middle"))
        boxes.append((middle - wide / 2, y - 1.0, middle + wide / 2, y + STYLE.height))
    return marks, boxes


def _on_arc(piece: Piece, view: View, centre: Point, radius: float) -> Point:
    """Return the point of the arc, as far as the piece follows it, from which a leader runs up most freely."""
    points = [view.point(p) for ring in (piece.outer, *piece.holes) for p in ring]
    on = [p for p in points if abs(math.dist(p, centre) - radius) < view.length(EPS) + 1e-6]
    want = (centre[0] + radius * 0.7, centre[1] + radius * 0.7)
    return min(on, key=lambda p: (round(math.dist(p, want), 4), p)) if on else centre
