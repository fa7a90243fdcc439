"""The walls of a room side by side on one datum, small: what turns a corner at one height is seen at a glance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from elevation.drawing.marks import Area, Circle, Line, Mark, Segments, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.text import PITCH, fit
from elevation.drawing.view import View, scales
from elevation.fonts import text_width
from elevation.geom import EPS, polygon
from elevation.layout import LaidFace
from elevation.pieces import Piece
from elevation.plan import Plan
from elevation.sheets.title_block import shortened
from elevation.sheets.wall_tiles import joint_lines
from elevation.units import Unit, format_length
from elevation.wall import CutOut

GAP = 4.0
"""Space between two walls, mm of paper."""
_LINES = 3
BELOW = (_LINES + 1) * NUMBER * PITCH + 3.0
"""Room for a wall's name and size below it, mm."""
AHEAD = 20.0
"""Room for the name of the datum before the first wall, mm."""
_MOST_ROWS = 12
READABLE = 1.3
"""Least distance of tile lines, mm of paper."""


@dataclass(frozen=True, slots=True)
class Unfolded:
    """How the walls stand on the paper.

    Attributes:
        rows: The walls of each row.
        width: Width over all, mm.
        height: Height over all, mm.
        ratio: Scale 1:n.
        unit: Unit of the job.
        words: How much larger words stand on a large paper.
    """

    rows: tuple[tuple[LaidFace, ...], ...]
    width: float
    height: float
    ratio: int
    unit: Unit
    words: float

    def draw(self, plan: Plan, x: float, top: float) -> tuple[Mark, ...]:
        """Return the marks, upper left corner at ``x``, ``top``."""
        marks: list[Mark] = []
        for row in self.rows:
            marks += _row(plan, row, self, x, top)
            top -= _height(row, self.ratio, self.words)
        return tuple(marks)


def unfolded(walls: Sequence[LaidFace], width: float, most: float, unit: Unit, words: float = 1.0) -> Unfolded | None:
    """Return the walls in order, left to right, in as many rows as make them largest; ``None``: no room for them.

    Args:
        walls: The walls.
        width: Room, mm of paper.
        most: Most height.
        unit: Which list of scales.
        words: How much larger words stand on a large paper.
    """
    for ratio in scales(unit):
        rows = _rows(walls, ratio, width, words)
        if rows is None or len(rows) > _MOST_ROWS:
            continue
        height = sum(_height(row, ratio, words) for row in rows)
        if height <= most:
            wide = max(AHEAD * words + sum(_wide(w, ratio) + GAP for w in row) - GAP for row in rows)
            return Unfolded(tuple(tuple(row) for row in rows), wide, height, ratio, unit, words)
    return None


def _size(wall: LaidFace) -> tuple[float, float, float]:
    """Return width, height above and height below the datum, mm."""
    x0, y0, x1, y1 = wall.face.bounds
    level = wall.face.datum[1] if wall.face.has_datum else y0
    return x1 - x0, y1 - level, level - y0


def _rows(walls: Sequence[LaidFace], ratio: int, width: float, words: float) -> list[list[LaidFace]] | None:
    """Return the walls in rows, filled from the left; ``None`` when one is wider than the paper."""
    rows: list[list[LaidFace]] = [[]]
    used = AHEAD * words
    for wall in walls:
        wide = _wide(wall, ratio)
        if rows[-1] and used + wide + GAP > width:
            rows.append([])
            used = AHEAD * words
        if used + wide > width:
            return None
        rows[-1].append(wall)
        used += wide + GAP
    return rows


def _wide(wall: LaidFace, ratio: int) -> float:
    return max(_size(wall)[0] / ratio, 12.0)


def _height(row: Sequence[LaidFace], ratio: int, words: float) -> float:
    above = max(_size(w)[1] for w in row)
    below = max(_size(w)[2] for w in row)
    return (above + below) / ratio + BELOW * words + 4.0


def _row(plan: Plan, row: Sequence[LaidFace], drawn: Unfolded, x: float, top: float) -> list[Mark]:
    text = NUMBER * drawn.words
    level = top - max(_size(w)[1] for w in row) / drawn.ratio - 1.0
    lowest = level - max(_size(w)[2] for w in row) / drawn.ratio
    tied = any(w.face.has_datum for w in row)
    marks: list[Mark] = []
    at = x + AHEAD * drawn.words
    for wall in row:
        x0, y0, x1, y1 = wall.face.bounds
        origin = wall.face.datum[1] if wall.face.has_datum else y0
        marks += _wall(plan, wall, View(drawn.ratio, (x0, origin), (at, level), drawn.unit), text)
        wide = _wide(wall, drawn.ratio)
        feet = drawn.unit == "in"
        name = f"{wall.face.id}  {wall.face.title}"
        size = " x ".join(format_length(v, plan.job.step, drawn.unit, feet=feet) for v in (x1 - x0, y1 - y0))
        lines = [(line, "semibold") for line in shortened(name, wide, text, _LINES - 1, "semibold")]
        # without a datum a wall stands on the line with its lower side, which must be said
        more = [size] if wall.face.has_datum or not tied else [size, "no datum given"]
        lines += [
            (fit(line, wide, text), "regular") for line in more if line != size or text_width(line, text) <= wide
        ]
        for n, (line, weight) in enumerate(lines):
            y = lowest - 2.0 - text * (1 + n * PITCH)
            marks.append(Text((at, y), line, text, "start", "semibold" if weight == "semibold" else "regular"))
        at += wide + GAP
    if tied:
        marks.append(Line(((x, level), (at - GAP + 2.0, level)), "centre"))
        marks.append(Text((x, level + 1.0), "datum", text, "start", "semibold"))
    return marks


def _wall(plan: Plan, wall: LaidFace, view: View, text: float) -> list[Mark]:
    marks: list[Mark] = [Area((view.ring(wall.face.built),), None, "paper")]
    for zone in wall.zones:
        pieces = [p for p in plan.pieces_of(wall.face.id) if p.zone == zone.place.id]
        steps = [s for p in pieces[:1] for s in _sides(p.slot)]
        if not steps or min(steps) / view.ratio < READABLE:
            continue
        lines = joint_lines([p for p in pieces if _is_box(p)], zone.joint, view)
        marks.append(Segments(lines.segments, "hatch"))
        marks += [Area(view.rings((p.outer, *p.holes)), "hatch") for p in pieces if not _is_box(p)]
        if zone.place.shape is not None:
            marks.append(Area((view.ring(zone.place.shape.ring),), "whole"))
    for cut in wall.face.cutouts:
        marks += _cut_out(cut, view, text)
    for face in plan.faces_of(wall.face.id):
        if face.face.kind == "back":
            name = fit(face.face.of, view.length(face.face.bounds[2] - face.face.bounds[0]) - 1.0, text)
            x0, y0, x1, y1 = face.face.bounds
            middle = view.point(((x0 + x1) / 2 + face.face.at[0], (y0 + y1) / 2 + face.face.at[1]))
            if name and view.length(y1 - y0) > text + 1.0:
                marks.append(Text((middle[0], middle[1] - text / 2), name, text, "middle"))
    marks.append(Area((view.ring(wall.face.built),), "wall"))
    return marks


def _is_box(piece: Piece) -> bool:
    """Tell whether a piece is a level rectangle."""
    return len(piece.outer) == 4 and abs(piece.width * piece.height - piece.area) < EPS * (piece.width + piece.height)


def _sides(ring: Sequence[tuple[float, float]]) -> tuple[float, float]:
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return max(xs) - min(xs), max(ys) - min(ys)


def _cut_out(cut: CutOut, view: View, text: float) -> list[Mark]:
    """Return an opening, fixture, niche or hole: its clear outline, and what it is where there is room."""
    if cut.circle is not None:
        centre, radius = cut.circle
        return [Circle(view.point(centre), view.length(radius), "fine", "paper")]
    ring = view.ring(cut.shape.ring)
    marks: list[Mark] = [Area((ring,), "feature", "paper")]
    box = polygon(ring).bounds
    if cut.kind in ("opening", "fixture"):
        word = cut.word if cut.word == cut.id else f"{cut.word} {cut.id}"
        wide, tall = box[2] - box[0], box[3] - box[1]
        if text_width(word, text) + 1.0 <= wide and tall >= text + 1.5:
            marks.append(Text(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2 - text / 2), word, text, "middle"))
    return marks
