"""Niches: the back of each as a face of its own, larger than on the elevation, with its numbers and course list."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from elevation.drawing.dimensions import INCH_STYLE, METRIC_STYLE, Dimensions, Side, Strand, dimension_text, stack
from elevation.drawing.labels import Request, place_labels
from elevation.drawing.marks import Area, Mark, Point, Text
from elevation.drawing.pens import NUMBER
from elevation.drawing.table import Column
from elevation.drawing.view import View, scale_text, scales
from elevation.fonts import text_width
from elevation.geom import EPS
from elevation.layout import LaidFace
from elevation.pieces import Piece
from elevation.plan import Plan
from elevation.sheets.base import Body, Content, Edition, Sheet
from elevation.sheets.course_list import CourseRow, course_rows, list_lines
from elevation.sheets.flow import Block, Heading, Rows, Words, flow
from elevation.sheets.wall_tiles import tile_marks
from elevation.units import format_length

_GAP = 10.0
_PANEL = 0.34
"""Share of the page's width that the panel takes."""
_EDGES: tuple[Side, ...] = ("bottom", "right", "top", "left")


class NicheSheet(Sheet):
    """One face of a niche a page."""

    kind: ClassVar[str] = "niche"
    editions: ClassVar[frozenset[Edition]] = frozenset({"installer", "permit"})

    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield the pages of every face of a niche; none where there is no niche."""
        for laid in plan.faces:
            if laid.face.kind != "wall":
                yield from _pages(plan, laid, body)


@dataclass(frozen=True, slots=True)
class _Drawing:
    """The drawing at one scale, with the lower left corner of the face at a point: marks, box, what found no place."""

    marks: tuple[Mark, ...]
    box: tuple[float, float, float, float]
    left_out: tuple[str, ...]


def _pages(plan: Plan, laid: LaidFace, body: Body) -> Iterator[Content]:
    rows = course_rows(plan, laid, lambda p: _sizes(plan, p))
    panel = max(84.0, _PANEL * body.width)
    room = (body.width - panel - _GAP, body.height)
    for ratio in scales(body.unit)[1:]:
        drawn = _draw(plan, laid, rows, body, ratio, (0.0, 0.0))
        wide, tall = drawn.box[2] - drawn.box[0], drawn.box[3] - drawn.box[1]
        if wide <= room[0] and tall <= room[1]:
            break
    else:
        raise ValueError(f"niche {laid.face.id} fits no page at any listed scale")
    at = (
        body.x + (room[0] - wide) / 2 - drawn.box[0],
        body.y + (room[1] - tall) / 2 - drawn.box[1],
    )
    drawn = _draw(plan, laid, rows, body, ratio, at)
    column = replace(body, x=body.right - panel, width=panel)
    face = laid.face
    title = f"Niche {face.of} on wall {face.wall}: {face.kind}"
    pieces = plan.pieces_of(face.id)
    cuts = sum(not p.is_whole for p in pieces)
    said = f"{title}, {len(pieces) - cuts} whole and {cuts} cut tiles, with dimensions and course list."
    blocks = _blocks(plan, laid, body, rows, drawn.left_out)
    for n, words in enumerate(flow(blocks, column, least=panel, even=False), 1):
        first = n == 1
        name = face.id.replace(".", "-")
        yield Content(
            name if first else f"{name}-{n}",
            title if first else f"{title}, continued ({n})",
            scale_text(ratio, body.unit) if first else "",
            float(ratio) if first else None,
            (*drawn.marks, *words) if first else words,
            said,
        )


def _sizes(plan: Plan, piece: Piece) -> tuple[str, str]:
    cut = plan.measures.get(piece.id)
    if cut is not None:
        return cut.width, cut.height
    job = plan.job
    return format_length(piece.width, job.step, job.units), format_length(piece.height, job.step, job.units)


def _draw(
    plan: Plan, laid: LaidFace, rows: Sequence[CourseRow], body: Body, ratio: int, at: tuple[float, float]
) -> _Drawing:
    x0, y0, x1, y1 = laid.face.bounds
    view = View(ratio, (x0, y0), at, body.unit)
    marks: list[Mark] = [Area((view.ring(laid.face.outline.ring),), None, "paper")]
    pieces = plan.pieces_of(laid.face.id)
    for zone in laid.zones:
        own = [p for p in pieces if p.zone == zone.place.id]
        marks += tile_marks(own, zone.joint, view, body.unit, lambda p: _sizes(plan, p))
    marks.append(Area((view.ring(laid.face.outline.ring),), "wall"))
    dims = {side: _strings(plan, laid, rows, view, body, side) for side in _EDGES}
    left, low, right, top = view.x(x0), view.y(y0), view.x(x1), view.y(y1)
    # course numbers stand between the wall and the heights on the left
    wide = max((text_width(r.label, NUMBER) for r in rows), default=0.0) + 3.0
    box = (
        left - max(dims["left"].depth, wide + 3.0) - 2.0, low - dims["bottom"].depth - 2.0,
        right + max(dims["right"].depth, 8.0), top + max(dims["top"].depth, 8.0),
    )  # fmt: skip
    for d in dims.values():
        marks += d.marks
        box = (
            min([box[0], *(b[0] for b in d.boxes)]), min([box[1], *(b[1] for b in d.boxes)]),
            max([box[2], *(b[2] for b in d.boxes)]), max([box[3], *(b[3] for b in d.boxes)]),
        )  # fmt: skip
    for row in rows:
        y = view.y((row.low + row.high) / 2)
        if low < y < top and view.length(row.high - row.low) >= NUMBER:
            marks.append(Text((left - 3.0, y - NUMBER / 2), row.label, NUMBER, "end", "semibold"))
    requests = [
        Request(str(p.number), view.rings((p.outer, *p.holes)), ((0.0, 1.0), (1.0, 0.0)))
        for p in pieces if not p.is_whole
    ]  # fmt: skip
    taken = [b for d in dims.values() for b in d.obstacles]
    placed = place_labels(requests, taken, box, crossable=[(left, low, right, top)])
    for label in placed.labels:
        marks += label.marks()
    return _Drawing(tuple(marks), box, tuple(requests[i].text for i in placed.left_out))


def _strings(plan: Plan, laid: LaidFace, rows: Sequence[CourseRow], view: View, body: Body, side: Side) -> Dimensions:
    """Return the dimensions of a side: the tiles of a course below, the courses at the right, and the whole."""
    x0, y0, x1, y1 = laid.face.bounds
    style = INCH_STYLE if body.unit == "in" else METRIC_STYLE

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


def _blocks(plan: Plan, laid: LaidFace, body: Body, rows: Sequence[CourseRow], left_out: Sequence[str]) -> list[Block]:
    lines = [(line.courses, line.text) for line in list_lines(rows)]
    blocks: list[Block] = [
        Heading("Course list"),
        Rows((Column("Course", weight="semibold"), Column("From the left", least=30)), lines),
        Heading("Where it stands"),
        Words(_about(plan, laid, body)),
        Words("Widths and heights run from the left side and the sill, as found, to the far edge of each tile."),
        Words("Heavy, hatched: cut. Numbers at the left: courses."),
        Words(_sides(plan, laid, body)),
    ]
    if left_out:
        blocks.append(Words(f"No room on the drawing for: {', '.join(left_out)}."))
    return blocks


def _sides(plan: Plan, laid: LaidFace, body: Body) -> str:
    """Return what is at each side of the face."""
    said: dict[str, list[str]] = {}
    for run in plan.runs:
        if run.face != laid.face.id:
            continue
        gap = " to ".join(dict.fromkeys(format_length(g, body.step, body.unit) for g in run.gap))
        what = {"soft": f"soft joint, {gap}", "trim": f"trim {run.trim}", "bare": "bare edge"}[run.kind]
        said.setdefault(what, []).append(run.side)
    return "; ".join(f"{', '.join(sides)}: {what}" for what, sides in said.items()).capitalize() + "."


def _about(plan: Plan, laid: LaidFace, body: Body) -> str:
    """Return where the niche stands and how deep it is."""
    wall = plan.job.wall_by_id(laid.face.wall)
    niche = next(n for n in wall.niche if n.id == laid.face.of)

    def said(value: float) -> str:
        return format_length(value, body.step, body.unit)

    return (
        f"Clear opening {said(niche.width)} x {said(niche.height)}, {said(niche.depth)} deep from finished wall to"
        f" finished back; its lower left corner stands {said(niche.x)} right and {said(niche.y)} up from the wall's."
        f" The sill falls {said(niche.pitch)} to the {'foot' if body.unit == 'in' else '305 mm'} towards the room."
    )
