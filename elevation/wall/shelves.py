"""Shelves across inside corners: one table of the job becomes a slot in the tile of both walls, at one height."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from elevation.features import CornerShelf
from elevation.geom import Point, Ring, box_ring
from elevation.job.models import Job


@dataclass(frozen=True, slots=True)
class ShelfEnd:
    """What a shelf takes from one of its two walls; mm on the face.

    Attributes:
        shelf: The shelf.
        other: Id of the wall round the corner.
        ring: Its clear outline on this wall, up to the corner, counter-clockwise from the lower left.
    """

    shelf: CornerShelf
    other: str
    ring: Ring


@dataclass(frozen=True, slots=True)
class Standing:
    """A wall as found, as far as a shelf needs it: its outline and the height of its level line, mm on the face."""

    ring: Ring
    datum: float


def shelf_ends(job: Job, walls: Mapping[str, Standing]) -> dict[str, tuple[ShelfEnd, ...]]:
    """Return what shelves across corners take from each wall, by its id.

    Args:
        job: The job; the loader has seen to it that every shelf has a neighbour.
        walls: Every wall as found.
    """
    found: dict[str, list[ShelfEnd]] = {wall.id: [] for wall in job.wall}
    for wall in job.wall:
        for shelf in wall.corner_shelf:
            other = job.neighbour(wall.id, shelf.corner)
            if other is None or wall.id not in walls or other.id not in walls:
                continue
            here, there = walls[wall.id], walls[other.id]
            away = "right" if shelf.corner == "left" else "left"
            found[wall.id].append(ShelfEnd(shelf, other.id, _slot(here, shelf, shelf.corner, shelf.leg[0], shelf.y)))
            top = shelf.y - here.datum + there.datum
            found[other.id].append(ShelfEnd(shelf, wall.id, _slot(there, shelf, away, shelf.leg[1], top)))
    return {wall: tuple(ends) for wall, ends in found.items()}


def _slot(wall: Standing, shelf: CornerShelf, end: str, leg: float, top: float) -> Ring:
    """Return the outline of a shelf on a wall, from the corner as found at its height."""
    bottom = top - shelf.thickness
    places = _crossings(wall.ring, (top + bottom) / 2)
    left = min(places) if end == "left" else max(places) - leg
    return box_ring(left, bottom, leg, shelf.thickness)


def _crossings(ring: Sequence[Point], y: float) -> list[float]:
    """Return where the sides of a wall stand at a height; its outermost places where it does not reach there."""
    found = [
        x1 + (x2 - x1) * (y - y1) / (y2 - y1)
        for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True)
        if (y1 <= y) != (y2 <= y)
    ]
    return found or [x for x, _ in ring]
