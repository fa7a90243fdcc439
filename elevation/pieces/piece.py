"""A piece: what fills a slot after clipping, with its size, its factory edges and its number."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from elevation.geom import Point, Ring

Kind = Literal["whole", "straight", "tapered", "notched", "L", "holed", "curved", "other"]


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle that cuts into tile, mm on the face: a hole with its gap, a rounded corner with its joint."""

    centre: Point
    radius: float
    of: str


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of tile on a face; lengths in mm, in the frame of the face.

    Attributes:
        id: Address: face, zone, course, place, part; it stays as long as nothing before it in its course changes.
        number: What is written on the sheet and on the back of the tile, ``B4-1``; ``None`` for a whole tile.
        face: Id of the face.
        zone: Id of the zone.
        tile: Id of the tile.
        course: Number of its course on the wall's count; 0 and less lie below course 1.
        place: Place in its course, from the left, from 1; whole tiles count.
        part: 1, or more when an opening cuts its slot in parts.
        kind: From its geometry.
        outer: Outline, counter-clockwise, normal form.
        holes: Holes in it, clockwise, normal form.
        slot: Outline of its slot.
        upright: The tile's long side stands upright.
        width: Extent along x.
        height: Extent along y.
        area: mm².
        shown: Width and height of what shows when every wall is tiled.
        factory_edges: Sides of the slot that are still there, in part at least: left, right, bottom, top.
        circles: Circles that its outline follows in part.
        order: Place in the order of setting, from 1.
    """

    id: str
    number: str | None
    face: str
    zone: str
    tile: str
    course: int
    place: int
    part: int
    kind: Kind
    outer: Ring
    holes: tuple[Ring, ...]
    slot: Ring
    upright: bool
    width: float
    height: float
    area: float
    shown: tuple[float, float]
    factory_edges: tuple[str, ...]
    circles: tuple[Circle, ...] = ()
    order: int = 0

    @property
    def is_whole(self) -> bool:
        """Tell whether it needs no saw."""
        return self.kind == "whole"

    def in_turn(self, order: int) -> Piece:
        """Return the piece with its place in the order of setting."""
        # spelled out: ``replace`` takes ten times as long, and a lobby has tens of thousands of pieces
        return Piece(
            self.id, self.number, self.face, self.zone, self.tile, self.course, self.place, self.part, self.kind,
            self.outer, self.holes, self.slot, self.upright, self.width, self.height, self.area, self.shown,
            self.factory_edges, self.circles, order,
        )  # fmt: skip
