"""What the layout stage hands on: every side with its gap decided, every zone with its start and its region."""

from __future__ import annotations

from dataclasses import dataclass

from elevation.geom import EPS, Point, Region
from elevation.patterns import Lattice
from elevation.wall import Border, Face, ZonePlace, is_field
from elevation.wall.as_found import height_at


@dataclass(frozen=True, slots=True)
class LaidEdge:
    """A side whose gap is decided.

    Attributes:
        border: The side.
        offset: Distance from the side to the tile, trim and laps included, mm; where ``line`` is set, the least.
        line: Height of a level line, or place of an upright one, that the tile keeps to although the side as found
            is crooked; ``None``: the tile follows the side.
        gap: Width of the joint alone as drawn, least and most, mm.
        why: In words, when there was something to decide.
    """

    border: Border
    offset: float
    line: float | None
    gap: tuple[float, float]
    why: str = ""

    def gap_at(self, place: float) -> float:
        """Return the width of the joint as drawn at a place along the side, mm: x of a level one, y of an upright one.

        Beyond the ends of the side it goes on straight.
        """
        if self.line is None:
            return self.gap[0]
        (x1, y1), (x2, y2) = self.border.line[0], self.border.line[-1]
        axis = 0 if abs(x2 - x1) >= abs(y2 - y1) else 1
        return abs(self.line - height_at(self.border.line, place, axis)) - self.border.behind - self.border.trim_width


@dataclass(frozen=True, slots=True)
class LaidZone:
    """A zone with its lattice, its start and the region that its tile may cover.

    Attributes:
        place: The zone as the wall stage gave it.
        joint: Grout joint, mm.
        lattice: Its slots.
        origin: Lower left corner of slot (0, 0, 0), mm on the face.
        region: What tile may cover, after every edge is decided.
    """

    place: ZonePlace
    joint: float
    lattice: Lattice
    origin: Point
    region: Region


@dataclass(frozen=True, slots=True)
class LaidFace:
    """A face, laid out.

    Attributes:
        face: The face.
        edges: One for each of the face's borders, in the same order.
        zones: In the order of the face's zones.
    """

    face: Face
    edges: tuple[LaidEdge, ...]
    zones: tuple[LaidZone, ...]

    @property
    def field(self) -> tuple[LaidZone, ...]:
        """The field: one zone, or its parts in order where bands restart it, from below or from the left."""
        first, *beyond = (z for z in self.zones if is_field(z.place.id))
        if not beyond:
            return (first,)
        axis = 0 if self.side_by_side else 1
        return first, *sorted(beyond, key=lambda z: z.region.bounds[axis])

    @property
    def side_by_side(self) -> bool:
        """Whether upright bands divide the field, so that its parts share their courses."""
        first, *beyond = (z for z in self.zones if is_field(z.place.id))
        return any(z.region.bounds[1] < first.region.bounds[3] - EPS for z in beyond)

    def field_beside(self, name: str) -> LaidZone:
        """Return the part of the field in which something on the wall stands, by its middle: a niche, an opening."""
        axis = 0 if self.side_by_side else 1
        values = [p[axis] for p in self.face.cutout(name).shape.ring]
        middle = (min(values) + max(values)) / 2
        return [z for n, z in enumerate(self.field) if not n or z.region.bounds[axis] <= middle][-1]

    def zone(self, name: str) -> LaidZone:
        """Return the zone of that id."""
        return next(z for z in self.zones if z.place.id == name)
