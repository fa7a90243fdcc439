"""Niches and tiled returns opened out: each face larger than on the elevation, with numbers and course lists."""

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
from elevation.features import Niche, Opening
from elevation.fonts import text_width
from elevation.geom import EPS, polygon
from elevation.layout import LaidFace
from elevation.pieces import Piece
from elevation.plan import Plan
from elevation.sheets.base import Body, Content, Edition, Sheet
from elevation.sheets.course_list import CourseRow, course_rows, list_lines
from elevation.sheets.flow import HEADING, Block, Heading, Rows, Words, flow
from elevation.sheets.niche_card import card
from elevation.sheets.transform import moved
from elevation.sheets.wall_tiles import tile_marks
from elevation.units import format_length

_GAP = 10.0
_PANEL = 0.3
"""Share of the page's width that the panel takes."""
_SMALLEST = {"in": 8, "mm": 10}
"""Faces that would come smaller together are parted over several pages."""
_NAMES = {"back": "Back", "sill": "Sill", "head": "Head", "left": "Left jamb", "right": "Right jamb"}


class NicheSheet(Sheet):
    """One niche, or one opening with tiled returns, a page."""

    kind: ClassVar[str] = "niche"
    editions: ClassVar[frozenset[Edition]] = frozenset({"installer", "permit"})

    def compose(self, plan: Plan, body: Body) -> Iterator[Content]:
        """Yield the pages of every niche and of every opening with tiled returns; none where there is neither."""
        niches: dict[tuple[str, str], list[LaidFace]] = {}
        for laid in plan.faces:
            if laid.face.kind != "wall":
                niches.setdefault((laid.face.wall, laid.face.of), []).append(laid)
        for faces in niches.values():
            yield from _pages(plan, faces, body)


@dataclass(frozen=True, slots=True)
class _Drawing:
    """A face at one scale: marks, the box they take, what found no place."""

    marks: tuple[Mark, ...]
    box: tuple[float, float, float, float]
    left_out: tuple[str, ...]

    def moved(self, dx: float, dy: float) -> _Drawing:
        """Return the drawing shifted on the paper, mm."""
        x0, y0, x1, y1 = self.box
        return _Drawing(moved(self.marks, dx, dy), (x0 + dx, y0 + dy, x1 + dx, y1 + dy), self.left_out)


def _pages(plan: Plan, faces: Sequence[LaidFace], body: Body) -> Iterator[Content]:
    panel = max(84.0 * body.words, min(_PANEL * body.width, 130.0 * body.words))
    room = (body.width - panel - _GAP, body.height)
    wall, niche = faces[0].face.wall, faces[0].face.of
    title = _title(plan, faces[0])
    column = replace(body, x=body.right - panel, width=panel)
    count = 0
    for part in _parts(plan, faces, body, room):
        ratio = _ratio(plan, part, body, room)
        if ratio is None:
            raise ValueError(f"{title} fits no page at any listed scale")
        drawings = _unfolded(plan, part, body, ratio)
        x0, y0, x1, y1 = _around([d.box for d in drawings])
        dx, dy = body.x + (room[0] - x0 - x1) / 2, body.y + (room[1] - y0 - y1) / 2
        marks = [mark for d in drawings for mark in d.moved(dx, dy).marks]
        pieces = [p for f in part for p in plan.pieces_of(f.face.id)]
        cuts = sum(not p.is_whole for p in pieces)
        said = f"{title}: {len(pieces) - cuts} whole and {cuts} cut tiles, with dimensions and course lists."
        blocks = _blocks(plan, part, body, [number for d in drawings for number in d.left_out])
        if count == 0:
            blocks = [*blocks[:2], *card(plan, part[0], body, panel), *blocks[2:]]
        for n, words in enumerate(flow(blocks, column, least=panel / body.words, even=False), 1):
            count += 1
            drawn = n == 1
            yield Content(
                f"{wall}-{niche}" if count == 1 else f"{wall}-{niche}-{count}",
                title if count == 1 else f"{title}, continued ({count})",
                scale_text(ratio, body.unit) if drawn else "",
                float(ratio) if drawn else None,
                (*marks, *words) if drawn else words,
                said,
            )


def _parts(
    plan: Plan, faces: Sequence[LaidFace], body: Body, room: tuple[float, float]
) -> Sequence[Sequence[LaidFace]]:
    """Return the faces by page: all together where they can be read so, else in two parts, else one by one."""
    level = [f for f in faces if f.face.kind in ("back", "sill", "head")]
    jambs = [f for f in faces if f.face.kind in ("left", "right")]
    alone = [[face] for face in faces]
    # parting them is only worth a page where it makes them larger
    enough = max(_SMALLEST[body.unit], *(_ratio(plan, part, body, room) or 0 for part in alone))
    for parts in ([list(faces)], [part for part in (level, jambs) if part]):
        found = [_ratio(plan, part, body, room) for part in parts]
        if all(ratio is not None and ratio <= enough for ratio in found):
            return parts
    return alone


def _ratio(plan: Plan, faces: Sequence[LaidFace], body: Body, room: tuple[float, float]) -> int | None:
    """Return the largest scale at which faces fit a page; ``None``: none does."""
    for ratio in scales(body.unit)[1:]:
        x0, y0, x1, y1 = _around([d.box for d in _unfolded(plan, faces, body, ratio, numbered=False)])
        if x1 - x0 <= room[0] and y1 - y0 <= room[1]:
            return ratio
    return None


def _around(boxes: Sequence[tuple[float, float, float, float]]) -> tuple[float, float, float, float]:
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def _unfolded(
    plan: Plan, faces: Sequence[LaidFace], body: Body, ratio: int, *, numbered: bool = True
) -> list[_Drawing]:
    """Return the faces opened out round the back: sill below it, head above it, jambs beside it.

    Their boxes do not depend on the numbers, which take long to place: ``numbered`` leaves them out.
    """
    by_kind = {f.face.kind: _draw(plan, f, body, ratio, numbered=numbered) for f in faces}
    middle = [by_kind[k] for k in ("back",) if k in by_kind]
    placed: list[_Drawing] = list(middle)
    for kind in ("sill", "head"):
        if kind in by_kind:
            drawn = by_kind[kind]
            low, high = (_around([d.box for d in placed])[k] for k in (1, 3)) if placed else (0.0, 0.0)
            placed.append(drawn.moved(0.0, low - drawn.box[3] if kind == "sill" else high - drawn.box[1]))
    column = list(placed)
    for kind in ("left", "right"):
        if kind in by_kind:
            drawn = by_kind[kind]
            near, far = (_around([d.box for d in column])[k] for k in (0, 2)) if column else (0.0, 0.0)
            placed.append(drawn.moved(near - drawn.box[2] if kind == "left" else far - drawn.box[0], 0.0))
    return placed


def _sizes(plan: Plan, piece: Piece) -> tuple[str, str]:
    cut = plan.measures.get(piece.id)
    if cut is not None:
        return cut.width, cut.height
    job = plan.job
    return format_length(piece.width, job.step, job.units), format_length(piece.height, job.step, job.units)


def _rows_of(plan: Plan, laid: LaidFace) -> tuple[CourseRow, ...]:
    return course_rows(plan, laid, lambda p: _sizes(plan, p))


def _draw(plan: Plan, laid: LaidFace, body: Body, ratio: int, *, numbered: bool) -> _Drawing:
    """Return a face with the lower left corner of its frame at the origin of the paper."""
    rows = _rows_of(plan, laid)
    x0, y0, x1, y1 = laid.face.bounds
    view = View(ratio, (0.0, 0.0), (0.0, 0.0), body.unit)
    left, low, right, top = view.x(x0), view.y(y0), view.x(x1), view.y(y1)
    dims = [_strings(plan, laid, rows, view, body, side) for side in ("bottom", "right")]
    name = _NAMES[laid.face.kind]
    named = (left, top + 2.0, left + text_width(name, HEADING, "semibold"), top + 3.0 + HEADING)
    jamb = laid.face.kind in ("left", "right")
    # course numbers stand at the left, and beside a jamb the numbers of its pieces, which are too wide for it
    beside = max((text_width(r.label, NUMBER) for r in rows), default=0.0) + (20.0 if jamb else 8.0)
    outside = (left - beside, low - dims[0].depth - 2.0, max(right + dims[1].depth, named[2]) + 3.0, top + 13.0)
    box = _around([outside, *(b for d in dims for b in d.boxes)])
    if not numbered:
        return _Drawing((), box, ())
    marks: list[Mark] = [Area((view.ring(laid.face.outline.ring),), None, "paper")]
    pieces = plan.pieces_of(laid.face.id)
    for zone in laid.zones:
        own = [p for p in pieces if p.zone == zone.place.id]
        marks += tile_marks(own, zone.joint, view, body.unit, lambda p: _sizes(plan, p))
    marks.append(Area((view.ring(laid.face.outline.ring),), "wall"))
    marks += [mark for d in dims for mark in d.marks]
    marks.append(Text((left, top + 3.0), name, HEADING, "start", "semibold"))
    taken = [named, *(b for d in dims for b in d.obstacles)]
    for row in rows:
        y = view.y((row.low + row.high) / 2)
        if low < y < top and view.length(row.high - row.low) >= NUMBER:
            marks.append(Text((left - 3.0, y - NUMBER / 2), row.label, NUMBER, "end", "semibold"))
            wide = text_width(row.label, NUMBER, "semibold")
            taken.append((left - 3.0 - wide, y - NUMBER / 2, left - 3.0, y + NUMBER / 2))
    ways = ((-1.0, 0.0), (1.0, 0.0)) if jamb else ((0.0, 1.0), (1.0, 0.0))
    cuts = [p for p in pieces if not p.is_whole]
    requests = [Request(str(p.number), view.rings((p.outer, *p.holes)), ways) for p in cuts]
    placed = place_labels(requests, taken, box, crossable=[(left, low, right, top)])
    for label in placed.labels:
        marks += label.marks()
    return _Drawing(tuple(marks), box, tuple(requests[i].text for i in placed.left_out))


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


def _blocks(plan: Plan, faces: Sequence[LaidFace], body: Body, left_out: Sequence[str]) -> list[Block]:
    blocks: list[Block] = [
        Heading("Where it stands"),
        Words(_about(plan, faces[0], body)),
        Words("Widths and heights run from the left and lower side, as found, to the far edge of each tile."),
        Words("Heavy, hatched: cut. Numbers at the left: courses."),
    ]
    if left_out:
        blocks.append(Words(f"No room on the drawing for: {', '.join(left_out)}."))
    for laid in faces:
        lines = [(line.courses, line.text) for line in list_lines(_rows_of(plan, laid))]
        blocks += [Heading(f"{_NAMES[laid.face.kind]}: course list"), Words(_sides(plan, laid, body), keep=True)]
        blocks.append(Rows((Column("Course", weight="semibold"), Column("From the left", least=30)), lines))
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
    """Return where the niche or opening stands and how deep it is."""
    wall = plan.job.wall_by_id(laid.face.wall)
    every: tuple[Niche | Opening, ...] = (*wall.niche, *wall.opening)
    found = next(f for f in every if f.id == laid.face.of)
    x0, y0, x1, y1 = polygon(found.cutout().ring).bounds

    def said(value: float) -> str:
        return format_length(value, body.step, body.unit)

    depth = found.depth or 0.0
    back = "finished back" if isinstance(found, Niche) else "frame"
    words = (
        f"Clear opening {said(x1 - x0)} x {said(y1 - y0)}, {said(depth)} deep from finished wall to {back}; its lower"
        f" left corner stands {said(x0)} right and {said(y0)} up from the wall's."
    )
    if found.pitch and any(f.face.kind == "sill" for f in plan.faces if f.face.of == laid.face.of):
        foot = "foot" if body.unit == "in" else "305 mm"
        words += f" The sill falls {said(found.pitch)} to the {foot} towards the room."
    return words


def _title(plan: Plan, laid: LaidFace) -> str:
    """Return what a niche, or an opening with tiled returns, is called."""
    word = plan.face(laid.face.wall).face.cutout(laid.face.of).word
    name = word.capitalize() if word == laid.face.of else f"{word.capitalize()} {laid.face.of}"
    is_niche = any(n.id == laid.face.of for n in plan.job.wall_by_id(laid.face.wall).niche)
    return f"{name} on wall {laid.face.wall}{'' if is_niche else ', returns'}"
