"""The drawing of a set-out sheet: the wall as found, its course lines, level and plumb lines, running dimensions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

import shapely
from shapely.geometry import LineString, Polygon

from elevation.drawing.dimensions import (
    INCH_STYLE,
    METRIC_STYLE,
    Box,
    Dimensions,
    DimensionStyle,
    chain,
    dimension_text,
    running,
)
from elevation.drawing.marks import Area, Line, Mark, Point, Segments, Text
from elevation.drawing.pens import DIMENSION, NUMBER
from elevation.drawing.view import View, scales
from elevation.fonts import text_width
from elevation.geom import bounds as ring_bounds
from elevation.layout import LaidFace
from elevation.layout.notes import is_level, out_of_true
from elevation.plan import Plan
from elevation.sheets.base import Body
from elevation.sheets.set_out_data import (
    CourseLine,
    Gap,
    base_of,
    course_lines,
    gaps,
    heights,
    side_at,
    signed,
)
from elevation.sheets.wall_view import START, body_ring, start_line, start_mark
from elevation.units import format_length
from elevation.wall import is_field

LARGEST = 4
_LEVEL = "level line"
_PAST = 4.0  # mm of paper that level and plumb lines run past the wall


@dataclass
class _Sketch:
    """Marks at one scale and how far they reach."""

    marks: list[Mark] = field(default_factory=list)
    box: list[float] = field(default_factory=lambda: [1e9, 1e9, -1e9, -1e9])

    def reach(self, *boxes: Box) -> None:
        for x0, y0, x1, y1 in boxes:
            self.box = [min(self.box[0], x0), min(self.box[1], y0), max(self.box[2], x1), max(self.box[3], y1)]

    def add(self, dims: Dimensions) -> None:
        self.marks += dims.marks
        self.reach(*dims.boxes, *dims.strips)


class SetOutSizes:
    """How much paper the drawing of a wall takes at each scale; each is tried once."""

    def __init__(self, plan: Plan, laid: LaidFace, body: Body) -> None:
        self.plan, self.laid, self.body = plan, laid, body
        self._boxes: dict[int, tuple[float, float, float, float]] = {}
        self._lines = course_lines(plan, laid)
        self._stretches = [_stretches(laid, line) for line in self._lines if is_field(line.zone)]

    def fit(self, width: float, height: float) -> tuple[int, float, float]:
        """Return the largest standard scale that fits a room, and the size of the drawing at it; mm of paper."""
        x0, y0, x1, y1 = self.laid.face.bounds
        ratios = [r for r in scales(self.body.unit) if r >= LARGEST]
        for ratio in ratios:
            if ratio != ratios[-1] and ((x1 - x0) / ratio > width or (y1 - y0) / ratio > height):
                continue
            left, low, right, high = self.box(ratio)
            if (right - left <= width and high - low <= height) or ratio == ratios[-1]:
                return ratio, right - left, high - low
        raise ValueError("there is no scale to draw at")

    def box(self, ratio: int) -> tuple[float, float, float, float]:
        """Return what the drawing covers when the wall's lower left corner stands at the origin of the paper."""
        if ratio not in self._boxes:
            view = View(ratio, (0.0, 0.0), (0.0, 0.0), self.body.unit)
            self._boxes[ratio] = tuple(self._drawn(view).box)  # type: ignore[assignment]
        return self._boxes[ratio]

    def marks(self, ratio: int, x: float, top: float) -> tuple[Mark, ...]:
        """Return the drawing with its upper left corner at a point of the paper."""
        left, _, _, high = self.box(ratio)
        view = View(ratio, (0.0, 0.0), (x - left, top - high), self.body.unit)
        return tuple(self._drawn(view).marks)

    def _drawn(self, view: View) -> _Sketch:
        return _drawn(self.plan, self.laid, view, self.body, self._lines, self._stretches)


@dataclass(frozen=True, slots=True)
class _Stretches:
    """A course line where there is tile: its stretches, what shows of its course, where it starts; mm on the wall."""

    line: CourseLine
    ends: tuple[tuple[Point, Point], ...]
    room: float
    middle: float
    label_x: float | None


def _stretches(laid: LaidFace, line: CourseLine) -> _Stretches:
    region = laid.zone(line.zone).region
    x0, low, x1, high = region.bounds
    found = shapely.intersection(LineString([(x0 - 1, line.y), (x1 + 1, line.y)]), region)
    ends = tuple(
        (_points(g)[0], _points(g)[-1])
        for g in shapely.get_parts(found).tolist()
        if isinstance(g, LineString) and not g.is_empty
    )
    bottom, top = max(line.y, low), min(line.top, high)
    middle = (bottom + top) / 2
    there = shapely.intersection(LineString([(x0 - 1, middle), (x1 + 1, middle)]), region)
    return _Stretches(line, ends, top - bottom, middle, None if there.is_empty else there.bounds[0])


def _drawn(
    plan: Plan, laid: LaidFace, view: View, body: Body, lines: Sequence[CourseLine], stretches: Sequence[_Stretches]
) -> _Sketch:
    sketch = _Sketch()
    size = NUMBER * body.words
    x0, y0, x1, y1 = laid.face.bounds
    sketch.reach((view.x(x0), view.y(y0), view.x(x1), view.y(y1)))
    crossed = _tile(laid, view, sketch, stretches, size)
    for cut in laid.face.cutouts:
        if cut.kind != "hole":
            ring = Polygon(body_ring(laid, cut)).intersection(Polygon(laid.face.built))
            for part in shapely.get_parts(ring).tolist():
                if isinstance(part, Polygon):
                    sketch.marks.append(Area((view.ring(_points(part.exterior)[:-1]),), "feature", "paper"))
    for zone in laid.face.zones[1:]:
        if zone.shape is not None:
            sketch.marks.append(Area((view.ring(zone.shape.ring),), "feature"))
    sketch.marks.append(Area((view.ring(laid.face.built),), "wall"))
    _lines(laid, view, sketch, size)
    for name in crossed:
        _label(sketch, name.text, name.at, size, "start", weight="semibold")
    _names(laid, view, sketch, size)
    _side_joints(plan, laid, view, sketch, body, size)
    style = INCH_STYLE if body.unit == "in" else METRIC_STYLE
    _running(plan, laid, view, sketch, body, style, lines)
    _below_and_above(plan, laid, view, sketch, body, style)
    return sketch


def _points(line: LineString) -> list[Point]:
    return [(float(x), float(y)) for x, y in line.coords]


def _tile(laid: LaidFace, view: View, sketch: _Sketch, stretches: Sequence[_Stretches], size: float) -> list[Text]:
    """Draw where tile goes, and the course lines on it, with their courses.

    Returns:
        Courses that the level line runs through: to be written after it, on cleared ground.
    """
    crossed: list[Text] = []
    for part in shapely.get_parts(shapely.union_all([z.region for z in laid.field])).tolist():
        rings = (part.exterior, *part.interiors)
        sketch.marks.append(Area(view.rings([_points(r)[:-1] for r in rings]), "whole"))
    rows = []
    for found in stretches:
        rows += [(*view.point(start), *view.point(end)) for start, end in found.ends]
        if view.length(found.room) > 1.3 * size and found.label_x is not None:
            at = (view.x(found.label_x) + 2.0, view.y(found.middle) - size / 2)
            name = Text(at, found.line.label, size, weight="semibold")
            level = view.y(laid.face.datum[1]) if laid.face.has_datum else None
            if level is not None and at[1] - 0.5 <= level <= at[1] + size + 0.5:
                crossed.append(name)
            else:
                sketch.marks.append(name)
    sketch.marks.append(Segments(tuple(rows), "fine"))
    return crossed


def _names(laid: LaidFace, view: View, sketch: _Sketch, size: float) -> None:
    """Name what the wall carries."""
    x0, y0, x1, y1 = laid.face.bounds
    for cut in laid.face.cutouts:
        if cut.kind == "hole":
            continue
        xs, ys = [p[0] for p in cut.shape.ring], [p[1] for p in cut.shape.ring]
        a, b = max(min(xs), x0), min(max(xs), x1)
        c, d = max(min(ys), y0), min(max(ys), y1)
        word = cut.word if cut.word == cut.id else f"{cut.word} {cut.id}"
        wide = text_width(word, size)
        _label(sketch, word, (view.x((a + b) / 2) - wide / 2, view.y((c + d) / 2) - size / 2), size, "start")


def _lines(laid: LaidFace, view: View, sketch: _Sketch, size: float) -> None:
    """Draw the level line and the plumb line of the start, and the start itself."""
    x0, y0, x1, y1 = laid.face.bounds
    x = start_line(laid)
    origin = laid.zones[0].origin
    region = laid.zones[0].region.bounds
    at = view.point((x, min(max(origin[1], region[1]), region[3])))
    if laid.face.has_datum:
        y = view.y(laid.face.datum[1])
        sketch.marks.append(Line(((view.x(x0) - _PAST, y), (view.x(x1) + _PAST, y)), "centre"))
        holes = [ring_bounds(view.ring(c.shape.ring)) for c in laid.face.cutouts if c.kind == "hole"]
        _label(sketch, _LEVEL, beside_start((view.x(x0), view.x(x1)), y, size, at, holes), size, "start")
    px = view.x(x)
    sketch.marks.append(Line(((px, view.y(y0) - _PAST), (px, view.y(y1) + _PAST)), "centre"))
    wide = text_width("plumb line", size)
    low = min(view.y(y0 + 0.72 * (y1 - y0)), view.y(y1) - wide - 2.0)
    _label(sketch, "plumb line", (px - 1.0, max(low, view.y(y0) + 4.0)), size, "start", 90.0)
    sketch.marks += start_mark(at)


def beside_start(wall: tuple[float, float], y: float, size: float, start: Point, holes: Sequence[Box]) -> Point:
    """Return where the name of the level line stands: clear of the start, the plumb line and holes, if it can.

    Above the line at the right, else at the left, past the numbers of the courses; then below it; else on the side of
    the line away from the start.

    Args:
        wall: Its left and right side, mm of paper.
        y: Of the level line, mm of paper.
        size: Height of capitals, mm.
        start: Where the mark of the start stands, on the plumb line; mm of paper.
        holes: What they cover, mm of paper.
    """
    left, right = wall
    wide, clear = text_width(_LEVEL, size), START + 0.5
    for low in (y + 1.0, y - 1.0 - size):
        for x in (right - 2.0 - wide, left + 10.0):
            plumb = x - clear <= start[0] <= x + wide + clear
            hit = any(a < x + wide and x < c and b < low + size and low < d for a, b, c, d in holes)
            if not plumb and not hit and left + 2.0 <= x and x + wide <= right - 2.0:
                return x, low
    x = right - 2.0 - wide
    if start[1] <= y:
        return x, max(y + 1.0, start[1] + clear)
    return x, min(y - 1.0, start[1] - clear) - size


def _label(
    sketch: _Sketch,
    text: str,
    at: Point,
    size: float,
    anchor: str,
    angle: float = 0.0,
    weight: Literal["regular", "semibold"] = "regular",
) -> None:
    """Write a word on white: lines would run through it."""
    wide = text_width(text, size, weight)
    x, y = at
    if angle:
        box = (
            (x - size - 0.4, y - 0.5),
            (x + 0.6, y - 0.5),
            (x + 0.6, y + wide + 0.5),
            (x - size - 0.4, y + wide + 0.5),
        )
        sketch.marks += [Area((box,), None, "paper"), Text((x, y), text, size, "start", angle=angle)]
        return
    left = x - wide if anchor == "end" else x
    box = (
        (left - 0.5, y - 0.6),
        (left + wide + 0.5, y - 0.6),
        (left + wide + 0.5, y + size + 0.4),
        (left - 0.5, y + size + 0.4),
    )
    sketch.marks += [Area((box,), None, "paper"), Text((left, y), text, size, weight=weight)]


def _side_joints(plan: Plan, laid: LaidFace, view: View, sketch: _Sketch, body: Body, size: float) -> None:
    """Write the joint at both ends of an upright side that is out of plumb and kept straight."""
    by_name = {e.border.name: e for e in laid.edges}
    for name in ("left", "right"):
        edge = by_name.get(name)
        if edge is None or is_level(edge) or edge.line is None or out_of_true(edge) <= 0.05:
            continue
        found = [g for g in gaps(plan, laid) if g.edge == name]
        for gap in (found[0], found[-1]):
            text = f"joint {_say(plan, gap.gap)}"
            side = side_at(laid, name, gap.at)
            assert side is not None
            lowest, highest = view.y(laid.face.bounds[1]) + 2.0, view.y(laid.face.bounds[3]) - size - 2.0
            y = min(max(view.y(gap.at), lowest), highest)
            x = view.x(side) + (8.0 if name == "left" else -2.0)
            _label(sketch, text, (x, y), size, "start" if name == "left" else "end")


def _say(plan: Plan, mm: float) -> str:
    return dimension_text(format_length(mm, plan.job.step / 2, plan.job.units))


def _running(
    plan: Plan,
    laid: LaidFace,
    view: View,
    sketch: _Sketch,
    body: Body,
    style: DimensionStyle,
    lines: Sequence[CourseLine],
) -> None:
    """Draw course lines at the left and everything else at the right, all from the level line, both ways."""
    x0, _, x1, _ = laid.face.bounds
    base = base_of(laid)
    fine, unit = plan.job.step / 2, plan.job.units
    there = [c for c in lines if not c.is_cut and abs(c.above) > 0.5]
    ys = sorted(view.y(c.y) for c in there)
    pitch = min((b - a for a, b in pairwise(ys)), default=99.0)
    size = next((s for s in (DIMENSION, 3.0, NUMBER) if 1.45 * s * body.words <= pitch), 0.0) * body.words
    if size == 0.0:  # finer than figures can stand: every so many, and all of them in the table
        size, step = NUMBER * body.words, max(1, int(1.5 * NUMBER * body.words / max(pitch, 0.1)) + 1)
        there = there[::step]
    points = [(view.x(x0), view.y(base)), *((view.x(x0), view.y(c.y)) for c in there)]
    texts = ["0", *(dimension_text(signed(c.above, fine, unit)) for c in there)]
    sketch.add(running(points, texts, "left", style.first, style=style.with_height(size)))
    other = [h for h in heights(laid) if abs(h.above) > 0.5]
    points = [(view.x(x1), view.y(base)), *((view.x(x1), view.y(h.y)) for h in other)]
    texts = ["0", *(f"{dimension_text(signed(h.above, fine, unit))}  {h.words}" for h in other)]
    sketch.add(running(points, texts, "right", 8.0, base=view.x(x1), style=style.with_height(NUMBER * body.words)))


def _below_and_above(
    plan: Plan, laid: LaidFace, view: View, sketch: _Sketch, body: Body, style: DimensionStyle
) -> None:
    """Draw the joints at their stations above and below, and the plumb line from both sides, below."""
    x0, y0, x1, y1 = laid.face.bounds
    found = gaps(plan, laid)
    small = style.with_height(NUMBER * body.words)
    for side in ("top", "bottom"):
        there = [g for g in found if g.edge == side]
        if there:
            base = view.y(y1) if side == "top" else view.y(y0)
            points = [(view.x(min(max(g.at, x0), x1)), base) for g in there]
            texts = [f"joint {_say(plan, g.gap)}" for g in there]
            drawn = _ticks(points, texts, "top" if side == "top" else "bottom", small, base)
            sketch.add(drawn)
    y = base_of(laid) if laid.face.has_datum else y0 + 1.0
    left, right = side_at(laid, "left", y), side_at(laid, "right", y)
    x = start_line(laid)
    if left is None:
        left, right = x0, x1
    assert right is not None
    # it starts below the words that stand under the wall
    low = min(view.y(y0) - _PAST, sketch.box[1])
    stations = [(view.x(v), low) for v in (left, x, right)]
    texts = [_say(plan, x - left), _say(plan, right - x)]
    sketch.add(chain(stations, texts, "bottom", 7.0, base=low, style=style.with_height(DIMENSION * body.words)))


def _ticks(points: Sequence[Point], texts: Sequence[str], side: str, style: DimensionStyle, base: float) -> Dimensions:
    """Return words square to a side at their stations, each at the end of a short line."""
    up = side == "top"
    away = 5.0 if up else -5.0
    marks: list[Mark] = []
    boxes: list[Box] = []
    last = -1e9
    half = style.height / 2
    for (x, y), text in sorted(zip(points, texts, strict=True)):
        place = max(x, last + 1.5 * style.height)
        last = place
        wide = text_width(text, style.height)
        marks.append(Line(((x, y + 0.3 * away), (place, y + away)), "fine"))
        start = y + away + (0.8 if up else -0.8)
        marks.append(Text((place + half, start), text, style.height, "start" if up else "end", angle=90))
        low = start if up else start - wide
        boxes.append((place - half, low, place + half, low + wide))
    return Dimensions(tuple(marks), abs(base), tuple(boxes))


__all__ = ["Gap", "SetOutSizes"]
