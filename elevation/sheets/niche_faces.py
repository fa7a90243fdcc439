"""The faces of a niche or of tiled returns on the paper, opened out round the back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from elevation.drawing.dimensions import INCH_STYLE, METRIC_STYLE, Dimensions, Side, Strand, dimension_text, stack
from elevation.drawing.labels import Request, place_labels
from elevation.drawing.marks import Area, Line, Mark, Point, Ring, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.view import View, scales
from elevation.fonts import text_width
from elevation.geom import EPS, box_ring
from elevation.layout import LaidFace
from elevation.pieces import Piece
from elevation.plan import Plan
from elevation.sheets.base import Body
from elevation.sheets.course_list import CourseRow, course_rows
from elevation.sheets.flow import HEADING
from elevation.sheets.transform import moved
from elevation.sheets.wall_tiles import tile_marks
from elevation.sheets.wall_view import SOFT_ASIDE, Drawn, body_ring, draw_edge
from elevation.units import format_length
from elevation.wall import CutOut, Recess

NAMES = {"back": "Back", "sill": "Sill", "head": "Head", "left": "Left jamb", "right": "Right jamb"}
_FRONT = {"sill": "front edge down", "head": "front edge up", "left": "front edge left", "right": "front edge right"}
# corners of a face that meet corners of the back, by their places in the two outlines
_FOLDS = {"sill": ((3, 0), (2, 1)), "head": ((0, 3), (1, 2)), "left": ((1, 0), (2, 3)), "right": ((0, 1), (3, 2))}
_ASIDE = 1.5
"""How far the name of a face stands off the lines that lead up from its corner, mm of paper."""
_SHELF_NAME = 6.0
"""Room for the name of a shelf beside the course numbers, mm of paper."""
_SHELF_SHOWS = 3.0
"""Least thickness of a shelf whose two soft joints can be drawn apart, mm of paper."""
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Drawing:
    """A face at one scale.

    Attributes:
        marks: What is drawn.
        box: What that takes, mm of paper.
        ring: The face's outline, mm of paper.
        left_out: What found no place.
        used: What occurs, for the legend.
    """

    marks: tuple[Mark, ...]
    box: Box
    ring: Ring
    left_out: tuple[str, ...] = ()
    used: frozenset[str] = frozenset()

    def moved(self, dx: float, dy: float) -> Drawing:
        """Return the drawing shifted on the paper, mm."""
        x0, y0, x1, y1 = self.box
        ring = tuple((x + dx, y + dy) for x, y in self.ring)
        box = (x0 + dx, y0 + dy, x1 + dx, y1 + dy)
        return replace(self, marks=moved(self.marks, dx, dy), box=box, ring=ring)


def around(boxes: Sequence[Box]) -> Box:
    """Return the box round some boxes."""
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def largest_ratio(
    plan: Plan, recess: Recess, faces: Sequence[LaidFace], body: Body, room: tuple[float, float]
) -> int | None:
    """Return the largest scale at which faces fit a room, mm of paper; ``None``: none does."""
    for ratio in scales(body.unit)[1:]:
        x0, y0, x1, y1 = around([d.box for d in unfolded(plan, recess, faces, body, ratio, numbered=False)])
        if x1 - x0 <= room[0] and y1 - y0 <= room[1]:
            return ratio
    return None


def unfolded(
    plan: Plan, recess: Recess, faces: Sequence[LaidFace], body: Body, ratio: int, *, numbered: bool = True
) -> list[Drawing]:
    """Return the faces opened out round the back: sill below it, head above it, jambs beside it.

    Their boxes do not depend on the numbers, which take long to place: ``numbered`` leaves them out.
    """
    drawn = {f.face.kind: _draw(plan, f, body, ratio, numbered=numbered) for f in faces}
    at = {f.face.kind: f.face.at for f in faces}
    middle = drawn.get("back")
    if middle is None and {"head", "left"} <= drawn.keys():
        middle = _frame(recess, ratio)
    by_kind: dict[str, Drawing] = {}
    placed: list[Drawing] = [middle] if middle is not None else []
    for kind in ("sill", "head"):
        if kind in drawn:
            face = drawn[kind]
            low, high = (around([d.box for d in placed])[k] for k in (1, 3)) if placed else (0.0, 0.0)
            by_kind[kind] = face.moved(0.0, low - face.box[3] if kind == "sill" else high - face.box[1])
            placed.append(by_kind[kind])
    column = list(placed)
    for kind in ("left", "right"):
        if kind in drawn:
            face = drawn[kind]
            near, far = (around([d.box for d in column])[k] for k in (0, 2)) if column else (0.0, 0.0)
            up = (at["left" if kind == "left" else "right"][1] - recess.y - recess.rise) / ratio if column else 0.0
            by_kind[kind] = face.moved(near - face.box[2] if kind == "left" else far - face.box[0], up)
            placed.append(by_kind[kind])
    if middle is None:
        return placed
    return [Drawing(_folds(middle, by_kind), around([d.box for d in placed]), middle.ring), *placed]


def _frame(recess: Recess, ratio: int) -> Drawing:
    """Return what stands in the middle where there is no back: the frame that the returns run up to."""
    wide, high = recess.length("sill") / ratio, (recess.length("left") - recess.rise) / ratio
    words = f"{recess.word} frame"
    ring = box_ring(0.0, 0.0, wide, high)
    marks: list[Mark] = [Area((ring,), "hidden")]
    if text_width(words, NUMBER) < wide:
        marks.append(Text((wide / 2, high / 2 - NUMBER / 2), words, NUMBER, "middle"))
    return Drawing(tuple(marks), (-3.0, -3.0, wide + 3.0, high + 3.0), ring)


def _folds(middle: Drawing, by_kind: dict[str, Drawing]) -> tuple[Mark, ...]:
    """Return the lines that lead from the corners of the back to the same corners of each face."""
    lines = []
    for kind, face in by_kind.items():
        for of_face, of_back in _FOLDS[kind]:
            lines.append(Line((middle.ring[of_back], face.ring[of_face]), "hidden"))
    return tuple(lines)


def sizes(plan: Plan, piece: Piece) -> tuple[str, str]:
    """Return width and height of a piece as the sheets print them."""
    cut = plan.measures.get(piece.id)
    if cut is not None:
        return cut.width, cut.height
    job = plan.job
    return format_length(piece.width, job.step, job.units), format_length(piece.height, job.step, job.units)


def rows_of(plan: Plan, laid: LaidFace) -> tuple[CourseRow, ...]:
    """Return the rows of a face's course list."""
    return course_rows(plan, laid, lambda p: sizes(plan, p))


def _draw(plan: Plan, laid: LaidFace, body: Body, ratio: int, *, numbered: bool) -> Drawing:
    """Return a face with the lower left corner of its frame at the origin of the paper."""
    rows = rows_of(plan, laid)
    kind = laid.face.kind
    x0, y0, x1, y1 = laid.face.bounds
    view = View(ratio, (0.0, 0.0), (0.0, 0.0), body.unit)
    left, low, right, top = view.x(x0), view.y(y0), view.x(x1), view.y(y1)
    dims = [_strings(plan, laid, rows, view, body, side) for side in ("bottom", "right")]
    name, front = NAMES[kind], _FRONT.get(kind, "")
    wide = max(text_width(name, HEADING, "semibold"), text_width(front, NUMBER))
    above = top + 3.0 + (NUMBER * 1.5 if front else 0.0)
    start = left + _ASIDE
    named = (start, top + 2.0, start + wide, above + HEADING)
    jamb = kind in ("left", "right")
    # course numbers stand at the left, and beside a jamb the numbers of its pieces, which are too wide for it
    beside = max((text_width(r.label, NUMBER) for r in rows), default=0.0) + (20.0 if jamb else 8.0)
    beside += _SHELF_NAME if kind == "back" and laid.face.cutouts else 0.0
    outside = (left - beside, low - dims[0].depth - 2.0, max(right + dims[1].depth, named[2]) + 3.0, above + 10.0)
    box = around([outside, *(b for d in dims for b in d.boxes)])
    ring = view.ring(laid.face.outline.ring)
    if not numbered:
        return Drawing((), box, ring)
    marks: list[Mark] = [Area((ring,), None, "paper")]
    pieces = plan.pieces_of(laid.face.id)
    for zone in laid.zones:
        own = [p for p in pieces if p.zone == zone.place.id]
        marks += tile_marks(own, zone.joint, view, body.unit, lambda p: sizes(plan, p))
    marks += [Area((view.ring(body_ring(laid, cut)),), "feature", "paper") for cut in laid.face.cutouts]
    marks.append(Area((ring,), "wall"))
    if kind == "back":
        marks += [mark for c in laid.face.cutouts for mark in _shelf_name(c, view, beside)]
    edges = Drawn()
    thin = {c.id for c in laid.face.cutouts if view.length(_thickness(c.shape.ring)) < _SHELF_SHOWS}
    for run in plan.runs:
        if run.face == laid.face.id and run.of not in thin:
            draw_edge(plan, laid, run, view, edges, working=True)
    # the two joints of a thin shelf would run into each other
    middles = [_middle(c.shape.ring) for c in laid.face.cutouts if c.id in thin]
    edges.marks += [Line(view.ring(line), "soft") for line in middles]
    marks += [*edges.marks, *(mark for d in dims for mark in d.marks)]
    marks.append(Text((start, above), name, HEADING, "start", "semibold"))
    if front:
        marks.append(Text((start, top + 3.0), front, NUMBER))
    taken = [named, *(b for d in dims for b in d.obstacles)]
    for row in rows if not jamb else ():  # beside a jamb stand the numbers of its pieces, which tell their course
        y = view.y((row.low + row.high) / 2)
        if low < y < top and view.length(row.high - row.low) >= NUMBER:
            marks.append(Text((left - 3.0, y - NUMBER / 2), row.label, NUMBER, "end", "semibold"))
            wide = text_width(row.label, NUMBER, "semibold")
            taken.append((left - 3.0 - wide, y - NUMBER / 2, left - 3.0, y + NUMBER / 2))
    cuts = [p for p in pieces if not p.is_whole]
    ways = ((-1.0, 0.0), (1.0, 0.0)) if jamb else ((0.0, 1.0), (1.0, 0.0))
    requests = [Request(str(p.number), view.rings((p.outer, *p.holes)), ways) for p in cuts]
    aside = SOFT_ASIDE if edges.used else 0.0
    placed = place_labels(requests, taken, box, crossable=[(left - aside, low - aside, right + aside, top + aside)])
    for label in placed.labels:
        marks += label.marks()
    used = {*edges.used, *("whole" if p.is_whole else "cut" for p in pieces)}
    left_out = tuple(requests[i].text for i in placed.left_out)
    return Drawing(tuple(marks), box, ring, left_out, frozenset(used))


def _thickness(ring: Ring) -> float:
    """Return how thick a shelf is, from its outline on a face: it starts with its underside."""
    return ring[3][1] - ring[0][1]


def _middle(ring: Ring) -> Ring:
    """Return the line midway between underside and top of a shelf."""
    return tuple(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in ((ring[0], ring[3]), (ring[1], ring[2])))


def _shelf_name(shelf: CutOut, view: View, beside: float) -> list[Mark]:
    """Return the name of a shelf at the left of the back, outside the course numbers, and the line to it."""
    x, y = view.point(_middle(shelf.shape.ring)[0])
    end = x - beside + _SHELF_NAME
    return [
        Line(((x - SOFT_ASIDE - 0.5, y), (end, y)), "fine"),
        Text((end - 0.8, y - NUMBER / 2), shelf.id, NUMBER, "end"),
    ]


def _strings(plan: Plan, laid: LaidFace, rows: Sequence[CourseRow], view: View, body: Body, side: Side) -> Dimensions:
    """Return the dimensions of a side: overall, and on the back the tiles of a course below and the courses beside."""
    x0, y0, x1, y1 = laid.face.bounds
    style = replace(INCH_STYLE if body.unit == "in" else METRIC_STYLE, first=8.0)
    if laid.face.kind != "back":
        rows = ()  # the cut sheet and the course list say the rest

    def said(value: float) -> str:
        return dimension_text(format_length(value, body.step, body.unit))

    if side == "bottom":
        course = next((r for r in rows if r.pieces), None)
        pieces = () if course is None else course.pieces
        spans = [(min(q[0] for q in p.outer), max(q[0] for q in p.outer)) for p in pieces]
        strands = _from_low(spans, (x0, x1), lambda v: view.point((v, y0)), said)
        return stack(strands, side, base=view.y(y0), style=style)
    if side == "right":
        spans = []
        for row in rows:
            ys = [q[1] for p in row.pieces for q in p.outer]
            spans.append((min(ys), max(ys)))
        strands = _from_low(spans, (y0, y1), lambda v: view.point((x1, v)), said)
        return stack(strands, side, base=view.x(x1), style=style)
    return Dimensions((), 0.0)


def _from_low(
    spans: Sequence[tuple[float, float]],
    whole: tuple[float, float],
    point: Callable[[float], Point],
    said: Callable[[float], str],
) -> list[Strand]:
    """Return the far edge of every tile, measured from one side so that nothing adds up, and the overall size."""
    low, high = whole
    ends = sorted({round(b, 3) for _, b in spans if low + EPS < b < high - EPS})
    strands = []
    if ends:
        places = [low, *ends]
        strands.append(Strand(tuple(point(v) for v in places), ("0", *(said(v - low) for v in ends)), 0))
    return [*strands, Strand((point(low), point(high)), (said(high - low),))]
