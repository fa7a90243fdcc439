"""The course list: what stands in every course, from the left, as numbers first and as words second.

A row holds every part of its course from side to side: gaps at the ends, pieces, joints, what interrupts it. The
widths of a row telescope, so they always add up to the wall's width at that height; what is printed differs from
that only by the rounding of its cuts, which the soft joints at the ends take up.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from elevation.geom import EPS, Ring
from elevation.layout import LaidEdge, LaidFace, LaidZone
from elevation.layout.regions import facing_of
from elevation.pieces import Piece, course_label
from elevation.plan import Plan
from elevation.wall import is_field

PartKind = Literal["gap", "piece", "joint", "break"]
Sizes = Callable[[Piece], tuple[str, str]]
"""Width and height of a piece as the sheets print them."""

MEASURED = ("corner", "ceiling", "tub", "pan", "floor", "counter", "cabinet", "existing", "frame", "casing")
"""What a cut is measured against on the wall itself before it is sawn."""
_SAME = 0.1  # mm: a piece shorter than its slot by less is not cut that way
_PERIODS = (1, 2, 3, 4, 5)


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a course.

    Attributes:
        kind: Gap at an end, piece, grout joint, or a break: something that stands in the course.
        width: Extent along the course, mm.
        name: What a gap meets, what a break is: ``corner``, ``niche n1``.
        piece: The piece.
    """

    kind: PartKind
    width: float
    name: str = ""
    piece: Piece | None = None


@dataclass(frozen=True, slots=True)
class CourseRow:
    """One course of a zone.

    Attributes:
        zone: Id of the zone.
        course: Its number.
        low: Lower edge of its slots, mm on the face.
        high: Upper edge of its slots.
        parts: From side to side.
        text: What the list says of it.
        blanks: Where a cut is to be measured on the wall: left, right, height.
    """

    zone: str
    course: int
    low: float
    high: float
    parts: tuple[Part, ...]
    text: str
    blanks: tuple[str, ...]

    @property
    def label(self) -> str:
        """The course's number as printed."""
        return course_label(self.course)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Its pieces, from the left."""
        return tuple(p.piece for p in self.parts if p.piece is not None)


@dataclass(frozen=True, slots=True)
class ListLine:
    """A line of the list: one course, or several that are alike.

    Attributes:
        zone: Id of the zone.
        courses: What it is about: ``4``, ``2-14``, ``1, 3 ... 27``.
        text: What stands in each of them.
        blanks: Where a cut is to be measured on the wall.
        count: How many courses.
    """

    zone: str
    courses: str
    text: str
    blanks: tuple[str, ...]
    count: int


def course_rows(plan: Plan, face: LaidFace, sizes: Sizes) -> tuple[CourseRow, ...]:
    """Return the rows of a face, zone by zone, each from its lowest course up."""
    rows = []
    for zone in face.zones:
        for course, pieces in plan.courses(face.face.id, zone.place.id):
            rows.append(_row(face, zone, course, pieces, sizes))
    return tuple(rows)


def list_lines(rows: Sequence[CourseRow]) -> tuple[ListLine, ...]:
    """Return the lines of the list: neighbours that are alike in one, and courses that repeat by twos, threes, ..."""
    lines: list[ListLine] = []
    for _, group in groupby(rows, key=lambda r: r.zone):
        zone = list(group)
        at = 0
        while at < len(zone):
            period, length = _longest_repeat(zone, at)
            for k in range(period):
                members = zone[at + k : at + length : period]
                lines.append(_line(members, period))
            at += length
    return tuple(lines)


def _longest_repeat(rows: Sequence[CourseRow], at: int) -> tuple[int, int]:
    """Return period and length of the longest run from ``at`` in which every row is like the one a period before."""
    best = (1, 1)
    for period in _PERIODS:
        end = at + period
        while end < len(rows) and _alike(rows[end], rows[end - period]):
            end += 1
        length = end - at
        if period > 1 and length < 2 * period:
            continue
        if length > best[1]:
            best = (period, length)
    return best


def _alike(one: CourseRow, two: CourseRow) -> bool:
    return one.text == two.text and one.blanks == two.blanks


def _line(members: Sequence[CourseRow], period: int) -> ListLine:
    labels = [m.label for m in members]
    if len(labels) == 1:
        courses = labels[0]
    elif period == 1:
        courses = f"{labels[0]}-{labels[-1]}"
    elif len(labels) <= 3:
        courses = ", ".join(labels)
    else:
        courses = f"{labels[0]}, {labels[1]} ... {labels[-1]}"
    first = members[0]
    return ListLine(first.zone, courses, first.text, first.blanks, len(members))


def _row(face: LaidFace, zone: LaidZone, course: int, pieces: tuple[Piece, ...], sizes: Sizes) -> CourseRow:
    low = min(p[1] for piece in pieces for p in piece.slot)
    high = max(p[1] for piece in pieces for p in piece.slot)
    span = _span(face, zone, pieces)
    parts: list[Part] = []
    place = span[0]
    for k, piece in enumerate(pieces):
        x0, x1 = _across(piece.outer)
        space = x0 - place
        if k == 0:
            parts += _end(face, zone, "left", (place, x0), pieces)
        elif space > zone.joint + EPS:
            parts.append(Part("break", space, _between(face, zone, (place, x0), (piece, pieces[k - 1]))))
        else:
            parts.append(Part("joint", space))
        parts.append(Part("piece", x1 - x0, piece=piece))
        place = x1
    parts += _end(face, zone, "right", (place, span[1]), pieces)
    return CourseRow(
        zone.place.id, course, low, high, tuple(parts), _text(parts, sizes), _blanks(face, zone, parts, pieces)
    )


def _across(ring: Ring) -> tuple[float, float]:
    xs = [p[0] for p in ring]
    return min(xs), max(xs)


def _upright(ring: Ring) -> tuple[float, float]:
    ys = [p[1] for p in ring]
    return min(ys), max(ys)


def _span(face: LaidFace, zone: LaidZone, pieces: Sequence[Piece]) -> tuple[float, float]:
    """Return from where to where the wall, or the zone's shape, runs at the height of a course."""
    low = min(_upright(p.outer)[0] for p in pieces)
    high = max(_upright(p.outer)[1] for p in pieces)
    ring = face.face.built if zone.place.shape is None else zone.place.shape.ring
    found = _crossings(ring, (low + high) / 2)
    if face.side_by_side and zone.place.shape is None:
        bands = [face.face.zone(z.place.beyond).shape for z in face.field[1:]]
        found += [x for band in bands if band is not None for x in _across(band.ring)]
    ends = [x for p in pieces for x in _across(p.outer)]
    before = [x for x in found if x <= min(ends) + EPS]
    after = [x for x in found if x >= max(ends) - EPS]
    return (max(before) if before else min(ends)), (min(after) if after else max(ends))


def _crossings(ring: Ring, y: float) -> list[float]:
    """Return where a ring crosses a level line, ascending."""
    found = []
    for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (y1 <= y) != (y2 <= y):
            found.append(x1 + (x2 - x1) * (y - y1) / (y2 - y1))
    return sorted(found)


def _end(
    face: LaidFace, zone: LaidZone, side: str, between: tuple[float, float], pieces: Sequence[Piece]
) -> list[Part]:
    """Return the gap at an end of a course, and what stands between it and the wall's side, if anything does."""
    width = between[1] - between[0]
    near = pieces[0] if side == "left" else pieces[-1]
    edge = _edge_at(face, zone, side, *_upright(near.outer))
    widest = edge.gap[1] + edge.offset if edge is not None else 0.0
    if width > widest + 1.0:
        name = _between(face, zone, between, (near,))
        if name:
            return [Part("break", width, name)]
    meets = "" if edge is None else edge.border.meets or ("trim" if edge.border.trim else "")
    return [Part("gap", width, meets)]


def _edge_at(face: LaidFace, zone: LaidZone, side: str, low: float, high: float) -> LaidEdge | None:
    """Return the side of the wall, or of the zone, at which a course ends."""
    of = "" if is_field(zone.place.id) else zone.place.id
    if face.side_by_side and not of and zone is not face.field[0 if side == "left" else -1]:
        return None  # it ends at a band
    facing = [
        e for i, e in enumerate(face.edges)
        if facing_of(e.border.line) == side and not face.face.tile_is_outside(i)
    ]  # fmt: skip
    found = [e for e in facing if e.border.of == of]
    if zone.place.shape is not None and all(e.border.kind == "bare" for e in found):
        # a zone that runs to the wall's own side ends as the wall does there
        ends = _across(zone.place.shape.ring)
        end = ends[0] if side == "left" else ends[1]
        found = [e for e in facing if not e.border.of and _reaches(e.border.line, end)] or found
    middle = (low + high) / 2
    at = [e for e in found if _upright(e.border.line)[0] - EPS <= middle <= _upright(e.border.line)[1] + EPS]
    return next(iter(at or found), None)


def _reaches(line: Ring, x: float) -> bool:
    """Tell whether an upright side, out of plumb as it may be, stands at a place across."""
    x0, x1 = _across(line)
    return x0 - EPS <= x <= x1 + EPS


def _between(face: LaidFace, zone: LaidZone, span: tuple[float, float], near: Sequence[Piece]) -> str:
    """Return what stands in a course between two pieces: the niche, the window, another zone."""
    low = min(_upright(p.outer)[0] for p in near)
    high = max(_upright(p.outer)[1] for p in near)
    middle = (span[0] + span[1]) / 2

    def stands(ring: Ring) -> bool:
        (x0, x1), (y0, y1) = _across(ring), _upright(ring)
        return x0 - EPS <= middle <= x1 + EPS and y0 < high and y1 > low

    for cut in face.face.cutouts:
        if stands(cut.shape.ring):
            return cut.word if cut.word == cut.id else f"{cut.word} {cut.id}"
    for other in face.face.zones:
        if other.id != zone.place.id and other.shape is not None and stands(other.shape.ring):
            return f"zone {other.id}"
    return "open" if span[1] - span[0] > 25 else ""


def is_cut_across(piece: Piece) -> bool:
    """Tell whether a piece is narrower than its slot."""
    x0, x1 = _across(piece.slot)
    return x1 - x0 - piece.width > _SAME


def is_cut_in_height(piece: Piece) -> bool:
    """Tell whether a piece is lower than its slot."""
    y0, y1 = _upright(piece.slot)
    return y1 - y0 - piece.height > _SAME


_NAMED = {"L": "L cut", "notched": "notched cut", "holed": "holed cut", "curved": "curved cut",
          "tapered": "tapered cut", "other": "shaped cut"}  # fmt: skip


def _text(parts: Sequence[Part], sizes: Sizes) -> str:
    """Return what the list says of a course."""
    pieces = [p.piece for p in parts if p.piece is not None]
    plain = [p for p in pieces if p.kind in ("whole", "straight")]
    heights = {sizes(p)[1] for p in plain if is_cut_in_height(p)}
    ripped = len(plain) > 1 and len(heights) == 1 and all(is_cut_in_height(p) for p in plain)
    words: list[tuple[str, str]] = []
    for part in parts:
        if part.kind == "break":
            words.append(("break", part.name))
        elif part.piece is not None:
            words.append(_word(part.piece, sizes, ripped))
    said = []
    for (kind, word), same in groupby(words):
        said += _said(kind, word, len(list(same)))
    text = ", ".join(said)
    return f"all cut {heights.pop()} high: {text}" if ripped else text


def _word(piece: Piece, sizes: Sizes, ripped: bool) -> tuple[str, str]:
    if piece.kind == "whole":
        return "whole", ""
    if piece.kind != "straight":
        return "named", f"{_NAMED[piece.kind]} {piece.number}"
    width, height = sizes(piece)
    across, up = is_cut_across(piece), is_cut_in_height(piece) and not ripped
    if across and up:
        return "cut", f"{width} x {height}"
    if across:
        return "cut", width
    return ("cut", f"{height} high") if up else ("full", "")


def _said(kind: str, word: str, count: int) -> list[str]:
    if kind == "whole":
        return [f"{count} whole"]
    if kind == "full":
        return [f"{count} full width"]
    if kind == "cut":
        return [f"{word} cut" if count == 1 else f"{count} cuts of {word}"]
    return [f"({word})" if kind == "break" else word] * count


def _blanks(face: LaidFace, zone: LaidZone, parts: Sequence[Part], pieces: Sequence[Piece]) -> tuple[str, ...]:
    """Return which cuts of a course are measured on the wall: at its ends, and in height."""
    found = []
    for side, piece in (("left", pieces[0]), ("right", pieces[-1])):
        edge = _edge_at(face, zone, side, *_upright(piece.outer))
        meets = edge.border.meets if edge is not None else None
        stands = parts[0 if side == "left" else -1]
        at_fixture = stands.kind == "break"
        if (meets in MEASURED or at_fixture) and side not in piece.factory_edges and not piece.is_whole:
            found.append(side)
    for side in ("bottom", "top"):
        if any(_meets(face, p, side) in MEASURED for p in pieces if not p.is_whole and side not in p.factory_edges):
            found.append("height")
            break
    return tuple(found)


def _meets(face: LaidFace, piece: Piece, side: str) -> str | None:
    """Return what a cut lower or upper side stands at: of the face itself, or of a fixture."""
    y = _upright(piece.outer)[0 if side == "bottom" else 1]
    x0, x1 = _across(piece.outer)
    for own in _borders(face, side):
        if own.far(x0, x1, y):
            continue
        return own.meets
    return None


@dataclass(frozen=True, slots=True)
class _Near:
    """A border that a level cut may stand at."""

    meets: str | None
    x: tuple[float, float]
    y: tuple[float, float]

    def far(self, x0: float, x1: float, y: float) -> bool:
        return x1 < self.x[0] or x0 > self.x[1] or y < self.y[0] or y > self.y[1]


def _borders(face: LaidFace, side: str) -> Iterator[_Near]:
    for i, edge in enumerate(face.edges):
        border = edge.border
        cut = next((c for c in face.face.cutouts if i in c.shape.borders), None)
        facing = facing_of(border.line)
        if cut is not None and (cut.kind != "fixture" or facing != ("top" if side == "bottom" else "bottom")):
            continue
        if cut is None and (border.of or facing != side):
            continue
        reach = edge.offset + edge.gap[1] + 1.0
        xs, ys = [p[0] for p in border.line], [p[1] for p in border.line]
        meets = cut.word if cut is not None else border.meets
        yield _Near(meets, (min(xs), max(xs)), (min(ys) - reach, max(ys) + reach))
