"""Numbers of courses and places: what is written on the sheet and on the back of the tile."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from elevation.layout import LaidFace
from elevation.patterns import ByWall, Start
from elevation.wall import FIELD, is_field


def course_label(course: int) -> str:
    """Return ``1``, ``2``, ... upward; below course 1 ``a``, ``b``, ... downward, after ``z`` ``aa``."""
    if course >= 1:
        return str(course)
    below, letters = 1 - course, ""
    while below:
        below, letter = divmod(below - 1, 26)
        letters = chr(ord("a") + letter) + letters
    return letters


def prefix(face: LaidFace, zone: str) -> str:
    """Return what stands before the course: the wall, and what tells a niche's face or a zone apart.

    A zone is told by its first letters, as many as tell it from the other zones of the wall, and a point: a number
    must go into its cut.
    """
    place = face.face
    word = place.wall + (place.of + place.kind[0] if place.of else "")
    return word if is_field(zone) else f"{word}{_short(zone, [z.id for z in place.zones if z.shape is not None])}."


def _short(zone: str, zones: Sequence[str]) -> str:
    """Return the first letters of a zone's id that no other zone begins with; the id where another begins with it."""
    others = [z.casefold() for z in zones if z != zone]
    lengths = range(1, len(zone) + 1)
    return next((zone[:n] for n in lengths if not any(z.startswith(zone[:n].casefold()) for z in others)), zone)


def piece_number(start: str, course: int, place: int) -> str:
    """Return ``B4-1``."""
    return f"{start}{course_label(course)}-{place}"


Rows = Mapping[tuple[str, str], tuple[int, int]]
"""Lowest and highest lattice row that has a piece, by face and zone."""


def first_courses(laid: Sequence[LaidFace], rows: Rows) -> dict[tuple[str, str], int]:
    """Return, by face and zone, the lattice row that is course 1.

    Walls tied by ``{ wall = }`` have their lattice rows on the same level lines and count from the lowest course of
    the wall they are tied to; all others count from their own. Where a level band restarts the field, the courses
    above it go on counting.

    Args:
        laid: All faces.
        rows: Lowest and highest row of every zone.
    """
    by_id = {f.face.id: f for f in laid}
    first: dict[tuple[str, str], int] = {}
    for face in laid:
        for zone in face.zones:
            key = (face.face.id, zone.place.id)
            root = _tied_to(face, by_id) if zone.place.id == FIELD else face
            first[key] = rows.get((root.face.id, zone.place.id), (0, 0))[0]
        below = face.field[0]
        for zone in face.field[1:]:
            key, before = (face.face.id, zone.place.id), (face.face.id, below.place.id)
            first[key] = first[before]
            if zone.origin[1] != below.origin[1] and key in rows and before in rows:
                last = rows[before][1] - first[before]
                first[key] = rows[key][0] - last - 1
            below = zone
    return first


def _tied_to(face: LaidFace, by_id: Mapping[str, LaidFace]) -> LaidFace:
    start = face.zones[0].place.pattern.start
    if not face.face.of and isinstance(start, Start) and isinstance(start.y, ByWall) and start.y.wall != face.face.id:
        return _tied_to(by_id[start.y.wall], by_id)
    return face
