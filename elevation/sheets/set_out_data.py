"""What a set-out sheet says in numbers: course lines from the level line, plumb line, joints at stations, order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from elevation.features import Fixture
from elevation.geom import EPS, Point
from elevation.job.models import Survey
from elevation.layout import LaidEdge, LaidFace
from elevation.layout.notes import is_level, out_of_true
from elevation.layout.regions import facing_of
from elevation.pieces import course_label
from elevation.pieces.order import is_whole_along
from elevation.plan import Plan
from elevation.units import format_length
from elevation.wall import FIELD, corner_words, is_field, outside_corners, side_words
from elevation.wall.as_found import height_at


@dataclass(frozen=True, slots=True)
class CourseLine:
    """The lower edge of a course of tiles; mm.

    Attributes:
        zone: Id of the zone.
        label: Course as the numbers of its pieces have it: ``4``, ``a``.
        y: Height on the face.
        top: Upper edge of its tiles on the face.
        above: Height above the level line, or above the lower left corner of a wall without one.
        is_cut: The wall, or a feature along all of it, ends above the line, so that it cannot be struck there.
    """

    zone: str
    label: str
    y: float
    top: float
    above: float
    is_cut: bool


def course_lines(plan: Plan, laid: LaidFace) -> tuple[CourseLine, ...]:
    """Return the course lines of a wall, from below, zone by zone."""
    base = base_of(laid)
    out: list[CourseLine] = []
    for zone in laid.zones:
        for course, pieces in plan.courses(laid.face.id, zone.place.id):
            y, top = min(p[1] for p in pieces[0].slot), max(p[1] for p in pieces[0].slot)
            cut = all("bottom" not in p.factory_edges for p in pieces)
            out.append(CourseLine(zone.place.id, course_label(course), y, top, y - base, cut))
    # parts of the field side by side share their course lines
    lines = {(c.zone if not is_field(c.zone) else "", c.label): c for c in reversed(out)}
    return tuple(sorted(lines.values(), key=lambda c: (not is_field(c.zone), "" if is_field(c.zone) else c.zone, c.y)))


def base_of(laid: LaidFace) -> float:
    """Return the height on the face that heights are measured from, mm."""
    return laid.face.datum[1] if laid.face.has_datum else 0.0


def signed(mm: float, step: float, unit: str) -> str:
    """Return a height from the level line: ``+6 1/8``, ``-5 7/8``, ``0``."""
    text = format_length(abs(mm), step, "in" if unit == "in" else "mm")
    return text if text == "0" else f"{'+' if mm > 0 else '-'}{text}"


def side_at(laid: LaidFace, side: str, y: float) -> float | None:
    """Return where the left or right side of a wall stands at a height, mm; ``None`` for an outline by its corners."""
    border = next((b for b in laid.face.borders if not b.of and b.side == side), None)
    return None if border is None else height_at(border.line, y, 1)


@dataclass(frozen=True, slots=True)
class Gap:
    """The joint at one station of an edge; mm.

    Attributes:
        edge: Name of the edge.
        at: Where along it, on the face.
        from_line: Where along it from the plumb or level line; ``None``: all along it.
        reading: As read there; ``None``: nothing was read.
        gap: The joint.
        level: The edge is level.
    """

    edge: str
    at: float
    from_line: float | None
    reading: float | None
    gap: float
    level: bool


def gaps(plan: Plan, laid: LaidFace) -> tuple[Gap, ...]:
    """Return the joint at each station of every side of a wall and every rim as found; once where none was read."""
    wall = plan.job.wall_by_id(laid.face.wall)
    out: list[Gap] = []
    for edge in laid.edges:
        border = edge.border
        fixture = next((f for f in wall.fixture if f.id == border.of), None)
        rim = fixture if isinstance(fixture, Fixture) and border.side == "top" and fixture.top is not None else None
        if (border.of and rim is None) or border.side == "arc" or border.kind == "bare" or border.joint[1] <= 0:
            continue
        readings = rim.top if rim is not None else _readings(wall.survey, border.side)
        axis = 0 if is_level(edge) else 1
        origin = laid.face.datum[axis] if laid.face.has_datum or readings else 0.0
        if readings:
            out += [Gap(border.name, origin + s, s, r, edge.gap_at(origin + s), axis == 0) for s, r in readings]
        else:
            first = min(p[axis] for p in border.line)
            out.append(Gap(border.name, first, None, None, edge.gap_at(first), axis == 0))
    return tuple(out)


def _readings(survey: Survey | None, side: str) -> Sequence[Point]:
    if survey is None:
        return ()
    found: Sequence[Point] = getattr(survey, {"bottom": "down", "top": "up"}.get(side, side), ())
    return found


@dataclass(frozen=True, slots=True)
class Height:
    """Something on a wall at a height, for the pole and for running dimensions; mm.

    Attributes:
        name: What it is.
        y: Height on the face.
        above: Height above the level line.
        point: ``low`` or ``high`` point of something out of level; else empty.
    """

    name: str
    y: float
    above: float
    point: str = ""

    @property
    def words(self) -> str:
        """What it is, short: ``tub low``."""
        return f"{self.name} {self.point}".strip()


def heights(laid: LaidFace) -> tuple[Height, ...]:
    """Return what stands on a wall and where: its ends, rims, zones, what is cut out; high and low point apart."""
    base = base_of(laid)
    out: list[Height] = []

    def add(name: str, y: float, point: str = "") -> None:
        out.append(Height(name, y, y - base, point))

    def add_crooked(name: str, low: float, high: float) -> None:
        if high - low <= EPS:
            add(name, low)
        else:
            add(name, low, "low")
            add(name, high, "high")

    for edge in laid.edges:
        border = edge.border
        if border.of or not is_level(edge) or border.side == "arc":
            continue
        ys = [p[1] for p in border.line]
        side = side_words(border.side)
        add_crooked(side if border.meets in (None, "wall", "outside") else str(border.meets), min(ys), max(ys))
    for cut in laid.face.cutouts:
        ys = [p[1] for p in cut.shape.ring]
        if cut.kind == "niche":
            add(f"{cut.id} sill", min(ys))
            add(f"{cut.id} head", max(ys))
        elif cut.kind == "opening":
            add(f"{cut.id} bottom", min(ys))
            add(f"{cut.id} top", max(ys))
        elif cut.kind == "fixture":
            top = next((e for e in laid.edges if e.border.of == cut.id and e.border.side == "top"), None)
            rim = [p[1] for p in top.border.line] if top is not None else [max(ys)]
            add_crooked(f"shelf {cut.id}" if cut.word == "shelf" else cut.id, min(rim), max(rim))
    for zone in laid.face.zones:
        if zone.shape is not None:
            ys = [p[1] for p in zone.shape.ring]
            add(f"{zone.id} bottom", max(min(ys), laid.face.bounds[1]))
            add(f"{zone.id} top", min(max(ys), laid.face.bounds[3]))
    seen: dict[tuple[str, float], Height] = {(h.words, round(h.y, 3)): h for h in out}
    return tuple(sorted(seen.values(), key=lambda h: (h.y, h.words)))


def setting_order(plan: Plan, laid: LaidFace) -> Iterator[str]:
    """Yield how the wall is set: which course first, what last, and why; common practice."""
    field = [c for c in course_lines(plan, laid) if is_field(c.zone)]
    base = "level line" if laid.face.has_datum else "lower left corner"

    def height(c: CourseLine) -> str:
        if abs(c.above) < plan.job.step / 2:
            return f"on the {base}"
        said = format_length(abs(c.above), plan.job.step / 2, plan.job.units)
        return f"{said} {'above' if c.above > 0 else 'below'} the {base}"

    whole = {course_label(c) for c, ps in plan.courses(laid.face.id, FIELD) if is_whole_along(laid, ps)}
    full = [c for c in field if c.label in whole]
    bottom = bottom_edge(laid)
    word = bottom.border.meets if bottom is not None and bottom.border.meets else "bottom"
    if not full:
        yield "No course is whole all along. Strike every course line from the level line before the first tile."
        return
    first = full[0]
    if first is field[0] or bottom is None:
        if bottom is None:
            yield f"From the lowest course up: course {first.label} first, its lower edge {height(first)}."
            return
        yield (
            f"From the {word} up: course {first.label} first, on shims of {_joint(plan, bottom)}, its lower edge "
            f"{height(first)}."
        )
        if out_of_true(bottom) > EPS:
            yield f"The {word} is not level: shim to the course line, not to the {word}."
    else:
        below = [c.label for c in reversed(field[: field.index(first)])]
        lower = f"course{'s' if len(below) > 1 else ''} {', '.join(below)}"
        yield (
            f"Ledger first: fix a straight batten level, its upper edge {height(first)}. Set course {first.label} "
            "on it, "
            "then upwards."
        )
        yield f"Take the ledger off when the tile holds, and set what is below last: {lower}."
        if bottom is not None and out_of_true(bottom) > EPS and bottom.line is None:
            yield f"The pieces along the {word} taper: try each one dry before it is bedded."


def bottom_edge(laid: LaidFace) -> LaidEdge | None:
    """Return the edge that the lowest course stands on: the bottom, or the lowest level side of an outline."""
    level = [e for e in laid.edges if not e.border.of and facing_of(e.border.line) == "bottom"]
    return min(level, key=lambda e: min(p[1] for p in e.border.line), default=None)


def _joint(plan: Plan, edge: LaidEdge) -> str:
    job = plan.job
    least, most = (format_length(g, job.step / 2, job.units) for g in edge.gap)
    return least if least == most else f"{least} to {most}"


def measured_to(plan: Plan, laid: LaidFace) -> Iterator[str]:
    """Yield what was measured to, and how the corners are built up."""
    job = plan.job
    room = job.room

    def say(mm: float) -> str:
        return format_length(mm, job.step / 2, job.units)

    to = {"studs": "the studs", "board": "the face of the board", "finish": "the finished faces"}[room.to]
    build = f"bed {say(room.bed)}"
    if room.membrane:
        build += f", membrane {say(room.membrane)}"
    if room.to == "studs":
        build += f", board {say(room.board)}"
    yield (
        f"Readings are to {to}. Build-up behind the tile: {build}."
        if room.to != "finish"
        else f"Readings are to {to}."
    )
    if room.first:
        names = ", ".join(room.first)
        if laid.face.wall in room.first:
            yield f"Tiled first: {names}. This wall runs into its corners; the other walls' tile covers its ends."
        else:
            ends = [e for e in laid.edges if not e.border.of and e.border.behind > 0 and not is_level(e)]
            told = ", ".join(f"{say(e.border.behind)} at the {e.border.side}" for e in ends)
            yield (
                f"Tiled first: {names}. This wall butts to their tile, which stands off the reading by {told}."
                if told
                else f"Tiled first: {names}."
            )
    past = {(e.border.side): e.border.past for e in laid.edges if not e.border.of}
    for corner in outside_corners(job):
        side = next((s for w, s in (corner.left, corner.right) if w == laid.face.wall), None)
        if side is not None:
            words = corner_words(corner)
            stands = f" The finished corner stands {say(past[side])} past the reading." if past.get(side) else ""
            yield f"Outside corner at the {side}: {words}.{stands}"
