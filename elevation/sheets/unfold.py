"""The walls of a room side by side on one datum, small: what turns a corner at one height is seen at a glance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from elevation.drawing.marks import Area, Circle, Line, Mark, Segments, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.text import PITCH, fit
from elevation.drawing.view import View, scales
from elevation.fonts import text_width
from elevation.geom import polygon
from elevation.layout import LaidFace
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
    """

    rows: tuple[tuple[LaidFace, ...], ...]
    width: float
    height: float
    ratio: int
    unit: Unit

    def draw(self, plan: Plan, x: float, top: float) -> tuple[Mark, ...]:
        """Return the marks, upper left corner at ``x``, ``top``."""
        marks: list[Mark] = []
        for row in self.rows:
            marks += _row(plan, row, self.ratio, x, top, self.unit)
            top -= _height(row, self.ratio)
        return tuple(marks)


def unfolded(walls: Sequence[LaidFace], width: float, most: float, unit: Unit) -> Unfolded | None:
    """Return the walls in order, left to right, in as many rows as make them largest; ``None``: no room for them.

    Args:
        walls: The walls.
        width: Room, mm of paper.
        most: Most height.
        unit: Which list of scales.
    """
    for ratio in scales(unit):
        rows = _rows(walls, ratio, width)
        if rows is None or len(rows) > _MOST_ROWS:
            continue
        height = sum(_height(row, ratio) for row in rows)
        if height <= most:
            wide = max(AHEAD + sum(_wide(w, ratio) + GAP for w in row) - GAP for row in rows)
            return Unfolded(tuple(tuple(row) for row in rows), wide, height, ratio, unit)
    return None


def _size(wall: LaidFace) -> tuple[float, float, float]:
    """Return width, height above and height below the datum, mm."""
    x0, y0, x1, y1 = wall.face.bounds
    level = wall.face.datum[1] if wall.face.has_datum else y0
    return x1 - x0, y1 - level, level - y0


def _rows(walls: Sequence[LaidFace], ratio: int, width: float) -> list[list[LaidFace]] | None:
    """Return the walls in rows, filled from the left; ``None`` when one is wider than the paper."""
    rows: list[list[LaidFace]] = [[]]
    used = AHEAD
    for wall in walls:
        wide = _wide(wall, ratio)
        if rows[-1] and used + wide + GAP > width:
            rows.append([])
            used = AHEAD
        if used + wide > width:
            return None
        rows[-1].append(wall)
        used += wide + GAP
    return rows


def _wide(wall: LaidFace, ratio: int) -> float:
    return max(_size(wall)[0] / ratio, 12.0)


def _height(row: Sequence[LaidFace], ratio: int) -> float:
    above = max(_size(w)[1] for w in row)
    below = max(_size(w)[2] for w in row)
    return (above + below) / ratio + BELOW + 4.0


def _row(plan: Plan, row: Sequence[LaidFace], ratio: int, x: float, top: float, unit: Unit) -> list[Mark]:
    level = top - max(_size(w)[1] for w in row) / ratio - 1.0
    lowest = level - max(_size(w)[2] for w in row) / ratio
    marks: list[Mark] = []
    at = x + AHEAD
    for wall in row:
        x0, y0, x1, y1 = wall.face.bounds
        origin = wall.face.datum[1] if wall.face.has_datum else y0
        view = View(ratio, (x0, origin), (at, level), unit)
        marks += _wall(plan, wall, view)
        wide = _wide(wall, ratio)
        step = plan.job.step
        feet = unit == "in"
        name = f"{wall.face.id}  {wall.face.title}"
        size = " x ".join(format_length(v, step, unit, feet=feet) for v in (x1 - x0, y1 - y0))
        lines = shortened(name, wide, NUMBER, _LINES, "semibold")
        for n, line in enumerate(lines):
            marks.append(Text((at, lowest - 2.0 - NUMBER * (1 + n * PITCH)), line, NUMBER, "start", "semibold"))
        if text_width(size, NUMBER) <= wide:
            marks.append(Text((at, lowest - 2.0 - NUMBER * (1 + len(lines) * PITCH)), size, NUMBER))
        at += wide + GAP
    tied = any(w.face.has_datum for w in row)
    end = at - GAP
    if tied:
        marks.append(Line(((x, level), (end + 2.0, level)), "centre"))
        marks.append(Text((x, level + 1.0), "datum", NUMBER, "start", "semibold"))
    return marks


def _wall(plan: Plan, wall: LaidFace, view: View) -> list[Mark]:
    marks: list[Mark] = [Area((view.ring(wall.face.outline.ring),), None, "paper")]
    for zone in wall.zones:
        pieces = [p for p in plan.pieces_of(wall.face.id) if p.zone == zone.place.id]
        steps = [s for p in pieces[:1] for s in _sides(p.slot)]
        if not steps or min(steps) / view.ratio < READABLE:
            continue
        level = [p for p in pieces if len(p.outer) == 4 and p.is_whole]
        lines = joint_lines(level, zone.joint, view)
        marks.append(Segments(lines.segments, "hatch"))
        marks += [
            Area(view.rings((p.outer, *p.holes)), "hatch") for p in pieces if not (len(p.outer) == 4 and p.is_whole)
        ]
        if zone.place.shape is not None:
            marks.append(Area((view.ring(zone.place.shape.ring),), "whole"))
    for cut in wall.face.cutouts:
        marks += _cut_out(cut, view)
    for face in plan.faces_of(wall.face.id):
        if face.face.kind == "back":
            name = fit(face.face.of, view.length(face.face.bounds[2] - face.face.bounds[0]) - 1.0, NUMBER)
            x0, y0, x1, y1 = face.face.bounds
            middle = view.point(((x0 + x1) / 2 + face.face.at[0], (y0 + y1) / 2 + face.face.at[1]))
            if name and view.length(y1 - y0) > NUMBER + 1.0:
                marks.append(Text((middle[0], middle[1] - NUMBER / 2), name, NUMBER, "middle"))
    marks.append(Area((view.ring(wall.face.outline.ring),), "wall"))
    return marks


def _sides(ring: Sequence[tuple[float, float]]) -> tuple[float, float]:
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return max(xs) - min(xs), max(ys) - min(ys)


def _cut_out(cut: CutOut, view: View) -> list[Mark]:
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
        if text_width(word, NUMBER) + 1.0 <= wide and tall >= NUMBER + 1.5:
            marks.append(Text(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2 - NUMBER / 2), word, NUMBER, "middle"))
    return marks
