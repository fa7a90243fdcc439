"""The order of setting: wall by wall, from the first level course up, then what stood behind the ledger.

Common practice. The first course is the lowest one that runs from side to side with uncut lower edges: a batten fixed
level, the ledger, carries it. Courses go up from there; those below come last, from the ledger down, when it is off. A
niche, or the return of a window, follows the courses beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from elevation.geom import EPS, bounds
from elevation.job.models import Job
from elevation.layout import LaidFace
from elevation.pieces.piece import Piece
from elevation.wall import FIELD

ByZone = Mapping[tuple[str, str], tuple[Piece, ...]]
"""Pieces by face and zone, course by course from below, each from the left."""
_WHOLE_SHARE = 0.97
"""A course that covers less of the wall's width than this leaves too much of a ledger bare to be the first."""
_FACES = ("back", "sill", "left", "right", "head")


@dataclass(frozen=True, slots=True)
class Stage:
    """What is set in one go: a course of a zone on a face, from the left.

    Attributes:
        wall: Id of the wall.
        face: Id of the face.
        zone: Id of the zone.
        course: Number of the course.
        pieces: Its pieces from the left, whole ones too.
        on_ledger: It stands on the ledger.
        below: It stands below the ledger, and waits until that is off.
    """

    wall: str
    face: str
    zone: str
    course: int
    pieces: tuple[Piece, ...]
    on_ledger: bool = False
    below: bool = False


@dataclass(frozen=True, slots=True)
class _Row:
    """A course on a face, with the heights between which its slots stand, mm."""

    zone: str
    course: int
    low: float
    high: float
    pieces: tuple[Piece, ...]


def walls_in_turn(job: Job) -> tuple[str, ...]:
    """Return the ids of the walls in the order they are tiled: those in ``first``, then the others round the room."""
    first = list(dict.fromkeys(job.room.first))
    return (*first, *(w.id for w in job.wall if w.id not in first))


def setting_stages(job: Job, laid: Sequence[LaidFace], by_zone: ByZone) -> tuple[Stage, ...]:
    """Return every course of every face, in the order of setting."""
    found: list[Stage] = []
    for wall in walls_in_turn(job):
        face = next(f for f in laid if f.face.id == wall)
        recesses: dict[str, list[LaidFace]] = {}
        for other in laid:
            if other.face.wall == wall and other.face.of:
                recesses.setdefault(other.face.of, []).append(other)
        found += _wall_stages(face, recesses, by_zone)
    return tuple(found)


def setting_order(job: Job, laid: Sequence[LaidFace], by_zone: ByZone) -> dict[str, int]:
    """Return the place of every piece in the order of setting, from 1, by its address."""
    return {p.id: n for n, p in enumerate((p for s in setting_stages(job, laid, by_zone) for p in s.pieces), 1)}


def ledger_course(face: LaidFace, pieces: Sequence[Piece]) -> int | None:
    """Return the course of the field that a ledger carries; ``None``: the lowest needs none, or none is whole.

    Args:
        face: The wall.
        pieces: The pieces of its field, course by course from below.
    """
    courses = [(course, list(found)) for course, found in groupby(pieces, key=lambda p: p.course)]
    for n, (course, found) in enumerate(courses):
        if is_whole_along(face, found):
            return course if n else None
    return None


def is_whole_along(face: LaidFace, course: Sequence[Piece]) -> bool:
    """Tell whether a course of the field runs from side to side with uncut lower edges: a ledger can carry it."""
    x0, _, x1, _ = face.zone(FIELD).region.bounds
    # the pieces that stand on the course line, without those an opening left of a slot above it
    sound = [p for p in course if "bottom" in p.factory_edges]
    reach = sum(p.width for p in sound) + face.zone(FIELD).joint * max(0, len(sound) - 1)
    return len(sound) == len(course) and reach > _WHOLE_SHARE * (x1 - x0)


def _wall_stages(face: LaidFace, recesses: dict[str, list[LaidFace]], by_zone: ByZone) -> Iterator[Stage]:
    """Yield the stages of a wall: up from the ledger, recesses after the courses beside them, then what is below."""
    rows = _rows(face, by_zone)
    field = by_zone.get((face.face.id, FIELD), ())
    ledger = ledger_course(face, field) if field else None
    first = next((r for r in rows if (r.zone, r.course) == (FIELD, ledger)), None)
    level = first.low if first is not None else None
    above = [r for r in rows if level is None or r.low >= level - EPS]
    below = [r for r in reversed(rows) if level is not None and r.low < level - EPS]
    ordered = [*above, *below]
    after: dict[int, list[str]] = {}
    for of in recesses:
        ys = [y for cut in face.face.cutouts if cut.id == of for _, y in cut.shape.ring]
        beside = [n for n, r in enumerate(ordered) if ys and r.low < max(ys) - EPS and r.high > min(ys) + EPS]
        after.setdefault(max(beside, default=len(ordered) - 1), []).append(of)
    wall = face.face.wall
    for n, row in enumerate(ordered):
        yield Stage(wall, face.face.id, row.zone, row.course, row.pieces, row is first, n >= len(above))
        for of in after.pop(n, ()):
            yield from _recess(wall, recesses[of], by_zone)
    for left in after.values():
        for of in left:
            yield from _recess(wall, recesses[of], by_zone)


def _recess(wall: str, faces: list[LaidFace], by_zone: ByZone) -> Iterator[Stage]:
    """Yield the stages of a recess: the back, the sill, what stands on the sill, the head last."""
    for face in sorted(faces, key=lambda f: _FACES.index(f.face.kind) if f.face.kind in _FACES else len(_FACES)):
        for row in _rows(face, by_zone):
            yield Stage(wall, face.face.id, row.zone, row.course, row.pieces)


def _rows(face: LaidFace, by_zone: ByZone) -> list[_Row]:
    """Return the courses of a face from below; of those at one height the field's first."""
    rows: list[_Row] = []
    for zone in face.zones:
        for course, found in groupby(by_zone.get((face.face.id, zone.place.id), ()), key=lambda p: p.course):
            pieces = tuple(found)
            low = min(bounds(p.slot)[1] for p in pieces)
            high = max(bounds(p.slot)[3] for p in pieces)
            rows.append(_Row(zone.place.id, course, low, high, pieces))
    rank = {zone.place.id: n for n, zone in enumerate(face.zones)}
    return sorted(rows, key=lambda r: (round(r.low, 3), rank[r.zone]))
